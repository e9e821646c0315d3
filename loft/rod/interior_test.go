package rod

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rough is a strip over so many supports, a millimetre apart, of an arc of 400 mm radius
// that is rough by two microns, held at both ends and the middle, where it may slip.
func rough(supports int) Problem {
	noise := rand.New(rand.NewPCG(7, 11))
	var x, y []float64
	holds := make([]Hold, supports)
	for i := range supports {
		at := float64(i - supports/2)
		x, y = append(x, at), append(y, -at*at/800+0.002*noise.NormFloat64())
	}
	holds[0], holds[supports/2], holds[supports-1] = Clamped, Clamped, Clamped
	p := over(x, y, holds...)
	p.Supports[0].Play, p.Supports[supports-1].Play = 0.1, 0.1
	p.Bay = 2
	return p
}

// Over frames that stand close a strip touches many and leaves many between. The bounds
// that it then meets are found, as those that let no point come inside, hold none back
// and let none slip too far; and the interior point method finds them by itself, in
// steps that do not grow with the supports.
func TestBoundsOverManySupports(t *testing.T) {
	for _, supports := range []int{51, 401} {
		t.Run(fmt.Sprint(supports), func(t *testing.T) {
			p := rough(supports)
			r, c := p.rig(p.held(), p.Bay)
			c, err := r.pressed(t.Context(), c)
			require.NoError(t, err)
			n, ok := r.model(c)
			require.True(t, ok)
			n.take(0)
			for point := 1; point < 4; point++ {
				for i, row := range r.freedomsOf(n, point) {
					for q, by := range row {
						assert.True(t, by == 0 || slices.Contains(rowsOf[q], i), "%d by %d about point %d", i, q, point)
					}
				}
			}
			wrong := func(held []bound) int {
				move, pull, ok := r.stepWith(n, c, held)
				require.True(t, ok)
				return len(r.wrong(c, move, pull, held))
			}
			guess := r.bounds(n, c)
			require.Greater(t, wrong(guess), supports/20)

			_, held, ok := r.step(n, c, guess)
			require.True(t, ok)
			assert.Zero(t, wrong(held))
			touched := len(slices.DeleteFunc(slices.Clone(held), func(b bound) bool { return !b.rests }))
			assert.Greater(t, touched, 5)
			assert.Less(t, touched, supports/2)

			move, pull, ok := r.stepWith(n, c, guess)
			require.True(t, ok)
			assert.True(t, slices.Equal(held, r.interior(n, c, move, pull, guess)))
		})
	}
}
