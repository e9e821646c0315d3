package views

import (
	"math"
	"unicode/utf8"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// The strip beside a band line, where it lies by itself, is told from all lines by
// its short dashes and by a + on every frame; the thin batten beside a line that
// follows the strip by dots.
const (
	stripMark  = 8.0
	stripSays  = "where this strip settles"
	battenSays = "where a thin batten lies"

	legendPiece = 26.0 // of a line, before the words that say what it is
	legendGap   = 5.0
	legendRoom  = legendPiece + legendGap + 5.2*28 // of the longer, view pixels
)

// shownStrip gives the strip to be drawn beside the chosen line: nil where there is
// none or it is not told.
func shownStrip(b *loft.StripBeside, c Choice) *loft.StripBeside {
	if b == nil || b.Line != c.Line+1 || b.Lie.Untold != loft.Told {
		return nil
	}
	return b
}

// drawStrip draws the strip beside the chosen line, and the batten.
func (v *Profile) drawStrip(c Choice, w, h float64) {
	b := shownStrip(v.Strip, c)
	if b == nil {
		return
	}
	d := &v.Drawing
	d.Line(draw.BandInk, dotPen, v.placed(b.BattenP)...)
	d.Line(draw.StripInk, stripPen, v.placed(b.P)...)
	s := v.layer.Surface
	first, last := s.Planked()
	markStrip(d, b, first, last, func(f int) draw.Point { return v.Place(b.P[s.FrameStation(f)]) })
	x, y := w-legendLeft-v.stripRoom(c), h-6
	if first > 0 || last < s.Frames()-1 {
		y -= labelSize + 2 // clear of what is said of the ends
	}
	if b.BattenP != nil {
		battenLegend(d, x, y)
		x += legendRoom
	}
	stripLegend(d, x, y)
}

// tellStrip says beside the chosen handle how the strip lies, with a mark before it: a
// tick where it lies on the line by itself, else a cross.
func (v *Profile) tellStrip(c Choice, w, h float64) {
	if v.Told == "" || shownStrip(v.Strip, c) == nil {
		return
	}
	for _, at := range v.Handles {
		if at.Line != c.Line || at.Frame != c.Frame || at.Limit != NoLimit {
			continue
		}
		const sign, gap, letter = 9.0, 5.0, 5.3
		role := draw.Warning
		if v.Strip.OnLine() {
			role = draw.StripInk
		}
		wide := sign + gap + letter*float64(utf8.RuneCountInString(v.Told))
		x := math.Max(gap, math.Min(at.At.X-wide/2, w-wide-gap))
		y := v.clearOfLimits(at, x-gap, x+wide+gap, h)
		v.Drawing.Rect(draw.Paper, draw.Pt(x-gap, y-labelSize-2), draw.Pt(x+wide+gap, y+4))
		pen := draw.Pen{Width: 2}
		if v.Strip.OnLine() {
			v.Drawing.Line(role, pen, draw.Pt(x, y-4), draw.Pt(x+sign/3, y-1), draw.Pt(x+sign, y-sign+1))
		} else {
			v.Drawing.Line(role, pen, draw.Pt(x+1, y-sign+1), draw.Pt(x+sign-1, y-1))
			v.Drawing.Line(role, pen, draw.Pt(x+1, y-1), draw.Pt(x+sign-1, y-sign+1))
		}
		v.Drawing.Text(draw.Pt(x+sign+gap, y), v.Told, role, labelSize, draw.Left)
		return
	}
}

// clearOfLimits gives the base line of what is written beside a handle from x to x in a
// view so high: over the handle, clear of its ring and of a strip that is near, or else
// under it, where no limit runs through it; and where both would be crossed, over the
// upper limit, if there is room.
func (v *Profile) clearOfLimits(at Handle, from, to, h float64) float64 {
	const off, above, below = 18.0, labelSize + 3, 5.0
	over, under := at.At.Y-at.Size/2-off, at.At.Y+at.Size/2+off+labelSize
	crossed := func(y float64) bool {
		for _, limit := range v.limits {
			for i := 1; i < len(limit); i++ {
				a, b := limit[i-1], limit[i]
				if max(a.X, b.X) >= from && min(a.X, b.X) <= to && max(a.Y, b.Y) >= y-above && min(a.Y, b.Y) <= y+below {
					return true
				}
			}
		}
		return false
	}
	top := math.Inf(1)
	for _, p := range v.limits[0] {
		if p.X >= from && p.X <= to {
			top = math.Min(top, p.Y)
		}
	}
	for _, y := range []float64{over, under, top - below - 3} {
		if y-above >= headRoom-6 && y+below <= h && !crossed(y) {
			return y
		}
	}
	return over
}

// stripRoom is how much of the profile's foot its legend takes.
func (v *Profile) stripRoom(c Choice) float64 {
	b := shownStrip(v.Strip, c)
	switch {
	case b == nil:
		return 0
	case b.BattenP == nil:
		return legendRoom
	}
	return 2 * legendRoom
}

// drawStrip draws each half of the strip beside the chosen line, and of the batten.
func (v *Body) drawStrip(l *loft.Layer, c Choice, w, h float64) {
	b := shownStrip(v.Strip, c)
	if b == nil {
		return
	}
	d := &v.Drawing
	at := func(p []mgl64.Vec3, f int) draw.Point { return v.Place(f, p[l.Surface.FrameStation(f)]) }
	halves := func(role draw.Role, pen draw.Pen, p []mgl64.Vec3) {
		for _, fore := range [2]bool{true, false} {
			d.Line(role, pen, v.half(l.Surface, fore, p)...)
		}
	}
	x, y := (w-legendRoom)/2, h-6
	if b.BattenP != nil {
		halves(draw.BandInk, dotPen, b.BattenP)
		battenLegend(d, x, y-labelSize-3)
	}
	halves(draw.StripInk, stripPen, b.P)
	first, last := l.Surface.Planked()
	markStrip(d, b, first, last, func(f int) draw.Point { return at(b.P, f) })
	stripLegend(d, x, y)
}

// markStrip marks the strip on the frames that it comes to.
func markStrip(d *draw.Drawing, b *loft.StripBeside, first, last int, at func(frame int) draw.Point) {
	for f := first; f <= last; f++ {
		if !math.IsNaN(b.Off[f]) {
			d.Mark(at(f), draw.Plus, stripMark, draw.StripInk)
		}
	}
}

// stripLegend says from x on what the dashes are, where there is room for it.
func stripLegend(d *draw.Drawing, x, y float64) {
	if mid, ok := legend(d, draw.StripInk, stripPen, tongue.T(stripSays), x, y); ok {
		d.Mark(mid, draw.Plus, stripMark, draw.StripInk)
	}
}

// battenLegend says what the dots are.
func battenLegend(d *draw.Drawing, x, y float64) {
	legend(d, draw.BandInk, dotPen, tongue.T(battenSays), x, y)
}

// legend draws a piece of a line and says what it is, and gives its middle; ok is
// false where there is no room.
func legend(d *draw.Drawing, role draw.Role, pen draw.Pen, says string, x, y float64) (mid draw.Point, ok bool) {
	if x < 0 {
		return mid, false
	}
	mid = draw.Pt(x+legendPiece/2, y-labelSize/2+1.5)
	d.Line(role, pen, draw.Pt(x, mid.Y), draw.Pt(x+legendPiece, mid.Y))
	d.Text(draw.Pt(x+legendPiece+legendGap, y), says, role, labelSize, draw.Left)
	return mid, true
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
		text := v.Units.signed(off)
		half := 3.0 * float64(len(text))
		v.Drawing.Rect(draw.Paper, draw.Pt(at-half, y-labelSize+1), draw.Pt(at+half, y+2))
		v.Drawing.Text(draw.Pt(at, y), text, role, labelSize-1, draw.Centre)
	}
}
