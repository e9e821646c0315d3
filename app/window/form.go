package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// form is what can be set, in parts: each follows what it shows while it is in
// sight.
type form struct {
	list   []*formPart
	always []func() // what follows from a change whether or not it is shown
	busy   bool     // parts are being brought up to date and report nothing
}

// formPart is what is brought up to date together: only while it is shown, and
// again when it comes to be shown.
type formPart struct {
	shown func() bool
	sync  []func()
}

// part begins a part: what is kept from now on belongs to it.
func (p *form) part(shown func() bool) { p.list = append(p.list, &formPart{shown: shown}) }

// update brings up to date what is shown.
func (p *form) update() {
	p.busy = true
	defer func() { p.busy = false }()
	for _, f := range p.always {
		f()
	}
	for _, part := range p.list {
		if !part.shown() {
			continue
		}
		for _, f := range part.sync {
			f()
		}
	}
}

// keep has f called whenever the plan or the choice changes while the part being
// made is shown, and when it comes to be shown.
func (p *form) keep(f func()) {
	part := p.list[len(p.list)-1]
	part.sync = append(part.sync, f)
}

// number adds a number to what is kept up to date.
func (p *form) number(n *number) *number {
	p.keep(n.sync)
	return n
}

// choice makes a list to choose from, whose options may change.
func (p *form) choice(options func() []string, get func() int, set func(int)) *widget.Select {
	s := widget.NewSelect(nil, nil)
	s.OnChanged = func(string) {
		if i := s.SelectedIndex(); !p.busy && i >= 0 {
			set(i)
		}
	}
	p.keep(func() {
		now := options()
		if !slices.Equal(s.Options, now) {
			s.Options = now
			s.Refresh()
		}
		i := get()
		switch {
		case i < 0 || i >= len(now):
			if s.Selected != "" {
				s.ClearSelected()
			}
		case s.Selected != now[i]:
			s.SetSelectedIndex(i)
		}
	})
	return s
}

// followingText is a wrapped text that is brought up to date by what is kept.
func followingText(keep func(func()), get func() string) *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	keep(func() { setText(l, get()) })
	return l
}

// text makes a wrapped text that follows what it tells.
func (p *form) text(get func() string) *widget.Label { return followingText(p.keep, get) }
