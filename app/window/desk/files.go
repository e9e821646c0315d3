package desk

import (
	"errors"
	"path/filepath"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Replace puts another session in place of the one at hand.
func (d *Desk) Replace(s *app.Session) {
	old := d.Session
	d.take(s)
	for _, v := range d.Boards {
		v.Fit()
	}
	d.Status(tongue.T("Opened “%s”.", s.Title())) // what was told of the other plan is over
	old.Close()
}

// Settle takes over what is under way: a drag, or a number being typed.
func (d *Desk) Settle() {
	d.LetGo()
	d.Win.Canvas().Unfocus()
}

// Save saves the plan, and then does what comes next if that went well.
func (d *Desk) Save(next func()) {
	d.Settle()
	if d.Session.Path() == "" {
		d.SaveAs(next)
		return
	}
	err := d.Session.Save()
	if errors.Is(err, app.ErrChangedOnDisk) {
		d.Confirm(tongue.T("Changed by another program"), kit.Sentence(err)+"\n"+tongue.T("Write this plan over it?"), tongue.T("Write over it"), func() {
			d.saved(d.Session.SaveAs(d.Session.Path(), true), next)
		})
		return
	}
	d.saved(err, next)
}

func (d *Desk) saved(err error, next func()) {
	if err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	d.Status(tongue.T("Saved as %s", d.Session.Path()))
	d.TellSaves()
	next()
}

// SaveAs asks for a file and saves the plan there.
func (d *Desk) SaveAs(next func()) {
	d.Settle()
	d.AskFileName(tongue.T("Save the plan as"), d.FileName()+app.Extension, func(path string, replace bool) error {
		if err := d.Session.SaveAs(path, replace); err != nil {
			return err
		}
		d.saved(nil, next)
		return nil
	})
}

// AskFirst asks whether to save changes before they would be lost.
func (d *Desk) AskFirst(before string, then func()) {
	d.Settle()
	if !d.Session.Changed() {
		then()
		return
	}
	d.AskWhich(tongue.T("Save the changes?"), tongue.T("“%s” has changes that are not saved.\nSave them before you %s?", d.Session.Title(), before),
		kit.Choice{Name: tongue.T("Don't save"), Do: then}, kit.Choice{Name: tongue.T("Save"), Do: func() { d.Save(then) }})
}

// AskFileName asks for a file to write, of a name in the plan's folder if nothing
// else is chosen.
func (d *Desk) AskFileName(title, name string, write func(path string, replace bool) error) {
	d.AskPath(title, filepath.Join(d.Folder(), name), write)
}
