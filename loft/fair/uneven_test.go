package fair

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestExactHullsAreLeft: on an exact hull nothing is suspected, and no point moves by
// more than 0.02 mm, however its frames are spaced. The transom is left out where its
// frames do not define its shape: the loft of five lies 1 mm off it.
func TestExactHullsAreLeft(t *testing.T) {
	for _, e := range bodies.Exacts() {
		for name, xs := range map[string][]float64{"even": bodies.EvenStations, "uneven": bodies.UnevenStations, "wild": bodies.WildStations, "five": bodies.FiveStations} {
			if e.Name == "transom" && (name == "wild" || name == "five") {
				continue
			}
			frames := e.Frames(xs, 13)
			for _, m := range misfitsOf(t, frames) {
				assert.Empty(t, m.Suspects, "%s, %s: frame %s", e.Name, name, m.Frame)
			}
			f, err := Fair(context.Background(), frames, 0.3)
			require.NoError(t, err)
			worst := 0.0
			for _, m := range f.Moves {
				worst = max(worst, m.Out, -m.Out)
			}
			t.Logf("%s, %s: %d moves, of %.3f mm at most", e.Name, name, len(f.Moves), worst)
			assert.LessOrEqual(t, worst, 0.02, "%s, %s", e.Name, name)
		}
	}
}
