package loft

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// whole is the surface over planking t thick, laid from end to end.
func (s *Surface) whole(t float64) *Surface { return s.offset(t, 0, s.Frames()-1) }

// hollowTrough is a trough with a hollow arc of 2 mm radius, which the spline through
// its points reproduces to 1 % at the ends.
func hollowTrough() []hull.Frame {
	return bodies.Trough(5, 60, func(float64) [][2]float64 {
		var out [][2]float64
		for _, p := range bodies.Arc(3, 1.5) {
			out = append(out, [2]float64{30 - p[0], p[1]})
		}
		return out
	})
}

// TestOffsetThins: a hollow tighter than the planking is thick used to be refused, and
// with it every request about a plan of two layers. Now the planking is thinned there
// to nine tenths of the radius, and where and why is reported.
func TestOffsetThins(t *testing.T) {
	s, err := Loft(hollowTrough())
	require.NoError(t, err)
	out := s.whole(3)
	require.Len(t, out.folds, 1)
	f := out.folds[0]
	assert.Equal(t, HollowFold, f.Why)
	assert.InDelta(t, 1.99, f.Radius, 0.01)
	assert.InDelta(t, 0.9*f.Radius, f.Left, 1e-9)
	assert.InDelta(t, 0.9*f.Radius, f.Thin, 0.01)
	assert.Equal(t, [2]int{0, 4}, [2]int{f.From, f.To})
	assert.Equal(t, f.EndFrom, f.EndTo, "there is no run of frames without it")
	assert.Empty(t, s.whole(1).folds)
	assert.Empty(t, s.whole(f.Thin).folds, "what is offered as thin enough is")
	assert.NotEmpty(t, s.whole(f.Thin+thinnedLeast+0.02).folds)
}

// tuckedAtStem is hollow to 2 mm at the stem and to 14 mm from the third frame on.
func tuckedAtStem(x float64) float64 { return min(2+12*x/70, 14) }

// TestOffsetOfTuck: on a bluff hull with a tight tuck at the stem the planking has its
// full thickness everywhere except there, and no strip over 1.8 mm keeps it.
func TestOffsetOfTuck(t *testing.T) {
	s, err := Loft(bodies.Tucked(tuckedAtStem))
	require.NoError(t, err)
	out := s.whole(2)
	require.Len(t, out.folds, 1)
	f := out.folds[0]
	assert.Equal(t, 0, f.At)
	assert.Equal(t, HollowFold, f.Why)
	// The spline through 64 knots, 1.4 mm apart, is tighter than the arc where the arc
	// begins.
	assert.InDelta(t, 2, f.Radius, 0.35)
	assert.LessOrEqual(t, f.Left, 0.9*f.Radius+1e-9)
	assert.InDelta(t, 0.9*f.Radius, f.Left, 0.05)
	assert.Equal(t, 6, f.EndTo)
	assert.LessOrEqual(t, f.EndFrom, 2)
	assert.Empty(t, s.whole(f.Thin).folds)
	over(t, s, out, 2, f)
}

// over measures the distance of the outer surface at the frames, by a search over the
// inner surface independent of how the outer one was made: never more than t, and t
// where there is no fold near. Over 35 mm bays and sections resampled at some 60 knots
// both surfaces loft to 0.02 mm.
func over(tb testing.TB, s, out *Surface, t float64, folds ...Folds) {
	tb.Helper()
	for i := range s.u {
		for v := 0.0; v <= 1; v += 0.0125 {
			at := out.At(out.u[i], v)
			d, down := s.away(at.P, i)
			assert.LessOrEqual(tb, d, t+0.02, "frame %d, %.4f down", i, v)
			near := false
			for _, f := range folds {
				near = near || i >= f.From-1 && i <= f.To+1 && down > f.Upper-4*t && down < f.Lower+4*t
			}
			if !near {
				assert.InDelta(tb, t, d, 0.02, "frame %d, %.1f mm down", i, down)
			}
		}
	}
}

// away is the distance of a point from the surface, and the girth of the foot down
// frame i: by Newton's method in the two tangent directions from the nearest knot.
func (s *Surface) away(p mgl64.Vec3, i int) (d, down float64) {
	d = math.Inf(1)
	for a := max(i-1, 0); a <= min(i+1, len(s.u)-1); a++ {
		for v0 := 0.0; v0 <= 1; v0 += 0.02 {
			u, v := s.u[a], v0
			for range 30 {
				j := s.At(u, v)
				du, dv := j.components(p.Sub(j.P))
				u, v = u+0.7*du, min(max(v+0.7*dv, 0), 1)
			}
			j := s.At(u, v)
			if e := p.Sub(j.P).Len(); e < d {
				d, down = e, s.down(s.FrameStation(i), v)
			}
		}
	}
	return d, down
}

// TestOffsetOfHollowKnuckle: in a right-angled hollow the outer faces meet at a
// distance t from either side: each is shorter by t, and neither is thinned.
func TestOffsetOfHollowKnuckle(t *testing.T) {
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 {
		return [][2]float64{{20, 40}, {20, 34}, {20, 28}, {20, 25}, {20, 20}, {25, 20}, {28, 20}, {34, 20}, {40, 20}}
	})
	for i := range frames {
		frames[i].Knuckles = []int{4}
	}
	s, err := Loft(frames)
	require.NoError(t, err)
	out := s.whole(3)
	assert.Empty(t, out.folds)
	assert.InDelta(t, s.Girth(2)-6, out.Girth(2), 0.01)
}

// TestOffsetOfSlot: where the outer faces of two sides of a slot meet, they are
// thinned, and reported as such.
func TestOffsetOfSlot(t *testing.T) {
	const wide = 3.0
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 {
		return [][2]float64{
			{30, 60}, {30, 55}, {30, 50}, {30, 45}, {30, 40},
			{26, 40}, {22, 40}, {18, 40}, {14, 40}, {10, 40},
			{10, 40 - wide/2}, {10, 40 - wide},
			{14, 40 - wide}, {18, 40 - wide}, {22, 40 - wide}, {26, 40 - wide}, {30, 40 - wide},
			{30, 32}, {30, 27}, {30, 22},
		}
	})
	for i := range frames {
		frames[i].Knuckles = []int{4, 9, 11, 16}
	}
	s, err := Loft(frames)
	require.NoError(t, err)
	out := s.whole(2)
	require.NotEmpty(t, out.folds)
	for _, f := range out.folds {
		assert.Less(t, f.Left, wide/2+0.05)
	}
	assert.Empty(t, s.whole(1).folds)
}

// TestAnyLayersOverAnyFrames: over whatever frames a first layer can be laid, a second
// and a third can too: surfaces keep their orientation, sections run the same way round
// as those they lie on, no skin is thicker than its strips, and it is thinner only
// where reported.
func TestAnyLayersOverAnyFrames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := Loft(anyFrames(t))
		if err != nil {
			return
		}
		for range 2 {
			thick := rapid.Float64Range(0.3, 3).Draw(t, "thickness")
			out := s.whole(thick)
			if err := out.fold(); err != nil {
				t.Fatalf("over %.2f mm: %v", thick, err)
			}
			skinHolds(t, s, out, thick)
			s = out
		}
	})
}

// skinHolds checks the skin between a surface and the one over it.
func skinHolds(t *rapid.T, s, out *Surface, thick float64) {
	for i := range s.u {
		for v := 0.0; v <= 1; v += 1. / 64 {
			j := out.At(out.u[i], v)
			finite(t, j.P[:]...)
			finite(t, j.Pu[:]...)
			if !(j.Pu.X() > 0) {
				t.Fatalf("the outer surface turns back at frame %d, %.2f down", i, v)
			}
		}
	}
	for _, f := range out.folds {
		finite(t, f.Left, f.Upper, f.Lower, f.Down, f.Radius, f.Thin)
		if f.Why == NoFold || f.Why == NotLaid || f.Left > f.Thickness-thinnedLeast || f.Left < 0 || f.From > f.At || f.To < f.At || f.Lower < f.Upper {
			t.Fatalf("a fold is told as %+v", f)
		}
	}
	if len(out.folds) == 0 {
		k := s.newSkin(thick, 0, s.Frames()-1)
		k.blend()
		for i := range k.nodes {
			for j := range k.nodes[i] {
				if k.nodes[i][j].cap < thick-thinnedLeast {
					t.Fatalf("frame %d, knot %d is too hollow for %.2f mm and nothing is told", i, j, thick)
				}
			}
		}
	}
}

// TestBlendKeepsUnder: a skin's thickness nowhere exceeds what its hollows allow, is
// full well away from them, and changes gradually.
func TestBlendKeepsUnder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const thick = 2.0
		n := rapid.IntRange(8, 120).Draw(t, "knots")
		girth := rapid.Float64Range(5, 300).Draw(t, "girth")
		k := &skin{t: thick, from: 0, to: 0, nodes: [][]node{make([]node, n)}}
		for j := range k.nodes[0] {
			k.nodes[0][j] = node{down: girth * float64(j) / float64(n-1), cap: thick}
		}
		for range rapid.IntRange(0, 4).Draw(t, "hollows") {
			k.nodes[0][rapid.IntRange(0, n-1).Draw(t, "at")].cap = rapid.Float64Range(0, thick).Draw(t, "cap")
		}
		k.blend()
		window := max(thick, 2*girth/float64(n))
		for j, a := range k.nodes[0] {
			if a.out > a.cap+1e-12 || a.out < 0 {
				t.Fatalf("%.3f mm at a knot that takes %.3f", a.out, a.cap)
			}
			near := false
			for _, b := range k.nodes[0] {
				near = near || b.cap < thick && math.Abs(b.down-a.down) < thick/thinningSlope+2*window
			}
			if !near && a.out < thick-1e-9 {
				t.Fatalf("%.3f mm at knot %d, with no hollow near", a.out, j)
			}
			if j > 0 {
				d := a.down - k.nodes[0][j-1].down
				if slope := math.Abs(a.out-k.nodes[0][j-1].out) / d; slope > thinningSlope*1.3 && d < window {
					t.Fatalf("the thickness changes by %.2f a mm at knot %d", slope, j)
				}
			}
		}
	})
}
