package paper

import (
	"context"
	"errors"
	"io/fs"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// writePaper writes a set of paper into a folder, with a bar that shows how far
// it is and a button to stop it. again is called where files would have to be
// replaced and the user wants that, then after all is written.
func writePaper(d *desk.Desk, set *export.Set, dir string, replace bool, again, then func()) {
	ctx, stop := context.WithCancel(context.Background())
	bar, shown := writing(d, stop)
	go func() {
		last := -1
		written, err := set.Write(ctx, dir, replace, func(p export.Progress) {
			if percent := 100 * p.Done / max(p.All, 1); percent > last {
				last = percent
				d.OnMain(func() { bar.SetValue(float64(percent) / 100) })
			}
		})
		stopped := ctx.Err() != nil
		stop()
		d.OnMain(func() {
			d.Working = false
			shown.Hide()
			if d.Gone {
				return
			}
			switch {
			case stopped:
				d.Status(tongue.T("Stopped: nothing was written."))
			case errors.Is(err, fs.ErrExist):
				d.AskReplace(tongue.T("Replace them?"), tongue.T("There are files of an earlier export in that folder."), again)
			case err != nil:
				d.Say(kit.Sentence(err))
			default:
				d.Status(tongue.T("%d files written to %s", len(written.Files), dir))
				then()
				d.Tell(answer.Written{Removed: written.Removed, Left: written.Left}.Changes())
			}
		})
	}()
}

// writing shows how far the writing is.
func writing(d *desk.Desk, stop func()) (*widget.ProgressBar, dialog.Dialog) {
	bar := widget.NewProgressBar()
	shown := d.NewDialog(tongue.T("Writing the paper…"), container.NewVBox(bar, kit.NewButton(tongue.T("Stop"), stop)))
	d.Working = true
	shown.Resize(fyne.NewSize(360, 120))
	shown.Show()
	return bar, shown
}
