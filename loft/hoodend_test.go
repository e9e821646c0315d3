package loft

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// vBottom is half a prism of the given deadrise, 40 mm wide, down to the keel.
func vBottom(deadrise hull.Angle) []hull.Frame {
	return bodies.Trough(5, 60, func(float64) [][2]float64 {
		var out [][2]float64
		for _, y := range bodies.Spaced(40, 0, 9) {
			out = append(out, [2]float64{y, y * math.Tan(float64(deadrise))})
		}
		return out
	})
}

// TestRabbetBevelIsTheDeadrise: of prisms with a V bottom, flat, hollow to the keel
// and with a steep side, exactly.
func TestRabbetBevelIsTheDeadrise(t *testing.T) {
	for _, deg := range []float64{20, 0, -10, 75} {
		l := plankOne(t, oneLayer(vBottom(hull.Degrees(deg)), bodies.FiveByTwo, 1))
		for i, c := range l.Strakes[len(l.Strakes)-1].At {
			if deg > 45 {
				assert.Zero(t, c.BevelLower, "steeper, the rabbet is cut for a square edge")
				continue
			}
			assert.InDelta(t, deg, c.BevelLower.Degrees(), 1e-6, "frame %d", i)
		}
		for _, c := range l.Strakes[0].At {
			assert.InDelta(t, 0, c.BevelUpper.Degrees(), 1e-6, "a flat side stands square to itself")
		}
	}
	box := plankOne(t, oneLayer(bodies.Boxy(7), bodies.FiveByTwo, 1))
	for _, c := range box.Strakes[len(box.Strakes)-1].At {
		b := c.BevelLower
		// The bottom rises 1 mm in 33.3 and the strake runs across it at an angle: seen square
		// to its run the flat bottom stays flat.
		assert.InDelta(t, 0, b.Degrees(), 0.3)
	}
}

// TestBevelsOfCylinder: a strake of chord w on a cylinder of radius R stands off the
// tangent at its edge by asin(w/2R): at the wale, and at the keel in the lowest
// point, where the tangent is level.
func TestBevelsOfCylinder(t *testing.T) {
	const r, dx = 40.0, 60.0
	frames := bodies.Trough(5, dx, func(float64) [][2]float64 { return bodies.Arc(r*math.Pi/2, math.Pi/2) })
	l := plankOne(t, oneLayer(frames, bodies.FiveByTwo, 1))
	want := func(st *Strake, i int) float64 {
		return hull.Angle(st.At[i].WidthFrame / 2 / r).Degrees() // half the arc
	}
	top, last := l.Strakes[0], l.Strakes[len(l.Strakes)-1]
	for i := range frames {
		assert.InDelta(t, want(top, i), top.At[i].BevelUpper.Degrees(), 0.01)
		assert.InDelta(t, want(last, i), last.At[i].BevelLower.Degrees(), 0.01)
	}
}

// TestWaleBevelToTheFaceAbove: where the frame goes on above the limit the wale lies on
// it: at a knuckle of 30 degrees there the top strake's edge takes the 30 degrees.
func TestWaleBevelToTheFaceAbove(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 {
		return [][2]float64{{40, 60}, {40, 55}, {40, 50}, {40 - 10*sin, 50 - 10*cos}, {40 - 20*sin, 50 - 20*cos}, {40 - 30*sin, 50 - 30*cos}}
	})
	for i := range frames {
		frames[i].Knuckles = []int{2}
	}
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Hull.Limits.Down = []hull.Inset{{Frame: "A", MM: 10}}
	l := plankOne(t, p)
	for i, c := range l.Strakes[0].At {
		assert.InDelta(t, 30, c.BevelUpper.Degrees(), 0.01, "frame %d", i)
	}
}

// TestSquareEdgesAreFittedAtTheLimits: in a layer with square edges nothing is planed
// off where strakes meet each other; at wale and keel they are bevelled as usual, and
// the strips there cover that much less.
func TestSquareEdgesAreFittedAtTheLimits(t *testing.T) {
	const r = 40.0
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Arc(r*math.Pi/2, math.Pi/2) }), bodies.FiveByTwo, 1)
	assert.False(t, plankOne(t, p).SquareEdges())
	p.Layers[0].Edges = hull.Square
	l := plankOne(t, p)
	assert.True(t, l.SquareEdges())
	n := len(l.Strakes) - 1
	for k, st := range l.Strakes {
		assert.Equal(t, k == 0, st.Planes(true), "upper edge of %s", st.ID)
		assert.Equal(t, k == n, st.Planes(false), "lower edge of %s", st.ID)
		for i, c := range st.At {
			lost := 0.0
			if k == 0 {
				lost += 2 * float64(c.BevelUpper)
				assert.InDelta(t, hull.Angle(c.WidthFrame/2/r).Degrees(), c.BevelUpper.Degrees(), 0.01)
			} else {
				assert.Zero(t, c.BevelUpper)
			}
			if k == n {
				lost += 2 * float64(c.BevelLower)
				assert.InDelta(t, hull.Angle(c.WidthFrame/2/r).Degrees(), c.BevelLower.Degrees(), 0.01)
			} else {
				assert.Zero(t, c.BevelLower)
			}
			assert.InDelta(t, 5-lost, c.Pitch, 1e-9, "strake %s at frame %d", st.ID, i)
		}
	}
}

// wedgeBow is an upright wedge of the given half-angle with its edge at x = 0.
func wedgeBow(half hull.Angle) []hull.Frame {
	var out []hull.Frame
	for i, x := range bodies.Spaced(0, 100, 6) {
		f := hull.Frame{Name: string(rune('A' + i))}
		for _, z := range bodies.Spaced(40, 0, 6) {
			f.Points = append(f.Points, mgl64.Vec3{x, x * math.Tan(float64(half)), z})
		}
		out = append(out, f)
	}
	return out
}

// TestHoodEndsOfWedge: at an upright wedge's edge of half-angle 30 degrees every
// strake's face stands at 30 to the centre plane, its end at 60 off square and square
// across; the other end lies the wedge's half-breadth away from it.
func TestHoodEndsOfWedge(t *testing.T) {
	l := plankOne(t, oneLayer(wedgeBow(hull.Degrees(30)), bodies.FiveByTwo, 1))
	ends := l.HoodEnds()
	require.Len(t, ends, 2*len(l.Strakes))
	for n, h := range ends {
		assert.InDelta(t, 30, h.ToCentre.Degrees(), 1e-6)
		assert.InDelta(t, 60, h.Bevel.Degrees(), 1e-6)
		assert.InDelta(t, 0, h.Rake.Degrees(), 1e-6)
		if n < len(l.Strakes) {
			assert.Equal(t, HoodMeets, h.Lies)
			assert.Equal(t, 0, h.Frame)
			assert.InDelta(t, 0, h.Breadth, 1e-9)
		} else {
			assert.Equal(t, HoodOff, h.Lies, "it ends far off the centre plane")
			assert.InDelta(t, 100*math.Tan(math.Pi/6), h.Breadth, 1e-6)
		}
	}
	assert.Equal(t, l.Strakes[0].ID, ends[0].Strake)
	assert.Equal(t, []HoodEnd{ends[1], ends[1+len(l.Strakes)]}, l.HoodEndsOf(l.Strakes[1].ID))
}

// TestHoodEndsOfFineAndThickPosts: the ends at a bow of half-angle 10 degrees would
// have to be planed by 80, to a feather edge: they lie along the post. A stem's siding
// does not put an end off the centre plane; a frame's breadth does.
func TestHoodEndsOfFineAndThickPosts(t *testing.T) {
	for _, c := range []struct {
		half, siding float64
		name         string
		lies         HoodLie
	}{{10, 0, "A", HoodAlong}, {14, 0, "A", HoodAlong}, {16, 0, "A", HoodMeets}, {30, 8, "A", HoodOff}, {30, 8, "stem", HoodMeets}, {30, 8, "transom", HoodOff}} {
		frames := wedgeBow(hull.Degrees(c.half))
		for i := range frames {
			for j := range frames[i].Points {
				frames[i].Points[j][1] += c.siding
			}
		}
		frames[0].Name = c.name
		l := plankOne(t, oneLayer(frames, bodies.FiveByTwo, 1))
		for _, h := range l.HoodEnds()[:len(l.Strakes)] {
			assert.Equal(t, c.lies, h.Lies, "%+v", c)
		}
	}
}

// TestAtLimit: the outermost edges of what is laid at a frame.
func TestAtLimit(t *testing.T) {
	l := plankOne(t, oneLayer(vBottom(hull.Degrees(20)), bodies.FiveByTwo, 1))
	n := len(l.Strakes) - 1
	for k := range l.Strakes {
		assert.Equal(t, k == 0, l.AtLimit(k, 1, true))
		assert.Equal(t, k == n, l.AtLimit(k, 1, false))
	}
}

// TestHoodEndsAcrossAndAlong: a side parallel to the centre plane never meets it; a
// bottom of deadrise 20 stands at 70 to it, its ends along its run.
func TestHoodEndsAcrossAndAlong(t *testing.T) {
	l := plankOne(t, oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(40) }), bodies.FiveByTwo, 1))
	for _, h := range l.HoodEnds() {
		assert.InDelta(t, 0, h.ToCentre.Degrees(), 1e-5)
		assert.InDelta(t, 90, h.Bevel.Degrees(), 1e-5)
		assert.InDelta(t, 30, h.Breadth, 1e-9)
	}
	l = plankOne(t, oneLayer(vBottom(hull.Degrees(20)), bodies.FiveByTwo, 1))
	for _, h := range l.HoodEnds() {
		assert.InDelta(t, 70, h.ToCentre.Degrees(), 1e-6)
		assert.InDelta(t, 20, h.Bevel.Degrees(), 1e-6)
	}
}

// TestHoodEndRake: a strake whose face is upright and at 30 degrees to the centre plane
// meets it in an upright line. Where it runs down by 10 degrees towards the bow, its
// end is cut 10 off square with its lower edge the longer; at a stern of greatest x,
// its upper edge.
func TestHoodEndRake(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	down, level := math.Sincos(math.Pi / 18)
	f := face{tangent: mgl64.Vec3{cos * level, sin * level, down}, normal: mgl64.Vec3{-sin, cos, 0}}
	h := hoodEnd(f, -1)
	assert.InDelta(t, 30, h.ToCentre.Degrees(), 1e-9)
	assert.InDelta(t, -10, h.Rake.Degrees(), 1e-9)
	assert.InDelta(t, 10, hoodEnd(f, 1).Rake.Degrees(), 1e-9)
}

// TestNoEndsWithoutAShape: girths do not show how planks meet keel, wale and stem.
func TestNoEndsWithoutAShape(t *testing.T) {
	p := measured()
	l := plankOne(t, p)
	assert.Nil(t, l.HoodEnds())
	for i := range l.Girths {
		assert.Zero(t, l.Strakes[0].At[i].BevelUpper)
		assert.Zero(t, l.Strakes[len(l.Strakes)-1].At[i].BevelLower)
	}
}
