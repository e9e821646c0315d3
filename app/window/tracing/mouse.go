package tracing

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/picture"
)

// pressing is a button held down on the picture.
type pressing struct {
	button  desktop.MouseButton
	at      fyne.Position // where it went down
	last    fyne.Position
	free    bool // without the snap
	moves   bool // it moves the picture
	half, i int  // the point it took hold of; i is −1 for none
	dragged bool
	place   trace.Point // where that point is dragged to
	snapped bool
}

var (
	_ fyne.Draggable     = (*traceBoard)(nil)
	_ fyne.Focusable     = (*traceBoard)(nil)
	_ fyne.Scrollable    = (*traceBoard)(nil)
	_ desktop.Mouseable  = (*traceBoard)(nil)
	_ desktop.Hoverable  = (*traceBoard)(nil)
	_ desktop.Keyable    = (*traceBoard)(nil)
	_ desktop.Cursorable = (*traceBoard)(nil)
)

// Cursor is a cross.
func (b *traceBoard) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

// MouseDown takes hold of a point, or of the picture.
func (b *traceBoard) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Focus(b)
	}
	b.press = &pressing{button: e.Button, at: e.Position, last: e.Position, i: -1,
		free: b.shift || e.Modifier&fyne.KeyModifierShift != 0, moves: e.Button != desktop.MouseButtonPrimary || b.space}
	if !b.press.moves {
		b.press.half, b.press.i = b.point(e.Position)
		b.press.moves = b.press.i < 0
	}
}

// point gives the point of the frame at hand under a place of the board, i −1
// for none.
func (b *traceBoard) point(p fyne.Position) (half, i int) {
	f, ok := b.tr.frame()
	if !ok || b.tr.tool != traceClicks {
		return -1, -1
	}
	half, i = -1, -1
	least := pointReach
	for h, marks := range f.Halves {
		for k, m := range marks {
			q := b.On(m.At)
			if d := math.Hypot(q.X-float64(p.X), q.Y-float64(p.Y)); d <= least {
				half, i, least = h, k, d
			}
		}
	}
	return half, i
}

// Dragged moves what is held: a point, or the picture.
func (b *traceBoard) Dragged(e *fyne.DragEvent) { b.draggedTo(e.Position) }

func (b *traceBoard) draggedTo(p fyne.Position) {
	h := b.press
	if h == nil {
		return
	}
	if !h.dragged && math.Hypot(float64(p.X-h.at.X), float64(p.Y-h.at.Y)) < picture.StillClick {
		return
	}
	h.dragged = true
	b.Crosshair(p, true)
	if h.moves {
		b.Pan(float64(p.X-h.last.X), float64(p.Y-h.last.Y))
		h.last = p
		return
	}
	if at, ok := b.At(p); ok {
		h.place, h.snapped = b.tr.snapped(at, h.free)
		b.Changed()
		b.read(p)
	}
}

// DragEnd is here for Fyne's sake: the button tells when it comes up.
func (b *traceBoard) DragEnd() { b.letGo() }

// MouseUp lets go of what is held; without a drag it was a click.
func (b *traceBoard) MouseUp(e *desktop.MouseEvent) {
	h := b.press
	if h == nil || e.Button != h.button {
		return
	}
	if h.dragged {
		b.letGo()
		return
	}
	b.press = nil
	switch {
	case h.button == desktop.MouseButtonSecondary:
		b.menu(e)
	case h.button == desktop.MouseButtonPrimary && h.i < 0 && !b.space:
		if at, ok := b.At(e.Position); ok {
			b.tr.click(at, h.free)
		}
	}
}

// letGo puts a dragged point where it was dragged to.
func (b *traceBoard) letGo() {
	h := b.press
	b.press = nil
	if h != nil && h.dragged && h.i >= 0 {
		b.tr.did(b.tr.t.Move(h.half, h.i, h.place, h.snapped))
	}
}

// menu is the menu of the point under the pointer, or of the picture.
func (b *traceBoard) menu(e *desktop.MouseEvent) {
	c := fyne.CurrentApp().Driver().CanvasForObject(b)
	if c == nil {
		return
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", b.items(e.Position)...), c, e.AbsolutePosition)
}

func (b *traceBoard) items(p fyne.Position) []*fyne.MenuItem {
	tr := b.tr
	half, i := b.point(p)
	if i < 0 {
		return []*fyne.MenuItem{
			fyne.NewMenuItem("Show the whole picture", b.Fit),
			fyne.NewMenuItem("Take back the last step", tr.undo),
			fyne.NewMenuItem("Centre line here", func() { b.lineHere(p, tr.t.SetCentre) }),
			fyne.NewMenuItem("Base line here", func() { b.lineHere(p, tr.t.SetBase) }),
		}
	}
	f, _ := tr.frame()
	m := f.Halves[half][i]
	knuckle := fyne.NewMenuItem("Knuckle: keep this corner", func() { tr.did(tr.t.SetKnuckle(half, i, !m.Knuckle)) })
	knuckle.Checked = m.Knuckle
	items := []*fyne.MenuItem{knuckle, fyne.NewMenuItem("Remove this point", func() { tr.did(tr.t.Remove(half, i)) })}
	if i > 0 {
		items = append(items, fyne.NewMenuItem("Put in a point above it", func() {
			a := f.Halves[half][i-1].At
			at, snapped := tr.snapped(trace.Pt((a.X+m.At.X)/2, (a.Y+m.At.Y)/2), false)
			tr.did(tr.t.Insert(half, i, at, snapped))
		}))
	}
	return items
}

func (b *traceBoard) lineHere(p fyne.Position, set func(trace.Point) error) {
	if at, ok := b.At(p); ok {
		b.tr.did(set(at))
	}
}

// MouseIn begins to tell what lies under the pointer.
func (b *traceBoard) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved tells what lies under the pointer; Fyne tells of a drag with the
// right button by it as well.
func (b *traceBoard) MouseMoved(e *desktop.MouseEvent) {
	b.Crosshair(e.Position, true)
	if h := b.press; h != nil && h.button == desktop.MouseButtonSecondary && e.Button&desktop.MouseButtonSecondary != 0 {
		b.draggedTo(e.Position)
		return
	}
	b.read(e.Position)
	b.Changed() // the place a click would be drawn to follows, and the magnifier
}

// MouseOut puts the crosshair away.
func (b *traceBoard) MouseOut() {
	b.Crosshair(b.Hover, false)
	b.Changed()
}

// read tells the place under the pointer.
func (b *traceBoard) read(p fyne.Position) {
	at, ok := b.At(p)
	g := b.current()
	if !ok || g == nil || !g.Picture.Holds(at) {
		b.tr.say(b.tr.next())
		return
	}
	where := fmt.Sprintf("pixel %.0f, %.0f", at.X, at.Y)
	if q, ok := b.tr.t.Read(at); ok {
		across := "y"
		if f, ok := b.tr.frame(); ok && f.IsEnd() {
			across = "x"
		}
		where = fmt.Sprintf("%s %s, z %s %s", across, b.tr.units.Number(q.X), b.tr.units.Number(q.Y), b.tr.units.Name())
	}
	b.tr.say(where + " · " + b.tr.next())
}

// Scrolled zooms about the pointer.
func (b *traceBoard) Scrolled(e *fyne.ScrollEvent) { b.Scroll(e) }

// FocusGained and FocusLost forget keys whose release the board is not told.
func (b *traceBoard) FocusGained() { b.shift, b.space = false, false }

// FocusLost forgets the keys held.
func (b *traceBoard) FocusLost() { b.shift, b.space = false, false }

// TypedRune zooms, marks a knuckle, or shows the magnifier and puts it away.
func (b *traceBoard) TypedRune(r rune) {
	if b.ZoomKey(r) {
		return
	}
	switch r {
	case 'k', 'K':
		b.tr.lastKnuckle()
	case 'm', 'M':
		b.tr.lens = !b.tr.lens
		b.tr.changed()
	}
}

// KeyDown notes whether Shift or the space bar is held.
func (b *traceBoard) KeyDown(e *fyne.KeyEvent) { b.key(e.Name, true) }

// KeyUp notes whether they are let go of.
func (b *traceBoard) KeyUp(e *fyne.KeyEvent) { b.key(e.Name, false) }

func (b *traceBoard) key(k fyne.KeyName, down bool) {
	switch k {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		b.shift = down
		b.Changed()
	case fyne.KeySpace:
		b.space = down
	}
}

// TypedKey takes a step back, leaves a tool, begins the next frame, moves the
// last point by a pixel, or shows the whole.
func (b *traceBoard) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		if b.press != nil {
			b.press = nil
			b.Changed()
			return
		}
		b.tr.take(traceClicks)
	case fyne.KeyBackspace:
		b.tr.undo()
	case fyne.KeyDelete:
		b.remove()
	case fyne.KeyReturn, fyne.KeyEnter:
		b.tr.nextFrame()
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

// remove takes away the point under the pointer, or else the last click.
func (b *traceBoard) remove() {
	if b.Inside {
		if half, i := b.point(b.Hover); i >= 0 {
			b.tr.did(b.tr.t.Remove(half, i))
			return
		}
	}
	b.tr.undo()
}

// nudge moves the last point clicked by so many pixels of the picture, as the
// picture lies on the board.
func (b *traceBoard) nudge(dx, dy float64) {
	tr := b.tr
	f, ok := tr.frame()
	h := tr.t.Half()
	picked := len(tr.picked) > 0
	if !picked && (!ok || tr.tool != traceClicks || len(f.Halves[h]) == 0) {
		return
	}
	last := len(f.Halves[h]) - 1
	var at trace.Point
	if picked {
		at = tr.picked[len(tr.picked)-1]
	} else {
		at = f.Halves[h][last].At
	}
	to, ok := b.Beside(at, dx, dy)
	if !ok {
		return
	}
	if picked {
		tr.picked[len(tr.picked)-1] = to
		tr.did(nil)
	} else {
		tr.did(tr.t.Move(h, last, to, false))
	}
	q := b.On(to)
	b.Crosshair(fyne.NewPos(float32(q.X), float32(q.Y)), true)
}
