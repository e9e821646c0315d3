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
)

// How far, in the board's own units, a click reaches.
const (
	snapReach  = 9.0
	pointReach = 8.0
)

// photoBoard shows the photo and takes the clicks.
type photoBoard struct {
	widget.BaseWidget
	*picture.View
	p            *photo
	shift, space bool
	press        *pressing
}

// pressing is a button held down on the photo.
type pressing struct {
	button  desktop.MouseButton
	at      fyne.Position // where it went down
	last    fyne.Position
	free    bool   // without the snap
	key     string // of the mark it took hold of; else it moves the picture
	dragged bool
}

var (
	_ fyne.Draggable     = (*photoBoard)(nil)
	_ fyne.Focusable     = (*photoBoard)(nil)
	_ fyne.Scrollable    = (*photoBoard)(nil)
	_ desktop.Mouseable  = (*photoBoard)(nil)
	_ desktop.Hoverable  = (*photoBoard)(nil)
	_ desktop.Keyable    = (*photoBoard)(nil)
	_ desktop.Cursorable = (*photoBoard)(nil)
)

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
		d.Text(draw.Pt(float64(s.Width)/2, float64(s.Height)/2), "Open a photo of the half-planked hull", draw.Faint, 16, draw.Centre)
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
	if !b.Inside || b.press != nil || p.pic == nil || p.at < 0 {
		return trace.Point{}, false
	}
	at, ok := b.At(b.Hover)
	if !ok || !p.pic.Holds(at) {
		return trace.Point{}, false
	}
	m, snapped := p.placed(at, &p.rows[p.at], b.shift)
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
	}{{draw.Disc, "on a line"}, {draw.Ring, "by hand"}, {draw.Diamond, "edge"}, {draw.Cross, "does not fit"}}
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
	const keys = "wheel: zoom · drag: move · Home: the whole · Enter: next · arrows: by a pixel · P: mark at the middle"
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

// Cursor is a cross.
func (b *photoBoard) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

// MouseDown takes hold of a mark, or of the picture.
func (b *photoBoard) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Focus(b)
	}
	b.press = &pressing{button: e.Button, at: e.Position, last: e.Position, free: b.shift || e.Modifier&fyne.KeyModifierShift != 0}
	if e.Button == desktop.MouseButtonPrimary && !b.space {
		b.press.key = b.markAt(e.Position)
	}
}

// markAt is the mark under a place of the board; empty for none.
func (b *photoBoard) markAt(p fyne.Position) string {
	found, least := "", pointReach
	for _, key := range b.p.order {
		m := b.p.set[key].mark
		q := b.On(trace.Pt(m.At.X, m.At.Y))
		if d := math.Hypot(q.X-float64(p.X), q.Y-float64(p.Y)); d <= least {
			found, least = key, d
		}
	}
	return found
}

// Dragged moves what is held: a mark, or the picture.
func (b *photoBoard) Dragged(e *fyne.DragEvent) { b.draggedTo(e.Position) }

func (b *photoBoard) draggedTo(p fyne.Position) {
	h := b.press
	if h == nil || !h.dragged && math.Hypot(float64(p.X-h.at.X), float64(p.Y-h.at.Y)) < picture.StillClick {
		return
	}
	h.dragged = true
	b.Crosshair(p, true)
	if h.key == "" {
		b.Pan(float64(p.X-h.last.X), float64(p.Y-h.last.Y))
	}
	h.last = p
}

// DragEnd is here for Fyne's sake: the button tells when it comes up.
func (b *photoBoard) DragEnd() { b.letGo() }

// MouseUp lets go of what is held; without a drag it was a click.
func (b *photoBoard) MouseUp(e *desktop.MouseEvent) {
	h := b.press
	if h == nil || e.Button != h.button {
		return
	}
	if h.dragged {
		b.letGo()
		return
	}
	b.press = nil
	if h.button != desktop.MouseButtonPrimary || b.space {
		return
	}
	if _, set := b.p.set[b.p.chosen]; set && h.key != "" && h.key != b.p.chosen {
		b.p.choose(h.key) // else a place beside another mark is to be marked
		return
	}
	if at, ok := b.At(e.Position); ok {
		b.p.click(at, h.free)
	}
}

// letGo puts a mark where it was dragged to.
func (b *photoBoard) letGo() {
	h := b.press
	b.press = nil
	if h == nil || !h.dragged || h.key == "" {
		return
	}
	b.p.choose(h.key)
	if at, ok := b.At(h.last); ok && b.p.pic.Holds(at) {
		b.p.put(at, h.free)
		b.p.changed()
	}
}

// MouseIn begins to follow the pointer.
func (b *photoBoard) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved follows the pointer; Fyne tells of a drag with the right button by it as
// well.
func (b *photoBoard) MouseMoved(e *desktop.MouseEvent) {
	b.Crosshair(e.Position, true)
	if h := b.press; h != nil && h.button == desktop.MouseButtonSecondary && e.Button&desktop.MouseButtonSecondary != 0 {
		b.draggedTo(e.Position)
		return
	}
	b.Changed()
}

// MouseOut puts the crosshair away.
func (b *photoBoard) MouseOut() {
	b.Crosshair(b.Hover, false)
	b.Changed()
}

// Scrolled zooms about the pointer.
func (b *photoBoard) Scrolled(e *fyne.ScrollEvent) { b.Scroll(e) }

// FocusGained and FocusLost forget keys whose release the board is not told.
func (b *photoBoard) FocusGained() { b.shift, b.space = false, false }

// FocusLost forgets the keys held.
func (b *photoBoard) FocusLost() { b.shift, b.space = false, false }

// TypedRune zooms, marks at the middle of the view, or shows the magnifier and puts it
// away.
func (b *photoBoard) TypedRune(r rune) {
	if b.ZoomKey(r) {
		return
	}
	switch r {
	case 'p', 'P':
		if at, ok := b.At(fyne.NewPos(b.Size().Width/2, b.Size().Height/2)); ok {
			b.p.click(at, true)
		}
	case 'm', 'M':
		b.p.lens = !b.p.lens
		b.p.changed()
	}
}

// KeyDown notes whether Shift or the space bar is held.
func (b *photoBoard) KeyDown(e *fyne.KeyEvent) { b.key(e.Name, true) }

// KeyUp notes whether they are let go of.
func (b *photoBoard) KeyUp(e *fyne.KeyEvent) { b.key(e.Name, false) }

func (b *photoBoard) key(k fyne.KeyName, down bool) {
	switch k {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		b.shift = down
		b.Changed()
	case fyne.KeySpace:
		b.space = down
	}
}

// TypedKey takes a mark away, goes on to the next row, moves the mark last set by a
// pixel, shows the whole, or closes the window.
func (b *photoBoard) TypedKey(e *fyne.KeyEvent) {
	p := b.p
	switch e.Name {
	case fyne.KeyEscape:
		if b.press != nil {
			b.press = nil
			b.Changed()
			return
		}
		p.leave(func() {})
	case fyne.KeyBackspace:
		if n := len(p.order); n > 0 {
			p.unmark(p.order[n-1])
		}
	case fyne.KeyDelete:
		p.unmark(p.chosen)
	case fyne.KeyReturn, fyne.KeyEnter:
		p.next(true)
		p.changed()
	case fyne.KeyHome:
		b.Fit()
	case fyne.KeyLeft:
		b.nudge(-1, 0)
	case fyne.KeyRight:
		b.nudge(1, 0)
	case fyne.KeyUp:
		b.nudge(0, -1)
	case fyne.KeyDown:
		b.nudge(0, 1)
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
	q := b.On(to)
	b.Crosshair(fyne.NewPos(float32(q.X), float32(q.Y)), true)
}
