package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Veil keeps what is not shown yet from being measured and laid out: Fyne asks
// the least size of every tab's content, and to measure the texts of those that
// nobody has looked at takes longer than to draw the window. Until it is shown it
// asks for a room of its own, and from then on for what its content needs, if that
// is more: so nothing shifts where the room was well chosen.
type Veil struct {
	widget.BaseWidget
	Content fyne.CanvasObject
	room    fyne.Size // asked for until it is lifted
	Lifted  bool
}

// Veiled puts an object behind a veil, which asks for some room meanwhile.
func Veiled(room fyne.Size, content fyne.CanvasObject) *Veil {
	v := &Veil{Content: content, room: room}
	v.ExtendBaseWidget(v)
	return v
}

// MinSize is the room or, once the content has been shown, its least size, if that is
// more.
func (v *Veil) MinSize() fyne.Size {
	if !v.Lifted {
		return v.room
	}
	return v.Content.MinSize().Max(v.room)
}

// Resize lays out the content; tabs give a size to the one that is shown alone.
func (v *Veil) Resize(s fyne.Size) {
	if s.Width > 0 && s.Height > 0 && !v.Lifted {
		v.Lifted = true
		v.BaseWidget.Resize(s)
		v.Content.Resize(s)
		v.Content.Refresh() // the colours may have changed meanwhile
		return
	}
	v.BaseWidget.Resize(s)
}

// Refresh draws the content anew, once it has been shown.
func (v *Veil) Refresh() {
	if v.Lifted {
		v.Content.Refresh()
	}
}

// CreateRenderer gives Fyne the content.
func (v *Veil) CreateRenderer() fyne.WidgetRenderer { return &veilRenderer{v} }

type veilRenderer struct{ v *Veil }

func (r *veilRenderer) Destroy() {}

func (r *veilRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *veilRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.v.Content} }

func (r *veilRenderer) Refresh() { r.v.Refresh() }

func (r *veilRenderer) Layout(s fyne.Size) {
	if r.v.Lifted {
		r.v.Content.Resize(s)
	}
}
