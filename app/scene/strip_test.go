package scene

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/rod"
)

// straight is a strip along x over three frames 50 mm apart, abeam at y = 20: held at
// the first, 3 mm off the second, with 12 N on the first.
func straight() Strip {
	s := Strip{Bay: 2, Width: 6, Thickness: 2}
	out := mgl64.Vec3{0, 1, 0}
	for i := range 5 {
		s.Course, s.Normals = append(s.Course, mgl64.Vec3{25 * float64(i), 20, 0}), append(s.Normals, out)
	}
	for f := range 3 {
		s.At = append(s.At, StripAt{Frame: f, P: s.Course[2*f], Out: out, Down: mgl64.Vec3{0, 0, -1}})
	}
	s.At[0].Held, s.At[0].Press = true, 12
	s.At[1].LiftOff = 3
	s.At[2].Side = -6
	return s
}

// The ribbon is a box of the strip's width and thickness around its middle.
func TestRibbonIsAsWideAndThickAsTheStrip(t *testing.T) {
	k := straight()
	for _, side := range []float64{1, -1} {
		s, _ := new(Scene).WithStrip(&k, side, 12)
		for _, v := range s.Vertices {
			assert.InDelta(t, 1, math.Abs(v.At.Y()-20*side), 1e-12)
			assert.InDelta(t, 3, math.Abs(v.At.Z()), 1e-12)
			assert.InDelta(t, 1, v.Normal.Len(), 1e-12)
		}
		var r Renderer
		c := Camera{Yaw: (side + 1) / 2 * math.Pi, Target: mgl64.Vec3{50, 0, 0}, Zoom: 4, Depth: 200}
		assert.Equal(t, side, c.Side())
		r.Render(s, c, &Light, 500, 100)
		for x, f := range map[float64]int16{3: 0, 50: 1, 97: 2} {
			px, py := c.At(mgl64.Vec3{x, 21 * side, 0}, 500, 100)
			assert.InDelta(t, 250-side*4*(x-50), px, 1e-3)
			assert.InDelta(t, 50, py, 1e-3)
			tag, ok := r.Pick(int(px), int(py))
			require.True(t, ok)
			assert.Equal(t, Tag{NoStrake, f}, tag)
			for _, z := range []float64{2.7, -2.7} {
				_, ok = r.Pick(int(px), int(py+4*z))
				assert.True(t, ok)
			}
			for _, z := range []float64{3.3, -3.3} {
				_, ok = r.Pick(int(px), int(py+4*z))
				assert.False(t, ok, "no wider than it is")
			}
		}
	}
}

func TestStripTellsLiftOffAndForces(t *testing.T) {
	k := straight()
	s, notes := new(Scene).WithStrip(&k, -1, 12)
	by := map[NoteKind]Note{}
	for _, n := range notes {
		by[n.Kind] = n
	}
	require.Len(t, notes, 4)
	assert.Equal(t, 0, by[HeldNote].Frame)
	assert.Equal(t, mgl64.Vec3{0, -21, 0}, by[HeldNote].Of, "on its outer face")
	assert.Equal(t, 3.0, by[LiftNote].Size)
	press, side := by[PressNote], by[SideNote]
	assert.InDelta(t, longestArrow*100, press.At.Sub(press.Of).Len(), 1e-9, "the greatest force has the longest arrow")
	assert.Less(t, press.At.Y(), press.Of.Y(), "it comes from outside")
	assert.InDelta(t, (shortestArrow+longestArrow)/2*100, side.At.Sub(side.Of).Len(), 1e-9)
	assert.Less(t, side.At.Z(), side.Of.Z(), "pushed upwards, from below")

	var lifts [][]mgl64.Vec3
	hatches := 0
	for _, l := range s.Lines {
		switch {
		case l.Kind != LiftLine:
		case l.Width > 1:
			lifts = append(lifts, l.Points)
		default:
			hatches++
			assert.True(t, l.Points[0].X() >= 25 && l.Points[1].X() <= 75, "about the frame alone that it stands off")
		}
	}
	assert.Equal(t, [][]mgl64.Vec3{{{50, -19, 0}, {50, -16, 0}}}, lifts, "from its inner face to the frame")
	assert.Equal(t, 2, hatches, "hatched there")
}

// Between two states the strip moves in a straight line from one to the other, and
// equals each at either end; where it does not reach a frame in one of them, no
// lift-off is reported.
func TestStripBetween(t *testing.T) {
	sp := &loft.Springing{Section: rod.Section{Width: 5, Thickness: 1}}
	state := func(y, off, newtons float64) *loft.Sprung {
		return &loft.Sprung{Bay: 1, Course: []mgl64.Vec3{{0, y, 0}, {9, y, 0}}, Normals: []mgl64.Vec3{{0, 1, 0}, {0, 1, 0}},
			At: []loft.SprungFrame{{P: mgl64.Vec3{0, y, 0}, Out: mgl64.Vec3{0, 1, 0}, LiftOff: off, Press: loft.Range{Low: 1, High: newtons}, Side: loft.Range{Low: -newtons, High: -1}}, {LiftOff: math.NaN()}}}
	}
	a, b := state(10, 4, 2), state(20, 0, 8)
	for part, want := range map[float64][3]float64{0: {10, 4, 2}, 0.5: {15, 2, 5}, 1: {20, 0, 8}} {
		k := StripBetween(sp, a, b, part)
		assert.Equal(t, want[0], k.Course[1].Y())
		assert.Equal(t, want[1], k.At[0].LiftOff)
		assert.Equal(t, want[2], k.At[0].Press)
		assert.Equal(t, -want[2], k.At[0].Side)
		assert.True(t, math.IsNaN(k.At[1].LiftOff))
		assert.Equal(t, 5.0, k.Width)
	}
	assert.Equal(t, 8.0, Hardest(b))

	a.At[1] = loft.SprungFrame{P: mgl64.Vec3{12, 10, 0}, LiftOff: 7}
	assert.Equal(t, []mgl64.Vec3{{0, 10, 0}, {12, 10, 0}}, StripBetween(sp, a, b, 0).Course, "left long till the last frame that it meets")
	a.At[1].P = mgl64.Vec3{6, 10, 0}
	assert.Equal(t, a.Course, StripBetween(sp, a, b, 0).Course)
}

// A strip outside the frames hides them, and frames hide one on the far side. The
// bare frames are not changed.
func TestStripAndFramesHideEachOther(t *testing.T) {
	l := planked(t)
	outlines := make([][]mgl64.Vec3, len(l.Girths))
	for f, g := range l.Girths {
		for i := range 9 {
			outlines[f] = append(outlines[f], l.Surface.AtDown(f, g*float64(i)/8))
		}
	}
	bare := Frames(l, outlines, -1, l.Lines[1].Line)
	for _, v := range bare.Vertices {
		assert.Equal(t, mgl64.Vec3{1, 0, 0}, v.Normal, "they stand square")
	}
	sp, err := l.Spring(l.Lines[1].Line, 0, len(outlines)-1, 5, 1, loft.Range{})
	require.NoError(t, err)
	rest, err := sp.Held(t.Context(), sp.Amidships())
	require.NoError(t, err)
	k := StripBetween(sp, rest, rest, 0)
	before := len(bare.Vertices)
	var r Renderer
	mid := k.At[6]
	outer := mid.P.Add(mid.Out.Mul(k.Thickness / 2))
	for _, side := range []float64{1, -1} {
		s, notes := bare.WithStrip(&k, side, 1)
		require.NotEmpty(t, notes)
		c := Facing(s, 0.5, 0.1).Fit(s, 600, 300) // from negative y
		r.Render(s, c, &Light, 600, 300)
		x, y, seen := r.Seen(c, across(outer, side))
		assert.Equal(t, side < 0, seen, "side %v", side)
		tag, ok := r.Pick(int(x), int(y))
		assert.True(t, ok)
		if side < 0 {
			assert.Equal(t, int16(6), tag.Frame)
		}
	}
	assert.Len(t, bare.Vertices, before)
	assert.Positive(t, Facing(bare, math.Pi, 0).Side())
}
