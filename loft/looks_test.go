package loft

import (
	"context"
	"testing"

	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"

	"github.com/stretchr/testify/require"
)

// TestPlankingLooksAtEveryStrakeAndFrame: however many there are, a stop takes effect
// after at most one strake or one frame, or the loft of one surface.
func TestPlankingLooksAtEveryStrakeAndFrame(t *testing.T) {
	for _, c := range []struct {
		name           string
		frames, layers int
		width          float64
	}{
		{"many frames", 60, 1, 20},
		{"many strakes", 5, 1, 0.5},
		{"many layers", 5, 10, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bodies.LongBarge(c.frames, c.layers, c.width)
			strakes := 0
			looks := checks.LooksOf(t, func(ctx context.Context) error {
				k, err := PlankContext(ctx, p)
				if err == nil {
					strakes = 0
					for _, l := range k.Layers {
						strakes += len(l.Strakes)
					}
				}
				return err
			})
			require.GreaterOrEqual(t, looks, strakes+c.layers*c.frames)

			k, err := Plank(p)
			require.NoError(t, err)
			again := checks.LooksOf(t, func(ctx context.Context) error {
				_, err := k.ReplankContext(ctx, p)
				return err
			})
			require.GreaterOrEqual(t, again, strakes+c.layers*c.frames)
		})
	}
}

// TestComparingStops: every kind of strip means laying one layer.
func TestComparingStops(t *testing.T) {
	p := bodies.LongBarge(5, 1, 20)
	widths := []float64{2, 4, 8}
	looks := checks.LooksOf(t, func(ctx context.Context) error {
		_, err := compare(ctx, p, 0, inWidths(p, 0, widths...))
		return err
	})
	require.GreaterOrEqual(t, looks, 100/2+100/4+100/8+len(widths))
}

// TestBestMixStops: it looks at the context between any two mixes tried, except those
// of one downhill walk.
func TestBestMixStops(t *testing.T) {
	k, err := Plank(bodies.LongBarge(5, 1, 5))
	require.NoError(t, err)
	looks := checks.LooksOf(t, func(ctx context.Context) error {
		_, err := k.BestMix(ctx, 0, 0, []float64{4, 5, 6})
		return err
	})
	require.Greater(t, looks, 200, "20 strakes of one width by 20 of another, half of them")
}

// TestCuttingStops: butting looks at the context at every strake, cutting at every step
// of its searches. The searches are nested, and each looks once more as it ends.
func TestCuttingStops(t *testing.T) {
	k, err := Plank(bodies.LongBarge(8, 3, 10))
	require.NoError(t, err)
	strakes := 0
	for _, l := range k.Layers {
		strakes += len(l.Strakes)
	}
	looks := checks.LooksWithin(t, 0.01, func(ctx context.Context) error {
		_, err := k.cutLayers(ctx)
		return err
	})
	require.GreaterOrEqual(t, looks, strakes)
}
