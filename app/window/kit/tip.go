package kit

import (
	"image/color"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A tip comes when the pointer has rested so long on a control. While it is shown, it is
// looked every now and then whether anything was pressed: whoever holds the tip is not
// told of that, since it takes no events.
const (
	tipRest  = 700 * time.Millisecond
	tipWatch = 100 * time.Millisecond
)

// Of a tip's text: how wide it may be, and how far it lies from the pointer and from its
// own edge.
const (
	tipWidth   = 300
	tipBeside  = 14
	tipPadding = 5
)

// tipHost lays out what a window or a dialog holds, and upon it the tip of the control
// under the pointer. Fyne gives all events to the overlay on top, so that the tip stands
// in what it is about and not over it.
type tipHost struct {
	title  string // of the dialog; none for a window
	in     *Notices
	object *fyne.Container // what it lays out
	tip    *fyne.Container
	ground *canvas.Rectangle
	size   fyne.Size
	stop   func() // what is waited for; nil for nothing
	turn   int    // counts what was waited for, so that what comes too late is told
}

// WithTips is something that tips can stand upon: what fills a window.
func (n *Notices) WithTips(content fyne.CanvasObject) fyne.CanvasObject {
	return n.withTips("", content)
}

func (n *Notices) withTips(title string, content fyne.CanvasObject) fyne.CanvasObject {
	h := &tipHost{title: title, in: n, ground: canvas.NewRectangle(color.Transparent), tip: container.NewWithoutLayout()}
	h.tip.Hide()
	h.object = container.New(h, content, h.tip)
	return h.object
}

// MinSize is that of the content.
func (h *tipHost) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// Layout gives the content the whole room. A tip stays where it is: Fyne lays out anew
// for the tip itself, too; in a room of another size it goes.
func (h *tipHost) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(s)
	if s != h.size {
		h.size = s
		h.leave()
	}
}

// host is what tips stand upon now: the dialog on top, or the window. It is nil where
// that is no work of ours.
func (n *Notices) host() *tipHost {
	if n.Win == nil {
		return nil
	}
	return hostOn(n.Win.Canvas())
}

func hostOn(c fyne.Canvas) *tipHost {
	switch top := c.Overlays().Top().(type) {
	case nil:
		return hostIn(c.Content())
	case *widget.PopUp:
		return hostIn(top.Content)
	}
	return nil
}

func hostIn(o fyne.CanvasObject) *tipHost {
	c, ok := o.(*fyne.Container)
	if !ok {
		return nil
	}
	if h, ok := c.Layout.(*tipHost); ok {
		return h
	}
	for _, in := range c.Objects {
		if h := hostIn(in); h != nil {
			return h
		}
	}
	return nil
}

// DialogTitle is the title of the dialog on top, and tells whether there is one.
func (n *Notices) DialogTitle() (string, bool) {
	if n.Win.Canvas().Overlays().Top() == nil {
		return "", false
	}
	if h := n.host(); h != nil {
		return h.title, true
	}
	return "", true
}

// over has a tip come when the pointer rests where it is now. It may be nil.
func (h *tipHost) over(text string, at fyne.Position) {
	if h == nil {
		return
	}
	h.leave()
	if text == "" || h.in.After == nil {
		return
	}
	h.wait(tipRest, func() { h.show(text, at) })
}

// wait does something after a while, unless the tip is left before.
func (h *tipHost) wait(long time.Duration, f func()) {
	h.turn++
	turn := h.turn
	h.stop = h.in.After(long, func() {
		if turn == h.turn && h.stop != nil {
			f()
		}
	})
}

// leave has no tip there, nor coming. It may be nil.
func (h *tipHost) leave() {
	if h == nil {
		return
	}
	if h.stop != nil {
		h.stop()
		h.stop = nil
	}
	if h.tip.Visible() {
		h.tip.Hide()
	}
}

// show writes a tip beside a place of the window, where the host has room for it.
func (h *tipHost) show(text string, at fyne.Position) {
	room := h.object.Size()
	size := h.write(text, fyne.Min(tipWidth, room.Width-4*tipPadding))
	at = at.Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(h.object))
	y := at.Y + tipBeside + 4
	if y+size.Height > room.Height {
		y = at.Y - tipBeside - size.Height
	}
	x := fyne.Min(at.X+tipBeside, room.Width-size.Width)
	h.tip.Move(fyne.NewPos(fyne.Max(x, 0), fyne.Max(y, 0)))
	h.tip.Resize(size)
	h.tip.Show()
	h.watch()
}

// watch leaves the tip as soon as the keys or the dialog on top are elsewhere, as they
// are after a press.
func (h *tipHost) watch() {
	c := h.in.Win.Canvas()
	focused, top := c.Focused(), c.Overlays().Top()
	var look func()
	look = func() {
		if c.Focused() != focused || c.Overlays().Top() != top {
			h.leave()
			return
		}
		h.wait(tipWatch, look)
	}
	h.wait(tipWatch, look)
}

// write writes the tip in lines of a width, and gives its size.
func (h *tipHost) write(text string, width float32) fyne.Size {
	h.ground.FillColor = theme.Color(theme.ColorNameMenuBackground)
	h.ground.StrokeColor = theme.Color(theme.ColorNameInputBorder)
	h.ground.StrokeWidth, h.ground.CornerRadius = 1, theme.SelectionRadiusSize()
	h.tip.Objects = []fyne.CanvasObject{h.ground}
	ink, high := theme.Color(theme.ColorNameForeground), float32(tipPadding)
	var wide float32
	for _, line := range linesOf(text, width-2*tipPadding) {
		t := canvas.NewText(line, ink)
		t.TextSize = theme.TextSize()
		t.Move(fyne.NewPos(tipPadding, high))
		s := t.MinSize()
		t.Resize(s)
		wide, high = fyne.Max(wide, s.Width), high+s.Height
		h.tip.Objects = append(h.tip.Objects, t)
	}
	size := fyne.NewSize(wide+2*tipPadding, high+tipPadding)
	h.ground.Resize(size)
	return size
}

// linesOf breaks a text between words into lines of a width.
func linesOf(text string, width float32) (out []string) {
	line := ""
	for word := range strings.FieldsSeq(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && fyne.MeasureText(longer, theme.TextSize(), fyne.TextStyle{}).Width > width {
			out = append(out, line)
			longer = word
		}
		line = longer
	}
	return append(out, line)
}

// Tip is something with a tip: whatever it holds takes all events as before.
type Tip struct {
	widget.BaseWidget
	Content fyne.CanvasObject
	Text    string
}

// Tipped gives something a tip.
func Tipped(o fyne.CanvasObject, text string) *Tip {
	t := &Tip{Content: o, Text: text}
	t.ExtendBaseWidget(t)
	return t
}

// TippedRow is a name with what is set beside it, and a tip for both.
func TippedRow(name, text string, o fyne.CanvasObject) fyne.CanvasObject {
	return Tipped(Row(name, o), text)
}

// FieldTip is a field with a tip, that a form can have checked.
type FieldTip struct {
	Tip
	field *Field
}

// TippedField gives a field of a form a tip.
func TippedField(f *Field, text string) *FieldTip {
	t := &FieldTip{Tip: Tip{Content: f, Text: text}, field: f}
	t.ExtendBaseWidget(t)
	return t
}

// Validate checks what is typed.
func (t *FieldTip) Validate() error { return t.field.Validate() }

// SetOnValidationChanged has a form told of whether what is typed can be.
func (t *FieldTip) SetOnValidationChanged(f func(error)) { t.field.SetOnValidationChanged(f) }

// CreateRenderer gives Fyne the content, with what feels the pointer upon it.
func (t *Tip) CreateRenderer() fyne.WidgetRenderer {
	c := &tipCover{of: t}
	c.ExtendBaseWidget(c)
	return widget.NewSimpleRenderer(container.NewStack(t.Content, c))
}

// tipCover lies over something with a tip and feels the pointer, which it tells that of,
// too. Fyne looks for what is hovered and for what is pressed apart, and this can only be
// hovered: all else goes to what lies beneath.
type tipCover struct {
	widget.BaseWidget
	of *Tip
	on desktop.Hoverable // under the pointer, or nil
	at fyne.Position     // of the pointer, in the window
}

// CreateRenderer gives Fyne nothing to see.
func (c *tipCover) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout())
}

// MouseIn has the tip come.
func (c *tipCover) MouseIn(e *desktop.MouseEvent) { c.feel(e) }

// MouseMoved has the tip go, and come when the pointer rests again.
func (c *tipCover) MouseMoved(e *desktop.MouseEvent) {
	if e.AbsolutePosition != c.at {
		c.feel(e)
	}
}

// MouseOut has the tip go.
func (c *tipCover) MouseOut() {
	c.host().leave()
	if c.on != nil {
		c.on.MouseOut()
		c.on = nil
	}
}

func (c *tipCover) host() *tipHost {
	if on := fyne.CurrentApp().Driver().CanvasForObject(c); on != nil {
		return hostOn(on)
	}
	return nil
}

// feel tells what lies beneath of the pointer.
func (c *tipCover) feel(e *desktop.MouseEvent) {
	c.at = e.AbsolutePosition
	c.host().over(c.of.Text, e.AbsolutePosition)
	on, at := hoverableAt(c.of.Content, e.Position)
	beneath := *e
	beneath.Position = at
	switch {
	case on == c.on && on != nil:
		on.MouseMoved(&beneath)
	case on != c.on:
		if c.on != nil {
			c.on.MouseOut()
		}
		c.on = on
		if on != nil {
			on.MouseIn(&beneath)
		}
	}
}

// hoverableAt gives what can be hovered at a place of an object, and the place in it.
func hoverableAt(o fyne.CanvasObject, at fyne.Position) (desktop.Hoverable, fyne.Position) {
	if s := o.Size(); !o.Visible() || at.X < 0 || at.Y < 0 || at.X >= s.Width || at.Y >= s.Height {
		return nil, at
	}
	if h, ok := o.(desktop.Hoverable); ok {
		return h, at
	}
	if c, ok := o.(*fyne.Container); ok {
		for i := len(c.Objects) - 1; i >= 0; i-- {
			if h, in := hoverableAt(c.Objects[i], at.Subtract(c.Objects[i].Position())); h != nil {
				return h, in
			}
		}
	}
	return nil, at
}
