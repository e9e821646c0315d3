package trace

import (
	"context"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scannedAs makes a picture of w x h pixels whose brightness at a point is f, as a
// scanner sees it: averaged over 3 x 3 points in each pixel, with noise and specks.
func scannedAs(w, h int, noise float64, specks int, f func(at Point) float64) *Picture {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(7, 8))
	dirt := map[image.Point]bool{}
	for range specks {
		x, y := r.IntN(w), r.IntN(h)
		for k := range 5 {
			dirt[image.Pt(x+k%2, y+k/2)] = true
		}
	}
	for y := range h {
		for x := range w {
			sum := 0.0
			for k := range 9 {
				sum += f(Pt(float64(x)+(float64(k%3)+0.5)/3, float64(y)+(float64(k/3)+0.5)/3)) / 9
			}
			if dirt[image.Pt(x, y)] {
				sum = 60
			}
			v := uint8(min(max(sum+noise*r.NormFloat64(), 0), 255))
			m.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return newPicture(m, "scanned")
}

// soft is a band with blurred sides: 1 in the middle of a line of the given half
// width in pixels, 0 beside it.
func soft(d, half float64) float64 { return 1 / (1 + math.Exp((math.Abs(d)-half)/0.5)) }

// drawnLine is how a line of an ink looks on a paper at a distance from its middle.
func drawnLine(paper, ink, half float64) func(d float64) float64 {
	return func(d float64) float64 { return paper + (ink-paper)*soft(d, half) }
}

// A quarter circle of 150 px, crossed by a waterline, a buttock and a diagonal, is
// followed between two clicks, whatever it is drawn with: within 0.25 px root mean
// square, a third of 0.08 mm at 300 dots an inch, and nowhere further off than a
// pixel.
func TestALineIsFollowedBetweenTwoClicks(t *testing.T) {
	centre := Pt(180.3, 20.7)
	const radius = 150.0
	for name, c := range map[string]struct {
		noise  float64
		specks int
		look   func(d float64) float64
	}{
		"a clean line":            {0, 0, drawnLine(250, 20, 1.5)},
		"a hair line":             {4, 0, drawnLine(250, 20, 0.6)},
		"grey, blurred and dirty": {10, 60, drawnLine(190, 100, 1.5)},
		"a thick line":            {6, 20, drawnLine(230, 40, 5)},
		"a blueprint":             {8, 0, drawnLine(60, 200, 1.5)},
		"the edge of a frame":     {6, 0, func(d float64) float64 { return 60 + 150/(1+math.Exp(-d/0.6)) }},
	} {
		t.Run(name, func(t *testing.T) {
			flat := c.look(40)
			other := func(d float64) float64 { return (c.look(0) - flat) * soft(d, 0.7) }
			edge := name == "the edge of a frame"
			p := scannedAs(360, 200, c.noise, c.specks, func(at Point) float64 {
				v := c.look(at.distance(centre) - radius)
				if edge {
					return v
				}
				for _, d := range []float64{at.Y - 90.2, at.X - 130.4, (at.X - at.Y - 10) / math.Sqrt2} {
					if w := other(d); math.Abs(w) > math.Abs(v-flat) {
						v = flat + w
					}
				}
				return v
			})
			on := func(a, off float64) Point {
				sin, cos := math.Sincos(a)
				return centre.plus(Pt(cos, sin).times(radius + off))
			}
			start, ok := p.Snap(on(2.9, 2), 8)
			require.True(t, ok)
			got, ok := p.Follow(start, start).To(t.Context(), on(1.2, -2), 8)
			require.True(t, ok)
			assert.False(t, got.Ends)
			sum, worst := 0.0, 0.0
			for _, q := range got.Run {
				off := q.distance(centre) - radius
				sum, worst = sum+off*off, max(worst, math.Abs(off))
			}
			assert.Less(t, math.Sqrt(sum/float64(len(got.Run))), 0.25)
			assert.Less(t, worst, 1.0)
			assert.InDelta(t, 0, got.End.distance(on(1.2, 0)), 2)
			few := thinned(got.Run)
			assert.Less(t, len(few), 20)
			for _, q := range few {
				assert.InDelta(t, radius, q.distance(centre), 1)
			}
		})
	}
}

// The end of a line is found, and distinguished from a line that continues.
func TestEndsOfLinesAreFound(t *testing.T) {
	line := drawnLine(240, 30, 1.3)
	slant := Pt(math.Cos(0.5), math.Sin(0.5))
	both := func(a, b float64) float64 { return min(a, b) }
	half := func(at Point) float64 { // an upright one, which ends at y = 50, coming from above
		if at.Y > 50 {
			return 240
		}
		return line(at.X - 60.2)
	}
	crossing := func(at Point) float64 { return line(at.minus(Pt(60.2, 50)).cross(slant)) }
	for name, c := range map[string]struct {
		look func(at Point) float64
		how  lineEnd
	}{
		"on paper":        {half, endFree},
		"on a slant line": {func(at Point) float64 { return both(half(at), crossing(at)) }, endTee},
		"at a corner": {func(at Point) float64 {
			if at.X < 58.9 {
				return half(at)
			}
			return both(half(at), crossing(at))
		}, endBend},
		"not at a crossing": {func(at Point) float64 { return both(line(at.X-60.2), crossing(at)) }, goesOn},
		"not where it is broken": {func(at Point) float64 {
			if math.Abs(at.Y-52) < 3 {
				return 240
			}
			return line(at.X - 60.2)
		}, goesOn},
	} {
		t.Run(name, func(t *testing.T) {
			p := scannedAs(120, 120, 5, 0, c.look)
			start := Pt(60.2, 8)
			got, ok := p.Follow(start, start).To(t.Context(), Pt(61, 48), 8)
			require.True(t, ok)
			assert.Equal(t, c.how == endFree || c.how == endTee, got.Ends)
			assert.Equal(t, c.how == endBend, got.Bend)
			at, found := p.SnapEnd(Pt(62, 48), 8)
			if c.how == goesOn {
				assert.False(t, found)
				assert.Equal(t, Pt(62, 48), at)
				return
			}
			require.True(t, found)
			for _, q := range []Point{at, got.End} {
				assert.InDelta(t, 0, q.distance(Pt(60.2, 50)), 0.9)
			}
		})
	}
}

// A step along a crossing line that leads nearer to the destination does not draw
// the path off its line: it goes straight on where lines cross, at any angle.
func TestCrossingLinesDoNotCatchTheWay(t *testing.T) {
	for _, angle := range []float64{0.3, 0.6, 1, 1.4} {
		dir := Pt(math.Cos(angle), math.Sin(angle))
		p := scannedAs(260, 160, 8, 10, func(at Point) float64 {
			wave := at.Y - 80 - 30*math.Sin(at.X/45)
			a := drawnLine(240, 30, 1.3)(wave / math.Hypot(1, 30.0/45*math.Cos(at.X/45)))
			for _, x := range []float64{60, 110, 160} {
				a = min(a, drawnLine(240, 30, 1.3)(at.minus(Pt(x, 80+30*math.Sin(x/45))).cross(dir)))
			}
			return a
		})
		on := func(x float64) Point { return Pt(x, 80+30*math.Sin(x/45)) }
		got, ok := p.Follow(on(12), on(12)).To(t.Context(), on(245), 8)
		require.True(t, ok, "%.1f", angle)
		for _, q := range got.Run {
			assert.InDelta(t, on(q.X).Y, q.Y, 1.2, "crossed at %.1f rad, at %.0f", angle, q.X)
		}
	}
}

// A chine is clicked at its corner, and followed on from there: three clicks, and the
// corner is kept. Both straight runs are found to 0.3 px, and the corner to a pixel.
func TestAChineIsFollowedFromCornerToCorner(t *testing.T) {
	a, knuckle, b := Pt(180, 20), Pt(150.4, 110.3), Pt(40, 160)
	leg := func(at, p, q Point) float64 {
		d := q.minus(p)
		s := min(max(at.minus(p).dot(d)/d.dot(d), 0), 1)
		return drawnLine(240, 30, 1.3)(at.distance(between(p, q, s)))
	}
	p := scannedAs(220, 190, 6, 10, func(at Point) float64 { return min(leg(at, a, knuckle), leg(at, knuckle, b)) })
	tr := New()
	tr.AddPicture(p)
	start, ok := p.SnapEnd(a.plus(Pt(2, 1)), 8)
	require.True(t, ok)
	require.NoError(t, tr.Begin("A", 0, start, true))
	for _, to := range []Point{knuckle.plus(Pt(1, 2)), b.plus(Pt(-2, 1))} {
		last, before, _ := tr.Last()
		if last.Knuckle {
			before = last
		}
		f, ok := p.Follow(last.At, before.At).To(t.Context(), to, 8)
		require.True(t, ok)
		require.NoError(t, tr.Along(f))
	}
	assert.True(t, tr.Done())
	marks := tr.Frames()[0].Halves[0]
	corners := 0
	for _, m := range marks {
		if m.Knuckle {
			corners++
			assert.InDelta(t, 0, m.At.distance(knuckle), 1)
			continue
		}
		off := math.Inf(1)
		for _, l := range [][2]Point{{a, knuckle}, {knuckle, b}} {
			d := l[1].minus(l[0])
			off = min(off, math.Abs(m.At.minus(l[0]).cross(d))/d.length())
		}
		assert.Less(t, off, 0.3)
	}
	assert.Equal(t, 1, corners)
}

func TestWhatLeadsNowhereIsNotFollowed(t *testing.T) {
	blank := scannedAs(120, 120, 6, 0, func(Point) float64 { return 200 })
	two := scannedAs(200, 200, 6, 0, func(at Point) float64 {
		return min(drawnLine(240, 30, 1.3)(at.X-50), drawnLine(240, 30, 1.3)(at.X-150))
	})
	_, ok := blank.Follow(Pt(20, 20), Pt(20, 20)).To(t.Context(), Pt(100, 90), 8)
	assert.False(t, ok)
	_, ok = two.Follow(Pt(50, 30), Pt(50, 30)).To(t.Context(), Pt(150, 170), 8)
	assert.False(t, ok, "no line leads from one to the other")
	_, ok = two.Follow(Pt(50, 30), Pt(50, 40)).To(t.Context(), Pt(50, 170), 8)
	assert.False(t, ok, "it would have to turn back")
	for _, to := range []Point{{math.NaN(), 3}, {-5, 5}, {math.Inf(1), 0}, {51, 31}} {
		_, ok = two.Follow(Pt(50, 30), Pt(50, 30)).To(t.Context(), to, 8)
		assert.False(t, ok)
	}
	over, end := context.WithCancel(t.Context())
	end()
	_, ok = two.Follow(Pt(50, 30), Pt(50, 30)).To(over, Pt(50, 170), 8)
	assert.False(t, ok, "it is stopped")
	_, ok = two.Follow(Pt(50, 30), Pt(50, 30)).To(t.Context(), Pt(50, 170), 8)
	assert.True(t, ok)
}

// What was followed is undone together with its click, and a frame that had ended
// continues.
func TestWhatIsFollowedIsOneStep(t *testing.T) {
	tr := flat(t)
	require.NoError(t, tr.Begin("A", 0, Pt(800, 300), true))
	run := make([]Point, 0, 200)
	for k := range 200 {
		a := math.Pi / 2 * float64(k) / 199
		run = append(run, Pt(500+300*math.Cos(a), 300+600*math.Sin(a)))
	}
	require.NoError(t, tr.Along(Followed{Run: run, End: run[199], Ends: true}))
	assert.True(t, tr.Done())
	marks := tr.Frames()[0].Halves[0]
	require.Greater(t, len(marks), 4)
	assert.True(t, marks[1].Followed)
	assert.False(t, marks[0].Followed)
	assert.Equal(t, Mark{At: run[199], Snapped: true}, marks[len(marks)-1])
	last, before, ok := tr.Last()
	assert.True(t, ok)
	assert.Equal(t, []Mark{before, last}, marks[len(marks)-2:])

	path := filepath.Join(t.TempDir(), "a.straketrace")
	again, err := Resume(tr.Keep(path), []*Picture{tr.Grounds()[0].Picture})
	require.NoError(t, err)
	assert.Equal(t, tr.Frames(), again.Frames())

	_, _ = tr.Undo()
	assert.False(t, tr.Done())
	assert.Len(t, tr.Frames()[0].Halves[0], 1)
	_, _ = tr.Redo()
	assert.True(t, tr.Done())
	require.NoError(t, tr.Begin("B", 20, Pt(700, 300), true))
	assert.False(t, tr.Done())
	_, _ = tr.Undo()
	assert.Len(t, tr.Frames(), 1)
	assert.True(t, tr.Done())
	require.NoError(t, tr.Click(Pt(490, 900), false))
	assert.False(t, tr.Done(), "it goes on")
	require.NoError(t, tr.Finish())
	assert.True(t, tr.Done())
	tr.Choose(-1)
	assert.Error(t, tr.Finish())
	assert.Error(t, tr.Along(Followed{Run: run}))

	// past the centre line it continues on the other half
	tr = flat(t)
	require.NoError(t, tr.Begin("A", 0, Pt(800, 300), true))
	whole := append(slices.Clip(run), Pt(350, 850), Pt(250, 600), Pt(200, 300))
	require.NoError(t, tr.Along(Followed{Run: evenly(whole, 2), End: Pt(200, 300)}))
	for _, m := range tr.Frames()[0].Halves[0] {
		assert.GreaterOrEqual(t, m.At.X, 490.0)
	}
	assert.Greater(t, len(tr.Frames()[0].Halves[1]), 2)
}
