package kit

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// Notices is what a window tells its user.
type Notices struct {
	Win    fyne.Window
	Status func(string) // in the line at its foot
	Say    func(string) // in a dialog: one sentence that the user must see
}

func newNotices(win fyne.Window) *Notices {
	n := &Notices{Win: win, Status: func(string) {}}
	n.Say = func(text string) { showSentence(text, n.Win) }
	return n
}

// showSentence shows one sentence that the user must see.
func showSentence(text string, w fyne.Window) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	shown := dialog.NewCustom(w.Title(), "Close", l, w)
	shown.Resize(fyne.NewSize(420, 150))
	shown.Show()
}

// ShowSentences shows several sentences, one a paragraph.
func ShowSentences(title string, told []string, w fyne.Window) {
	box := container.NewVBox()
	for _, s := range told {
		l := widget.NewLabel(s)
		l.Wrapping = fyne.TextWrapWord
		box.Add(l)
	}
	shown := dialog.NewCustom(title, "Close", container.NewVScroll(box), w)
	shown.Resize(fyne.NewSize(520, min(420, 130+40*float32(len(told)))))
	shown.Show()
}

// Tell says several sentences, a line each; nothing where there are none.
func (n *Notices) Tell(told []string) {
	if len(told) > 0 {
		n.Say(strings.Join(told, "\n"))
	}
}
