package loft

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestReplankingFromTwoGoroutines: an old planking is shared by all that are made from
// it, so nothing may be written into it. The race detector sees a write; a surface
// wrongly marked as known by girths alone, or no longer so, shows in the results.
func TestReplankingFromTwoGoroutines(t *testing.T) {
	shaped := bodies.LongBarge(5, 2, 20)
	girths := bodies.LongBarge(5, 2, 20)
	var list []hull.Girth
	for i, f := range girths.Hull.Frames {
		list = append(list, hull.Girth{Frame: f.Name, X: f.X(), Girth: 100 + float64(i)})
	}
	girths.Hull.SetGirths(list)
	for name, p := range map[string]*hull.Plan{"of a shape": shaped, "of girths": girths} {
		t.Run(name, func(t *testing.T) {
			old, err := Plank(p)
			require.NoError(t, err)
			others := []*hull.Plan{shaped, girths}
			var both sync.WaitGroup
			for n := range 4 {
				both.Go(func() {
					q := others[n%2].Clone()
					q.Layers[0].Stock.Width = 10 + float64(n)
					k, err := old.Replank(q)
					if assert.NoError(t, err) {
						for i := range k.Layers {
							assert.Equal(t, q.Hull.Shapeless(), k.Layers[i].Surface.shapeless)
						}
					}
				})
			}
			both.Wait()
			for _, l := range old.Layers {
				assert.Equal(t, p.Hull.Shapeless(), l.Surface.shapeless, "the old planking is as it was")
			}
		})
	}
}
