package kit

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/assets/tongue"
)

// CheckGroup is several marks of which any may be set.
type CheckGroup struct {
	Box       *fyne.Container
	Options   []string
	Selected  []string // in the order of the options
	OnChanged func(selected []string)
	busy      bool
}

// NewCheckGroup makes one without marks; f is told of all that are set when one is
// changed.
func NewCheckGroup(f func(selected []string)) *CheckGroup {
	return &CheckGroup{Box: container.NewVBox(), OnChanged: f}
}

// Show shows other marks, named in the reader's language, and which of them are set.
func (g *CheckGroup) Show(options, selected []string) {
	g.Options, g.Selected = options, selected
	g.Box.RemoveAll()
	for _, name := range options {
		c := NewCheck(tongue.T(name), nil)
		c.Checked = slices.Contains(selected, name)
		c.OnChanged = func(bool) {
			if !g.busy {
				g.changed()
			}
		}
		g.Box.Add(c)
	}
}

// SetSelected sets some of them, and takes the others away.
func (g *CheckGroup) SetSelected(selected []string) {
	g.busy = true
	for i, name := range g.Options {
		g.Box.Objects[i].(*Check).SetChecked(slices.Contains(selected, name))
	}
	g.busy = false
	g.changed()
}

// changed tells of those that are set.
func (g *CheckGroup) changed() {
	g.Selected = nil
	for i, name := range g.Options {
		if g.Box.Objects[i].(*Check).Checked {
			g.Selected = append(g.Selected, name)
		}
	}
	g.OnChanged(g.Selected)
}
