package paper

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
)

const ship = "Coasting ketch Marten, 1:48"

// strake is the flat shape of a strake, invented, with frame lines and labels.
func strake(n int, length float64) draw.Sheet {
	s := draw.Sheet{
		Section: "Flat strakes", Name: fmt.Sprintf("strake-1-%02d", n), Title: fmt.Sprintf("Strake 1.%02d, starboard, layer 1", n),
		Width: length, Height: 46, Cut: true,
	}
	var upper, lower []draw.Point
	for i := range 101 {
		u := float64(i) / 100
		x, sweep := u*length, 8*math.Sin(math.Pi*u)
		upper = append(upper, draw.Pt(x, 22-sweep))
		lower = append(lower, draw.Pt(x, 27-sweep+2*math.Sin(math.Pi*u)))
	}
	d := &s.Drawing
	outline := append(append([]draw.Point{}, upper...), lower[100])
	for i := 99; i >= 0; i-- {
		outline = append(outline, lower[i])
	}
	d.Line(draw.Cut, draw.Pen{Width: 0.3}, append(outline, upper[0])...)
	for k := range 13 {
		x := length * (float64(k) + 0.5) / 13
		d.Line(draw.FrameInk, draw.Pen{Width: 0.25, Dash: []float64{2, 1}}, draw.Pt(x, 8), draw.Pt(x, 34))
		d.Text(draw.Pt(x, 6), string(rune('A'+k)), draw.Ink, 4, draw.Centre)
		d.Text(draw.Pt(x, 38.5), "4.82 mm", draw.Ink, draw.SmallestText, draw.Centre)
		d.Text(draw.Pt(x, 43.5), "3.2° / 2.9°", draw.Faint, draw.SmallestText, draw.Centre)
	}
	return s
}

func wedge(n int) draw.Sheet {
	s := draw.Sheet{Section: "Wedges", Name: fmt.Sprintf("wedge-%d", n), Title: fmt.Sprintf("Wedge %d, under 1.%02d, K to M", n, n), Width: 70 + 3*float64(n), Height: 14, Cut: true}
	s.Drawing.Line(draw.Cut, draw.Pen{Width: 0.3}, draw.Pt(1, 7), draw.Pt(s.Width-1, 5), draw.Pt(s.Width-1, 9), draw.Pt(1, 7))
	s.Drawing.Text(draw.Pt(1, 13), "to frame M →", draw.Ink, draw.SmallestText, draw.Left)
	return s
}

// chart is a large sheet that takes rows and columns of pages.
func chart() draw.Sheet {
	s := draw.Sheet{Section: "Numbering map", Name: "map-starboard", Title: "Numbering map, starboard, seen from outside", Width: 700, Height: 420}
	d := &s.Drawing
	for k := range 10 {
		y := 30 + 40*float64(k)
		d.Line(draw.Seam, draw.Pen{Width: 0.25}, draw.Pt(0, y), draw.Pt(350, y-20), draw.Pt(700, y))
	}
	d.Line(draw.BandInk, draw.Pen{Width: 0.6}, draw.Pt(0, 210), draw.Pt(700, 230))
	for k := range 14 {
		x := 25 + 50*float64(k)
		d.Line(draw.FrameInk, draw.Pen{Width: 0.2, Dash: []float64{4, 2}}, draw.Pt(x, 0), draw.Pt(x, 420))
		d.Text(draw.Pt(x+1, 25), "frame "+string(rune('A'+k)), draw.Ink, 4, draw.Left)
	}
	return s
}

func sheets() []draw.Sheet {
	out := []draw.Sheet{chart(), strake(1, 120), strake(2, 180), strake(3, 700), strake(4, 640)}
	for n := range 12 {
		out = append(out, wedge(n+1))
	}
	return out
}

func book() Book {
	return Book{
		Title: "Planking sheets", Setup: Setup{Ship: ship}, Sheets: sheets(),
		Summary: []string{"Two layers, 9 strakes a side in three bands.", "", "Strips to buy: 38 of 5 x 2 x 1000 mm.", "Narrowest strake 3.1 mm at frame M."},
	}
}

func pdfOf(t testing.TB, s draw.Sheet, setup Setup) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, writePDF(&b, s, setup))
	return b.Bytes()
}
