package views

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// wigley planks Wigley's hull in three bands of strips 5 mm wide.
func wigley(t testing.TB) *loft.Planking {
	t.Helper()
	return apptest.Planked(t, 3)
}

func profileOf(t testing.TB, k *loft.Planking, c Choice) *Profile {
	t.Helper()
	v := &Profile{}
	curves := CurvesOf(k.Layers[0])
	v.X, v.Z = FitProfile(curves, 1000, 250)
	v.Draw(k, curves, c, 1000, 250)
	return v
}

func TestProfileShowsTheWholeHullInTrueShape(t *testing.T) {
	k := wigley(t)
	v := profileOf(t, k, Nothing)
	for _, s := range k.Layers[0].Seams {
		for _, p := range s.P {
			q := v.Place(p)
			assert.True(t, q.X >= 0 && q.X <= 1000 && q.Y >= 0 && q.Y <= 250)
		}
	}
	a, b := v.Place(mgl64.Vec3{0, 0, 0}), v.Place(mgl64.Vec3{10, 7, 10})
	assert.InDelta(t, b.X-a.X, a.Y-b.Y, 1e-9, "10 mm along are 10 mm up")
	assert.Greater(t, b.X, a.X)
}

func TestProfileTellsWhatLiesAtAPoint(t *testing.T) {
	k := wigley(t)
	l := k.Layers[0]
	v := profileOf(t, k, Nothing)
	for n := range l.Strakes {
		i := l.Surface.FrameStation(6)
		a, b := v.Place(l.Seams[n].P[i]), v.Place(l.Seams[n+1].P[i])
		mid := draw.Pt(a.X+0.5, (a.Y+b.Y)/2)
		if b.Y-a.Y > 0.5 { // the bottom is nearly level and is seen edge on
			assert.Equal(t, n, v.StrakeAt(mid))
		}
		assert.Equal(t, 6, v.FrameAt(mid))
	}
	assert.Equal(t, -1, v.StrakeAt(draw.Pt(500, 2)))
	assert.Equal(t, -1, v.LineAt(draw.Pt(500, 2)))
	p := v.Place(l.Lines[2].P[l.Surface.FrameStation(4)+2])
	assert.Equal(t, 1, v.LineAt(p))
}

func TestHandlesOfTheChosenLineComeFirst(t *testing.T) {
	hs := []Handle{{At: draw.Pt(10, 10), Line: 0}, {At: draw.Pt(13, 10), Line: 1}}
	h, ok := nearestHandle(hs, draw.Pt(11, 10), -1)
	require.True(t, ok)
	assert.Equal(t, 0, h.Line, "the nearer")
	h, _ = nearestHandle(hs, draw.Pt(11, 10), 1)
	assert.Equal(t, 1, h.Line, "the chosen")
	_, ok = nearestHandle(hs, draw.Pt(40, 10), 1)
	assert.False(t, ok)
}

func TestEveryLineHasAHandleAFrame(t *testing.T) {
	k := wigley(t)
	v := profileOf(t, k, Nothing)
	assert.Len(t, v.Handles, 2*13)
	line := &k.Plan.Layers[0].Lines[0]
	require.Equal(t, hull.Free, line.LineType)
	for _, h := range v.Handles {
		down := HandleDown(k.Layers[0], &k.Plan.Layers[0].Lines[h.Line], h.Line, h.Frame)
		at := v.Place(k.Layers[0].Surface.AtDown(h.Frame, down))
		assert.InDelta(t, at.X, h.At.X, 0.05)
		assert.InDelta(t, at.Y, h.At.Y, 0.05)
		if h.Line == 0 && h.Frame == line.Hold {
			assert.Equal(t, draw.Square, h.Shape)
		}
	}
}

func TestFramesThatAreNotPlankedHaveNoHandles(t *testing.T) {
	whole := wigley(t)
	p := whole.Plan.Clone()
	p.Hull.Limits.From, p.Hull.Limits.To = "C", "K"
	k, err := loft.Plank(p)
	require.NoError(t, err)
	v := profileOf(t, k, Nothing)
	assert.Len(t, v.Handles, 2*9)
	curves := CurvesOf(k.Layers[0])
	b := &Body{}
	b.Mid, b.Z, b.Scale = FitBody(curves, 400, 300)
	b.Draw(k, curves, Nothing, 400, 300)
	assert.Len(t, b.Handles, 2*9)
	for _, h := range append(b.Handles, v.Handles...) {
		assert.True(t, h.Frame >= 2 && h.Frame <= 10, "frame %d", h.Frame)
	}
	off := v.Place(whole.Layers[0].Lines[1].P[whole.Layers[0].Surface.FrameStation(0)])
	_, ok := nearestHandle(v.Handles, off, 0)
	assert.False(t, ok, "nothing is grabbed where frame A had its handle")
}

func TestBodyPlanHasForeHalfToTheRight(t *testing.T) {
	k := wigley(t)
	curves := CurvesOf(k.Layers[0])
	v := &Body{}
	v.Mid, v.Z, v.Scale = FitBody(curves, 400, 300)
	v.Draw(k, curves, Nothing.WithLine(0).WithFrame(2), 400, 300)
	for f := range curves {
		x := v.Place(f, curves[f][0]).X
		if f >= 6 { // the bow is at the last frame, the widest is G
			assert.Greater(t, x, v.Mid, "frame %d", f)
		} else {
			assert.Less(t, x, v.Mid, "frame %d", f)
		}
	}
	assert.Equal(t, 2, v.FrameAt(v.Place(2, curves[2][10])))
	for _, h := range v.shown(Nothing.WithLine(0).WithFrame(2)) {
		assert.True(t, h.Line == 0 || h.Frame == 2)
	}
}

// Between two frames a band line bends: it is drawn through all of its stations, not
// straight from frame to frame.
func TestBodyPlanDrawsItsLinesAsCurves(t *testing.T) {
	k := wigley(t)
	curves, l := CurvesOf(k.Layers[0]), k.Layers[0]
	v := &Body{}
	v.Mid, v.Z, v.Scale = FitBody(curves, 400, 300)
	v.Draw(k, curves, Nothing, 400, 300)
	between := l.Lines[1].P[(l.Surface.FrameStation(7)+l.Surface.FrameStation(8))/2]
	at, found := v.Place(7, between), false
	for _, it := range v.Drawing.Items {
		if s, ok := it.(draw.Stroke); ok && s.Role == draw.BandInk {
			for _, p := range s.Points {
				found = found || math.Hypot(p.X-at.X, p.Y-at.Y) < 1e-9
			}
		}
	}
	assert.True(t, found)
	assert.Equal(t, 0, v.LineAt(at))
}

// count counts the items of a drawing in a role.
func count(d *draw.Drawing, is func(draw.Item) bool) int {
	n := 0
	for _, it := range d.Items {
		if is(it) {
			n++
		}
	}
	return n
}

func TestGaugeMarksTapersAndGaps(t *testing.T) {
	k := wigley(t)
	l := k.Layers[0]
	v := &Gauge{X: Axis{From: -200, Scale: 2}}
	for n, s := range l.Strakes {
		v.Draw(k, Nothing.WithStrake(n), 900, 150)
		want := map[loft.Action]int{}
		for _, c := range s.At {
			if c.Laid {
				want[c.Action]++
			}
		}
		for shape, action := range map[draw.Shape]loft.Action{draw.Down: loft.Taper, draw.Up: loft.Gap} {
			got := count(&v.Drawing, func(it draw.Item) bool { m, ok := it.(draw.Mark); return ok && m.Shape == shape })
			assert.Equal(t, want[action], got, "strake %s %s", s.ID, action)
		}
	}
}

func TestGaugeGroundsLieOnTheSideOfTheStrip(t *testing.T) {
	v := &Gauge{X: Axis{Scale: 1}}
	track := track{top: 0, bottom: 100, span: span{0, 10}}
	v.ground(track, 0, 10, 4, 4, 5, 5, -1)
	v.ground(track, 0, 10, 6, 6, 5, 5, 1)
	var fills []draw.Fill
	hatched := map[draw.Role]int{}
	for _, it := range v.Drawing.Items {
		switch it := it.(type) {
		case draw.Fill:
			fills = append(fills, it)
		case draw.Stroke:
			hatched[it.Role]++
		}
	}
	taper, gap := fills[0], fills[1]
	assert.Greater(t, hatched[draw.GapInk], hatched[draw.TaperInk], "told without colour")
	assert.Positive(t, hatched[draw.TaperInk])
	assert.Equal(t, draw.TaperSoft, taper.Role)
	assert.Equal(t, draw.GapSoft, gap.Role)
	assert.Equal(t, 60.0, taper.Points[0].Y, "4 of 10 up from the bottom")
	assert.Equal(t, 50.0, taper.Points[2].Y)
	assert.Equal(t, 40.0, gap.Points[0].Y)
}

func TestGaugeSaysWhatToChoose(t *testing.T) {
	k := wigley(t)
	v := &Gauge{X: Axis{From: -200, Scale: 2}}
	v.Draw(k, Nothing, 900, 150)
	assert.Equal(t, 1, count(&v.Drawing, func(it draw.Item) bool { l, ok := it.(draw.Label); return ok && len(l.Text) > 20 }))
	v.Draw(k, Nothing.WithLine(1), 900, 150)
	assert.Greater(t, count(&v.Drawing, func(it draw.Item) bool { _, ok := it.(draw.Stroke); return ok }), 13)
}

func TestChosenFrameIsNamedWhereNamesAreClose(t *testing.T) {
	k := wigley(t)
	v := &Profile{}
	curves := CurvesOf(k.Layers[0])
	for _, w := range []float64{1000, 200, 60} {
		v.X, v.Z = FitProfile(curves, w, 200)
		v.Draw(k, curves, Nothing.WithFrame(5), w, 200)
		var names []draw.Label
		for _, it := range v.Drawing.Items {
			if l, ok := it.(draw.Label); ok && l.At.Y == 13 {
				names = append(names, l)
			}
		}
		chosen := 0
		for i, l := range names {
			if l.Text == "F" {
				chosen++
			}
			if i > 0 {
				assert.Greater(t, math.Abs(l.At.X-names[i-1].At.X), 8.0, "%s and %s at width %v", names[i-1].Text, l.Text, w)
			}
		}
		assert.Equal(t, 1, chosen)
	}
}

func TestAxisZoomKeepsThePlaceUnderThePointer(t *testing.T) {
	a := Axis{From: -30, Scale: 2}
	b := a.Zoomed(1.5, 120)
	assert.InDelta(t, a.MM(120), b.MM(120), 1e-9)
	assert.InDelta(t, 3, b.Scale, 1e-9)
	assert.InDelta(t, a.At(5)+17, a.Moved(17).At(5), 1e-9)
	assert.Positive(t, Axis{}.Zoomed(0, 10).Scale, "never nought")
}

func TestUnits(t *testing.T) {
	assert.Equal(t, "25.40 mm", Millimetres.Length(25.4))
	assert.Equal(t, "1.000 in", Inches.Length(25.4))
	assert.Equal(t, 25.4, Inches.ToMM(1))
	assert.Equal(t, 2.0, Inches.Of(50.8))
	assert.Equal(t, "10.00 in", Inches.Long(254))
	assert.Equal(t, "7.80 mm above it", Millimetres.LieOff(-7.8))
	assert.Equal(t, "on it", Millimetres.LieOff(-0.001))
	assert.Equal(t, "7.80 mm below it", Millimetres.LieOff(7.8))
}

func TestWidthChartDrawsEveryKind(t *testing.T) {
	v := &WidthChart{}
	v.Draw(nil, -1, 300, 150)
	assert.Len(t, v.Drawing.Items, 1)
	lane := func(name string, stock float64) StockLane {
		return StockLane{name, stock, []float64{0, 50, 100}, []float64{3, 4, math.NaN()}, []float64{3.5, 4.5, math.NaN()}, []float64{4, 5, math.NaN()}}
	}
	v.Draw([]StockLane{lane("4.00 lime", 4), lane("6.00 lime", 6)}, 1, 300, 150)
	fills, names := map[draw.Role]int{}, ""
	for _, it := range v.Drawing.Items {
		switch it := it.(type) {
		case draw.Fill:
			fills[it.Role]++
		case draw.Label:
			names += it.Text + "|"
		}
	}
	assert.Equal(t, 1, fills[draw.ChosenSoft])
	assert.NotZero(t, fills[draw.TaperSoft], "6 mm is wider than any strake needs")
	assert.NotZero(t, fills[draw.GapSoft], "4 mm is narrower than some need")
	assert.Contains(t, names, "> 6.00 lime", "what is chosen is told by a sign too")
	assert.Contains(t, names, "|4.00 lime")
}

func TestLanesShownHoldTheChosen(t *testing.T) {
	for _, c := range []struct{ lanes, chosen, first, shown int }{{3, -1, 0, 3}, {9, -1, 0, 4}, {9, 0, 0, 4}, {9, 5, 3, 4}, {9, 8, 5, 4}} {
		first, shown := lanesShown(c.lanes, c.chosen, laneEdge+4*leastLane)
		assert.Equal(t, [2]int{c.first, c.shown}, [2]int{first, shown}, "%+v", c)
	}
}

// BenchmarkProfile makes the profile's drawing.
func BenchmarkProfile(b *testing.B) {
	k := wigley(b)
	curves := CurvesOf(k.Layers[0])
	v := &Profile{}
	v.X, v.Z = FitProfile(curves, 1000, 250)
	for b.Loop() {
		v.Draw(k, curves, Nothing.WithLine(0), 1000, 250)
	}
}
