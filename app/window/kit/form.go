package kit

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Form is what can be set, in parts: each follows what it shows while it is in
// sight.
type Form struct {
	List   []*formPart
	Always []func() // what follows from a change whether or not it is shown
	Busy   bool     // parts are being brought up to date and report nothing
}

// formPart is what is brought up to date together: only while it is shown, and
// again when it comes to be shown.
type formPart struct {
	shown func() bool
	Sync  []func()
}

// Part begins a part: what is kept from now on belongs to it.
func (p *Form) Part(shown func() bool) { p.List = append(p.List, &formPart{shown: shown}) }

// Update brings up to date what is shown.
func (p *Form) Update() {
	p.Busy = true
	defer func() { p.Busy = false }()
	for _, f := range p.Always {
		f()
	}
	for _, part := range p.List {
		if !part.shown() {
			continue
		}
		for _, f := range part.Sync {
			f()
		}
	}
}

// Keep has f called whenever the plan or the choice changes while the part being
// made is shown, and when it comes to be shown.
func (p *Form) Keep(f func()) {
	part := p.List[len(p.List)-1]
	part.Sync = append(part.Sync, f)
}

// Number adds a number to what is kept up to date.
func (p *Form) Number(n *Number) *Number {
	p.Keep(n.Sync)
	return n
}

// Choice makes a list to choose from, whose options may change.
func (p *Form) Choice(options func() []string, get func() int, set func(int)) *Select {
	s := NewSelect(nil, nil)
	s.OnChanged = func(string) {
		if i := s.SelectedIndex(); !p.Busy && i >= 0 {
			set(i)
		}
	}
	p.Keep(func() {
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
	keep(func() { SetText(l, get()) })
	return l
}

// Text makes a wrapped text that follows what it tells.
func (p *Form) Text(get func() string) *widget.Label { return followingText(p.Keep, get) }
