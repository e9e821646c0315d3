package draw

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

func newTestPixels(t testing.TB) *Pixels {
	t.Helper()
	p, err := NewPixels(goregular.TTF)
	require.NoError(t, err)
	return p
}

func render(t testing.TB, d *Drawing, w, h int, v View) *image.RGBA {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	newTestPixels(t).Render(img, d, &Light, v)
	return img
}

func at(img *image.RGBA, x, y int) color.NRGBA {
	return color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
}

func TestLineCoversItsWidth(t *testing.T) {
	var d Drawing
	d.Line(BandInk, Pen{Width: 4}, Pt(10, 20), Pt(90, 20))
	img := render(t, &d, 100, 40, View{})
	assert.Equal(t, Light[BandInk], at(img, 50, 19))
	assert.Equal(t, Light[BandInk], at(img, 50, 20))
	assert.Equal(t, Light[Paper], at(img, 50, 15))
	assert.Equal(t, Light[Paper], at(img, 95, 20), "past its end")
}

func TestBentLineHasNoHoleAtItsCorner(t *testing.T) {
	for name, to := range map[string]Point{"down": Pt(50, 90), "up": Pt(50, 5), "back": Pt(10, 52)} {
		t.Run(name, func(t *testing.T) {
			var d Drawing
			d.Line(Ink, Pen{Width: 8}, Pt(10, 50), Pt(50, 50), to)
			img := render(t, &d, 100, 100, View{})
			assert.Equal(t, Light[Ink], at(img, 49, 50))
			assert.Equal(t, Light[Ink], at(img, 48, 51), "bevelled corners reach to the corner, not past it")
		})
	}
}

func TestScaleAndOriginPlaceTheDrawing(t *testing.T) {
	var d Drawing
	d.Rect(GapInk, Pt(100, 200), Pt(110, 210))
	img := render(t, &d, 60, 60, View{Origin: Pt(95, 195), Scale: 2})
	assert.Equal(t, Light[GapInk], at(img, 11, 11))
	assert.Equal(t, Light[GapInk], at(img, 28, 28))
	assert.Equal(t, Light[Paper], at(img, 8, 8))
	assert.Equal(t, Light[Paper], at(img, 31, 31))
}

func TestDashesCoverTheirShareOfTheLine(t *testing.T) {
	pts := []Point{{0, 0}, {30, 0}, {30, 70}}
	sum := 0.0
	for _, run := range dashed(pts, []float64{6, 4}) {
		for i := 1; i < len(run); i++ {
			sum += math.Hypot(run[i].X-run[i-1].X, run[i].Y-run[i-1].Y)
		}
	}
	assert.InDelta(t, 60, sum, 1e-9, "six of every ten over a length of 100")
	assert.Len(t, dashed(pts, nil), 1)
	assert.Len(t, dashed(pts, []float64{0, 0}), 1, "a pattern without length is a solid line")
}

func TestLineBreaksAtPointsThatAreNotFinite(t *testing.T) {
	var d Drawing
	d.Line(Ink, Pen{Width: 1}, Pt(0, 0), Pt(1, 0), Pt(math.NaN(), 0), Pt(3, 0), Pt(4, 0), Pt(math.Inf(1), 2), Pt(9, 9))
	require.Len(t, d.Items, 2)
	d.Area(Ink, Pt(0, 0), Pt(1, math.NaN()), Pt(2, 2))
	d.Text(Pt(math.NaN(), 1), "lost", Ink, 9, Left)
	assert.Len(t, d.Items, 2)
}

func TestResetKeepsNothingButRoom(t *testing.T) {
	var d Drawing
	d.Line(Ink, Pen{Width: 1}, Pt(0, 0), Pt(1, 0))
	d.Reset()
	assert.Empty(t, d.Items)
	d.Line(Ink, Pen{Width: 1}, Pt(5, 5), Pt(6, 5))
	assert.Equal(t, []Point{{5, 5}, {6, 5}}, d.Items[0].(Stroke).Points)
}

func TestMarksDifferInShape(t *testing.T) {
	covered := map[int]Shape{}
	for _, s := range []Shape{Disc, Ring, Square, Diamond, Down, Up, Cross} {
		var d Drawing
		d.Mark(Pt(20, 20), s, 16, Chosen)
		img, n := render(t, &d, 40, 40, View{}), 0
		for y := range 40 {
			for x := range 40 {
				if at(img, x, y) == Light[Chosen] {
					n += 1 + 7*y
				}
			}
		}
		_, twice := covered[n]
		assert.False(t, twice, "shape %d looks like shape %d", s, covered[n])
		covered[n] = s
		assert.Positive(t, n)
	}
}

func TestLabelsAlignAndHaveWidth(t *testing.T) {
	p := newTestPixels(t)
	w := p.Width("92.0 mm", 12)
	assert.Greater(t, w, 30.0)
	assert.Less(t, w, 60.0)
	for align, x := range map[Align]float64{Left: 10, Centre: 10 + w/2, Right: 10 + w} {
		var d Drawing
		d.Text(Pt(x, 20), "92.0 mm", Ink, 12, align)
		img := image.NewRGBA(image.Rect(0, 0, 100, 30))
		p.Render(img, &d, &Light, View{})
		first, last := inked(img)
		assert.InDelta(t, 10, first, 2)
		assert.InDelta(t, 10+w, last, 2)
	}
}

// inked gives the first and last column with anything but paper.
func inked(img *image.RGBA) (first, last int) {
	first = -1
	for x := range img.Bounds().Dx() {
		for y := range img.Bounds().Dy() {
			if at(img, x, y) != Light[Paper] {
				if first < 0 {
					first = x
				}
				last = x
				break
			}
		}
	}
	return first, last
}

// What the renderer's font lacks is set in the fonts that paper takes: seen by letters that
// differ, where a font's sign for what it lacks is always the same.
func TestLabelsHaveLettersOfOtherScripts(t *testing.T) {
	pictures := map[string]string{}
	for _, text := range []string{"鷗", "鯨", "ო", "ש", "x\u0302", "x"} {
		require.Empty(t, Lacking(text), text)
		var d Drawing
		d.Text(Pt(50, 40), "K"+text, Ink, 24, Left)
		img := render(t, &d, 140, 60, View{})
		other, same := pictures[string(img.Pix)]
		assert.False(t, same, "%s looks like %s", text, other)
		pictures[string(img.Pix)] = text
		first, last := inked(img)
		w := newTestPixels(t).Width("K"+text, 24)
		assert.InDelta(t, 50, first, 4)
		assert.InDelta(t, 50+w, last, 4, "%s is as wide as it says", text)
		assert.InDelta(t, TextWidth("K"+text, 24), w, 1.5, "on a screen as on paper")
	}
	p := newTestPixels(t)
	assert.Equal(t, p.Width("e\u0301", 24), p.Width("é", 24))
	var lacking, square Drawing
	lacking.Text(Pt(10, 40), "K\U0010fffd", Ink, 24, Left)
	square.Text(Pt(10, 40), `K\U0010fffd`, Ink, 24, Left)
	assert.Equal(t, render(t, &square, 300, 60, View{}).Pix, render(t, &lacking, 300, 60, View{}).Pix, "what no script has is written out")
}

func TestDrawingOffTheImageIsHarmless(t *testing.T) {
	var d Drawing
	d.Line(Ink, Pen{Width: 3}, Pt(-1e12, -5), Pt(1e12, 8))
	d.Line(Ink, Pen{Width: 3}, Pt(500, 500), Pt(900, 900))
	d.Mark(Pt(-50, -50), Disc, 9, Ink)
	d.Text(Pt(-500, 4000), "far", Ink, 9, Left)
	d.Area(GapInk, Pt(-1e9, 20), Pt(1e9, 20), Pt(1e9, 30), Pt(-1e9, 30))
	img := render(t, &d, 50, 50, View{})
	assert.Equal(t, Light[GapInk], at(img, 25, 25), "what crosses the image is still drawn")
	assert.Equal(t, Light[Ink], at(img, 25, 1))
}

func TestNoFontIsAnError(t *testing.T) {
	_, err := NewPixels([]byte("not a font"))
	assert.ErrorContains(t, err, "font")
}

// contrast is the ratio of WCAG 2.1, "relative luminance" and "contrast ratio".
func contrast(a, b color.NRGBA) float64 {
	lum := func(c color.NRGBA) float64 {
		part := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.03928 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
	}
	la, lb := lum(a), lum(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// WCAG 2.1 asks for 4.5 for text (1.4.3) and 3 for graphics (1.4.11).
func TestPalettesAreReadable(t *testing.T) {
	for name, p := range map[string]*Palette{"light": &Light, "dark": &Dark} {
		for _, r := range []Role{Ink, Faint, TaperInk, GapInk, Warning, Chosen, StripInk} {
			assert.GreaterOrEqual(t, contrast(p[r], p[Paper]), 4.5, "%s role %d on paper", name, r)
		}
		for _, r := range []Role{FrameInk, Seam, Limit, BandInk, EdgeSet} {
			assert.GreaterOrEqual(t, contrast(p[r], p[Paper]), 3.0, "%s role %d on paper", name, r)
		}
		for soft, ink := range map[Role]Role{TaperSoft: Ink, GapSoft: Ink, ChosenSoft: Ink} {
			assert.GreaterOrEqual(t, contrast(p[soft], p[ink]), 4.5, "%s text on ground %d", name, soft)
		}
	}
}

func busyDrawing() *Drawing {
	var d Drawing
	for k := range 35 {
		pts := make([]Point, 100)
		for i := range pts {
			x := float64(i) / 99
			pts[i] = Pt(20+1160*x, 20+8*float64(k)+25*math.Sin(3*x+float64(k)/9))
		}
		d.Line(Seam, Pen{Width: 1.2}, pts...)
	}
	for k := range 25 {
		d.Line(FrameInk, Pen{Width: 1}, Pt(30+46*float64(k), 10), Pt(30+46*float64(k), 290))
		d.Text(Pt(30+46*float64(k), 10), "K", Ink, 11, Centre)
		d.Mark(Pt(30+46*float64(k), 100), Disc, 9, BandInk)
	}
	return &d
}

// BenchmarkProfilePixels draws a 1200 x 300 view of 35 lines of 100 points,
// which must stay well under 8 ms for dragging to be smooth.
func BenchmarkProfilePixels(b *testing.B) {
	d, p := busyDrawing(), newTestPixels(b)
	img := image.NewRGBA(image.Rect(0, 0, 1200, 300))
	for b.Loop() {
		p.Render(img, d, &Light, View{})
	}
}
