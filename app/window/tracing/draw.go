package tracing

import (
	"cmp"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/picture"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Draw draws what lies over the picture, in board units.
func (b *traceBoard) Draw(d *draw.Drawing) {
	b.d = d
	t := b.tr.t
	g := b.current()
	if g == nil {
		s := b.Size()
		b.d.Text(draw.Pt(float64(s.Width)/2, float64(s.Height)/2), tongue.T("Open a picture of the frames"), draw.Faint, 16, draw.Centre)
		return
	}
	b.drawDatum(g)
	b.drawScale(g)
	for i, f := range t.Frames() {
		if f.Ground == t.Ground() && i != t.Frame() {
			b.drawFrame(f, false)
		}
	}
	if f, ok := b.tr.frame(); ok && f.Ground == t.Ground() {
		b.drawFrame(f, true)
	}
	b.drawPicked()
	b.drawFollowed()
	b.drawSnap(g)
	b.drawLegend()
}

// drawLegend tells the marks apart.
func (b *traceBoard) drawLegend() {
	h := float64(b.Size().Height)
	entries := []struct {
		shape draw.Shape
		text  string
	}{{draw.Disc, tongue.T("on the outline")}, {draw.Ring, tongue.T("by hand")}, {draw.Diamond, tongue.T("knuckle")}}
	wide := 12.0
	for _, m := range entries {
		wide += draw.TextWidth(m.text, 12) + 34
	}
	b.d.Rect(draw.Halo, draw.Pt(8, h-30), draw.Pt(8+wide, h-8))
	x := 20.0
	for _, m := range entries {
		b.d.Mark(draw.Pt(x, h-19), m.shape, 9, draw.Chosen)
		b.d.Text(draw.Pt(x+9, h-15), m.text, draw.Ink, 12, draw.Left)
		x += draw.TextWidth(m.text, 12) + 34
	}
	b.drawKeys(16 + wide)
}

// drawKeys tells of the keys and of the wheel, from x on or above that, where there is
// room.
func (b *traceBoard) drawKeys(x float64) {
	const size = 12
	keys := tongue.T("wheel: zoom · right drag: move · Enter: next frame · K: knuckle · F: follow lines · arrows: by a pixel")
	s := b.Size()
	w, h := draw.TextWidth(keys, size)*1.05+16, float64(s.Height) // it is reckoned by mean letters
	if x+w > float64(s.Width) {
		x, h = 8, h-26
	}
	if x+w < float64(s.Width) {
		b.d.Rect(draw.Halo, draw.Pt(x, h-30), draw.Pt(x+w, h-8))
		b.d.Text(draw.Pt(x+8, h-15), keys, draw.Ink, size, draw.Left)
	}
}

// haloed draws a line that shows on any ground.
func (b *traceBoard) haloed(role draw.Role, width float64, dash []float64, pts ...draw.Point) {
	b.d.Line(draw.Halo, draw.Pen{Width: width + 2.4}, pts...)
	b.d.Line(role, draw.Pen{Width: width, Dash: dash}, pts...)
}

// striped draws a line dark and light in turn: it shows on any ground, and
// hides no more of it than it must.
func (b *traceBoard) striped(dash []float64, pts ...draw.Point) {
	b.d.Line(draw.Halo, draw.Pen{Width: 1.2}, pts...)
	b.d.Line(draw.Limit, draw.Pen{Width: 1.2, Dash: dash}, pts...)
}

// label writes a word that shows on any ground.
func (b *traceBoard) label(at draw.Point, text string, role draw.Role) {
	picture.Label(b.d, at, text, role)
}

// drawDatum draws the centre and the base line through the whole picture.
func (b *traceBoard) drawDatum(g *trace.Ground) {
	c := g.Calibration
	if !c.Set() {
		return
	}
	d := b.tr.t.Lines()
	s := b.Size()
	dash := []float64{14, 4, 3, 4}
	if d.HasCentre {
		x := b.On(d.Centre).X
		b.striped(dash, draw.Pt(x, 0), draw.Pt(x, float64(s.Height)))
		b.label(draw.Pt(x, 16), tongue.T("centre line"), draw.Limit)
	}
	if d.HasBase {
		y := b.On(d.Base).Y
		b.striped(dash, draw.Pt(0, y), draw.Pt(float64(s.Width), y))
		b.label(draw.Pt(40, y-4), tongue.T("base line"), draw.Limit)
	}
}

// drawScale draws the points that set the scale.
func (b *traceBoard) drawScale(g *trace.Ground) {
	if b.tr.tool == traceScale || b.tr.tool == traceCorners {
		return
	}
	var pts []draw.Point
	for _, p := range g.Calibration.Points {
		pts = append(pts, b.On(p))
	}
	if len(pts) == 4 {
		pts = append(pts, pts[0])
	}
	b.haloed(draw.TaperInk, 1, []float64{2, 4}, pts...)
	for _, p := range pts {
		b.d.Mark(p, draw.Cross, 9, draw.TaperInk)
	}
}

// drawPicked draws the points clicked for the tool at hand.
func (b *traceBoard) drawPicked() {
	var pts []draw.Point
	for _, p := range b.tr.picked {
		pts = append(pts, b.On(p))
	}
	if b.Inside && len(pts) > 0 {
		pts = append(pts, draw.Pt(float64(b.Hover.X), float64(b.Hover.Y)))
	}
	b.haloed(draw.GapInk, 1.4, nil, pts...)
	for i, p := range pts {
		if i < len(b.tr.picked) {
			b.d.Mark(p, draw.Cross, 12, draw.GapInk)
		}
	}
}

// drawFrame draws a frame as far as it is traced.
func (b *traceBoard) drawFrame(f trace.Frame, chosen bool) {
	role, width, halo := draw.TaperInk, 1.2, 0.8
	if chosen {
		role, width, halo = draw.Chosen, 2.0, 1.4
	}
	for h, marks := range f.Halves {
		var pts []draw.Point
		for i, m := range marks {
			if p := b.Pressed(); chosen && p != nil && p.Held && p.Dragged && b.i == i && b.half == h {
				m.At, m.Snapped = b.place, b.snapped
			}
			pts = append(pts, b.On(m.At))
		}
		if len(pts) == 0 {
			continue
		}
		line := smoothed(pts, marks)
		b.d.Line(draw.Halo, draw.Pen{Width: width + halo}, line...)
		b.d.Line(role, draw.Pen{Width: width}, line...)
		for i, p := range pts {
			shape, size := draw.Ring, 8.0
			switch {
			case marks[i].Followed && !marks[i].Knuckle:
				shape, size = draw.Disc, 4
			case marks[i].Knuckle:
				shape, size = draw.Diamond, 11
			case marks[i].Snapped:
				shape = draw.Disc
			}
			switch {
			case chosen:
				b.d.Mark(p, shape, size, role)
			case marks[i].Knuckle:
				b.d.Mark(p, shape, 8, role)
			}
		}
		top := slices.MinFunc(pts, func(p, q draw.Point) int { return cmp.Compare(p.Y, q.Y) })
		b.label(draw.Pt(top.X, top.Y-10), f.Name, role)
	}
}

// smoothed runs a curve through the points of a frame on the board, with its
// corners.
func smoothed(pts []draw.Point, marks []trace.Mark) []draw.Point {
	var at []trace.Point
	var knuckles []int
	for i, p := range pts {
		at = append(at, trace.Pt(p.X, p.Y))
		if marks[i].Knuckle && i > 0 && i+1 < len(pts) {
			knuckles = append(knuckles, i)
		}
	}
	var out []draw.Point
	for _, p := range trace.Through(at, knuckles) {
		out = append(out, draw.Pt(p.X, p.Y))
	}
	return out
}

// snaps tells whether it is shown where a click would be drawn to.
func (b *traceBoard) snaps() bool {
	return b.Inside && b.Pressed() == nil && (b.tr.tool != traceClicks || b.tr.t.Frame() >= 0 || b.tr.begins())
}

// drawSnap shows where a click would be drawn to.
func (b *traceBoard) drawSnap(g *trace.Ground) {
	if !b.snaps() || b.tr.trail.leads {
		return
	}
	if at, ok := b.At(b.Hover); ok && g.Picture.Holds(at) {
		if to, ok := b.tr.snapped(at, b.Shift); ok {
			p := b.On(to)
			b.d.Mark(p, draw.Square, 7, draw.GapInk)
			if d := math.Hypot(p.X-float64(b.Hover.X), p.Y-float64(b.Hover.Y)); d > 3 {
				b.d.Line(draw.GapInk, draw.Pen{Width: 1}, draw.Pt(float64(b.Hover.X), float64(b.Hover.Y)), p)
			}
		}
	}
}

// DrawLens draws what lies over the picture in the magnifier.
func (b *traceBoard) DrawLens(d *draw.Drawing, on func(trace.Point) draw.Point) {
	for _, p := range b.tr.picked {
		d.Mark(on(p), draw.Cross, 12, draw.GapInk)
	}
	if f, ok := b.tr.frame(); ok && f.Ground == b.tr.t.Ground() && b.tr.tool == traceClicks {
		for _, marks := range f.Halves {
			for _, m := range marks {
				d.Mark(on(m.At), draw.Ring, 8, draw.Chosen)
			}
		}
	}
	if at, ok := b.At(b.Hover); ok && b.snaps() {
		if to, ok := b.tr.snapped(at, b.Shift); ok {
			d.Mark(on(to), draw.Square, 9, draw.GapInk)
		}
	}
}
