package window

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"strakewright/app"
	"strakewright/app/trace"
	"strakewright/hull/drawing"
	"strakewright/hull/keep"
	"strakewright/hull/source"
)

// open asks for a plan or hull source and opens it, after asking about changes.
func (d *desk) open() {
	d.askFirst("open another plan", func() { d.askFile(openable, d.load) })
}

// askFile asks for a file that is there, of those a filter lets through, and
// hands its path on.
func (d *desk) askFile(of storage.FileFilter, use func(path string)) {
	o := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			d.say(sentence(err))
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		_ = r.Close() // opened only to name it
		use(path)
	}, d.win)
	o.SetFilter(of)
	d.startIn(o)
	o.Resize(dialogSize(d.win))
	o.Show()
}

// openable are the endings of what can be opened: plans, tables, drawings, and
// pictures, which go to be traced.
var openable = extensions(append([]string{app.Extension, ".csv", ".txt", ".tsv", ".svg", ".dxf", trace.KeptSuffix}, trace.Endings...)...)

// extensions is a filter of endings, in small letters or great.
func extensions(of ...string) storage.FileFilter {
	both := slices.Clone(of)
	for _, e := range of {
		both = append(both, strings.ToUpper(e))
	}
	return storage.NewExtensionFileFilter(both)
}

// startIn has a dialog begin in the plan's own folder.
func (d *desk) startIn(o interface{ SetLocation(fyne.ListableURI) }) {
	if dir, err := storage.ListerForURI(storage.NewFileURI(d.folder())); err == nil {
		o.SetLocation(dir)
	}
}

// folder is the plan's folder, or else the one the program was started in.
func (d *desk) folder() string {
	if p := d.s.Path(); p != "" {
		if abs, err := filepath.Abs(filepath.Dir(p)); err == nil {
			return abs
		}
	}
	if dir, err := os.Getwd(); err == nil {
		return dir
	}
	return string(filepath.Separator)
}

func dialogSize(w fyne.Window) fyne.Size {
	s := w.Canvas().Size()
	return fyne.NewSize(fyne.Min(800, s.Width*0.85), fyne.Min(560, s.Height*0.85))
}

// load opens a file in place of the plan at hand; a picture goes to be traced.
func (d *desk) load(path string) {
	if picture, ok := trace.PictureOf(path); ok {
		d.picture(picture)
		return
	}
	var s *app.Session
	var found source.Checked
	d.work("Opening "+filepath.Base(path)+"…", func(ctx context.Context) (err error) {
		if found = source.Check(path, drawing.Options{}); isDrawing(&found) {
			return nil
		}
		s, err = app.OpenContext(ctx, path)
		return err
	}, func() {
		if s == nil {
			d.outlines(path, &found)
			return
		}
		d.replace(s)
		d.offerRecovery()
	})
}

// openDemo opens the demo plan.
func (d *desk) openDemo() {
	d.askFirst("open the demo plan", func() {
		s, err := app.NewDemo()
		if err != nil {
			d.say(sentence(err))
			return
		}
		d.replace(s)
	})
}

// replace puts another session in place of the one at hand.
func (d *desk) replace(s *app.Session) {
	old := d.s
	d.take(s)
	for _, v := range d.views {
		if b, ok := v.(*board); ok {
			b.view.fit()
		}
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
	d.askPath("Save the plan as", d.fileName()+app.Extension, func(path string, replace bool) error {
		if err := d.s.SaveAs(path, replace); err != nil {
			return err
		}
		d.saved(nil, next)
		return nil
	})
}

// export asks for a file and writes the strake table there.
func (d *desk) export() {
	d.settle()
	d.askPath("Export the strake table", d.fileName()+" strakes.csv", func(path string, replace bool) error {
		if err := d.s.ExportTable(path, replace); err != nil {
			return err
		}
		d.status("Table written to " + path)
		d.tellSaves()
		return nil
	})
}

// fileName is a name for the plan's files, without an ending.
func (d *desk) fileName() string {
	if p := d.s.Path(); p != "" {
		return keep.Title(p)
	}
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, d.s.Title())
	return name
}

// askPath asks for a file to write; write is asked again with replace if the
// file exists and the user wants it replaced. The file itself is touched by
// write alone, so that a failed one leaves the old file whole.
func (d *desk) askPath(title, name string, write func(path string, replace bool) error) {
	entry := widget.NewEntry()
	entry.SetText(filepath.Join(d.folder(), name))
	browse := widget.NewButton("Folder…", func() {
		o := dialog.NewFolderOpen(func(dir fyne.ListableURI, err error) {
			if err == nil && dir != nil {
				entry.SetText(filepath.Join(dir.Path(), filepath.Base(entry.Text)))
			}
		}, d.win)
		d.startIn(o)
		o.Resize(dialogSize(d.win))
		o.Show()
	})
	ask := dialog.NewCustomConfirm(title, "Save", "Cancel", container.NewVBox(container.NewBorder(nil, nil, nil, browse, entry)), func(yes bool) {
		if yes {
			d.writePath(strings.TrimSpace(entry.Text), write)
		}
	}, d.win)
	ask.Resize(fyne.NewSize(dialogSize(d.win).Width, 140))
	ask.Show()
}

func (d *desk) writePath(path string, write func(path string, replace bool) error) {
	err := write(path, false)
	if errors.Is(err, fs.ErrExist) {
		d.confirm("Replace it?", filepath.Base(path)+" exists already.", "Replace", func() {
			if err := write(path, true); err != nil {
				d.say(sentence(err))
			}
		})
		return
	}
	if err != nil {
		d.say(sentence(err))
	}
}

// confirm asks before something that cannot be taken back.
func (d *desk) confirm(title, text, yes string, f func()) {
	ask := dialog.NewConfirm(title, text, func(ok bool) {
		if ok {
			f()
		}
	}, d.win)
	ask.SetConfirmText(yes)
	ask.SetDismissText("Cancel")
	ask.Show()
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
