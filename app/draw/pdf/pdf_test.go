package pdf

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
)

// ticks draws vertical lines at the given x, from y 20 to 30.
func ticks(xs ...float64) *draw.Drawing {
	var d draw.Drawing
	for _, x := range xs {
		d.Line(draw.Pencil, draw.Pen{Width: 0.2}, draw.Pt(x, 20), draw.Pt(x, 30))
	}
	return &d
}

func written(t testing.TB, d *Document) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, d.Write(&b))
	return b.Bytes()
}

var places = []float64{20, 25.4, 30.05, 71.337, 120, 188.8}

// 0.05 mm: little more than a pixel of 0.042 mm.
const near = 0.05

func TestLinesComeOutWhereTheyAreDrawn(t *testing.T) {
	d := New("ticks")
	d.Page(210, 297, Scale{})
	d.Draw(ticks(places...))
	found := proof.PDF(t, proof.File(t, "a.pdf", written(t, d)), 1).Across(25, 5, 205)
	require.Len(t, found, len(places))
	for i, x := range places {
		assert.InDelta(t, x, found[i], near)
	}
}

func TestScaleEnlargesThePageFromItsCorner(t *testing.T) {
	d := New("scaled")
	d.Page(210, 297, Scale{X: 100 / 99.6, Y: 1.02})
	d.Draw(ticks(places...))
	p := proof.PDF(t, proof.File(t, "a.pdf", written(t, d)), 1)
	found := p.Across(25, 5, 205)
	require.Len(t, found, len(places))
	for i, x := range places {
		assert.InDelta(t, x*100/99.6, found[i], near)
	}
	run := p.Down(20*100/99.6, 10, 40)
	require.Len(t, run, 1)
	assert.InDelta(t, 25*1.02, run[0], near)
}

func TestPagesOfAnySizeStandInOneDocument(t *testing.T) {
	d := New("Sheets of the Brigantine Ærø")
	d.Page(210, 297, Scale{})
	d.Page(1200, 100, Scale{})
	d.Draw(ticks(1150))
	path := proof.File(t, "a.pdf", written(t, d))
	info := proof.Run(t, "pdfinfo", "-f", "1", "-l", "2", path)
	assert.Contains(t, info, "Title:           Sheets of the Brigantine Ærø\n")
	assert.Regexp(t, `Page +1 size: +595.28 x 841.89`, info)
	assert.Regexp(t, fmt.Sprintf(`Page +2 size: +%.2f x 283.46`, 1200*72/25.4), info)
	assert.InDelta(t, 1150, proof.PDF(t, path, 2).Across(25, 1100, 1190)[0], near)
}

func everything() *Document {
	d := New("everything")
	d.Page(210, 297, Scale{})
	var all draw.Drawing
	all.Rect(draw.GapSoft, draw.Pt(10, 40), draw.Pt(60, 60))
	all.Line(draw.FrameInk, draw.Pen{Width: 0.3, Dash: []float64{4, 2}}, draw.Pt(10, 70), draw.Pt(100, 70), draw.Pt(100, 90))
	all.Line(draw.Cut, draw.Pen{Width: 0.5}, draw.Pt(10, 80), draw.Pt(100, 81))
	for i, s := range []draw.Shape{draw.Disc, draw.Ring, draw.Square, draw.Diamond, draw.Down, draw.Up, draw.Cross} {
		all.Mark(draw.Pt(20+12*float64(i), 100), s, 5, draw.Pencil)
	}
	all.Text(draw.Pt(105, 120), "Größe 12.5° × 3½ — (a\\b) → 龍", draw.Ink, 5, draw.Centre)
	all.Text(draw.Pt(200, 130), "right", draw.Ink, draw.SmallestText, draw.Right)
	d.Draw(&all)
	l := d.NewLink()
	d.LinkArea(draw.Pt(10, 115), draw.Pt(200, 121), l)
	d.Bookmark("First: Größe", 0, 10)
	d.Page(148, 210, Scale{X: 1.01, Y: 1.01})
	d.Bookmark("Below", 1, 10)
	d.Target(l, 100)
	d.Draw(&all)
	return d
}

func TestQpdfFindsNoFault(t *testing.T) {
	out := proof.Run(t, "qpdf", "--check", proof.File(t, "a.pdf", written(t, everything())))
	assert.Contains(t, out, "No syntax or stream encoding errors found")
	assert.NotContains(t, out, "WARNING")
}

func TestTextIsText(t *testing.T) {
	path := proof.File(t, "a.pdf", written(t, everything()))
	out := proof.Run(t, "pdftotext", "-f", "1", "-l", "1", path, "-")
	assert.Contains(t, out, "Größe 12.5° × 3½ — (a\\b) →")
	assert.Regexp(t, `(?mi)^\S*lettering +CID TrueType +Identity-H +yes`, proof.Run(t, "pdffonts", path), "embedded")
}

// A name of each of three scripts is seen, as wide as it is said to be; those in the
// lettering are text.
func TestNamesOfOtherScriptsArePrinted(t *testing.T) {
	d := New("Чайка 鷗")
	d.Page(70, 70, Scale{})
	var names draw.Drawing
	for i, text := range []string{"Чайка", "Γλάρος", "鷗丸", "תחש"} {
		names.Text(draw.Pt(10, 15+15*float64(i)), text, draw.Ink, 12, draw.Left)
	}
	d.Draw(&names)
	path := proof.File(t, "a.pdf", written(t, d))
	page := proof.PDF(t, path, 1)
	for i, l := range names.Items {
		l := l.(draw.Label)
		assert.Empty(t, draw.Lacking(l.Text))
		from, to := l.Box()
		seen := 0
		for y := from.Y; y < to.Y; y++ {
			for _, x := range page.Across(y, 2, 68) {
				assert.True(t, x > from.X-1 && x < to.X+1, "name %d has ink at %v mm", i, x)
				seen++
			}
		}
		assert.Greater(t, seen, 6, "name %d", i)
	}
	out := proof.Run(t, "pdftotext", path, "-")
	assert.Contains(t, out, "Чайка")
	assert.Contains(t, out, "Γλάρος")
	assert.NotContains(t, out, "□")
	assert.Contains(t, proof.Run(t, "pdfinfo", path), "Чайка 鷗")
}

// The target lies 100 mm down a page of 210 mm that is enlarged by 1.01.
func TestLinksAndBookmarksLeadToTheirPlace(t *testing.T) {
	path := proof.File(t, "a.pdf", written(t, everything()))
	out := proof.Run(t, "qpdf", "--qdf", "--object-streams=disable", path, "-")
	assert.Contains(t, out, fmt.Sprintf("%.2f", (210-101)*72/25.4))
	assert.Equal(t, 3, strings.Count(out, "/Dest "), "a link and two lines of the outline")
}

// Upright pages, lying ones and a long one: each line of the outline leads to a
// place on its own page, as far down as it was told, whatever page comes last.
func TestBookmarksLieOnTheirPages(t *testing.T) {
	sizes := [][2]float64{{210, 297}, {297, 210}, {900, 120}, {210, 297}, {297, 210}}
	const down = 37
	d := New("all ways")
	for i, s := range sizes {
		d.Page(s[0], s[1], Scale{Y: 1.01})
		d.Bookmark(fmt.Sprint("page ", i+1), i%2, down)
	}
	path := proof.File(t, "a.pdf", written(t, d))
	var doc struct {
		Outlines []outlineLine
	}
	require.NoError(t, json.Unmarshal([]byte(proof.Run(t, "qpdf", "--json", path)), &doc))
	seen := 0
	var visit func([]outlineLine)
	visit = func(lines []outlineLine) {
		for _, l := range lines {
			height := sizes[l.Page-1][1] * 72 / 25.4
			assert.Equal(t, fmt.Sprint("page ", l.Page), l.Title)
			require.Len(t, l.Dest, 5)
			up, ok := l.Dest[3].(float64)
			require.True(t, ok)
			assert.InDelta(t, height-down*1.01*72/25.4, up, 0.01)
			seen++
			visit(l.Kids)
		}
	}
	visit(doc.Outlines)
	assert.Equal(t, len(sizes), seen)
}

// outlineLine is a line of the outline as qpdf tells it.
type outlineLine struct {
	Title string
	Page  int `json:"destpageposfrom1"`
	Dest  []any
	Kids  []outlineLine
}

func TestViewersAreAskedNotToScale(t *testing.T) {
	path := proof.File(t, "a.pdf", written(t, everything()))
	out := proof.Run(t, "qpdf", "--qdf", "--object-streams=disable", path, "-")
	assert.Regexp(t, `/ViewerPreferences <<\s+/PrintScaling /None\s+>>`, out)
}

func TestADocumentBearsItsDate(t *testing.T) {
	d := everything()
	d.Date(time.Date(2026, 3, 1, 19, 30, 0, 0, time.UTC))
	out := proof.Run(t, "pdfinfo", "-rawdates", proof.File(t, "a.pdf", written(t, d)))
	assert.Regexp(t, `CreationDate: +D:20260301193000`, out)
	assert.Regexp(t, `ModDate: +D:20260301193000`, out)
}

func TestSameDrawingsGiveTheSameBytes(t *testing.T) {
	assert.Equal(t, written(t, everything()), written(t, everything()))
}

func TestNoInkButBlackAndGrey(t *testing.T) {
	path := proof.File(t, "a.pdf", written(t, everything()))
	out := proof.Run(t, "qpdf", "--qdf", path, "-")
	assert.NotRegexp(t, `(?m)^[\d.]+ [\d.]+ [\d.]+ (rg|RG)$`, out)
	assert.Regexp(t, `(?m)^[\d.]+ G$`, out)
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestAFailedWriteIsTold(t *testing.T) {
	assert.ErrorContains(t, everything().Write(full{}), "disk full")
}
