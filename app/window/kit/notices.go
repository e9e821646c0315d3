package kit

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// Notices is what a window tells its user.
type Notices struct {
	Win    fyne.Window
	Status func(string) // in the line at its foot
	Say    func(string) // in a dialog: one sentence that the user must see
	// After has something done on the main goroutine after a while, unless it is stopped;
	// without it there are no tips at the pointer.
	After func(long time.Duration, f func()) (stop func())
}

func newNotices(win fyne.Window) *Notices {
	n := &Notices{Win: win, Status: func(string) {}}
	n.Say = n.showSentence
	return n
}

// Repaint has a drawing made anew with the next frame of the window that it stands in.
// Its own Refresh, and so its Resize, asks the toolkit which canvas it stands on, and
// about once a minute the toolkit has forgotten that until the next frame (v2.7.1:
// cache.SetCanvasForObject does not renew what it finds, and destroyExpiredCanvases
// drops it): what is asked for then is lost, and the old drawing stays, stretched.
func (n *Notices) Repaint(o fyne.CanvasObject) {
	if n.Win != nil {
		n.Win.Canvas().Refresh(o)
	}
}

// Repainted is a raster that is made anew whenever it has another size.
func (n *Notices) Repainted(r *canvas.Raster) fyne.CanvasObject {
	return container.New(&repaintLayout{stack: layout.NewStackLayout(), in: n}, r)
}

// stack lays one thing upon the other.
type stack = fyne.Layout

type repaintLayout struct {
	stack
	in *Notices
	at fyne.Size
}

// Layout gives the raster its size.
func (l *repaintLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	l.stack.Layout(o, s)
	if l.at != s {
		l.at = s
		l.in.Repaint(o[0])
	}
}

// showSentence shows one sentence that the user must see.
func (n *Notices) showSentence(text string) {
	l := NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	shown := n.Shown(programOf(n.Win.Title()), l)
	shown.Resize(fyne.NewSize(420, 150))
	shown.Show()
}

// programOf gives the name of the program, or of a window of its own, from a title
// that begins with a file's.
func programOf(title string) string {
	if i := strings.LastIndex(title, TitleDash); i >= 0 {
		return title[i+len(TitleDash):]
	}
	return title
}

// TitleDash stands in a window's title between the file and the program.
const TitleDash = " – "

// ShowSentences shows several sentences, one a paragraph.
func (n *Notices) ShowSentences(title string, told []string) {
	box := container.NewVBox()
	for _, s := range told {
		l := NewLabel(s)
		l.Wrapping = fyne.TextWrapWord
		box.Add(l)
	}
	shown := n.Shown(title, container.NewVScroll(box))
	shown.Resize(fyne.NewSize(520, min(420, 130+40*float32(len(told)))))
	shown.Show()
}

// Tell says several sentences, a line each; nothing where there are none.
func (n *Notices) Tell(told []string) {
	if len(told) > 0 {
		n.Say(strings.Join(told, "\n"))
	}
}
