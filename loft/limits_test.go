package loft

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestLimitsSetIn: on a half cylinder the girth within the limits is that of the
// remaining arc, and girths down are measured from the limit. 31 points define an arc
// to 1e-6.
func TestLimitsSetIn(t *testing.T) {
	const r, down, up, thick = 60.0, 25.0, 7.5, 2.0
	h := hull.Hull{Frames: bodies.Revolved(bodies.Spaced(0, 200, 6), 31, func(float64) float64 { return r }), Limits: hull.Limits{
		Down: []hull.Inset{{Frame: "F2", MM: down}}, Up: []hull.Inset{{Frame: "F1", MM: up}, {Frame: "F4", MM: up}},
	}}
	p := hull.NewPlan("", h)
	p.Layers = append(p.Layers, p.Layers[0])
	k, err := Plank(p)
	require.NoError(t, err)
	turn := math.Pi - (down+up)/r
	for i := range h.Frames {
		assert.InEpsilon(t, turn*r, k.Layers[0].Girths[i], 1e-6)
		// The outer face is offset square to the inner one, limits included.
		assert.InEpsilon(t, turn*(r+thick), k.Layers[1].Girths[i], 1e-6)
		at := (down + 40) / r
		want := mgl64.Vec3{h.Frames[i].X(), r * math.Sin(at), r * math.Cos(at)}
		assert.InDelta(t, 0, k.Layers[0].Surface.AtDown(i, 40).Sub(want).Len(), 1e-4)
	}
	assert.Less(t, offCylinder(k.Layers[0].Surface, r), 0.0005*r)
	last := k.Layers[0].Strakes[len(k.Layers[0].Strakes)-1].At[0]
	assert.InDelta(t, turn*r, last.Upper+last.WidthFrame, 1e-3)

	q := p.Clone()
	q.Hull.Limits.Down[0].MM = 30
	again, err := k.Replank(q)
	require.NoError(t, err)
	assert.InEpsilon(t, turn*r-5, again.Layers[0].Girths[3], 1e-6, "a limit that moves remakes the surface")
	assert.Equal(t, down, p.Hull.Limits.Down[0].MM, "a clone shares no limits")
}

// TestLimitRunsAsABatten: between frames the inset is that of the natural cubic;
// through 0, 10, 0 at even spacing it passes halfway at 5 + 10·3/16 = 6.875, from the
// equations of its moments (de Boor). It never leaves the frame.
func TestLimitRunsAsABatten(t *testing.T) {
	h := hull.Hull{Frames: bodies.Revolved(bodies.Spaced(-50, 250, 7), 9, func(float64) float64 { return 60 })}
	got := insets(&h, []hull.Inset{{Frame: "F5", MM: 0}, {Frame: "F1", MM: 0}, {Frame: "F3", MM: 10}})
	for i, want := range []float64{0, 0, 6.875, 10, 6.875, 0, 0} {
		assert.InDelta(t, want, got[i], 1e-12)
	}
	got = insets(&h, []hull.Inset{{Frame: "F0", MM: 2}, {Frame: "F2", MM: 4}})
	for i := range h.Frames {
		assert.InDelta(t, 2+float64(i), got[i], 1e-12)
	}
	assert.Equal(t, make([]float64, 7), insets(&h, nil))
}

// TestPlankedBetweenFrames: strakes are laid only from F2 to F5, each as long as the
// cone's side there, and as wide as its share of the half circle; the frames beyond
// still shape the surface.
func TestPlankedBetweenFrames(t *testing.T) {
	h := bodies.ConeHull()
	whole, err := Loft(h.Frames)
	require.NoError(t, err)
	h.Limits.From, h.Limits.To = "F2", "F5"
	p := hull.NewPlan("", h)
	l := &p.Layers[0]
	l.Bands, l.Edges = []hull.Band{{Strakes: 8}, {Strakes: 6}}, hull.Square
	l.Stock.Width = 20 // all taper, and so are of equal width
	p.Trade = hull.NewTrade()
	p.Trade.LeastWidth = 0.2
	line := hull.BandLine{LineType: hull.Drawn, Aim: -1}
	for _, f := range h.Frames {
		line.Handles = append(line.Handles, hull.Handle{Down: math.Pi / 2 * (20 + f.X()/4), Held: true})
	}
	l.Lines = []hull.BandLine{line}
	p.Layers = append(p.Layers, *l)
	k, err := Plank(p)
	require.NoError(t, err)

	s := k.Layers[0].Surface
	first, last := s.Planked()
	assert.Equal(t, [2]int{2, 5}, [2]int{first, last})
	for _, at := range [][2]float64{{3, 0.2}, {111, 0.5}, {250, 0.9}} {
		assert.Equal(t, whole.At(at[0], at[1]).P, s.At(at[0], at[1]).P)
	}
	side := 120 * math.Sqrt(1+1./16)
	for _, l := range k.Layers {
		require.Len(t, l.Strakes, 14)
		assert.Empty(t, l.Drops, "the end of the planking is no drop")
		for _, st := range l.Strakes {
			assert.InDelta(t, side, st.Length, 0.02, st.ID)
			assert.Equal(t, [2]int{s.FrameStation(2), s.FrameStation(5)}, [2]int{st.From, st.To})
			for i, c := range st.At {
				assert.Equal(t, i >= 2 && i <= 5, c.Laid)
			}
		}
		for _, w := range l.Wedges {
			assert.True(t, w.From >= 2 && w.From <= 5 && w.To >= 2 && w.To <= 5, "%+v", w)
		}
		for _, seam := range l.Seams {
			for i, q := range seam.P {
				assert.True(t, q.X() > 78 && q.X() < 202, "station %d at %v", i, q)
			}
		}
		assert.NotEmpty(t, l.Pieces(100, 15))
		for _, piece := range l.Pieces(100, 15) {
			assert.True(t, piece.FromFrame >= 2 && piece.ToFrame <= 5, "%+v", piece)
		}
	}
	assert.InDelta(t, math.Pi/2*(20+120./4)/8, k.Layers[0].Strakes[3].At[3].WidthFrame, 1e-3)
	// The top strake's bevel to the wale is half its turn on the cone's circle of 50 mm, seen square to its run along the side.
	top := k.Layers[0].Strakes[0].At[3]
	assert.InDelta(t, top.WidthFrame/2/50/math.Sqrt(1+1./16), float64(top.BevelUpper), 1e-3)
	assert.NotEmpty(t, k.Clearances(1))

	lie, err := s.Lie(3, 30, nil)
	require.NoError(t, err)
	assert.Equal(t, 2, lie.Points[0].Frame)
	assert.Equal(t, 5, lie.Points[len(lie.Points)-1].Frame)
	_, err = s.Lie(1, 30, nil)
	assert.ErrorContains(t, err, "frame F1 is not planked: the hull is from frame F2 to F5")

	for i, off := range k.Layers[0].Lines[1].LieOff {
		assert.Equal(t, i < 2 || i > 5, math.IsNaN(off), "no strip falls where none is laid")
	}

	for _, bands := range []int{1, 2, 4} {
		q, err := FairLines(context.Background(), p, 0, bands)
		require.NoError(t, err)
		fair, err := Plank(q)
		require.NoError(t, err)
		for _, b := range fair.Layers[0].Lines {
			for _, r := range b.Runouts {
				assert.True(t, r.Frame >= 2 && r.Frame <= 5)
			}
		}
	}
}

// TestSternThatFansOut: there is more girth aft than the strakes fill. Wedges make up
// the whole difference; on a cone, whose lines of equal share cross the frames square,
// that is the half circle less the strips.
func TestSternThatFansOut(t *testing.T) {
	h := hull.Hull{Frames: bodies.Revolved(bodies.Spaced(0, 280, 8), 31, func(x float64) float64 { return 20 + x/4 })}
	h.Frames[7].Name = "transom"
	p := hull.NewPlan("", h)
	p.Layers[0].Edges = hull.Square
	p.Layers[0].Bands[0].Strakes = 30
	p.Trade = hull.NewTrade()
	p.Trade.WedgeEnd, p.Trade.WedgeLength = 0.5, 1 // wedges anywhere
	p.Trade.LeastWidth = 0.2                       // and no strake drops out forward
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	sum := 0.0
	// The gap opens where the half circle equals the 150 mm of the strips less what the
	// edges at wale and keel lose to their bevels; the others are square.
	lost := func(i int) float64 {
		return p.Layers[0].Stock.Thickness * float64(l.Strakes[0].At[i].BevelUpper+l.Strakes[29].At[i].BevelLower)
	}
	open := func(i int) float64 { return l.Girths[i] - 150 + lost(i) }
	opens := 80 + 40*open(2)/(open(2)-open(3))
	assert.InDelta(t, 2*math.Asin(2.5/90)*2, lost(7), 0.005)
	for _, w := range l.Wedges {
		assert.Equal(t, 7, w.To)
		sum += w.Laid.Lower.Down[28] - w.Laid.Upper.Down[28]
		assert.InDelta(t, (280-opens)*math.Sqrt(1+1./16), w.Length, 0.05)
	}
	for _, st := range l.Strakes {
		sum += st.At[7].WidthFrame
		c := st.At[7]
		assert.InDelta(t, 5-p.Layers[0].Stock.Thickness*float64(c.BevelUpper+c.BevelLower), c.WidthCut, 1e-3, "strake %s", st.ID)
	}
	assert.InDelta(t, l.Girths[7], sum, 1e-9)
	assert.InDelta(t, 90*math.Pi, l.Girths[7], 1e-3)
}

// TestSquareTuck: a flat transom as the last frame, with the corner of the tuck: the
// side, and the bottom of the section below it, are planes that meet the transom
// square, so the widths are those of the flat pieces.
func TestSquareTuck(t *testing.T) {
	frames := bodies.Boxy(7)
	frames[6].Name = "transom"
	h := hull.Hull{Frames: frames}
	require.Empty(t, h.Check())
	p := hull.NewPlan("", h)
	p.Layers = append(p.Layers, p.Layers[0])
	k, err := Plank(p)
	require.NoError(t, err)
	assert.InDelta(t, 34+38, k.Layers[0].Girths[6], 1e-9)
	// The outer face lies 2 mm out on both sides of the corner.
	assert.InDelta(t, 34+2+38+2, k.Layers[1].Girths[6], 0.01)
	last := k.Layers[1].Surface
	for v := 0.0; v <= 1; v += 0.05 {
		assert.InDelta(t, 200, last.At(last.u[6], v).P.X(), 1e-9)
	}
}

// flatBow is a plane side, y = (x + 30)/5, that runs into a curved stem: everything
// that lies on it is straight.
func flatBow() hull.Hull {
	var h hull.Hull
	for i, x := range bodies.Spaced(0, 240, 7) {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		if i == 0 {
			f.Name = "stem"
		}
		for _, z := range bodies.Spaced(60, 0, 9) {
			at := x
			if i == 0 {
				at = -z * z / 150
			}
			f.Points = append(f.Points, mgl64.Vec3{at, (at + 30) / 5, z})
		}
		h.Frames = append(h.Frames, f)
	}
	return h
}

// TestStemThatPlanksRunInto: the loft is the plane itself and a strip lies straight,
// ending on the stem's curve, to the 2e-4 mm to which nine points define it (its slope
// at z = 30 is 0.4).
func TestStemThatPlanksRunInto(t *testing.T) {
	h := flatBow()
	require.Empty(t, h.Check())
	s, err := loftHull(&h)
	require.NoError(t, err)
	for u := 0.0; u <= 1; u += 0.01 {
		for v := 0.0; v <= 1; v += 0.05 {
			q := s.At(u*s.u[6], v).P
			assert.InDelta(t, (q.X()+30)/5, q.Y(), 1e-9)
		}
	}
	aim := hull.Angle(0)
	lie, err := s.Lie(3, 30, &aim)
	require.NoError(t, err)
	end := lie.Points[0]
	assert.Equal(t, 0, end.Frame)
	assert.InDelta(t, 30, end.P.Z(), 2e-4)
	assert.InDelta(t, -6, end.P.X(), 2e-4)
	assert.InDelta(t, 246*math.Hypot(1, 0.2), lie.Length, 2e-4)
}

// TestKeelWithDrag: a flat upright side whose rabbet falls 1 in 20 aft. A strake at
// share f of the girth slopes by f/20; its width along the frame is its share, and the
// width to cut is less by the cosine of the slope.
func TestKeelWithDrag(t *testing.T) {
	var h hull.Hull
	for i, x := range bodies.Spaced(0, 300, 7) {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for _, z := range bodies.Spaced(60, 20-x/20, 5) {
			f.Points = append(f.Points, mgl64.Vec3{x, 40, z})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("", h)
	p.Layers[0].Bands[0].Strakes = 10
	p.Layers[0].Stock.Width = 6
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	require.Len(t, l.Strakes, 10)
	for n, st := range l.Strakes {
		slope := (float64(n) + 0.5) / 10 / 20
		for i, c := range st.At {
			w := (40 + h.Frames[i].X()/20) / 10
			assert.InDelta(t, w, c.WidthFrame, 1e-9)
			assert.InDelta(t, w/math.Hypot(1, slope), c.WidthCut, 1e-9)
		}
		assert.InDelta(t, 300*math.Hypot(1, slope), st.Length, 1e-9)
	}
	rabbet := l.Seams[10].P
	for _, q := range rabbet {
		assert.InDelta(t, 20-q.X()/20, q.Z(), 1e-9)
	}
}

// TestGirthsWithinLimits: measured girths are set in too, and the turn in proportion.
func TestGirthsWithinLimits(t *testing.T) {
	var h hull.Hull
	h.SetGirths([]hull.Girth{
		{Frame: "A", X: 0, Girth: 80, Turn: 1, Turned: true},
		{Frame: "B", X: 60, Girth: 100, Turn: 1.5, Turned: true},
		{Frame: "C", X: 120, Girth: 90, Turn: 1, Turned: true},
	})
	h.Limits = hull.Limits{Down: []hull.Inset{{Frame: "B", MM: 15}}, Up: []hull.Inset{{Frame: "A", MM: 5}}, To: "B"}
	p := hull.NewPlan("", h)
	p.Layers = append(p.Layers, p.Layers[0])
	k, err := Plank(p)
	require.NoError(t, err)
	for i, g := range []float64{80, 100, 90} {
		assert.InDelta(t, g-20, k.Layers[0].Girths[i], 1e-6)
		turn := float64(h.Girths[i].Turn) * (g - 20) / g
		assert.InDelta(t, g-20+2*turn, k.Layers[1].Girths[i], 1e-6)
	}
	assert.False(t, k.Layers[0].Strakes[0].At[2].Laid)
	p.Hull.Limits.Up[0].MM = 70
	_, err = Plank(p)
	assert.ErrorContains(t, err, "frame A: limits set in by 15.00 mm from above and 70.00 mm from below leave nothing")
}

// TestNothingBeyondThePlankingIsMeasured: the natural lie of a strip that is held within
// the planking may swing without bound beyond it. Its strakes were 0 or 256 mm long, by
// what was left of figures near 1e30.
func TestNothingBeyondThePlankingIsMeasured(t *testing.T) {
	for thickness := 0.3; thickness <= 3; thickness += 0.3 {
		p := &hull.Plan{Hull: hull.Hull{Frames: bodies.Wigley(800, 9, 9)}}
		p.Hull.Limits = hull.Limits{From: "W6", To: "W8", Down: []hull.Inset{{Frame: "W2", MM: 15}, {Frame: "W6", MM: 13.5}, {Frame: "W7", MM: 5}},
			Up: []hull.Inset{{Frame: "W1", MM: 3.4}, {Frame: "W2", MM: 8}, {Frame: "W5", MM: 1}}}
		line := hull.BandLine{LineType: hull.Free, Follows: hull.StripItself, Hold: 6, Aim: -1}
		for i, down := range []float64{-7, 18.5, -4, 37.5, -1.8, 0, 25.6, -2.5, -6} {
			line.Handles = append(line.Handles, hull.Handle{Down: down, Held: i != 1 && i != 2 && i != 4})
		}
		p.Layers = []hull.Layer{{Stock: hull.Stock{Width: 5, Thickness: thickness, Length: 500}, Edges: hull.Bevelled, Bands: make([]hull.Band, 2), Lines: []hull.BandLine{line}}}
		k, err := Plank(p)
		require.NoError(t, err)
		for _, st := range k.Layers[0].Strakes {
			chords := 0.0
			for i := st.From; i < st.To; i++ {
				chords += st.Centre.P[i+1].Sub(st.Centre.P[i]).Len()
			}
			// Between stations a bent line is longer than its chords, by (κh)²/24 of them.
			assert.InEpsilon(t, chords, st.Length, 0.02, "strake %s of strips %g mm thick", st.ID, thickness)
		}
	}
}

// TestAnyLimitsHold: whatever the limits, the properties of any plan hold between them,
// for a second layer too, and nothing is laid beyond.
func TestAnyLimitsHold(t *testing.T) {
	hulls := [][]hull.Frame{bodies.Wigley(800, 9, 9), bodies.Boxy(8), cutCylinder(60, 13, fanned()...)}
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t, rapid.SampledFrom(hulls).Draw(t, "hull"))
		frames := p.Hull.Frames
		n := len(frames)
		from := rapid.IntRange(0, n-2).Draw(t, "from")
		to := rapid.IntRange(from+1, n-1).Draw(t, "to")
		l := &p.Hull.Limits
		l.From, l.To = frames[from].Name, frames[to].Name
		for _, list := range []*[]hull.Inset{&l.Down, &l.Up} {
			for _, f := range frames {
				if rapid.Bool().Draw(t, "set in") {
					*list = append(*list, hull.Inset{Frame: f.Name, MM: rapid.Float64Range(0, 15).Draw(t, "mm")})
				}
			}
		}
		if len(p.Layers[0].Bands) == 1 {
			p.Layers = append(p.Layers, p.Layers[0])
		}
		k, err := Plank(p)
		if err != nil {
			if strings.Contains(err.Error(), "set them in by less") || strings.Contains(err.Error(), "folds") || strings.Contains(err.Error(), "outer face") {
				return // a batten that swings too wide is refused in words
			}
			t.Fatalf("refused: %v", err)
		}
		for _, l := range k.Layers {
			holds(t, l, &p.Layers[l.Number-1])
			for _, d := range l.Drops {
				if min(d.From, d.To) < from || max(d.From, d.To) > to {
					t.Fatalf("drop %+v beyond the planking", d)
				}
			}
			for _, st := range l.Strakes {
				if st.From < l.Surface.FrameStation(from) || st.To > l.Surface.FrameStation(to) {
					t.Fatalf("strake %s runs from station %d to %d", st.ID, st.From, st.To)
				}
			}
		}
	})
}
