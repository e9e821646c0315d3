package window

import (
	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/welcome"
	"github.com/strakewright/strakewright/assets/tongue"
)

// ways are the ways to begin that the welcome page offers.
func (w *mainWindow) ways() welcome.Ways {
	d := w.desk
	return welcome.Ways{
		Demo:    w.beginTask,
		NewHull: func() { welcome.AskNewHull(d) },
		Open:    func() { open(d) },
		Trace:   func() { w.tracing.Show() },
		Recent:  func(path string) { openRecent(d, path) },
		Left:    func(shown bool) { put(w.body, !shown) },
	}
}

// taskLayout gives the profile, in which the line is freed, more room than is usual.
var taskLayout = task{all: 0.2, board: 0.64, long: 0.7, low: lowAt, shapes: shapesAt, tab: lineTab}

// beginTask opens a copy of the demo plan, with the line that is to be freed.
func (w *mainWindow) beginTask() {
	d := w.desk
	d.AskFirst(tongue.T("open the demo plan"), func() {
		s, err := app.NewDemo()
		if err != nil {
			d.Say(kit.Sentence(err))
			return
		}
		d.Replace(s)
		w.welcome.Hide()
		w.layOutFor(taskLayout)
		w.guide.Begin()
	})
}

// inFront has what items do seen: the welcome page makes room for it.
func (w *mainWindow) inFront(m *fyne.Menu) *fyne.Menu {
	for _, it := range m.Items {
		if do := it.Action; do != nil {
			it.Action = func() {
				w.welcome.Hide()
				do()
			}
		}
		if it.ChildMenu != nil {
			w.inFront(it.ChildMenu)
		}
	}
	return m
}
