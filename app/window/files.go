package window

import (
	"errors"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"strakewright/app"
)

// replace puts another session in place of the one at hand.
func (d *desk) replace(s *app.Session) {
	old := d.s
	d.take(s)
	for _, v := range d.boards {
		v.fit()
	}
	old.Close()
}

// settle takes over what is under way: a drag, or a number being typed.
func (d *desk) settle() {
	d.letGo()
	d.win.Canvas().Unfocus()
}

// save saves the plan, and then does what comes next if that went well.
func (d *desk) save(next func()) {
	d.settle()
	if d.s.Path() == "" {
		d.saveAs(next)
		return
	}
	err := d.s.Save()
	if errors.Is(err, app.ErrChangedOnDisk) {
		d.confirm("Changed by another program", sentence(err)+"\nWrite this plan over it?", "Write over it", func() {
			d.saved(d.s.SaveAs(d.s.Path(), true), next)
		})
		return
	}
	d.saved(err, next)
}

func (d *desk) saved(err error, next func()) {
	if err != nil {
		d.say(sentence(err))
		return
	}
	d.status("Saved as " + d.s.Path())
	d.tellSaves()
	next()
}

// saveAs asks for a file and saves the plan there.
func (d *desk) saveAs(next func()) {
	d.settle()
	d.askFileName("Save the plan as", d.fileName()+app.Extension, func(path string, replace bool) error {
		if err := d.s.SaveAs(path, replace); err != nil {
			return err
		}
		d.saved(nil, next)
		return nil
	})
}

// askFirst asks whether to save changes before they would be lost.
func (d *desk) askFirst(before string, then func()) {
	d.settle()
	if !d.s.Changed() {
		then()
		return
	}
	var ask *dialog.CustomDialog
	choose := func(name string, f func()) *widget.Button {
		return widget.NewButton(name, func() {
			ask.Hide()
			f()
		})
	}
	save := choose("Save", func() { d.save(then) })
	save.Importance = widget.HighImportance
	ask = dialog.NewCustomWithoutButtons("Save the changes?", widget.NewLabel("“"+d.s.Title()+"” has changes that are not saved.\nSave them before you "+before+"?"), d.win)
	ask.SetButtons([]fyne.CanvasObject{choose("Cancel", func() {}), choose("Don't save", then), save})
	ask.Show()
}

// askFileName asks for a file to write, of a name in the plan's folder if nothing
// else is chosen.
func (d *desk) askFileName(title, name string, write func(path string, replace bool) error) {
	d.askPath(title, filepath.Join(d.folder(), name), write)
}
