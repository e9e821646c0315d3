package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// veil keeps what is not shown yet from being measured and laid out: Fyne asks
// the least size of every tab's content, and to measure the texts of those that
// nobody has looked at takes longer than to draw the window. Until it is shown it
// asks for a room of its own, and from then on for what its content needs, if that
// is more: so nothing shifts where the room was well chosen.
type veil struct {
	widget.BaseWidget
	content fyne.CanvasObject
	room    fyne.Size // asked for until it is lifted
	lifted  bool
}

// veiled puts an object behind a veil, which asks for some room meanwhile.
func veiled(room fyne.Size, content fyne.CanvasObject) *veil {
	v := &veil{content: content, room: room}
	v.ExtendBaseWidget(v)
	return v
}

// MinSize is the room or, once the content has been shown, its least size, if that is
// more.
func (v *veil) MinSize() fyne.Size {
	if !v.lifted {
		return v.room
	}
	return v.content.MinSize().Max(v.room)
}

// Resize lays out the content; tabs give a size to the one that is shown alone.
func (v *veil) Resize(s fyne.Size) {
	if s.Width > 0 && s.Height > 0 && !v.lifted {
		v.lifted = true
		v.BaseWidget.Resize(s)
		v.content.Resize(s)
		v.content.Refresh() // the colours may have changed meanwhile
		return
	}
	v.BaseWidget.Resize(s)
}

// Refresh draws the content anew, once it has been shown.
func (v *veil) Refresh() {
	if v.lifted {
		v.content.Refresh()
	}
}

// CreateRenderer gives Fyne the content.
func (v *veil) CreateRenderer() fyne.WidgetRenderer { return &veilRenderer{v} }

type veilRenderer struct{ v *veil }

func (r *veilRenderer) Destroy() {}

func (r *veilRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *veilRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.v.content} }

func (r *veilRenderer) Refresh() { r.v.Refresh() }

func (r *veilRenderer) Layout(s fyne.Size) {
	if r.v.lifted {
		r.v.content.Resize(s)
	}
}
