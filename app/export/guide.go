package export

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/assets/tongue"
)

// guide is the steps of the work in their order, each with a picture and the sheets that
// are for it: the first page of the booklet.
func guide() []paper.Step {
	return []paper.Step{
		{Sections: []string{tongue.T("Wood to buy")}, What: tongue.T("Buy or look out the wood: strips, sheets and blocks for both sides."), Picture: stripsPicture()},
		{Sections: []string{tongue.T("Numbering map")}, What: tongue.T("Find your way: the number of every strake, its band and where it ends."), Picture: mapPicture()},
		{Sections: []string{tongue.T("Filler blocks")}, What: tongue.T("Fill the ends of the hull: sections to carve blocks by, at full size."), Picture: blockPicture()},
		{Sections: []string{tongue.T("Tick strips"), tongue.T("Frame marking cards")}, What: tongue.T("Mark the frames: cut a strip out, bend it round its frame, and mark every strake's edges."), Picture: tickPicture()},
		{Sections: []string{tongue.T("Sheet wood"), tongue.T("Flat strakes"), tongue.T("Wedges"), tongue.T("Drop strakes")}, What: tongue.T("Cut the strakes: flat shapes from sheet, straight tapers from strips, wedges to fill what they leave, and ends let into a neighbour."), Picture: flatPicture()},
		{Sections: []string{tongue.T("Bevels")}, What: tongue.T("Bevel the edges so that strakes close on the outside."), Picture: bevelPicture()},
		{Sections: []string{tongue.T("Bending")}, What: tongue.T("Bend the strakes to their frames: dry, soaked or with heat."), Picture: bendPicture()},
		{Sections: []string{tongue.T("Order of laying")}, What: tongue.T("Lay them, on both sides by turns, and tick off each piece."), Picture: layPicture()},
	}
}

// Pens of the pictures, mm.
var (
	fineLine = draw.Pen{Width: 0.2}
	boldLine = draw.Pen{Width: 0.5}
)

// arc gives points of an ellipse about a place, from one angle to another, rad, those
// above zero downwards.
func arc(x, y, rx, ry, from, to float64) []draw.Point {
	const steps = 24
	var out []draw.Point
	for i := range steps + 1 {
		a := from + (to-from)*float64(i)/steps
		out = append(out, draw.Pt(x+rx*math.Cos(a), y+ry*math.Sin(a)))
	}
	return out
}

// stripsPicture: a bundle of strips, and a sheet behind them.
func stripsPicture() (d draw.Drawing) {
	d.Rect(draw.TaperSoft, draw.Pt(9, 2), draw.Pt(29, 9))
	d.Line(draw.Ink, fineLine, draw.Pt(9, 2), draw.Pt(29, 2), draw.Pt(29, 9), draw.Pt(9, 9), draw.Pt(9, 2))
	for i := range 4 {
		y := 10.5 + 1.7*float64(i)
		d.Line(draw.Ink, boldLine, draw.Pt(1+float64(i), y), draw.Pt(26+float64(i), y))
	}
	return d
}

// mapPicture: a hull from the side, with strakes and numbers led off them.
func mapPicture() (d draw.Drawing) {
	sheer := func(x float64) float64 { return 4 + 2.2*math.Pow((x-15)/13, 2)*-1 + 2.2 }
	for s := range 4 {
		var line []draw.Point
		for i := range 25 {
			x := 3 + float64(i)
			line = append(line, draw.Pt(x, sheer(x)+2.6*float64(s)*(1-0.25*math.Pow((x-15)/12, 2))))
		}
		pen := fineLine
		if s == 0 {
			pen = boldLine
		}
		d.Line(draw.Ink, pen, line...)
	}
	for i, n := range []string{"1", "2", "3"} {
		y := 6.4 + 2.6*float64(i)
		d.Area(draw.Ink, arc(15, y+1.1, 0.4, 0.4, 0, 2*math.Pi)...)
		d.Line(draw.Ink, fineLine, draw.Pt(15, y+1.1), draw.Pt(13+2*float64(i), 15.2))
		d.Text(draw.Pt(13+2*float64(i), 17.4), n, draw.Ink, draw.SmallestText, draw.Centre)
	}
	return d
}

// blockPicture: a section, and the block that it is carved from.
func blockPicture() (d draw.Drawing) {
	d.Line(draw.Faint, draw.Pen{Width: 0.2, Dash: []float64{1.2, 0.8}}, draw.Pt(5, 1), draw.Pt(25, 1), draw.Pt(25, 17), draw.Pt(5, 17), draw.Pt(5, 1))
	half := []draw.Point{{X: 24, Y: 2}, {X: 23.5, Y: 7}, {X: 21, Y: 12}, {X: 17, Y: 15}, {X: 15, Y: 16}}
	line := append([]draw.Point{}, half...)
	for i := len(half) - 2; i >= 0; i-- {
		line = append(line, draw.Pt(30-half[i].X, half[i].Y))
	}
	d.Area(draw.TaperSoft, line...)
	d.Line(draw.Ink, boldLine, append(line, line[0])...)
	return d
}

// tickPicture: a frame with a marked strip bent round it.
func tickPicture() (d draw.Drawing) {
	d.Line(draw.Ink, fineLine, append(arc(8, 2, 14, 13, 0, math.Pi/2), draw.Pt(8, 2), draw.Pt(22, 2))...)
	d.Line(draw.Ink, boldLine, arc(8, 2, 15, 14, -0.12, math.Pi/2+0.1)...)
	for i := range 8 {
		a := math.Pi / 2 * (float64(i) + 0.3) / 8
		d.Line(draw.Ink, fineLine, draw.Pt(8+13.6*math.Cos(a), 2+12.6*math.Sin(a)), draw.Pt(8+16.2*math.Cos(a), 2+15.2*math.Sin(a)))
	}
	return d
}

// flatPicture: a curved strake and a wedge.
func flatPicture() (d draw.Drawing) {
	upper, lower := arc(15, 26, 20, 22, math.Pi*1.28, math.Pi*1.72), arc(15, 29, 20, 22, math.Pi*1.72, math.Pi*1.28)
	d.Area(draw.TaperSoft, append(append([]draw.Point{}, upper...), lower...)...)
	d.Line(draw.Ink, boldLine, append(append(append([]draw.Point{}, upper...), lower...), upper[0])...)
	d.Line(draw.Ink, fineLine, draw.Pt(6, 16), draw.Pt(24, 14.4), draw.Pt(24, 16), draw.Pt(6, 16))
	return d
}

// bevelPicture: two strakes on a round frame, their edges closed by a bevel.
func bevelPicture() (d draw.Drawing) {
	d.Line(draw.Ink, fineLine, arc(15, 30, 18, 18, math.Pi*1.22, math.Pi*1.78)...)
	for _, a := range []float64{-0.46, 0.03} {
		var block []draw.Point
		for _, q := range [][2]float64{{a, 18.3}, {a + 0.43, 18.3}, {a + 0.43, 25}, {a, 25}} {
			block = append(block, draw.Pt(15+q[1]*math.Sin(q[0]), 30-q[1]*math.Cos(q[0])))
		}
		d.Area(draw.TaperSoft, block...)
		d.Line(draw.Ink, boldLine, append(block, block[0])...)
	}
	return d
}

// bendPicture: a strip bent round a form.
func bendPicture() (d draw.Drawing) {
	d.Line(draw.Ink, fineLine, arc(11, 12, 6, 6, 0, 2*math.Pi)...)
	d.Line(draw.Ink, boldLine, append([]draw.Point{{X: 29, Y: 4.4}}, append(arc(11, 12, 6.8, 6.8, -math.Pi/2+0.15, -math.Pi), draw.Pt(4.2, 17))...)...)
	for i := range 3 { // what rises from it
		x := 9 + 2.0*float64(i)
		d.Line(draw.Faint, fineLine, draw.Pt(x, 14), draw.Pt(x+0.8, 12.5), draw.Pt(x, 11), draw.Pt(x+0.8, 9.5))
	}
	return d
}

// layPicture: a list to tick.
func layPicture() (d draw.Drawing) {
	for i := range 4 {
		y := 2 + 4.1*float64(i)
		d.Line(draw.Ink, fineLine, draw.Pt(6, y), draw.Pt(9, y), draw.Pt(9, y+3), draw.Pt(6, y+3), draw.Pt(6, y))
		d.Line(draw.Faint, fineLine, draw.Pt(11, y+1.6), draw.Pt(25, y+1.6))
		if i < 2 {
			d.Line(draw.Ink, boldLine, draw.Pt(6.5, y+1.5), draw.Pt(7.4, y+2.4), draw.Pt(9.2, y-0.4))
		}
	}
	return d
}
