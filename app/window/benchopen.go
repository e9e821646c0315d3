package window

import "strakewright/app"

// openMark tells other programs that the plan's file is open here.
type openMark struct {
	path    string
	release func()
}

// letGo takes the mark away.
func (m *openMark) letGo() {
	if m.release != nil {
		m.release()
	}
	*m = openMark{}
}

// markOpen marks the file of the plan at hand as open, and warns once where
// another window has it open as well.
func (d *desk) markOpen() {
	path := d.s.Path()
	if d.win == nil || path == d.mark.path {
		return
	}
	d.mark.letGo()
	if path == "" {
		return
	}
	if other, open := app.OpenedElsewhere(path); open {
		d.later(func() { d.say(other.Warning(path)) })
	}
	d.mark = openMark{path, app.HoldOpen(path)}
}
