package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A known projective map is recovered from four points: every other point falls
// within 1e-6 mm, well above the rounding of doubles.
func TestFourPointsFindAKnownMap(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		truth := Homography{
			0.08 + 0.02*r.NormFloat64(), 0.01 * r.NormFloat64(), 50 * r.NormFloat64(),
			0.01 * r.NormFloat64(), -0.08 + 0.02*r.NormFloat64(), 50 * r.NormFloat64(),
			4e-5 * r.NormFloat64(), 4e-5 * r.NormFloat64(), 1,
		}
		from := [4]Point{{100 + 50*r.Float64(), 120}, {3800, 90 + 60*r.Float64()}, {3700, 2900}, {200, 2800 - 80*r.Float64()}}
		var to [4]Point
		for i := range 4 {
			q, ok := truth.Apply(from[i])
			require.True(t, ok)
			to[i] = q
		}
		m, err := fourPoints(from, to)
		require.NoError(t, err)
		back, err := m.Inverse()
		require.NoError(t, err)
		for range 20 {
			p := Pt(4000*r.Float64(), 3000*r.Float64())
			want, _ := truth.Apply(p)
			got, _ := m.Apply(p)
			assert.InDelta(t, 0, got.distance(want), 1e-6)
			home, _ := back.Apply(want)
			assert.InDelta(t, 0, home.distance(p), 1e-6)
		}
	}
}

func TestFourPointsRefusePointsInALine(t *testing.T) {
	good := [4]Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	for _, bad := range [][4]Point{
		{{0, 0}, {1, 0}, {2, 0}, {0, 1}},
		{{0, 0}, {0, 0}, {1, 1}, {0, 1}},
		{{math.NaN(), 0}, {1, 0}, {1, 1}, {0, 1}},
	} {
		_, err := fourPoints(bad, good)
		assert.Error(t, err)
		_, err = fourPoints(good, bad)
		assert.Error(t, err)
	}
}

func TestMapsFollowOneAnother(t *testing.T) {
	q, ok := shift(Pt(3, 4)).After(Scaling(2)).Apply(Pt(1, 1))
	assert.True(t, ok)
	assert.Equal(t, Pt(5, 6), q)
	_, ok = Homography{0: 1, 4: 1, 6: -1, 8: 1}.Apply(Pt(1, 0))
	assert.False(t, ok, "it lies on the horizon")
	_, err := Homography{}.Inverse()
	assert.Error(t, err)
}

// stretch against differences of the map itself; a step of 1e-4 leaves an error
// of that order in the second decimal.
func TestStretchIsTheGreaterSlope(t *testing.T) {
	m := Homography{0.9, 0.1, 5, -0.2, 0.7, 3, 1e-4, 2e-4, 1}
	p := Pt(300, 200)
	q, _ := m.Apply(p)
	const h = 1e-4
	x, _ := m.Apply(Pt(p.X+h, p.Y))
	y, _ := m.Apply(Pt(p.X, p.Y+h))
	assert.InDelta(t, max(x.distance(q), y.distance(q))/h, m.stretch(p, q), 1e-6)
}
