package views

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// The strip beside a band line, where it lies by itself, is told from all lines by
// its short dashes and by a + on every frame.
const (
	stripMark  = 8.0
	stripSays  = "where the strip lies by itself"
	stripPiece = 26.0                          // of its dashes, before the words that say what they are
	stripWords = 5.2 * float64(len(stripSays)) // wide, view pixels
)

// shownStrip gives the strip to be drawn beside the chosen line: nil where there is
// none or it is not told.
func shownStrip(b *loft.StripBeside, c Choice) *loft.StripBeside {
	if b == nil || b.Line != c.Line+1 || b.Lie.Untold != loft.Told {
		return nil
	}
	return b
}

// drawStrip draws the strip beside the chosen line.
func (v *Profile) drawStrip(c Choice, w, h float64) {
	b := shownStrip(v.Strip, c)
	if b == nil {
		return
	}
	v.Drawing.Line(draw.StripInk, stripPen, v.placed(b.P)...)
	s := v.layer.Surface
	first, last := s.Planked()
	for f := first; f <= last; f++ {
		markStrip(&v.Drawing, b, f, func() draw.Point { return v.Place(b.P[s.FrameStation(f)]) })
	}
	y := h - 6
	if first > 0 || last < s.Frames()-1 {
		y -= labelSize + 2 // clear of what is said of the ends
	}
	stripLegend(&v.Drawing, w-legendLeft-stripWords, y)
}

// stripRoom is how much of the profile's foot its legend takes.
func (v *Profile) stripRoom(c Choice) float64 {
	if shownStrip(v.Strip, c) == nil {
		return 0
	}
	return stripWords + stripPiece + 2*labelSize
}

// drawStrip draws each half of the strip beside the chosen line.
func (v *Body) drawStrip(l *loft.Layer, c Choice, w, h float64) {
	b := shownStrip(v.Strip, c)
	if b == nil {
		return
	}
	at := func(f int) mgl64.Vec3 { return b.P[l.Surface.FrameStation(f)] }
	for _, fore := range [2]bool{true, false} {
		var half []draw.Point
		for f := range v.frames {
			if v.fore[f] == fore {
				half = append(half, v.Place(f, at(f)))
			}
		}
		v.Drawing.Line(draw.StripInk, stripPen, half...)
	}
	first, last := l.Surface.Planked()
	for f := first; f <= last; f++ {
		markStrip(&v.Drawing, b, f, func() draw.Point { return v.Place(f, at(f)) })
	}
	stripLegend(&v.Drawing, (w-stripWords+stripPiece)/2, h-6)
}

// markStrip marks it on a frame that it comes to.
func markStrip(d *draw.Drawing, b *loft.StripBeside, frame int, at func() draw.Point) {
	if !math.IsNaN(b.Off[frame]) {
		d.Mark(at(), draw.Plus, stripMark, draw.StripInk)
	}
}

// stripLegend says what the dashes are, with a piece of them before its words, which
// begin at x.
func stripLegend(d *draw.Drawing, x, y float64) {
	const piece = stripPiece
	mid := y - labelSize/2 + 1.5
	if x < piece+5 {
		return
	}
	d.Line(draw.StripInk, stripPen, draw.Pt(x-piece-5, mid), draw.Pt(x-5, mid))
	d.Mark(draw.Pt(x-piece/2-5, mid), draw.Plus, stripMark, draw.StripInk)
	d.Text(draw.Pt(x, y), stripSays, draw.StripInk, labelSize, draw.Left)
}

// offs writes a row of numbers along the hull: how far below the chosen line the
// strip lies at every frame, with a sign. There are as many as there is room for, and
// that of the chosen frame is always one.
func (v *Gauge) offs(k *loft.Planking, b *loft.StripBeside, c Choice, y float64) {
	const room = 38.0
	mid := y - labelSize/2 + 1.5
	v.Drawing.Rect(draw.Paper, draw.Pt(0, y-labelSize), draw.Pt(gaugeEdge-4, y+3))
	v.Drawing.Mark(draw.Pt(gaugeEdge-12, mid), draw.Plus, stripMark, draw.StripInk)
	v.Drawing.Text(draw.Pt(gaugeEdge-20, y), v.Units.Name(), draw.StripInk, labelSize-1, draw.Right)
	x := func(f int) float64 { return v.X.At(GuideX(k, c, f)) }
	last, taken := gaugeEdge-room/2, math.Inf(1)
	if c.Frame >= 0 {
		taken = x(c.Frame)
	}
	for f, off := range b.Off {
		at := x(f)
		if math.IsNaN(off) || f != c.Frame && (at-last < room || math.Abs(at-taken) < room) {
			continue
		}
		role := draw.StripInk
		if f == c.Frame {
			role = draw.Chosen
		} else {
			last = at
		}
		text := v.Units.Signed(off)
		half := 3.0 * float64(len(text))
		v.Drawing.Rect(draw.Paper, draw.Pt(at-half, y-labelSize+1), draw.Pt(at+half, y+2))
		v.Drawing.Text(draw.Pt(at, y), text, role, labelSize-1, draw.Centre)
	}
}
