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
	"github.com/strakewright/strakewright/assets/tongue"
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
	b.lay = d.Button(tongue.T("Lay a strip over the frames"), tongue.T("Shows how a strip of the chosen strake or line lies over the bare frames, and where and how hard it must be held"), then(s.lay))
	b.press = d.Button(tongue.T("Press it on"), tongue.T("Shows it pressed on from the first contact to the last; Space starts and stops it, Escape stops it"), then(func() {
		if !s.stop() {
			s.play(1)
		}
	}))
	b.letGo = d.Button(tongue.T("Let go"), tongue.T("Shows it let go again, back to the first contact"), then(func() { s.play(-1) }))
	b.off = d.Button(tongue.T("Take it off"), tongue.T("Shows the planking again"), then(s.takeOff))
	b.back = d.Button("", tongue.T("Goes back one state"), then(func() { s.step(-1) }))
	b.on = d.Button("", tongue.T("Goes on one state"), then(func() { s.step(1) }))
	b.back.Icon, b.on.Icon = theme.NavigateBackIcon(), theme.NavigateNextIcon()
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(countRoom, 0))
	b.count = widget.NewLabelWithStyle("", fyne.TextAlignCenter, fyne.TextStyle{})
	b.hold = kit.NewSelect(holdings(), func(string) {
		if !b.filling {
			then(func() { s.holdAt(holding(b.hold.SelectedIndex())) })()
		}
	})
	longest := canvas.NewRectangle(color.Transparent) // while it says Stop, it keeps its room
	longest.SetMinSize(b.press.MinSize())
	b.offer = container.NewVBox(container.NewHBox(b.lay))
	b.whole = container.NewVBox(
		container.NewHBox(container.NewStack(longest, b.press), b.letGo, b.back, container.NewStack(room, b.count), b.on),
		container.NewBorder(nil, nil, widget.NewLabel(tongue.T("Hold at")), b.off, kit.Tipped(b.hold, tongue.T("At which frames the strip is held; a click on a frame holds it there, or lets it go"))))
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
	name := tongue.T("Press it on")
	if s.moving() || s.busy() {
		name = tongue.T("Stop")
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

// keys are those of the strip while it is laid, on the lofted view.
func (s *strip) keys() kit.Keys {
	step := func(k fyne.KeyName) bool {
		by := 1
		if k == fyne.KeyLeft {
			by = -1
		}
		s.step(by)
		return true
	}
	return kit.Keys{
		{Names: []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight}, Does: tongue.T("goes to the state before, or to the next"), Press: step},
		{Names: []fyne.KeyName{fyne.KeySpace}, Does: tongue.T("presses the strip on, or stops it"), Press: func(fyne.KeyName) bool {
			if !s.stop() {
				s.play(1)
			}
			return true
		}},
		{Names: []fyne.KeyName{fyne.KeyEscape}, Does: tongue.T("stops the strip"), Press: func(fyne.KeyName) bool { return s.stop() }},
	}
}

// keyed takes a key that is the strip's while it is laid: on the lofted view all of
// them, and Escape everywhere.
func (s *strip) keyed(b *Board, key fyne.KeyName) bool {
	return s.on && (b == s.board || key == fyne.KeyEscape) && s.keys().Press(key)
}

// StripLaid tells whether a strip is laid over the frames of the lofted view.
func (w *Drawings) StripLaid() bool { return w.hull.strip.on }
