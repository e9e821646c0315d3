package sheets

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func planked(t testing.TB, file []byte) *loft.Planking {
	t.Helper()
	p, err := hull.ReadPlan(bytes.NewReader(file), "demo")
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

func coaster(t testing.TB) *loft.Planking { return planked(t, assets.Demo()) }

// strokes gives the strokes of a role in a drawing, in their order.
func strokes(d *draw.Drawing, role draw.Role) []draw.Stroke {
	var out []draw.Stroke
	for _, it := range d.Items {
		if s, ok := it.(draw.Stroke); ok && s.Role == role {
			out = append(out, s)
		}
	}
	return out
}

// words gives all that is written on sheets.
func words(all []draw.Sheet) string {
	var b strings.Builder
	for i := range all {
		for _, it := range all[i].Drawing.Items {
			if l, ok := it.(draw.Label); ok {
				b.WriteString(l.Text + " ")
			}
		}
	}
	return b.String()
}

// Every label of every sheet is large enough, lies on its sheet, and covers no
// other.
func TestLabelsAreReadableAndApart(t *testing.T) {
	for name, file := range map[string][]byte{"coaster": assets.Demo(), "skiff": assets.Skiff()} {
		for _, strain := range []float64{0.003, 0.03} { // most cut from sheet; most sprung
			p := planked(t, file).Plan.Clone()
			p.Trade.EdgeStrain = strain
			k, err := loft.Plank(p)
			require.NoError(t, err)
			all, err := All(context.Background(), k, Usual(), nil)
			require.NoError(t, err)
			for i := range all {
				checkLabels(t, name, &all[i])
			}
		}
	}
}

// narrow is the coaster in strips so thin that a side takes 60 and more, with
// long names for frames and limits.
func narrow(t testing.TB) *loft.Planking {
	t.Helper()
	p := coaster(t).Plan.Clone()
	p.Hull.Bow, p.Hull.Limits.Upper = hull.BowLast, "underside of the main wale"
	for i := range p.Hull.Frames {
		if f := &p.Hull.Frames[i]; !f.IsEnd() && i%5 == 1 {
			f.Name = "bulkhead " + f.Name
		}
	}
	for i := range p.Layers {
		p.Layers[i].Stock.Width = 1.5
		for b := range p.Layers[i].Bands {
			p.Layers[i].Bands[b].Strakes = 0
		}
	}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(k.Layers[0].Strakes), 60)
	return k
}

func TestLabelsOfManyNarrowStrakes(t *testing.T) {
	all, err := All(context.Background(), narrow(t), Usual(), nil)
	require.NoError(t, err)
	for i := range all {
		checkLabels(t, "narrow", &all[i])
	}
}

// checkLabels checks the labels of a sheet, and those of its parts for pages.
func checkLabels(t *testing.T, name string, s *draw.Sheet) {
	t.Helper()
	checkLabelsOf(t, name, s)
	for i, p := range s.Parts {
		checkLabelsOf(t, name, &draw.Sheet{Name: fmt.Sprintf("%s, part %d", s.Name, i+1), Drawing: p.Drawing, Width: p.Width, Height: p.Height})
	}
}

func checkLabelsOf(t *testing.T, name string, s *draw.Sheet) {
	t.Helper()
	type box struct {
		text       string
		from, upto draw.Point
	}
	var seen []box
	for _, it := range s.Drawing.Items {
		l, ok := it.(draw.Label)
		if !ok {
			continue
		}
		from, upto := l.Box()
		assert.GreaterOrEqual(t, l.Size, draw.SmallestText, "%s %s: %q", name, s.Name, l.Text)
		assert.True(t, from.X >= -1e-6 && from.Y >= -0.5 && upto.X <= s.Width+1e-6 && upto.Y <= s.Height+0.5, "%s %s: %q is off the sheet", name, s.Name, l.Text)
		from.Y, upto.Y = l.At.Y-draw.CapHeight(l.Size), l.At.Y // descenders may reach into the next line's air
		for _, b := range seen {
			if from.X < b.upto.X-0.1 && b.from.X < upto.X-0.1 && from.Y < b.upto.Y-0.1 && b.from.Y < upto.Y-0.1 {
				assert.Fail(t, "labels overlap", "%s %s: %q and %q", name, s.Name, l.Text, b.text)
			}
		}
		seen = append(seen, box{l.Text, from, upto})
	}
}

// The marks of a tick strip lie at the girths of the strakes' edges on that
// layer's surface, exactly, with none for strakes that have dropped out.
func TestTickMarksLieAtTheirGirths(t *testing.T) {
	k := coaster(t)
	for _, l := range k.Layers {
		for f := range l.Girths {
			p := tickStrip(k, l, f, 18)
			want := map[float64]bool{0: true, l.Girths[f]: true}
			for _, st := range l.Strakes {
				if c := st.At[f]; c.Laid {
					want[c.Upper], want[c.Upper+c.WidthFrame] = true, true
				}
			}
			var marks []float64
			for _, s := range strokes(&p.Drawing, draw.Pencil) {
				require.Equal(t, s.Points[0].Y, s.Points[1].Y)
				marks = append(marks, s.Points[0].Y-tickHead)
			}
			for w := range want {
				assert.True(t, anyNear(marks, w), "layer %d frame %d: no mark at %.3f", l.Number, f, w)
			}
			for _, m := range marks {
				near := false
				for w := range want {
					near = near || math.Abs(m-w) < 1e-6
				}
				assert.True(t, near, "layer %d frame %d: a mark at %.3f that no edge has", l.Number, f, m)
			}
		}
	}
}

func anyNear(at []float64, w float64) bool {
	for _, m := range at {
		if math.Abs(m-w) < 1e-6 {
			return true
		}
	}
	return false
}

// One strip serves both sides: its marks are the same at either edge; band lines are
// heavier.
func TestTickStripsServeBothSides(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	p := tickStrip(k, l, 5, 18)
	at := map[[2]bool][]float64{} // by edge and weight
	for _, s := range strokes(&p.Drawing, draw.Pencil) {
		a, b := s.Points[0], s.Points[1]
		if a.X == 0 {
			at[[2]bool{true, s.Pen.Width == heavy.Width}] = append(at[[2]bool{true, s.Pen.Width == heavy.Width}], a.Y)
		}
		if b.X == p.w {
			at[[2]bool{false, s.Pen.Width == heavy.Width}] = append(at[[2]bool{false, s.Pen.Width == heavy.Width}], a.Y)
		}
	}
	assert.Len(t, at[[2]bool{true, true}], len(l.Lines), "limits and band lines")
	for _, bold := range []bool{true, false} {
		assert.NotEmpty(t, at[[2]bool{true, bold}])
		assert.Equal(t, at[[2]bool{true, bold}], at[[2]bool{false, bold}])
	}
	all := tickStrips(k, 2, Usual())
	text := words(all)
	for _, w := range []string{"starboard", "port", "layer 2", "wale", "rabbet", "up", "bow", "stem", "stern", fmt.Sprintf("%.2f", k.Layers[1].Girths[7])} {
		assert.Contains(t, text, w)
	}
	for _, s := range all {
		assert.LessOrEqual(t, s.Width, Usual().Room.Width)
		assert.True(t, s.Cut)
	}
}

// A developed strake is drawn as loft develops it, turned but not stretched,
// with a line at every frame it crosses.
func TestFlatStrakeIsTheDevelopedShape(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	for _, id := range []string{"1.04", "2.05", "2.11"} {
		f, err := l.Flat(id)
		require.NoError(t, err)
		s, err := flatStrake(k, 1, id, Usual())
		require.NoError(t, err)
		outline := strokes(&s.Drawing, draw.Cut)
		require.Len(t, outline, 1)
		got := outline[0].Points
		n := len(f.Upper)
		require.Len(t, got, 2*n+1)
		assert.Equal(t, got[0], got[2*n], "closed")
		want := append([]mgl64.Vec2{}, f.Upper...)
		for i := n - 1; i >= 0; i-- {
			want = append(want, f.Lower[i])
		}
		for i := range want {
			for _, j := range []int{0, n - 1, n, (i + n/2) % (2 * n)} {
				assert.InDelta(t, want[i].Sub(want[j]).Len(), math.Hypot(got[i].X-got[j].X, got[i].Y-got[j].Y), 1e-9)
			}
		}
		frames := 0
		for _, line := range strokes(&s.Drawing, draw.Pencil) {
			if len(line.Points) == 2 {
				frames++
			}
		}
		assert.Equal(t, len(f.Frames), frames)
		text := words([]draw.Sheet{s})
		for _, m := range f.Frames {
			c := strakeOf(l, id).At[m.Frame]
			// What is told is measured on the drawing: the rung, an arc on the hull and
			// its chord here, square to the strake.
			u, w := got[m.Rung], got[2*n-1-m.Rung]
			wide := math.Hypot(w.X-u.X, w.Y-u.Y) * (c.WidthCut + c.Creep) / c.WidthFrame
			assert.Contains(t, text, fmt.Sprintf("%.2f", wide))
			assert.InDelta(t, c.WidthCut+c.Creep, wide, 0.01, "her frames turn little within a strake")
			assert.Less(t, wide, c.WidthCut+c.Creep+1e-6, "a chord is no longer than its arc")
			assert.Contains(t, text, degrees(c.BevelUpper.Degrees()))
		}
	}
	_, err := flatStrake(k, 1, "9.99", Usual())
	assert.ErrorContains(t, err, "no strake 9.99")
	_, err = flatStrake(k, 3, "1.01", Usual())
	assert.ErrorContains(t, err, "no layer 3")
}

func strakeOf(l *loft.Layer, id string) *loft.Strake {
	for _, st := range l.Strakes {
		if st.ID == id {
			return st
		}
	}
	return nil
}

// The garboard lies with the chord of its upper edge level.
func TestGarboardLiesOnItsUpperEdge(t *testing.T) {
	l := coaster(t).Layers[0]
	st := l.Strakes[len(l.Strakes)-1]
	require.True(t, st.Garboard)
	f, err := l.Flat(st.ID)
	require.NoError(t, err)
	sh := placed(f, true)
	assert.InDelta(t, sh.upper[0].Y, sh.upper[len(sh.upper)-1].Y, 1e-9)
}

// barrel is a cylinder about a line athwart, so that all strakes between level
// lines are alike and need no edge-set.
func barrel(t *testing.T) *loft.Planking {
	t.Helper()
	h := hull.Hull{}
	for i := range 9 {
		x := float64(20 * i)
		f := hull.Frame{Name: fmt.Sprintf("F%d", i+1)}
		for k := range 6 {
			f.Points = append(f.Points, mgl64.Vec3{x, 60 - (x-80)*(x-80)/400, 40 - 8*float64(k)})
		}
		h.Frames = append(h.Frames, f)
	}
	k, err := loft.Plank(hull.NewPlan("barrel", h))
	require.NoError(t, err)
	return k
}

func TestIdenticalTapersAreOneSet(t *testing.T) {
	k := barrel(t)
	l := k.Layers[0]
	sets := l.CutSets()
	require.Len(t, sets, 1)
	assert.Len(t, sets[0].Strakes, len(l.Strakes))
	text := words(flatStrakes(k, 1, Usual()))
	assert.Contains(t, text, fmt.Sprintf("cut %d: ", 2*len(l.Strakes)))
	assert.NotContains(t, text, "cut from sheet:")
	assert.Contains(t, text, "Leave the strips whole.")
	assert.NotContains(t, text, "1.02 along", "they cross the frames at one place")
}

// A taper has one straight edge, and from corner to corner of its cuts another; it
// is marked at every frame, at the strake's arc length there, and heavily at the
// corners.
func TestTaperIsCutStraight(t *testing.T) {
	k := planked(t, assets.Skiff())
	l := k.Layers[0]
	sets := l.CutSets()
	require.NotEmpty(t, sets)
	for i := range sets {
		set := &sets[i]
		st := set.Strakes[0]
		p := taperPiece(k, l, set, Usual())
		pts := strokes(&p.Drawing, draw.Cut)[0].Points
		all := notches(set)
		n := len(all)
		assert.Contains(t, words([]draw.Sheet{{Drawing: p.Drawing}}), answer.CutsText(l, set.Cuts, answer.MM{}))
		corners := 0
		for i, at := range all {
			upper, lower := pts[i], pts[2*n-1-i]
			assert.Equal(t, pts[n].Y, lower.Y)
			assert.Equal(t, upper.X, lower.X)
			assert.InDelta(t, set.Cuts.Width(at.at), lower.Y-upper.Y, 1e-9)
			if f := at.frame; f >= 0 {
				assert.InDelta(t, st.Centre.S[l.Surface.FrameStation(f)]-st.Centre.S[st.From], upper.X-pts[0].X, 1e-9)
			}
			if at.corner {
				assert.InDelta(t, set.Cuts.Corners[corners].Width, lower.Y-upper.Y, 1e-9)
				corners++
			}
		}
		assert.Len(t, set.Cuts.Corners, corners)
		heavily := 0
		for _, s := range strokes(&p.Drawing, draw.Pencil) {
			if s.Pen.Width == heavy.Width {
				heavily++
			}
		}
		assert.Equal(t, corners, heavily)
	}
}

// A wedge is as wide at every frame as what the strips leave open there; where it
// ends with the planking it goes on over-long as its edge did.
func TestWedgesAreOverLong(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	require.NotEmpty(t, l.Wedges)
	all := wedgePatterns(k, 1, Usual())
	var cuts, marks []draw.Stroke
	for i := range all {
		cuts = append(cuts, strokes(&all[i].Drawing, draw.Cut)...)
		marks = append(marks, strokes(&all[i].Drawing, draw.Pencil)...)
	}
	require.Len(t, cuts, len(l.Wedges))
	for i, w := range l.Wedges {
		pts := cuts[i].Points
		tip, end, foot := pts[0], pts[len(pts)-3], pts[len(pts)-2]
		_, frames := wedgeOutline(l, w)
		require.NotEmpty(t, frames)
		for _, f := range frames {
			m := marks[0].Points
			marks = marks[1:]
			assert.InDelta(t, w.Laid.At[f], m[0].X-tip.X, 1e-9)
			assert.InDelta(t, w.Laid.Lower.Down[l.Surface.FrameStation(f)]-w.Laid.Upper.Down[l.Surface.FrameStation(f)], m[1].Y-m[0].Y, 0.05*w.Width, "the width across is little less than that along the frame")
			assert.InDelta(t, w.Laid.Widths[f], m[1].Y-m[0].Y, 1e-9)
		}
		assert.InDelta(t, 1.1*w.Laid.Length, foot.X-tip.X, 1e-9)
		last := frames[len(frames)-1]
		assert.Equal(t, w.To, last)
		assert.InDelta(t, w.Width, w.Laid.Widths[last], 1e-9)
		assert.Greater(t, foot.Y-end.Y, w.Width)
		assert.Contains(t, words(all), "under "+w.Below)
	}
	assert.Empty(t, wedgePatterns(barrel(t), 1, Usual()))
}

// carded are the usual settings with cards.
func carded() Settings {
	s := Usual()
	s.Cards = true
	return s
}

func TestCardsAreForThoseWhoAsk(t *testing.T) {
	assert.Empty(t, markingCards(coaster(t), 1, Usual()))
}

func TestTablesHoldTheirNumbers(t *testing.T) {
	k := coaster(t)
	l := k.Layers[1]
	cards, bevels, bend := words(markingCards(k, 2, carded())), words(bevelSheets(k, 2, Usual())), words(bendingCard(k, 2, Usual()))
	for _, st := range l.Strakes {
		assert.Contains(t, bend, short(st.ID))
		for _, c := range st.At {
			if c.Laid {
				assert.Contains(t, cards, fmt.Sprintf(" %.2f %.2f %.2f ", c.Upper, c.Upper+c.WidthFrame, c.WidthFrame))
				assert.Contains(t, bevels, plain("%.2f", 10*math.Tan(float64(c.BevelLower)), 0.005))
			}
		}
	}
	for _, w := range []string{"rule of thumb", "steam", "dry"} {
		assert.Contains(t, bend, w)
	}
}

// Seen from outside, starboard has its bow to the right and port to the left,
// whichever way x runs.
func TestNumberMapShowsEitherSideFromOutside(t *testing.T) {
	k := coaster(t)
	for _, bow := range []hull.BowEnd{hull.BowFirst, hull.BowLast} {
		plan := k.Plan.Clone()
		plan.Hull.Bow = bow
		q, err := k.Replank(plan)
		require.NoError(t, err)
		for _, side := range bothSides {
			s := numberedMap(q, 1, side, Usual())
			at := map[string]float64{}
			for _, it := range s.Drawing.Items {
				if l, ok := it.(draw.Label); ok {
					at[l.Text] = l.At.X
				}
			}
			assert.Equal(t, side == hull.Starboard, at["bow"] > s.Width/2, "%s %s", bow, side)
			assert.Equal(t, (side == hull.Starboard) == (bow == hull.BowLast), at["T"] > at["B"], "%s %s", bow, side)
			assert.Contains(t, words([]draw.Sheet{s}), "not full size")
		}
	}
}

func TestNumberMapAtFullSize(t *testing.T) {
	k := barrel(t) // 160 mm long
	s := numberedMap(k, 1, hull.Port, Usual())
	assert.Contains(t, words([]draw.Sheet{s}), "full size")
	line := strokes(&s.Drawing, draw.BandInk)[0].Points
	assert.InDelta(t, 160, math.Abs(line[len(line)-1].X-line[0].X), 1e-6)
}

// The sections of a standing wall moved in by d are d narrower on either side.
func TestFillerBlocksAreInset(t *testing.T) {
	k := barrel(t)
	all, err := fillerBlocks(k, 4, 5, 7, 2, Usual())
	require.NoError(t, err)
	var widths []float64
	for i := range all {
		for _, c := range strokes(&all[i].Drawing, draw.Cut) {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, p := range c.Points {
				lo, hi = min(lo, p.X), max(hi, p.X)
			}
			widths = append(widths, hi-lo)
			assert.Equal(t, c.Points[0], c.Points[len(c.Points)-1], "closed")
		}
	}
	require.Len(t, widths, 4, "at 80, 87, 94 and 100 mm")
	assert.InDelta(t, 2*58, widths[0], 2e-3, "amidships the wall runs along x: 60 less 2, on either side")

	for want, call := range map[string][4]float64{
		"two frames": {5, 5, 1, 0}, "above zero": {1, 2, 0, 0}, "wider spacing": {0, 8, 1e-4, 0}, "smaller inset": {4, 5, 5, 80},
	} {
		_, err := fillerBlocks(k, int(call[0]), int(call[1]), call[2], call[3], Usual())
		assert.ErrorContains(t, err, want)
	}
}

// A barrel planked between its inner frames, its upper limit set in: the frames
// beyond get no strips and cards, the default blocks fill all of either end, and
// a block has the whole section, from above the limit.
func TestSheetsOfAPartlyPlankedHull(t *testing.T) {
	p := barrel(t).Plan.Clone()
	frames := p.Hull.Frames
	n := len(frames)
	p.Hull.Limits.From, p.Hull.Limits.To = frames[2].Name, frames[n-3].Name
	whole, err := loft.Plank(p)
	require.NoError(t, err)
	p.Hull.Limits.Down = []hull.Inset{{Frame: frames[2].Name, MM: 4}}
	k, err := loft.Plank(p)
	require.NoError(t, err)

	assert.Equal(t, []Block{{0, 2, usualSpacing}, {n - 3, n - 1, usualSpacing}}, Usual().blocks(k))
	marked := words(tickStrips(k, 1, Usual())) + words(markingCards(k, 1, carded())) + words(bevelSheets(k, 1, Usual()))
	assert.Contains(t, marked, "Frame "+frames[2].Name+",")
	assert.NotContains(t, marked, "Frame "+frames[1].Name+",")
	assert.NotContains(t, marked, "Frame "+frames[n-1].Name+",")

	got, err := fillerBlocks(k, 0, 2, 10, 2, Usual())
	require.NoError(t, err)
	want, err := fillerBlocks(whole, 0, 2, 10, 2, Usual())
	require.NoError(t, err)
	require.NotEmpty(t, got)
	assert.Equal(t, want, got)
}

func TestAllTellsProgressAndStops(t *testing.T) {
	k := coaster(t)
	var steps []int
	all, err := All(context.Background(), k, Usual(), func(done, of int, what string) { steps = append(steps, done*1000/of) })
	require.NoError(t, err)
	assert.True(t, sort.IntsAreSorted(steps))
	assert.Equal(t, 1000, steps[len(steps)-1])
	names := map[string]bool{}
	for _, s := range all {
		assert.False(t, names[s.Name], "two sheets named %s", s.Name)
		names[s.Name] = true
		assert.NotEmpty(t, s.Section)
		assert.NotEmpty(t, s.Title)
		assert.Positive(t, s.Width*s.Height)
	}
	ctx, stop := context.WithCancel(context.Background())
	_, err = All(ctx, k, Usual(), func(done, of int, what string) { stop() })
	assert.ErrorIs(t, err, context.Canceled)
}

func TestSpreadKeepsOrderAndRoom(t *testing.T) {
	at := []float64{1, 1.5, 9, 9.2, 9.4, 20}
	got := spread(at, even(6, 2), 0, 100)
	for i := 1; i < len(got); i++ {
		assert.GreaterOrEqual(t, got[i]-got[i-1], 2-1e-9)
	}
	assert.Equal(t, 20.0, got[5], "what has room stays")
	assert.InDelta(t, 9.2, got[3], 1e-9, "a group keeps its middle")
	assert.InDelta(t, 1, got[0], 1e-9, "half its room from the end")
	tight := spread([]float64{5, 5, 5}, even(3, 2), 4, 6)
	assert.InDeltaSlice(t, []float64{5, 7, 9}, tight, 1e-9, "too little room runs on past the end")
	assert.Empty(t, spread(nil, nil, 0, 1))
}

// BenchmarkAll draws every sheet of two layers of over 60 strakes each, which is
// to take a small part of the 3 s that a booklet of 60 strakes may take.
func BenchmarkAll(b *testing.B) {
	k := narrow(b)
	for b.Loop() {
		if _, err := All(context.Background(), k, Usual(), nil); err != nil {
			b.Fatal(err)
		}
	}
}
