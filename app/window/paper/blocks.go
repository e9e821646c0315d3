package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// blockChoice sets which filler blocks are drawn.
type blockChoice struct {
	from, to *kit.Select
	spacing  *kit.Number
}

// blockList sets the filler blocks: the usual ones, or one between two frames.
func (p *paperDialog) blockList() fyne.CanvasObject {
	var names []string
	for _, f := range p.k.Plan.Hull.Frames {
		names = append(names, f.Name)
	}
	own := &export.Blocks{From: names[0], To: names[1], Spacing: 5}
	c := &blockChoice{from: kit.NewSelect(names, nil), to: kit.NewSelect(names, nil)}
	p.blocks = c
	c.from.SetSelected(own.From)
	c.to.SetSelected(own.To)
	set := func(f func(b *export.Blocks)) {
		p.change(func(s *export.Settings) {
			f(own)
			b := *own
			s.Blocks = &b
		})
	}
	c.from.OnChanged = func(name string) { set(func(b *export.Blocks) { b.From = name }) }
	c.to.OnChanged = func(name string) { set(func(b *export.Blocks) { b.To = name }) }
	c.spacing = kit.NewLength(p.desk.Notices, &p.desk.Units, 0.5, func() float64 { return own.Spacing }, func(mm float64) bool {
		set(func(b *export.Blocks) { b.Spacing = mm })
		return true
	})
	c.spacing.Sync()
	detail := container.NewVBox(kit.TippedRow(tongue.T("From frame"), tongue.T("The frame at which the block begins"), c.from), kit.TippedRow(tongue.T("To frame"), tongue.T("The frame at which the block ends"), c.to), kit.TippedRow(tongue.T("Slices of"), tongue.T("How thick the slices are that the block is built up of"), c.spacing.Box))
	detail.Hide()
	which := kit.NewSelect([]string{tongue.T("a bay at either end"), tongue.T("between two frames")}, nil)
	which.SetSelectedIndex(0)
	which.OnChanged = func(string) {
		if which.SelectedIndex() == 0 {
			detail.Hide()
			p.change(func(s *export.Settings) { s.Blocks = nil })
			return
		}
		detail.Show()
		set(func(*export.Blocks) {})
	}
	return container.NewVBox(kit.Tipped(which, tongue.T("Which filler blocks are drawn")), detail)
}
