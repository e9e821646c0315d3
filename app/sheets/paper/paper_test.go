package paper

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
)

// 0.05 mm: little over a pixel of 0.042 mm at 600 dpi; the bench asks for 0.1.
const near = 0.05

// barsOf measures both bars of a printed page, mm from their first tick.
func barsOf(t *testing.T, p proof.Print, at page, sx, sy float64) (mm, inch []float64) {
	t.Helper()
	left, y := at.left()*sx, at.bottom()-at.footHeight()
	mm = p.Across((y+at.barMM()-1)*sy, left-2, left+103.5*sx)
	inch = p.Across((y+at.barInch()+1)*sy, left-2, left+103.5*sx)
	require.Len(t, mm, 11)
	require.Len(t, inch, 5)
	return mm, inch
}

func TestBarsOnPaperAreTrue(t *testing.T) {
	for _, size := range []Size{Roll(610), A4, A3, Letter, Legal} {
		t.Run(size.Name, func(t *testing.T) {
			setup, err := Setup{Ship: ship, Size: size}.filled()
			require.NoError(t, err)
			pages, err := Pages([]draw.Sheet{wedge(1)}, setup)
			require.NoError(t, err)
			at := setup.page(pages[0].Width > pages[0].Height, 0)
			at.width, at.height = pages[0].Width, pages[0].Height
			mm, inch := barsOf(t, proof.PDF(t, proof.File(t, "a.pdf", pdfOf(t, wedge(1), setup)), 1), at, 1, 1)
			for i, x := range mm {
				assert.InDelta(t, 10*float64(i), x-mm[0], near)
			}
			for i, x := range inch {
				assert.InDelta(t, 25.4*float64(i), x-inch[0], near)
			}
		})
	}
}

// A printer whose bar of 100 mm measured 99.6 must be given one of 100·100/99.6.
func TestPrintersErrorIsTakenOut(t *testing.T) {
	setup, err := Setup{Size: A4, PrinterScale: Measured{X: 99.6, Y: 101.5}}.filled()
	require.NoError(t, err)
	tall := draw.Sheet{Title: "tall", Width: 100, Height: 200}
	tall.Drawing.Line(draw.Pencil, draw.Pen{Width: 0.2}, draw.Pt(30, 50), draw.Pt(60, 50))
	tall.Drawing.Line(draw.Pencil, draw.Pen{Width: 0.2}, draw.Pt(30, 150), draw.Pt(60, 150))
	p := proof.PDF(t, proof.File(t, "a.pdf", pdfOf(t, tall, setup)), 1)
	at := setup.page(false, 0)
	mm, inch := barsOf(t, p, at, 1/at.mx, 1/at.my)
	assert.InDelta(t, 100*100/99.6, mm[10]-mm[0], near)
	assert.InDelta(t, 101.6*100/99.6, inch[4]-inch[0], near)
	lines := p.Down((at.left()+45)/at.mx, 30, 240)
	require.GreaterOrEqual(t, len(lines), 2)
	assert.InDelta(t, 100*100/101.5, lines[1]-lines[0], near)

	lying := setup.page(true, 0)
	assert.InDelta(t, 1.015, lying.mx, 1e-12, "on a page on its side, the width lies along the paper")
	assert.InDelta(t, 210-8, at.right()/at.mx, 1e-9, "the margin is kept on paper")
}

func TestSVGOfASheetHasTrueBars(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, wedge(2), ship, Stamp{}))
	s := wedge(2)
	f := framed(&s, ship, Stamp{})
	at := page{width: f.Width, height: f.Height, mx: 1, my: 1, margin: 5}
	mm, inch := barsOf(t, proof.SVG(t, proof.File(t, "a.svg", b.Bytes())), at, 1, 1)
	assert.InDelta(t, 100, mm[10]-mm[0], near)
	assert.InDelta(t, 101.6, inch[4]-inch[0], near)
}

// A line of 700 mm with a tick each 10 mm, over pages of A4: glued by their
// crosses the pieces give the whole line.
func TestPiecesJoinExactly(t *testing.T) {
	s := draw.Sheet{Section: "s", Title: "long", Width: 700, Height: 300}
	s.Drawing.Line(draw.Cut, draw.Pen{Width: 0.3}, draw.Pt(0, 31), draw.Pt(700, 93))
	g := gridOf(&s, 194, 245, 10)
	require.Len(t, g.columns, 4)
	require.Len(t, g.rows, 2)
	covered := 0.0
	for row := range g.rows {
		for c := range g.columns {
			d := g.piece(&s, c, row)
			from, to := draw.Pt(g.columns[c], g.rows[row]), draw.Pt(g.columns[c]+g.w, g.rows[row]+g.h)
			for _, it := range d.Items {
				st, ok := it.(draw.Stroke)
				if !ok {
					continue
				}
				for _, p := range st.Points {
					assert.True(t, p.X >= from.X-1e-9 && p.X <= to.X+1e-9 && p.Y >= from.Y-1e-9 && p.Y <= to.Y+1e-9, "within the window")
				}
				if st.Role != draw.Cut {
					continue
				}
				a, b := st.Points[0], st.Points[len(st.Points)-1]
				assert.InDelta(t, 31+a.X*62/700, a.Y, 1e-9)
				assert.InDelta(t, 31+b.X*62/700, b.Y, 1e-9)
				assert.LessOrEqual(t, a.X, math.Max(covered, 0)+1e-9, "no hole before it")
				covered = math.Max(covered, b.X)
			}
		}
	}
	assert.InDelta(t, 700, covered, 1e-9)
}

// crossesIn gives the middles of the crosses that a piece shows whole.
func crossesIn(d draw.Drawing) map[draw.Point]bool {
	out := map[draw.Point]bool{}
	for _, it := range d.Items {
		if s, ok := it.(draw.Stroke); ok && s.Role == draw.Register && s.Points[0].Y == s.Points[1].Y {
			if a, b := s.Points[0], s.Points[1]; math.Abs(b.X-a.X-2*crossArm) < 1e-9 {
				out[draw.Pt((a.X+b.X)/2, a.Y)] = true
			}
		}
	}
	return out
}

// In the sheet's own mm the crosses of neighbours are the same points: two at
// least on each seam, or the pieces could turn.
func TestCrossesOfNeighboursCoincide(t *testing.T) {
	for _, s := range []draw.Sheet{chart(), strake(3, 700)} {
		g := gridOf(&s, 194, 245, 10)
		common := func(c0, r0, c1, r1 int) int {
			n, b := 0, crossesIn(g.piece(&s, c1, r1))
			for p := range crossesIn(g.piece(&s, c0, r0)) {
				if b[p] {
					n++
				}
			}
			return n
		}
		for r := range g.rows {
			for c := range g.columns {
				if c > 0 {
					assert.GreaterOrEqual(t, common(c-1, r, c, r), 2, "%s: columns %d and %d of row %d", s.Title, c-1, c, r)
					assert.GreaterOrEqual(t, g.columns[c-1]+g.w-g.columns[c], 10-1e-9, "overlap")
				}
				if r > 0 {
					assert.GreaterOrEqual(t, common(c, r-1, c, r), 2, "%s: rows %d and %d of column %d", s.Title, r-1, r, c)
				}
			}
		}
	}
}

func TestNoLabelIsLostAndFewAreSplit(t *testing.T) {
	s := chart()
	g := gridOf(&s, 194, 245, 10)
	whole := map[draw.Label]bool{}
	for r := range g.rows {
		for c := range g.columns {
			for _, it := range g.piece(&s, c, r).Items {
				l, ok := it.(draw.Label)
				if !ok {
					continue
				}
				a, b := l.Box()
				if a.X >= g.columns[c] && b.X <= g.columns[c]+g.w && a.Y >= g.rows[r] && b.Y <= g.rows[r]+g.h {
					whole[l] = true
				}
			}
		}
	}
	for _, it := range s.Drawing.Items {
		if l, ok := it.(draw.Label); ok {
			assert.True(t, whole[l], l.Text)
		}
	}
}

func TestCutsCoverTheLengthWithTheFewestPieces(t *testing.T) {
	for _, length := range []float64{50, 194, 194.1, 378, 378.1, 700, 1234.5} {
		got := cuts(0, length, 194, 10, nil)
		fewest := 1
		for covered := 194.0; covered < length-1e-9; covered += 184 {
			fewest++
		}
		assert.Len(t, got, fewest, "%v mm", length)
		assert.GreaterOrEqual(t, got[len(got)-1]+194, length-1e-9)
		for i := 1; i < len(got); i++ {
			assert.LessOrEqual(t, got[i], got[i-1]+184+1e-9)
		}
	}
	got := cuts(0, 300, 194, 10, []span{{180, 205}})
	assert.LessOrEqual(t, got[1], 180.0, "the second piece begins before a label that the first splits")
}

// Crosses beyond the ends of a row of pieces join nothing: no page is spent on
// room for them.
func TestARowOfPiecesHasNoMoreThanItNeeds(t *testing.T) {
	s := strake(1, 194+184)
	g := gridOf(&s, 194, 245, 10)
	assert.Len(t, g.columns, 2)
	assert.Zero(t, g.gx)
	assert.Equal(t, float64(gutter), g.gy)
}

func TestSmallSheetsShareAPageAndKeepApart(t *testing.T) {
	pages, err := Pages(sheets(), Setup{Ship: ship})
	require.NoError(t, err)
	begun := map[int]bool{}
	for _, p := range pages {
		for _, s := range p.Starts {
			assert.False(t, begun[s.Sheet], "each once")
			begun[s.Sheet] = true
		}
	}
	assert.Len(t, begun, len(sheets()))
}

// labels that lie over each other can't be read.
func TestNoLabelOfAPageLiesOverAnother(t *testing.T) {
	for _, size := range []Size{Roll(610), A4, A3, Letter, Legal} {
		b := book()
		b.Setup.Size = size
		// The invented shapes of 120 and 180 mm crowd their own labels.
		b.Sheets = append(b.Sheets[:1:1], b.Sheets[3:]...)
		setup, err := b.Setup.filled()
		require.NoError(t, err)
		b.Setup = setup
		leaves, err := b.leaves()
		require.NoError(t, err)
		for i, l := range leaves {
			p := l.finished(setup, i+1, len(leaves))
			var labels []draw.Label
			for _, it := range p.Drawing.Items {
				if l, ok := it.(draw.Label); ok {
					assert.GreaterOrEqual(t, l.Size, draw.SmallestText, l.Text)
					labels = append(labels, l)
				}
			}
			for j, a := range labels {
				for _, c := range labels[:j] {
					from, to := c.Box()
					lo, hi := a.Box()
					assert.False(t, lo.X < to.X-0.2 && hi.X > from.X+0.2 && lo.Y < to.Y-0.4 && hi.Y > from.Y+0.4, "%s page %d: %q and %q", size.Name, i+1, a.Text, c.Text)
				}
			}
		}
	}
}

func bound(t *testing.T, b Book) *Bound {
	t.Helper()
	out, err := b.Bind()
	require.NoError(t, err)
	return out
}

func TestBookletIsWholeAndSound(t *testing.T) {
	var b bytes.Buffer
	told := 0
	require.NoError(t, bound(t, book()).Write(context.Background(), &b, func(done, total int) {
		told++
		assert.Equal(t, told, done)
		assert.LessOrEqual(t, done, total)
	}))
	path := proof.File(t, "b.pdf", b.Bytes())
	out := proof.Run(t, "qpdf", "--check", path)
	assert.Contains(t, out, "No syntax or stream encoding errors found")
	assert.NotContains(t, out, "WARNING")
	info := proof.Run(t, "pdfinfo", path)
	assert.Contains(t, info, "Planking sheets, "+ship)
	assert.Regexp(t, fmt.Sprintf(`Pages: +%d\n`, told), info)

	// What the contents say is where the sheet stands.
	first := proof.Run(t, "pdftotext", "-layout", "-f", "1", "-l", "1", path, "-")
	at := regexp.MustCompile(`Strake 1\.04, .*?(\d+)(?:–\d+)?\n`).FindStringSubmatch(first)
	require.NotNil(t, at, first)
	assert.Contains(t, proof.Run(t, "pdftotext", "-f", at[1], "-l", at[1], path, "-"), "Strake 1.04")
	for page := 1; page <= told; page++ {
		n := fmt.Sprint(page)
		text := proof.Run(t, "pdftotext", "-layout", "-f", n, "-l", n, path, "-")
		for _, want := range []string{"100 mm", "4 in.", "Print at 100 %", ship, fmt.Sprintf("page %d of %d", page, told)} {
			assert.Contains(t, text, want, "page %d", page)
		}
	}
}

func TestBookletStopsWhenAsked(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	var b bytes.Buffer
	err := bound(t, book()).Write(ctx, &b, func(done, _ int) {
		if done == 3 {
			stop()
		}
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Zero(t, b.Len(), "nothing is written")
}

func TestFaultsAreTold(t *testing.T) {
	for want, setup := range map[string]Setup{
		"margin":            {Margin: 80},
		"overlap":           {Overlap: 1},
		"printer's error":   {PrinterScale: Measured{X: 55}},
		"room for the bars": {Size: Roll(100)},
		"paper of":          {Size: Roll(math.NaN())},
	} {
		_, err := Pages(sheets(), setup)
		assert.ErrorContains(t, err, want)
	}
	_, err := Pages([]draw.Sheet{{Name: "flat", Width: math.NaN(), Height: 3}}, Setup{})
	assert.ErrorContains(t, err, `"flat"`)
}

func TestNamesOfRows(t *testing.T) {
	assert.Equal(t, "A Z AA AB BA", strings.Join([]string{rowName(0), rowName(25), rowName(26), rowName(27), rowName(52)}, " "))
}

// large is a plan of 60 strakes on both layers' pages.
func large() Book {
	b := book()
	for n := range 60 {
		b.Sheets = append(b.Sheets, strake(n+5, 640))
	}
	for range 8 {
		b.Sheets = append(b.Sheets, chart())
	}
	return b
}

// A booklet of 60 strakes is made in under 300 MiB; its time is BenchmarkBooklet's.
func TestLargeBookletIsSmall(t *testing.T) {
	b := large()
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var out bytes.Buffer
	whole := bound(t, b)
	require.NoError(t, whole.Write(context.Background(), &out, nil))
	runtime.ReadMemStats(&after)
	pages := len(whole.Pages)
	t.Logf("%d pages, %d MiB allocated in all, %d KiB written", pages, (after.TotalAlloc-before.TotalAlloc)>>20, out.Len()>>10)
	assert.Greater(t, pages, 90)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(300<<20), "all that was ever allocated, so the peak is less")
}
