package views

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// canted is a half-round tube of radius 40 mm with seven frames, the first two
// canted by 30 and 15 degrees, the last leaning by 20.
func canted(t testing.TB) *loft.Planking {
	t.Helper()
	const r = 40.0
	h := hull.Hull{Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}
	for i := range 7 {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for j := range 25 {
			s, c := math.Sincos(math.Pi / 2 * float64(j) / 24)
			y, z := r*c, -r*s
			x := 60*float64(i) + y*[]float64{-math.Tan(math.Pi / 6), -math.Tan(math.Pi / 12), 0, 0, 0, 0, 0}[i]
			if i == 6 {
				x += z * math.Tan(math.Pi/9)
			}
			f.Points = append(f.Points, mgl64.Vec3{x, y, z})
		}
		h.Frames = append(h.Frames, f)
	}
	require.Empty(t, h.Check())
	p, err := loft.FairLines(context.Background(), hull.NewPlan("", h), 0, 2)
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// TestCantedFrameIsACurveInTheProfile: at a height z a frame canted by a stands
// at x0 + √(r² − z²)·tan a, exactly; 25 points represent the arc to 1e-3 mm.
func TestCantedFrameIsACurveInTheProfile(t *testing.T) {
	k := canted(t)
	v := profileOf(t, k, Nothing)
	for f, a := range []float64{math.Pi / 6, math.Pi / 12} {
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range v.frames[f] {
			z := v.Z - p.Y/v.X.Scale
			want := 60*float64(f) - math.Sqrt(max(40*40-z*z, 0))*math.Tan(a)
			if z > -39.9 { // at the foot the root has no slope
				assert.InDelta(t, want, v.X.MM(p.X), 2e-3)
			}
			low, high = min(low, v.X.MM(p.X)), max(high, v.X.MM(p.X))
		}
		assert.InDelta(t, 40*math.Tan(a), high-low, 1e-2, "from the keel to the side")
	}
}

// TestGuideMeetsTheFrameWhereTheChosenRuns: profile and gauge strip draw the
// vertical of a frame that is not square through its crossing with the chosen
// line, and no vertical through the whole of such a frame.
func TestGuideMeetsTheFrameWhereTheChosenRuns(t *testing.T) {
	k := canted(t)
	l := k.Layers[0]
	c := Nothing.WithLine(0).WithFrame(0)
	for _, f := range []int{0, 1, 6} {
		at := l.Lines[1].P[l.Surface.FrameStation(f)].X()
		assert.Equal(t, at, GuideX(k, c, f))
		assert.Equal(t, l.Strakes[2].Centre.P[l.Surface.FrameStation(f)].X(), GuideX(k, c.WithStrake(2), f))
		assert.Equal(t, k.Plan.Hull.Frames[f].X(), GuideX(k, Nothing, f))
		assert.NotEqual(t, at, GuideX(k, Nothing, f))
	}
	assert.Equal(t, 180.0, GuideX(k, c, 3))

	v := profileOf(t, k, c)
	x := v.X.At(GuideX(k, c, 0))
	g := guides(v.frames[0], x, 250)
	require.Len(t, g, 2)
	assert.Equal(t, v.frames[0][0], g[0][1], "from the name to the frame's end")
	assert.InDelta(t, v.Handles[0].At.X, g[1][0].X, 1e-6)
	assert.InDelta(t, v.Handles[0].At.Y, g[1][0].Y, 0.3, "33 points stand for the frame")
	assert.Equal(t, [][]draw.Point{{draw.Pt(v.X.At(180), headRoom), draw.Pt(v.X.At(180), 250)}}, guides(v.frames[3], v.X.At(180), 250))
}
