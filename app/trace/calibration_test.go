package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func mm(t *testing.T, c Calibration, p Point) Point {
	t.Helper()
	q, ok := c.ToMM.Apply(p)
	require.True(t, ok)
	return q
}

func same(t *testing.T, want, got Point) {
	t.Helper()
	assert.InDelta(t, 0, want.distance(got), 1e-9, "want %v, got %v", want, got)
}

func TestTwoPointsSetScaleAndLevel(t *testing.T) {
	c, err := ByTwo(Pt(100, 400), Pt(500, 400), 100, Level)
	require.NoError(t, err)
	same(t, Pt(0, 0), mm(t, c, Pt(100, 400)))
	same(t, Pt(100, 0), mm(t, c, Pt(500, 400)))
	same(t, Pt(0, 25), mm(t, c, Pt(100, 300))) // up in the picture is up
	assert.InDelta(t, 0.25, c.PixelAt(Pt(1, 2)), 1e-12)

	// the same picture turned by a quarter, and one on its head
	c, err = ByTwo(Pt(400, 500), Pt(400, 100), 100, Level)
	require.NoError(t, err)
	same(t, Pt(0, 25), mm(t, c, Pt(300, 500)))
	c, err = ByTwo(Pt(500, 400), Pt(100, 400), 100, Level)
	require.NoError(t, err)
	same(t, Pt(0, 25), mm(t, c, Pt(500, 500)))

	c, err = ByTwo(Pt(100, 400), Pt(100, 200), 50, Upright)
	require.NoError(t, err)
	same(t, Pt(0, 50), mm(t, c, Pt(100, 200)))
	same(t, Pt(25, 0), mm(t, c, Pt(200, 400)))
	home, ok := c.ToPix.Apply(Pt(25, 0))
	assert.True(t, ok)
	same(t, Pt(200, 400), home)
}

func TestTwoPointsThatSettleNothing(t *testing.T) {
	_, err := ByTwo(Pt(0, 0), Pt(3, 4), 100, Level)
	assert.ErrorContains(t, err, "pixels apart")
	for _, bad := range []float64{0, -5, 1e9, nan} {
		_, err = ByTwo(Pt(0, 0), Pt(300, 4), bad, Level)
		assert.ErrorContains(t, err, "the distance is")
	}
	_, err = ByTwo(Pt(nan, 0), Pt(300, 4), 10, Level)
	assert.Error(t, err)
}

// photo is a camera's view of the paper, from mm to pixels.
var photo = Homography{10.2, 0.6, 600, 0.4, -9.8, 1700, 4e-4, -6e-4, 1}

func seen(t *testing.T, x, y float64) Point {
	t.Helper()
	p, ok := photo.Apply(Pt(x, y))
	require.True(t, ok)
	return p
}

func TestFourCornersTakePerspectiveOut(t *testing.T) {
	c, err := ByFour([4]Point{seen(t, 0, 120), seen(t, 160, 120), seen(t, 160, 0), seen(t, 0, 0)}, 160, 120)
	require.NoError(t, err)
	for _, q := range []Point{{80, 60}, {-20, 40}, {170, 130}, {3, 111}} {
		got := mm(t, c, seen(t, q.X, q.Y))
		assert.InDelta(t, 0, q.distance(got), 1e-6)
		back, ok := c.ToPix.Apply(q)
		assert.True(t, ok)
		assert.InDelta(t, 0, back.distance(seen(t, q.X, q.Y)), 1e-6)
	}
}

func TestCornersThatAreNoRectangle(t *testing.T) {
	a, b, c, d := Pt(0, 0), Pt(100, 5), Pt(110, 90), Pt(3, 80)
	_, err := ByFour([4]Point{a, b, c, d}, 50, 40)
	require.NoError(t, err)
	for _, bad := range []struct {
		corners [4]Point
		says    string
	}{
		{[4]Point{d, c, b, a}, "wrong way round"},
		{[4]Point{a, c, b, d}, "cross or fold"},
		{[4]Point{a, b, Pt(40, 20), d}, "cross or fold"},
		{[4]Point{a, b, Pt(200, 10), d}, "one line"},
		{[4]Point{a, Pt(3, 3), c, d}, "pixels apart"},
	} {
		_, err := ByFour(bad.corners, 50, 40)
		assert.ErrorContains(t, err, bad.says)
	}
	_, err = ByFour([4]Point{a, b, c, d}, 0, 40)
	assert.ErrorContains(t, err, "the width is 0 mm")
	_, err = ByFour([4]Point{a, b, c, d}, 10, -1)
	assert.ErrorContains(t, err, "the height is")
}
