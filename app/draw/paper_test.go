package draw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func always(Item) bool { return true }

func TestPartCutsAtItsSidesAndLosesNothing(t *testing.T) {
	var d Drawing
	d.Line(Cut, Pen{Width: 0.3}, Pt(-10, 5), Pt(110, 5))
	d.Rect(GapSoft, Pt(90, 0), Pt(120, 10))
	d.Line(Pencil, Pen{Width: 0.3}, Pt(0, 30), Pt(100, 30))
	a, b := d.Part(Pt(0, 0), Pt(60, 20), always), d.Part(Pt(60, 0), Pt(100, 20), always)
	require.Len(t, a.Items, 1)
	require.Len(t, b.Items, 2)
	assert.Equal(t, []Point{{0, 5}, {60, 5}}, a.Items[0].(Stroke).Points)
	assert.Equal(t, []Point{{60, 5}, {100, 5}}, b.Items[0].(Stroke).Points)
	from, to, _ := (&Drawing{Items: b.Items[1:]}).Extent()
	assert.Equal(t, [2]Point{{90, 0}, {100, 10}}, [2]Point{from, to})
}

// The dashes of two parts, put together, are those of the whole line.
func TestDashesRunOnFromPartToPart(t *testing.T) {
	var d Drawing
	d.Line(FrameInk, Pen{Width: 0.3, Dash: []float64{7, 4}}, Pt(0, 5), Pt(100, 5))
	length := func(from, to float64) float64 {
		sum, part := 0.0, d.Part(Pt(from, 0), Pt(to, 10), always)
		for _, it := range part.Items {
			s := it.(Stroke)
			assert.Empty(t, s.Pen.Dash)
			sum += s.Points[len(s.Points)-1].X - s.Points[0].X
		}
		return sum
	}
	assert.InDelta(t, 9*7+1, length(0, 43)+length(43, 100)+length(100, 200), 1e-9, "nine dashes and 1 mm of a tenth")
	assert.InDelta(t, 3*7+7, length(0, 43), 1e-9)
}

func TestMarksAndLabelsAreKeptByTheirAsker(t *testing.T) {
	var d Drawing
	d.Mark(Pt(3, 3), Cross, 4, Pencil)
	d.Text(Pt(500, 3), "far", Ink, 4, Left)
	part := d.Part(Pt(0, 0), Pt(10, 10), func(it Item) bool { _, ok := it.(Label); return ok })
	assert.Equal(t, []Item{d.Items[1]}, part.Items)
}

func TestAddMovesACopy(t *testing.T) {
	var d, e Drawing
	d.Line(Cut, Pen{Width: 1}, Pt(0, 0), Pt(1, 0))
	d.Rect(GapSoft, Pt(0, 0), Pt(1, 1))
	d.Mark(Pt(2, 2), Disc, 1, Ink)
	d.Text(Pt(3, 3), "K", Ink, 4, Left)
	e.Add(&d, Pt(10, 20))
	from, to, ok := e.Extent()
	assert.True(t, ok)
	assert.Equal(t, [2]Point{{10, 20}, {13, 23}}, [2]Point{from, to})
	from, _, _ = d.Extent()
	assert.Equal(t, Pt(0, 0), from)
}

func TestLetteringHasWhatSheetsWrite(t *testing.T) {
	const written = "Größe 12.5° × 3½ ± – — ‘a’ “b” → ■ □ Å Ж"
	assert.Equal(t, written, paperface().shown(written))
	assert.Equal(t, "□ K", paperface().shown("龍 K"))
	assert.InDelta(t, 2.5, CapHeight(BenchText), 0.01)
	assert.InDelta(t, 1.8, CapHeight(SmallestText), 0.01)
}

// The renderer for pixels sets the same font in another way: widths agree
// except for its rounding of advances to 1/64 px and hinting, which affects
// only height.
func TestTextWidthIsTheFontsOwn(t *testing.T) {
	p := newTestPixels(t)
	assert.InDelta(t, p.Width("frame K, 92.0 mm", 40), TextWidth("frame K, 92.0 mm", 40), 1)
	var d Drawing
	d.Text(Pt(100, 50), "92.0", Ink, 10, Right)
	from, to := d.Items[0].(Label).Box()
	assert.InDelta(t, 100, to.X, 1e-9)
	assert.InDelta(t, TextWidth("92.0", 10), to.X-from.X, 1e-9)
	assert.Less(t, from.Y, 50-CapHeight(10))
}

func TestWrapAndFitKeepToTheWidth(t *testing.T) {
	const text = "Print at 100 %, without scaling, and measure the bar before anything is cut."
	lines := Wrap(text, 4, 50)
	assert.Greater(t, len(lines), 2)
	for _, l := range lines {
		assert.LessOrEqual(t, TextWidth(l, 4), 50.0)
	}
	assert.Equal(t, []string{"unbreakable", "a"}, Wrap("unbreakable a", 4, 3))
	assert.LessOrEqual(t, TextWidth(Fit(text, 4, 50), 4), 50.0)
	assert.Equal(t, text, Fit(text, 4, 500))
	assert.Equal(t, "…", Fit(text, 4, 0))
}

// WCAG 2.1, 1.4.3 and 1.4.11, and no colour at all.
func TestPrintIsBlackAndWhite(t *testing.T) {
	for r, c := range Print {
		assert.True(t, c.R == c.G && c.G == c.B, "%s is grey", Role(r))
		assert.Equal(t, uint8(0xff), c.A)
	}
	for _, r := range []Role{Ink, Faint, FrameInk, Limit, Seam, BandInk, StripInk, Chosen, TaperInk, GapInk, EdgeSet, Warning, Cut, Pencil, Register} {
		for _, ground := range []Role{Paper, Halo, TaperSoft, ChosenSoft, GapSoft} {
			assert.GreaterOrEqual(t, contrast(Print[r], Print[ground]), 4.5, "%s on %s", r, ground)
		}
	}
}

func TestEveryRoleHasItsOwnName(t *testing.T) {
	seen := map[string]bool{}
	for r := range roles {
		assert.NotEmpty(t, r.String())
		assert.False(t, seen[r.String()], r.String())
		seen[r.String()] = true
	}
	assert.Equal(t, "ink", roles.String())
	assert.False(t, math.IsNaN(advance(' ')))
}
