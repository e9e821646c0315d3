package window

import (
	"os"
	"os/signal"
	"syscall"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// unkept is the line over the foot that tells, until that is mended, that work is
// not being kept.
func (w *mainWindow) unkept() fyne.CanvasObject {
	l := widget.NewLabel("")
	l.Importance = widget.DangerImportance
	l.TextStyle.Bold = true
	l.Wrapping = fyne.TextWrapWord
	l.Hide()
	w.desk.ShowUnkept = func(err error) {
		if err == nil && l.Hidden {
			return
		}
		text := ""
		if err != nil {
			text = tongue.T("Your changes are not being kept: %s It is tried again every few seconds.", kit.Sentence(err))
		}
		l.Hidden = err == nil
		l.Resize(fyne.NewSize(w.Canvas().Size().Width, l.Size().Height)) // which it is wrapped to
		l.SetText(text)
		if all := w.Content(); all != nil {
			all.Refresh() // the room for it is shared out anew
		}
	}
	return l
}

// endings are the ways in which the system asks a program to end.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

// keepAtEnd keeps unsaved work when the system asks the program to end, and then
// ends it; where it is asked by the first two of endings the window library does
// that by itself. An ending that is ignored, as with nohup, stays so.
func (w *mainWindow) keepAtEnd() (stop func()) {
	asked := make(chan os.Signal, 1)
	for _, s := range endings {
		if !signal.Ignored(s) {
			signal.Notify(asked, s)
		}
	}
	go func() {
		s, ok := <-asked
		if !ok {
			return
		}
		w.desk.KeepSession() // at once, whatever the main goroutine is at
		if s == syscall.SIGHUP {
			w.desk.OnMain(w.desk.App.Quit)
		}
	}()
	return func() {
		signal.Stop(asked)
		close(asked)
	}
}

// leave keeps what was not saved where the window went without being asked to
// close: it is offered when the plan is opened again.
func (w *mainWindow) leave() {
	if w.desk.Gone {
		return
	}
	w.desk.Gone = true
	w.desk.KeepSession()
	w.tracing.Keep()
	w.desk.Mark.LetGo()
}
