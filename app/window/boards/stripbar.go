package boards

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
)

// stripBar is the buttons of the lofted view with which a strip is laid over the
// frames, pressed on and let go.
type stripBar struct {
	strip                  *strip
	lay, press, letGo, off *kit.Button
	back, on               *kit.Button
	count                  *widget.Label
	hold                   *kit.Select
	filling                bool
	offer, whole           fyne.CanvasObject // the button alone; all others
	around                 *fyne.Container   // the view with them
}

// countRoom is how wide the longest count is, so that nothing shifts.
const countRoom = 76

func newStripBar(s *strip) *stripBar {
	d, b := s.desk, &stripBar{strip: s, around: container.NewStack()}
	// After each button the keys go to the board: arrows and Escape are at hand.
	then := func(f func()) func() {
		return func() {
			f()
			s.board.focus()
		}
	}
	b.lay = d.Button("Lay a strip over the frames", "Shows how a strip of the chosen strake or line lies over the bare frames, and where and how hard it must be held", then(s.lay))
	b.press = d.Button("Press it on", "Shows it pressed on from the first contact to the last; Space starts and stops it, Escape stops it", then(func() {
		if !s.stop() {
			s.play(1)
		}
	}))
	b.letGo = d.Button("Let go", "Shows it let go again, back to the first contact", then(func() { s.play(-1) }))
	b.off = d.Button("Take it off", "Shows the planking again", then(s.takeOff))
	b.back = kit.NewButtonWithIcon("", theme.NavigateBackIcon(), then(func() { s.step(-1) }))
	b.on = kit.NewButtonWithIcon("", theme.NavigateNextIcon(), then(func() { s.step(1) }))
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(countRoom, 0))
	b.count = widget.NewLabelWithStyle("", fyne.TextAlignCenter, fyne.TextStyle{})
	b.hold = kit.NewSelect(holdings, func(string) {
		if !b.filling {
			then(func() { s.holdAt(holding(b.hold.SelectedIndex())) })()
		}
	})
	longest := canvas.NewRectangle(color.Transparent) // while it says Stop, it keeps its room
	longest.SetMinSize(b.press.MinSize())
	b.offer = container.NewVBox(container.NewHBox(b.lay))
	b.whole = container.NewVBox(
		container.NewHBox(container.NewStack(longest, b.press), b.letGo, b.back, container.NewStack(room, b.count), b.on),
		container.NewBorder(nil, nil, widget.NewLabel("Hold at"), b.off, b.hold))
	s.bar = b
	b.show()
	return b
}

// show brings the buttons up to date.
func (b *stripBar) show() {
	s := b.strip
	able := func(w fyne.Disableable, on bool) {
		if on == w.Disabled() {
			if on {
				w.Enable()
			} else {
				w.Disable()
			}
		}
	}
	seen := func(o fyne.CanvasObject, on bool) {
		if on != o.Visible() {
			if on {
				o.Show()
			} else {
				o.Hide()
			}
			b.around.Refresh()
		}
	}
	seen(b.offer, !s.on && !s.desk.Shapeless())
	seen(b.whole, s.on)
	name := "Press it on"
	if s.moving() || s.busy() {
		name = "Stop"
	}
	if b.press.Text != name {
		b.press.SetText(name)
	}
	last, still := float64(len(s.states)-1), !s.moving() && !s.busy()
	able(b.press, !still || last >= 1)
	able(b.letGo, still && last >= 1)
	able(b.back, !s.moving() && s.at > 0)
	able(b.on, !s.moving() && s.at < last)
	if last >= 0 {
		kit.SetText(b.count, fmt.Sprintf("%d / %d", int(s.at)+1, len(s.states)))
	} else {
		kit.SetText(b.count, "")
	}
	b.filling = true
	if b.hold.SelectedIndex() != int(s.hold) {
		b.hold.SetSelectedIndex(int(s.hold))
	}
	b.filling = false
}

// keyed takes a key that is the strip's while it is laid: on the lofted view the
// arrows and Space, and Escape everywhere.
func (s *strip) keyed(b *Board, key fyne.KeyName) bool {
	if !s.on {
		return false
	}
	if key == fyne.KeyEscape {
		return s.stop()
	}
	if b != s.board {
		return false
	}
	switch key {
	case fyne.KeyLeft:
		s.step(-1)
	case fyne.KeyRight:
		s.step(1)
	case fyne.KeySpace:
		if !s.stop() {
			s.play(1)
		}
	default:
		return false
	}
	return true
}
