package desk

import (
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// OfferRecovery offers all that was left of the plan by runs of the program that
// ended before it was saved, the latest first. What is neither restored nor
// discarded stays, and is offered again.
func (d *Desk) OfferRecovery() {
	left := app.Recoverable(d.Session.Path())
	if len(left) == 0 {
		return
	}
	story := widget.NewLabel("")
	var ask *dialog.CustomDialog
	end := func() {
		d.Offered = nil
		ask.Hide()
	}
	// The question goes away, or on to the next, once the answer has been followed.
	answer := func(name string, follow func(app.Recovery) error, last bool) *kit.Button {
		return kit.NewButton(name, func() {
			if err := follow(left[0]); err != nil {
				end()
				d.Say(kit.Sentence(err))
				return
			}
			left = left[1:]
			if last || len(left) == 0 {
				end()
				d.stillKept(len(left))
				return
			}
			kit.SetText(story, recoveryStory(left))
		})
	}
	restore := answer(tongue.T("Restore unsaved work"), d.restore, true)
	restore.Importance = widget.HighImportance
	later := kit.NewButton(tongue.T("Decide later"), func() {
		end()
		d.stillKept(len(left))
	})
	kit.SetText(story, recoveryStory(left))
	ask = d.NewDialog(tongue.T("Unsaved work was found"), story)
	ask.SetButtons([]fyne.CanvasObject{later, answer(tongue.T("Discard"), app.Discard, false), restore})
	d.Offered = ask
	ask.Show()
}

// recoveryStory tells of the first of what was left, and asks.
func recoveryStory(left []app.Recovery) string {
	story := left[0].Story()
	if n := len(left); n > 1 {
		story += "\n" + tongue.T("This is the latest of %d; you may discard it to be shown the next.", n)
	}
	return story + "\n\n" + tongue.T("Restore this work? Restoring can be undone, discarding cannot.")
}

func (d *Desk) restore(r app.Recovery) error {
	if err := d.Session.Recover(r); err != nil {
		return err
	}
	d.Status(tongue.T("The unsaved work is restored. It is not in the plan's file until you save."))
	return nil
}

// stillKept tells of what was left and is not answered yet.
func (d *Desk) stillKept(n int) {
	switch n {
	case 0:
	case 1:
		d.Status(tongue.T("Unsaved work is still kept, and is offered when the plan is opened again."))
	default:
		d.Status(tongue.T("%d pieces of unsaved work are still kept, and are offered when the plan is opened again.", n))
	}
}

// TellSaves says what the builder should know of the last saves.
func (d *Desk) TellSaves() {
	d.Tell(d.Session.Told())
}

// watchAutosave has the line shown as soon as a session's autosave fails, and
// taken away when it goes well again.
func (d *Desk) watchAutosave(s *app.Session) {
	d.kept.Store(s)
	d.ShowUnkept(s.AutosaveError())
	s.OnAutosave(func(err error) {
		d.Hand(func() { // it is told on the goroutine that wrote
			if d.Session == s {
				d.ShowUnkept(err)
			}
		})
	})
}

// KeepSession keeps unsaved work. It may be called from any goroutine.
func (d *Desk) KeepSession() {
	if s := d.kept.Load(); s != nil {
		if err := s.KeepNow(); err != nil {
			fmt.Fprintln(os.Stderr, "strakewright: "+tongue.T("unsaved changes could not be kept: %s", kit.Sentence(err)))
		}
	}
}
