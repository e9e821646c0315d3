package trace

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// Wigley's hull (1934): L = 400 mm, L/B = 5, B/T = 1.6, z from the load
// waterline down.
const wigleyL, wigleyB, wigleyT = 400.0, 80.0, 50.0

func wigleyY(x, z float64) float64 {
	return wigleyB / 2 * (1 - math.Pow(2*x/wigleyL, 2)) * (1 - math.Pow(z/wigleyT, 2))
}

// station is one of its frames: 13 points from the waterline down.
func station(x float64) []Point {
	var out []Point
	for j := range 13 {
		z := -wigleyT * 0.98 * float64(j) / 12
		out = append(out, Pt(wigleyY(x, z), z))
	}
	return out
}

// stations are the x of seven frames.
var stations = []float64{-180, -120, -60, 0, 60, 120, 180}

// The body plan as drawn: sheetScale pixels per mm, its middle at the keel
// line, in a rectangle 120 x 80 mm.
const sheetScale = 12.0

var sheetAt = Pt(70, 30) // mm from the upper left of the sheet to y = 0, z = 0

// bodyPlan renders the frames with lines 0.35 mm wide: the after ones on the
// left, the others on the right.
func bodyPlan(t *testing.T) *Picture {
	t.Helper()
	var d draw.Drawing
	pen := draw.Pen{Width: 0.35}
	at := func(p Point) draw.Point { return draw.Pt(sheetAt.X+p.X, sheetAt.Y-p.Y) }
	for _, x := range stations {
		var line []draw.Point
		for k := range 200 {
			z := -wigleyT * 0.98 * float64(k) / 199
			y := wigleyY(x, z)
			if x < 0 {
				y = -y
			}
			line = append(line, at(Pt(y, z)))
		}
		d.Line(draw.Cut, pen, line...)
	}
	d.Line(draw.Cut, pen, at(Pt(-60, 20)), at(Pt(60, 20)), at(Pt(60, -60)), at(Pt(-60, -60)), at(Pt(-60, 20)))
	d.Text(draw.Pt(15, 20), "Body plan", draw.Ink, 5, draw.Left)
	px, err := draw.NewPixels(draw.Lettering())
	require.NoError(t, err)
	m := image.NewRGBA(image.Rect(0, 0, int(140*sheetScale), int(100*sheetScale)))
	px.Render(m, &d, &draw.Print, draw.View{Scale: sheetScale})
	return newPicture(m, "body plan")
}

// camera is how the photo sees the paper: mm from the centre and the waterline,
// y up, to pixels; a fifth of the scale is lost across the sheet.
var camera = Homography{10.5, 0.8, 900, -0.7, -10.2, 420, 9e-4, -1.1e-3, 1}

// photographed warps a picture of the sheet by the camera, with nine samples a
// pixel.
func photographed(t *testing.T, sheet *Picture) *Picture {
	t.Helper()
	back, err := camera.Inverse()
	require.NoError(t, err)
	m := image.NewRGBA(image.Rect(0, 0, 1800, 1300))
	inBands(1300, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range 1800 {
				sum := 0.0
				for k := range 9 {
					q, _ := back.Apply(Pt(float64(x)+(float64(k%3)+0.5)/3, float64(y)+(float64(k/3)+0.5)/3))
					sum += sheet.grey(Pt((sheetAt.X+q.X)*sheetScale, (sheetAt.Y-q.Y)*sheetScale)) / 9
				}
				v := uint8(math.Round(sum))
				m.SetRGBA(x, y, color.RGBA{v, v, v, 255})
			}
		}
	})
	return newPicture(m, "photo")
}

func shot(x, y float64) Point {
	p, _ := camera.Apply(Pt(x, y))
	return p
}

// calibratedTrace has the photo loaded, squared up and with its lines set.
func calibratedTrace(t *testing.T, p *Picture) *Trace {
	t.Helper()
	tr := New()
	tr.AddPicture(p)
	c, err := ByFour([4]Point{shot(-60, 20), shot(60, 20), shot(60, -60), shot(-60, -60)}, 120, 80)
	require.NoError(t, err)
	require.NoError(t, tr.Calibrate(c))
	require.NoError(t, tr.SetCentre(shot(0, -30)))
	require.NoError(t, tr.SetBase(shot(20, 0)))
	return tr
}

// clickAll traces every frame at the points that place gives for the true ones.
func clickAll(t *testing.T, tr *Trace, place func(p Point) (at Point, snapped bool)) {
	t.Helper()
	for i, x := range stations {
		require.NoError(t, tr.AddFrame(string(rune('A'+i)), x))
		for _, p := range station(x) {
			if x < 0 {
				p.X = -p.X
			}
			at, snapped := place(p)
			require.NoError(t, tr.Click(at, snapped))
		}
	}
}

// offFrame is how far a point is from the true frame at x, mm.
func offFrame(x, y, z float64) float64 {
	least := math.Inf(1)
	for k := range 20001 {
		s := -wigleyT * float64(k) / 20000
		least = min(least, math.Hypot(y-wigleyY(x, s), z-s))
	}
	return least
}

// A body plan seen at an angle is traced back: exactly where it is clicked
// exactly (1e-6 mm), and within the required 0.3 mm where the points are
// snapped to the lines of the photo.
func TestABodyPlanSeenAslantIsTracedBack(t *testing.T) {
	photo := photographed(t, bodyPlan(t))
	t.Run("clicked exactly", func(t *testing.T) {
		tr := calibratedTrace(t, photo)
		clickAll(t, tr, func(p Point) (Point, bool) { return shot(p.X, p.Y), false })
		h, faults := tr.Hull()
		require.Empty(t, faults)
		require.Len(t, h.Frames, len(stations))
		for i, f := range h.Frames {
			assert.Equal(t, stations[i], f.X())
			for j, want := range station(stations[i]) {
				assert.InDelta(t, want.X, f.Points[j].Y(), 1e-6)
				assert.InDelta(t, want.Y, f.Points[j].Z(), 1e-6)
			}
		}
	})
	for name, hand := range map[string]float64{"clicked at the true points": 0, "clicked by an unsteady hand": 3} {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(9, 10))
			tr := calibratedTrace(t, photo)
			all, snapped := 0, 0
			clickAll(t, tr, func(p Point) (Point, bool) {
				at := shot(p.X, p.Y)
				shaken := at.plus(Pt(r.Float64()*2-1, r.Float64()*2-1).times(hand))
				all++
				got, ok := photo.Snap(shaken, 8)
				if ok {
					snapped++
					return got, true
				}
				return at, false // where it is unclear a hand takes more care
			})
			assert.Greater(t, snapped, all*3/4, "of %d", all)
			h, faults := tr.Hull()
			require.Empty(t, faults)
			worst := 0.0
			for i, f := range h.Frames {
				for _, p := range f.Points {
					worst = max(worst, offFrame(stations[i], p.Y(), p.Z()))
				}
			}
			assert.Less(t, worst, 0.3)
			t.Logf("%d of %d snapped, worst %.3f mm", snapped, all, worst)
		})
	}
}

// flat is a tracing on paper seen square on: 10 pixels per mm, the centre line
// at 500 and the base line at 900.
func flat(t *testing.T) *Trace {
	t.Helper()
	tr := New()
	tr.AddPicture(newPicture(image.NewGray(image.Rect(0, 0, 1000, 1000)), "paper"))
	c, err := ByTwo(Pt(0, 0), Pt(1000, 0), 100, Level)
	require.NoError(t, err)
	require.NoError(t, tr.Calibrate(c))
	require.NoError(t, tr.SetCentre(Pt(500, 0)))
	require.NoError(t, tr.SetBase(Pt(0, 900)))
	return tr
}

// clickMM clicks points given in mm.
func clickMM(t *testing.T, tr *Trace, pts ...Point) {
	t.Helper()
	for _, p := range pts {
		require.NoError(t, tr.Click(Pt(500+10*p.X, 900-10*p.Y), false))
	}
}

func box(w float64) []Point { return []Point{{w, 60}, {w, 40}, {w * 0.9, 20}, {w * 0.5, 5}, {2, 0}} }

func TestEveryStepIsTakenBackAndMadeAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	tr := flat(t)
	type tracing struct {
		frames []Frame
		datum  Datum
		bow    hull.BowEnd
	}
	shown := func() tracing { // with nothing in it that a step could change
		all := slices.Clone(tr.now.frames)
		for i := range all {
			for h, marks := range all[i].Halves {
				all[i].Halves[h] = slices.Clone(marks)
			}
			if own := all[i].Own; own != nil {
				d := *own
				all[i].Own = &d
			}
		}
		return tracing{all, tr.now.grounds[0].Datum, tr.now.bow}
	}
	var seen []tracing
	var told []string
	step := func(err error, what string) {
		if err == nil {
			told = append(told, what)
		}
	}
	require.NoError(t, tr.AddFrame("A", 0))
	start := tr.steps.Len(history.Back)
	for k := range 2000 {
		seen = append(seen, shown())
		n := tr.steps.Len(history.Back)
		at := Pt(r.Float64()*1000, r.Float64()*1000)
		half, i := r.IntN(2), r.IntN(30)
		switch r.IntN(12) {
		case 0:
			step(tr.AddFrame(fmt.Sprint("F", k), float64(k)), "add")
		case 1:
			step(tr.Move(half, i, at, true), "move")
		case 2:
			step(tr.Remove(half, i), "remove")
		case 3:
			step(tr.SetKnuckle(half, i, r.IntN(2) == 0), "knuckle")
		case 4:
			step(tr.Insert(half, i, at, false), "insert")
		case 5:
			step(tr.SetOwn(r.IntN(2) == 0), "own")
		case 6:
			step(tr.SetCentre(at), "centre")
		case 7:
			step(tr.SetX(float64(k)), "x")
		case 8:
			tr.Choose(r.IntN(len(tr.Frames())))
			tr.ChooseHalf(r.IntN(2))
		case 9:
			tr.SetBow(hull.BowLast)
		default:
			step(tr.Click(at, false), "click")
		}
		if tr.steps.Len(history.Back) == n {
			require.Equal(t, seen[len(seen)-1], shown(), "what fails changes nothing")
			seen = seen[:len(seen)-1]
		}
	}
	last := shown()
	for k := len(seen) - 1; k >= 0; k-- {
		_, ok := tr.Undo()
		require.True(t, ok)
		require.Equal(t, seen[k], shown())
	}
	assert.Equal(t, start, tr.steps.Len(history.Back))
	for tr.CanRedo() {
		_, _ = tr.Redo()
	}
	assert.Equal(t, last, shown())
	for tr.CanUndo() {
		_, _ = tr.Undo()
	}
	assert.Empty(t, tr.Grounds())
	_, ok := tr.Undo()
	assert.False(t, ok)
}

func TestBothHalvesAreAveragedAndTheirDifferenceTold(t *testing.T) {
	tr := flat(t)
	require.NoError(t, tr.AddFrame("A", 0))
	clickMM(t, tr, box(30)...)
	tr.ChooseHalf(1)
	for _, p := range box(31) { // drawn 1 mm wider on the other side
		clickMM(t, tr, Pt(-p.X, p.Y))
	}
	o, err := tr.Outline(0)
	require.NoError(t, err)
	assert.InDelta(t, 30.5, o.Points[0].X, 1e-9)
	assert.InDelta(t, 60, o.Points[0].Y, 1e-9)
	assert.InDelta(t, 1, o.Apart, 0.1)

	// two identical halves, clicked at different points, differ only by the error
	// of a cubic through 15 points on a quarter circle
	tr = flat(t)
	require.NoError(t, tr.AddFrame("A", 0))
	for half, n := range []int{15, 22} {
		tr.ChooseHalf(half)
		for k := range n {
			a := math.Pi / 2 * float64(k) / float64(n-1)
			clickMM(t, tr, Pt((1-2*float64(half))*40*math.Cos(a), 50-40*math.Sin(a)))
		}
	}
	o, err = tr.Outline(0)
	require.NoError(t, err)
	assert.Less(t, o.Apart, 0.01)
	for _, p := range o.Points {
		assert.InDelta(t, 40, p.distance(Pt(0, 50)), 0.005)
	}
	require.NoError(t, tr.SetKnuckle(0, 3, true))
	_, err = tr.Outline(0)
	assert.ErrorContains(t, err, "one half has 1 knuckles and the other 0")
	require.NoError(t, tr.SetKnuckle(1, 5, true))
	_, err = tr.Outline(0)
	assert.NoError(t, err)
}

func TestFramesWithTheirOwnCentreLine(t *testing.T) {
	tr := flat(t)
	require.NoError(t, tr.AddFrame("A", 0))
	require.NoError(t, tr.SetOwn(true))
	require.NoError(t, tr.SetCentre(Pt(300, 0)))
	require.NoError(t, tr.Click(Pt(400, 500), false))
	require.NoError(t, tr.AddFrame("B", 10))
	require.NoError(t, tr.Click(Pt(600, 500), false))
	for i := range 2 {
		o, err := tr.Outline(i)
		require.NoError(t, err)
		same(t, Pt(10, 40), o.Points[0])
	}
	got, ok := tr.Read(Pt(600, 500))
	assert.True(t, ok)
	same(t, Pt(10, 40), got)
}

func TestTheStemIsTracedInTheSideView(t *testing.T) {
	tr := flat(t)
	require.NoError(t, tr.AddFrame("stem", 2))
	clickMM(t, tr, Pt(-40, 60), Pt(-39, 40), Pt(-36, 20), Pt(-30, 5), Pt(-20, 0))
	for i, w := range []float64{20, 30, 25} {
		require.NoError(t, tr.AddFrame(fmt.Sprint(i+1), float64(30*i)))
		clickMM(t, tr, box(w)...)
	}
	require.NoError(t, tr.SetKnuckle(0, 1, true))
	h, faults := tr.Hull()
	require.Empty(t, faults)
	assert.Equal(t, "stem", h.Frames[0].Name)
	assert.InDelta(t, -40, h.Frames[0].Points[0].X(), 1e-9)
	assert.InDelta(t, 2, h.Frames[0].Points[0].Y(), 1e-9)
	assert.Equal(t, []int{1}, h.Frames[3].Knuckles)

	var csv bytes.Buffer
	require.NoError(t, source.WritePoints(&csv, h))
	back, err := source.ReadPoints(&csv, "traced.csv")
	require.NoError(t, err)
	assert.Equal(t, h.Frames[3].Points, back.Frames[3].Points)
}

func TestEachFaultIsOneSentence(t *testing.T) {
	tr := New()
	assert.ErrorContains(t, tr.AddFrame("A", 0), "picture")
	assert.ErrorContains(t, tr.SetCentre(Pt(0, 0)), "picture")
	assert.ErrorContains(t, tr.Click(Pt(0, 0), false), "frame")
	tr.AddPicture(newPicture(image.NewGray(image.Rect(0, 0, 1000, 1000)), "paper"))
	require.NoError(t, tr.AddFrame("A", 0))
	assert.ErrorContains(t, tr.AddFrame(" A", 0), "already")
	assert.ErrorContains(t, tr.Rename("  "), "name")
	assert.ErrorContains(t, tr.SetX(nan), "number")
	require.NoError(t, tr.Click(Pt(1, 1), false))
	says := func(part string) {
		t.Helper()
		_, faults := tr.Hull()
		require.NotEmpty(t, faults)
		var all []string
		for _, f := range faults {
			all = append(all, f.Error())
			assert.NotContains(t, f.Error(), "\n")
		}
		assert.Contains(t, strings.Join(all, "\n"), part)
	}
	says("no scale yet")
	c, err := ByTwo(Pt(0, 0), Pt(1000, 0), 100, Level)
	require.NoError(t, err)
	require.NoError(t, tr.Calibrate(c))
	says("centre line is not set")
	require.NoError(t, tr.SetCentre(Pt(500, 0)))
	says("base line is not set")
	require.NoError(t, tr.SetBase(Pt(0, 900)))
	says("a hull needs 3 or more")
	require.NoError(t, tr.RemoveFrame())
	for i, w := range []float64{20, 30, 25} {
		require.NoError(t, tr.AddFrame(fmt.Sprint(i+1), float64(30*i)))
		clickMM(t, tr, box(w)...)
	}
	_, faults := tr.Hull()
	require.Empty(t, faults)
	require.NoError(t, tr.Insert(0, 5, Pt(500-90, 900), false))
	says("beyond the centre line")
	_, _ = tr.Undo()
	clickMM(t, tr, Pt(-9, 0))
	says("one half has a single point")
	_, _ = tr.Undo()
	require.NoError(t, tr.Remove(0, 0))
	require.NoError(t, tr.Remove(0, 0))
	says("needs 4 or more")
}

// A whole outline, clicked in one go from one upper end past the keel to the
// other, is both halves; either may be clicked upwards.
func TestAWholeOutlineIsClickedInOneGo(t *testing.T) {
	tr := flat(t)
	require.NoError(t, tr.AddFrame("A", 0))
	down := []Point{{30, 60}, {29, 40}, {24, 20}, {12, 5}}
	clickMM(t, tr, down...)
	clickMM(t, tr, Pt(0.2, 0))
	require.NoError(t, tr.SetKnuckle(0, 2, true))
	for k := len(down) - 1; k >= 0; k-- {
		clickMM(t, tr, Pt(-down[k].X, down[k].Y))
	}
	require.NoError(t, tr.SetKnuckle(1, 1, true))
	f := tr.Frames()[0]
	assert.Len(t, f.Halves[0], 5)
	assert.Len(t, f.Halves[1], 4)
	o, err := tr.Outline(0)
	require.NoError(t, err)
	require.Len(t, o.Points, 5)
	for k, p := range down {
		assert.InDelta(t, 0, p.distance(o.Points[k]), 1e-9)
	}
	assert.InDelta(t, 0, o.Points[4].distance(Pt(0.2, 0)), 1e-9, "the end at the centre line is of both halves")
	assert.Equal(t, []int{2}, o.Knuckles)
	assert.InDelta(t, 0, o.Apart, 1e-6)
	for range 4 {
		_, _ = tr.Undo()
	}
	assert.Len(t, tr.Frames()[0].Halves[1], 1)

	tr = flat(t) // the same half, from the rabbet up
	require.NoError(t, tr.AddFrame("A", 0))
	for k := len(down) - 1; k >= 0; k-- {
		clickMM(t, tr, Pt(-down[k].X, down[k].Y))
	}
	o, err = tr.Outline(0)
	require.NoError(t, err)
	assert.Equal(t, 0, tr.Half())
	assert.InDelta(t, 0, o.Points[0].distance(down[0]), 1e-9)
}

// Eight straight stretches represent 11.25 degrees of a circle, 1.4 degrees
// each: a chord is shorter than its arc by a²/24, 2.5e-5 of it, and the cubic
// through the points by less than a third of that (h⁴/180 with h = 0.196).
func TestASmoothRunGoesThroughItsPoints(t *testing.T) {
	var pts []Point
	for k := range 9 {
		a := float64(k) * math.Pi / 16
		pts = append(pts, Pt(50*math.Cos(a), 50*math.Sin(a)))
	}
	run := Through(pts, nil)
	for k, p := range pts {
		assert.InDelta(t, 0, p.distance(run[8*k]), 1e-12)
	}
	assert.InDelta(t, 50*math.Pi/2, Outline{Points: pts}.measured().Girth, 50*math.Pi/2*3.5e-5)
	corner := []Point{{0, 0}, {10, 0}, {10, 10}}
	assert.InDelta(t, 20, Outline{Points: corner, Knuckles: []int{1}}.measured().Girth, 1e-9)
	assert.Equal(t, corner[:1], Through(corner[:1], nil))
}
