package tracing

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/picture"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Grasp takes hold of a point of the frame at hand.
func (b *traceBoard) Grasp(at fyne.Position) bool {
	if b.half, b.i = b.point(at); b.i < 0 {
		return false
	}
	f, _ := b.tr.frame()
	b.place, b.snapped = f.Halves[b.half][b.i].At, f.Halves[b.half][b.i].Snapped
	return true
}

// point gives the point of the frame at hand under a place of the board, i −1
// for none.
func (b *traceBoard) point(p fyne.Position) (half, i int) {
	f, ok := b.tr.frame()
	if !ok || b.tr.tool != traceClicks {
		return -1, -1
	}
	half, i = -1, -1
	least := math.Inf(1)
	for h, marks := range f.Halves {
		for k, m := range marks {
			if d, ok := b.Near(p, m.At); ok && d <= least {
				half, i, least = h, k, d
			}
		}
	}
	return half, i
}

// Drag moves the point that is held.
func (b *traceBoard) Drag(to fyne.Position, free bool) {
	if at, ok := b.At(to); ok {
		b.place, b.snapped = b.tr.snapped(at, free)
		b.Changed()
		b.read(to)
	}
}

// Drop puts it where it was dragged to.
func (b *traceBoard) Drop(_ fyne.Position, _ bool) {
	b.tr.did(b.tr.t.Move(b.half, b.i, b.place, b.snapped))
}

// Click puts a point, ends the frame where its last one is clicked again, or opens a
// menu.
func (b *traceBoard) Click(e *desktop.MouseEvent, h picture.Press) {
	tr := b.tr
	if h.Button == desktop.MouseButtonSecondary {
		b.menu(e)
		return
	}
	at, ok := b.At(e.Position)
	again := b.again(e.Position)
	switch {
	case !ok:
	case again && tr.t.Done(): // the second of a double click
	case again || h.Held && !tr.t.Done():
		if again || b.isLast() {
			tr.finish()
		}
	default:
		tr.click(at, h.Free)
	}
	b.clicked, b.count = e.Position, tr.t.Changes()
}

// again tells whether the last thing done was to put a point by a click there.
func (b *traceBoard) again(p fyne.Position) bool {
	last, _, ok := b.tr.t.Last()
	return ok && b.tr.tool == traceClicks && b.count == b.tr.t.Changes() && last != (trace.Mark{}) &&
		math.Hypot(float64(p.X-b.clicked.X), float64(p.Y-b.clicked.Y)) <= stillAgain
}

// isLast tells whether the point that is pressed on is the last of its frame.
func (b *traceBoard) isLast() bool {
	f, ok := b.tr.frame()
	return ok && b.half == b.tr.t.Half() && b.i > 0 && b.i == len(f.Halves[b.half])-1
}

// Pointed tells what lies under the pointer, and follows the line that leads there.
func (b *traceBoard) Pointed(at fyne.Position) {
	b.read(at)
	if p, ok := b.At(at); ok {
		b.tr.lead(p)
	}
}

// MouseOut puts the crosshair away, and what is followed to it.
func (b *traceBoard) MouseOut() {
	b.View.MouseOut()
	b.tr.trail.drop()
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
			fyne.NewMenuItem(tongue.T("Show the whole picture"), b.Fit),
			fyne.NewMenuItem(tongue.T("Undo the last step"), tr.undo),
			fyne.NewMenuItem(tongue.T("Centre line here"), func() { b.lineHere(p, tr.t.SetCentre) }),
			fyne.NewMenuItem(tongue.T("Base line here"), func() { b.lineHere(p, tr.t.SetBase) }),
		}
	}
	f, _ := tr.frame()
	m := f.Halves[half][i]
	knuckle := fyne.NewMenuItem(tongue.T("Knuckle: keep this corner"), func() { tr.did(tr.t.SetKnuckle(half, i, !m.Knuckle)) })
	knuckle.Checked = m.Knuckle
	items := []*fyne.MenuItem{knuckle, fyne.NewMenuItem(tongue.T("Remove this point"), func() { tr.did(tr.t.Remove(half, i)) })}
	if i > 0 {
		items = append(items, fyne.NewMenuItem(tongue.T("Insert a point above it"), func() {
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

// read tells the place under the pointer.
func (b *traceBoard) read(p fyne.Position) {
	at, ok := b.At(p)
	g := b.current()
	if !ok || g == nil || !g.Picture.Holds(at) {
		b.tr.say(b.tr.next())
		return
	}
	where := tongue.T("pixel %.0f, %.0f", at.X, at.Y)
	if q, ok := b.tr.t.Read(at); ok {
		across := "y"
		if f, ok := b.tr.frame(); ok && f.IsEnd() {
			across = "x"
		}
		where = fmt.Sprintf("%s %s, z %s %s", across, b.tr.units.Number(q.X), b.tr.units.Number(q.Y), b.tr.units.Name())
	}
	b.tr.say(where + " · " + b.tr.next())
}

// Keys are the keys of the window for tracing.
func Keys() kit.Keys { return (&traceBoard{}).keys() }

func (b *traceBoard) keys() kit.Keys {
	press := func(f func()) func(fyne.KeyName) bool {
		return func(fyne.KeyName) bool {
			f()
			return true
		}
	}
	return kit.Keys{
		{Names: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight}, Does: tongue.T("moves the last point by one pixel of the picture"), Press: func(k fyne.KeyName) bool {
			if dx, dy, ok := picture.Arrow(k); ok {
				b.nudge(dx, dy)
			}
			return true
		}},
		{Names: []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter}, Does: tongue.T("begins the next frame"), Press: press(func() { b.tr.nextFrame() })},
		{Names: []fyne.KeyName{fyne.KeyBackspace}, Does: tongue.T("takes back the last click, with what was followed to it"), Press: press(func() { b.tr.undo() })},
		{Names: []fyne.KeyName{fyne.KeyDelete}, Does: tongue.T("removes the point under the pointer, or else the last one"), Press: press(b.remove)},
		{Names: []fyne.KeyName{fyne.KeyHome}, Does: tongue.T("shows the whole picture"), Press: press(func() { b.Fit() })},
		{Names: []fyne.KeyName{fyne.KeyEscape}, Does: tongue.T("leaves a tool, or else the tracing"), Press: press(func() {
			switch tr := b.tr; {
			case b.Forget():
			case tr.tool != traceClicks || len(tr.picked) > 0:
				tr.take(traceClicks)
			default:
				tr.leave(func() {})
			}
		})},
		{Runes: "+=-", Shown: "+, −", Does: tongue.T("zoom in, zoom out"), Type: func(r rune) { b.ZoomKey(r) }},
		{Runes: "kK", Does: tongue.T("makes the last point a knuckle"), Type: func(rune) { b.tr.lastKnuckle() }},
		{Runes: "mM", Does: tongue.T("shows the magnifier, or puts it away"), Type: func(rune) {
			b.tr.lens = !b.tr.lens
			b.tr.changed()
		}},
		{Runes: "fF", Does: tongue.T("follows the line between clicks, or does not"), Type: func(rune) {
			b.tr.follow = !b.tr.follow
			b.tr.changed()
		}},
	}
}

// TypedRune takes a character.
func (b *traceBoard) TypedRune(r rune) { b.keys().Type(r) }

// TypedKey takes a key; those of the window are its own.
func (b *traceBoard) TypedKey(e *fyne.KeyEvent) {
	if !b.tr.windowKey(e.Name) {
		b.keys().Press(e.Name)
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
	b.Point(to)
}
