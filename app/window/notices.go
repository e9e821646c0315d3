package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// notices is what a window tells its user.
type notices struct {
	win    fyne.Window
	status func(string) // in the line at its foot
	say    func(string) // in a dialog: one sentence that the user must see
}

func newNotices(win fyne.Window) *notices {
	n := &notices{win: win, status: func(string) {}}
	n.say = func(text string) { showSentence(text, n.win) }
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

// showSentences shows several sentences, one a paragraph.
func showSentences(title string, told []string, w fyne.Window) {
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
