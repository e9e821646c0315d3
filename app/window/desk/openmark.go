package desk

import "github.com/strakewright/strakewright/app"

// openMark tells other programs that the plan's file is open here.
type openMark struct {
	path    string
	release func()
}

// LetGo takes the mark away.
func (m *openMark) LetGo() {
	if m.release != nil {
		m.release()
	}
	*m = openMark{}
}

// MarkOpen marks the file of the plan at hand as open, and warns once where
// another window has it open as well.
func (d *Desk) MarkOpen() {
	path := d.Session.Path()
	if d.Win == nil || path == d.Mark.path {
		return
	}
	d.Mark.LetGo()
	if path == "" {
		return
	}
	d.Remember(path)
	if other, open := app.OpenedElsewhere(path); open {
		d.Later(func() { d.Say(other.Warning(path)) })
	}
	d.Mark = openMark{path, app.HoldOpen(path)}
}
