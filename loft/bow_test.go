package loft

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// framing is how a builder frames a bow 95 mm long: where the stem's curve ends, and
// the frames as x on the centre line and cant in degrees. Aft of the bow all frames
// stand square.
type framing struct {
	stem   float64 // none if negative
	frames [][2]float64
}

var (
	squareOnly  = framing{-1, [][2]float64{{5, 0}, {20, 0}, {40, 0}, {60, 0}, {80, 0}}}
	squareStem  = framing{4, squareOnly.frames}
	squareClose = framing{1.2, [][2]float64{{1.5, 0}, {4, 0}, {8, 0}, {14, 0}, {22, 0}, {32, 0}, {44, 0}, {58, 0}, {75, 0}}}
	twoCants    = framing{15, [][2]float64{{30, -60}, {55, -30}, {75, 0}}}
	fourCants   = framing{10, [][2]float64{{20, -60}, {35, -45}, {50, -30}, {65, -15}, {80, 0}}}
	fiveCants   = framing{6, [][2]float64{{12, -75}, {22, -60}, {35, -45}, {50, -30}, {65, -15}, {80, 0}}}
)

func (f framing) of(a *bodies.Apple) []hull.Frame {
	const points = 25
	scale := a.Bow / 95
	var out []hull.Frame
	if f.stem > 0 {
		out = append(out, a.Stem(f.stem*scale, points))
	}
	for i, c := range f.frames {
		out = append(out, a.Frame(fmt.Sprintf("B%d", i), hull.Plane{X: c[0] * scale, Cant: hull.Degrees(c[1])}, points))
	}
	for i, x := range []float64{0, 25, 55, 85, 115} {
		out = append(out, a.Frame(fmt.Sprintf("S%d", i), hull.Plane{X: a.Bow + x}, points))
	}
	return out
}

// offBays is the distance of a surface from the bow in every bay, and the greatest
// angle between its face and the bow's. It is nowhere inside out. Its face is not
// checked in the lower half of the first bay, where the lines along the hull may run
// down beside the stem: TestFaceAtRoundForefoots checks it there.
func offBays(t *testing.T, s *Surface, a *bodies.Apple) (off []float64, turned hull.Angle) {
	off = make([]float64, len(s.u)-1)
	for i := range off {
		for k := range 5 {
			for m := range 17 {
				f, v := float64(k)/4, float64(m)/16
				j := s.At(s.u[i]+(s.u[i+1]-s.u[i])*f, v)
				off[i] = max(off[i], math.Abs(a.Off(j.P)))
				cos := j.Normal().Dot(a.Normal(j.P))
				assert.Positive(t, cos, "inside out in bay %d at %v", i, j.P)
				if i > 0 || f > 0 && v < 0.5 {
					turned = max(turned, hull.Angle(math.Acos(min(cos, 1))))
				}
			}
		}
	}
	return off, turned
}

// TestBluffBows: exact apple bows under square and canted frames fold nowhere and lie
// within 0.3 mm of the exact surface, except in bays that are reported, where they are
// no farther off than reported. The limits of each, mm, are some tenths above the
// actual figures. Before lines along the hull were fitted over their own chords, all
// with a stem's curve and square frames, and most with cants, were refused as folded,
// and the others lay up to 2.0 mm off.
func TestBluffBows(t *testing.T) {
	for name, c := range map[string]struct {
		framing
		most [4]float64 // for each bow, mm
	}{
		"square":          {squareOnly, [4]float64{0.12, 0.15, 0.12, 0.36}},
		"square and stem": {squareStem, [4]float64{0.12, 0.55, 0.1, 0.18}},
		"square, close":   {squareClose, [4]float64{0.13, 0.05, 0.06, 0.04}},
		"60 and 30":       {twoCants, [4]float64{0.17, 0.7, 1.2, 1.8}},
		"60, 45, 30, 15":  {fourCants, [4]float64{0.12, 0.08, 0.1, 0.36}},
		"75 and on":       {fiveCants, [4]float64{0.12, 0.08, 0.1, 0.36}},
	} {
		for n, a := range bodies.Apples() {
			h := hull.Hull{Frames: c.of(&a)}
			require.Empty(t, h.Check(), name)
			s, err := loftHull(&h)
			require.NoError(t, err, name)
			told := map[int]float64{}
			for _, b := range s.turns {
				told[b.Frame] = b.Off
			}
			off, turned := offBays(t, s, &a)
			worst := 0.0
			for i, o := range off {
				worst = max(worst, o)
				if o > 0.3 {
					assert.Greater(t, told[i]*1.05, o, "%s, bow %d, bay %d", name, n, i)
				}
			}
			t.Logf("%-16s bow %d: %.3f mm, face turned by %.1f degrees, told %v", name, n, worst, turned.Degrees(), told)
			assert.Less(t, worst, c.most[n], "%s, bow %d", name, n)
			assert.Less(t, turned.Degrees(), 10.0, "%s, bow %d", name, n) // the most beside a cant frame of 75 degrees, 2 mm off the stem
		}
	}
}

// TestBowAtTheLastFrame: a bow at the last frame is lofted as the mirror image of one
// at the first.
func TestBowAtTheLastFrame(t *testing.T) {
	a := bodies.Apples()[1]
	frames := fourCants.of(&a)
	s, err := Loft(frames)
	require.NoError(t, err)
	n := len(frames)
	turned := make([]hull.Frame, n)
	for i, f := range frames {
		for _, p := range f.Points {
			turned[n-1-i].Points = append(turned[n-1-i].Points, mgl64.Vec3{-p.X(), p.Y(), p.Z()})
		}
		turned[n-1-i].Name = f.Name
	}
	h := hull.Hull{Frames: turned}
	require.Empty(t, h.Check())
	m, err := Loft(turned)
	require.NoError(t, err)
	length := s.u[n-1]
	for i := range 41 {
		for k := range 11 {
			u, v := length*float64(i)/40, float64(k)/10
			p, q := s.At(u, v).P, m.At(length-u, v).P
			assert.InDelta(t, 0, mgl64.Vec3{-q.X(), q.Y(), q.Z()}.Sub(p).Len(), 1e-6)
		}
	}
}

// TestAdvisedFramesTell: the frames advised where a bow turns too much between its
// frames do not cross, and with them the loft lies within 0.3 mm of the exact bow.
func TestAdvisedFramesTell(t *testing.T) {
	for n, a := range bodies.Apples() {
		h := hull.Hull{Frames: twoCants.of(&a)}
		for round := 0; ; round++ {
			s, err := loftHull(&h)
			require.NoError(t, err)
			if len(s.turns) == 0 {
				off, _ := offBays(t, s, &a)
				for i, o := range off {
					assert.Less(t, o, 0.3, "bow %d, bay %d", n, i)
				}
				break
			}
			require.Less(t, round, 4, "bow %d", n)
			for k := len(s.turns) - 1; k >= 0; k-- {
				b := s.turns[k]
				made := a.Frame(fmt.Sprintf("N%d-%d", round, k), b.Mend, 25)
				h.Frames = append(h.Frames[:b.Frame+1], append([]hull.Frame{made}, h.Frames[b.Frame+1:]...)...)
			}
			require.Empty(t, h.Check(), "bow %d", n)
		}
	}
}

// TestOneBowUnderSquareAndCantedFrames: results for a bow do not depend on how it is
// framed. The straight line along the parallel body reaches the stem at the same place
// over square frames and over canted ones, to 0.1 mm after 160 mm, and planking of 2 mm
// lies on it at its full thickness.
func TestOneBowUnderSquareAndCantedFrames(t *testing.T) {
	a := bodies.Apples()[1]
	var ends []mgl64.Vec3
	for name, c := range map[string]framing{"square": squareClose, "canted": fourCants} {
		s, err := Loft(c.of(&a))
		require.NoError(t, err)
		aim := hull.Angle(0)
		lie, err := s.Lie(s.FrameNamed("S1"), 40, &aim)
		require.NoError(t, err)
		ends = append(ends, lie.Points[0].P)

		const thick = 2
		out := s.offset(thick, 0, s.Frames()-1)
		assert.Empty(t, out.folds, name)
		for i := range 41 {
			for k := range 11 {
				p := out.At(out.u[len(out.u)-1]*float64(i)/40, float64(k)/10).P
				if p.Z() < a.Depth {
					assert.InDelta(t, thick, offHull(p, &a), 0.2, "%s at %v", name, p)
				}
			}
		}
	}
	assert.InDelta(t, 0, ends[0].Sub(ends[1]).Len(), 0.1)
}

// offHull is the distance of a point from a bow, mm: the foot of the perpendicular,
// found by alternate steps to the surface and along it.
func offHull(p mgl64.Vec3, a *bodies.Apple) float64 {
	foot := p
	for range 12 {
		n := a.Normal(foot)
		foot = foot.Sub(n.Mul(a.Off(foot)))
		foot = foot.Add(across(p.Sub(foot), n).Mul(0.5))
	}
	return p.Sub(foot).Len()
}
