package progress

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// TestOptionsStop: every option is a planking, and stops as one does.
func TestOptionsStop(t *testing.T) {
	k, err := loft.Plank(bodies.LongBarge(5, 1, 2))
	require.NoError(t, err)
	options := 0
	looks := checks.LooksOf(t, func(ctx context.Context) error {
		list, err := Options(ctx, k, hull.Port, 0, 0, UsualHabit())
		if err == nil {
			options = len(list)
		}
		return err
	})
	require.Greater(t, options, 2)
	require.GreaterOrEqual(t, looks, options*len(k.Layers[0].Strakes))
}
