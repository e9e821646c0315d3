package photo

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/picture"
	"github.com/strakewright/strakewright/assets/tongue"
)

// photoBoard shows the photo and takes the clicks.
type photoBoard struct {
	widget.BaseWidget
	*picture.View
	p    *photo
	held string // the key of the mark that is pressed on; empty for none
}

func newPhotoBoard(p *photo) *photoBoard {
	b := &photoBoard{p: p}
	b.View = picture.NewView(b)
	b.ExtendBaseWidget(b)
	return b
}

// CreateRenderer gives Fyne what to show.
func (b *photoBoard) CreateRenderer() fyne.WidgetRenderer { return b.Renderer() }

// MinSize is the least size at which the board is of use.
func (b *photoBoard) MinSize() fyne.Size { return fyne.NewSize(300, 240) }

// Look is how the window looks.
func (b *photoBoard) Look() *kit.Look { return b.p.Look }

// Repaint has a drawing made anew with the window's next frame.
func (b *photoBoard) Repaint(o fyne.CanvasObject) { b.p.Repaint(o) }

// Magnifies tells whether a magnifier is wanted.
func (b *photoBoard) Magnifies() bool { return b.p.lens }

// Current is the photo, nil for none.
func (b *photoBoard) Current() *trace.Picture { return b.p.pic }

// World leaves the photo as it is.
func (b *photoBoard) World() (to, back trace.Homography, up float64) {
	return trace.Identity(), trace.Identity(), 1
}

// Whole is the whole photo.
func (b *photoBoard) Whole(low, high trace.Point) (trace.Point, trace.Point) { return low, high }

// Draw draws the marks, and the frames as the camera that they settle sees them.
func (b *photoBoard) Draw(d *draw.Drawing) {
	if b.p.pic == nil {
		s := b.Size()
		d.Text(draw.Pt(float64(s.Width)/2, float64(s.Height)/2), tongue.T("Open a photo of the half-planked hull"), draw.Faint, 16, draw.Centre)
		return
	}
	b.drawFrames(d)
	for _, key := range b.p.order {
		x := b.p.set[key]
		at := b.On(trace.Pt(x.mark.At.X, x.mark.At.Y))
		shape, size := draw.Ring, 9.0
		if x.snapped {
			shape = draw.Disc
		}
		if x.group == edges {
			shape, size = draw.Diamond, 11
		}
		role := draw.TaperInk
		switch {
		case b.p.slips[key]:
			shape, size, role = draw.Cross, 15, draw.GapInk
		case key == b.p.chosen:
			role = draw.Chosen
		}
		d.Mark(at, shape, size+3, draw.Halo)
		d.Mark(at, shape, size, role)
		if key == b.p.chosen || b.p.slips[key] {
			picture.Label(d, draw.Pt(at.X, at.Y-12), x.frame, role)
		}
	}
	b.drawTarget(d)
	b.drawLegend(d)
}

// drawFrames draws the frames where the camera sees them, for the eye to judge.
func (b *photoBoard) drawFrames(d *draw.Drawing) {
	if b.p.seen == nil {
		return
	}
	s := b.p.layer().Surface
	const pieces = 40
	first, last := s.Planked()
	for f := first; f <= last; f++ {
		var pts []draw.Point
		for i := range pieces + 1 {
			if at, ok := b.p.seen.At(f, s.Girth(f)*float64(i)/pieces); ok {
				pts = append(pts, b.On(trace.Pt(at.X, at.Y)))
			}
		}
		if len(pts) > 1 {
			d.Line(draw.Halo, draw.Pen{Width: 1.2}, pts...)
			d.Line(draw.Limit, draw.Pen{Width: 1.2, Dash: []float64{5, 4}}, pts...)
		}
	}
}

// drawTarget shows where a click would be drawn to.
func (b *photoBoard) drawTarget(d *draw.Drawing) {
	if to, ok := b.target(); ok {
		d.Mark(b.On(to), draw.Square, 7, draw.GapInk)
	}
}

func (b *photoBoard) target() (trace.Point, bool) {
	p := b.p
	if !b.Inside || b.Pressed() != nil || p.pic == nil || p.at < 0 {
		return trace.Point{}, false
	}
	at, ok := b.At(b.Hover)
	if !ok || !p.pic.Holds(at) {
		return trace.Point{}, false
	}
	m, snapped := p.placed(at, &p.rows[p.at], b.Shift)
	return trace.Pt(m.At.X, m.At.Y), snapped
}

// drawLegend tells the marks apart, and the keys.
func (b *photoBoard) drawLegend(d *draw.Drawing) {
	s := b.Size()
	h := float64(s.Height)
	x := 20.0
	entries := []struct {
		shape draw.Shape
		text  string
	}{{draw.Disc, tongue.T("on a line")}, {draw.Ring, tongue.T("by hand")}, {draw.Diamond, tongue.T("edge")}, {draw.Cross, tongue.T("does not fit")}}
	wide := 12.0
	for _, m := range entries {
		wide += draw.TextWidth(m.text, 12) + 34
	}
	d.Rect(draw.Halo, draw.Pt(8, h-30), draw.Pt(8+wide, h-8))
	for _, m := range entries {
		d.Mark(draw.Pt(x, h-19), m.shape, 9, draw.Chosen)
		d.Text(draw.Pt(x+9, h-15), m.text, draw.Ink, 12, draw.Left)
		x += draw.TextWidth(m.text, 12) + 34
	}
	keys := tongue.T("wheel: zoom · drag: move · Home: the whole · Enter: next · arrows: by a pixel · P: mark at the middle")
	w := draw.TextWidth(keys, 12)*1.05 + 16 // it is reckoned by mean letters
	x = 16 + wide
	if x+w > float64(s.Width) { // it stands above, then
		x, h = 8, h-26
	}
	if x+w < float64(s.Width) {
		d.Rect(draw.Halo, draw.Pt(x, h-30), draw.Pt(x+w, h-8))
		d.Text(draw.Pt(x+8, h-15), keys, draw.Ink, 12, draw.Left)
	}
}

// DrawLens draws the marks in the magnifier.
func (b *photoBoard) DrawLens(d *draw.Drawing, on func(trace.Point) draw.Point) {
	for _, key := range b.p.order {
		m := b.p.set[key].mark
		d.Mark(on(trace.Pt(m.At.X, m.At.Y)), draw.Ring, 8, draw.Chosen)
	}
	if to, ok := b.target(); ok {
		d.Mark(on(to), draw.Square, 9, draw.GapInk)
	}
}

// Grasp takes hold of a mark.
func (b *photoBoard) Grasp(at fyne.Position) bool {
	b.held = b.markAt(at)
	return b.held != ""
}

// markAt is the mark under a place of the board; empty for none.
func (b *photoBoard) markAt(p fyne.Position) string {
	found, least := "", math.Inf(1)
	for _, key := range b.p.order {
		m := b.p.set[key].mark
		if d, ok := b.Near(p, trace.Pt(m.At.X, m.At.Y)); ok && d <= least {
			found, least = key, d
		}
	}
	return found
}

// Drag waits until the mark is let go of.
func (b *photoBoard) Drag(fyne.Position, bool) {}

// Click chooses a mark, or puts one.
func (b *photoBoard) Click(e *desktop.MouseEvent, h picture.Press) {
	if h.Button != desktop.MouseButtonPrimary {
		return
	}
	if _, set := b.p.set[b.p.chosen]; set && h.Held && b.held != b.p.chosen {
		b.p.choose(b.held) // else a place beside another mark is to be marked
		return
	}
	if at, ok := b.At(e.Position); ok {
		b.p.click(at, h.Free)
	}
}

// Drop puts a mark where it was dragged to.
func (b *photoBoard) Drop(to fyne.Position, free bool) {
	b.p.choose(b.held)
	if at, ok := b.At(to); ok && b.p.pic.Holds(at) {
		b.p.put(at, free)
		b.p.changed()
	}
}

// Pointed needs nothing done.
func (b *photoBoard) Pointed(fyne.Position) {}

// Keys are the keys of the window for a photo.
func Keys() kit.Keys { return (&photoBoard{}).keys() }

func (b *photoBoard) keys() kit.Keys {
	press := func(f func()) func(fyne.KeyName) bool {
		return func(fyne.KeyName) bool {
			f()
			return true
		}
	}
	return kit.Keys{
		{Names: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight}, Does: tongue.T("moves the mark by one pixel of the photo"), Press: func(k fyne.KeyName) bool {
			if dx, dy, ok := picture.Arrow(k); ok {
				b.nudge(dx, dy)
			}
			return true
		}},
		{Names: []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter}, Does: tongue.T("skips what cannot be seen"), Press: press(func() {
			b.p.next(true)
			b.p.changed()
		})},
		{Names: []fyne.KeyName{fyne.KeyBackspace}, Does: tongue.T("takes the last mark away"), Press: press(func() {
			if n := len(b.p.order); n > 0 {
				b.p.unmark(b.p.order[n-1])
			}
		})},
		{Names: []fyne.KeyName{fyne.KeyDelete}, Does: tongue.T("takes the chosen mark away"), Press: press(func() { b.p.unmark(b.p.chosen) })},
		{Names: []fyne.KeyName{fyne.KeyHome}, Does: tongue.T("shows the whole photo"), Press: press(func() { b.Fit() })},
		{Names: []fyne.KeyName{fyne.KeyEscape}, Does: tongue.T("leaves the photo"), Press: press(func() {
			if !b.Forget() {
				b.p.leave(func() {})
			}
		})},
		{Runes: "+=-", Shown: "+, −", Does: tongue.T("zoom in, zoom out"), Type: func(r rune) { b.ZoomKey(r) }},
		{Runes: "pP", Does: tongue.T("marks at the middle of the view"), Type: func(rune) {
			if at, ok := b.At(fyne.NewPos(b.Size().Width/2, b.Size().Height/2)); ok {
				b.p.click(at, true)
			}
		}},
		{Runes: "mM", Does: tongue.T("shows the magnifier, or puts it away"), Type: func(rune) {
			b.p.lens = !b.p.lens
			b.p.changed()
		}},
	}
}

// TypedRune takes a character.
func (b *photoBoard) TypedRune(r rune) { b.keys().Type(r) }

// TypedKey takes a key; those of the window are its own.
func (b *photoBoard) TypedKey(e *fyne.KeyEvent) {
	if !b.p.windowKey(e.Name) {
		b.keys().Press(e.Name)
	}
}

// nudge moves the chosen row's mark, or else the one last set, by so many pixels.
func (b *photoBoard) nudge(dx, dy float64) {
	p := b.p
	if _, ok := p.set[p.chosen]; !ok {
		if len(p.order) == 0 {
			return
		}
		p.choose(p.order[len(p.order)-1])
	}
	m := p.set[p.chosen].mark
	to, ok := b.Beside(trace.Pt(m.At.X, m.At.Y), dx, dy)
	if !ok {
		return
	}
	p.put(to, true)
	p.changed()
	b.Point(to)
}
