package window

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/fairing"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source"
)

// open asks for a plan or hull source and opens it, after asking about changes.
func open(d *desk.Desk) {
	d.AskFirst(tongue.T("open another plan"), func() { d.AskFile(d.Folder(), openable, func(path string) { load(d, path) }) })
}

// openable are the endings of what can be opened: plans, tables, drawings, and
// pictures, which go to be traced.
var openable = kit.Extensions(append([]string{app.Extension, ".csv", ".txt", ".tsv", ".xyz", ".xlsx", ".xlsm", ".ods", ".svg", ".svgz", ".dxf",
	".stl", ".obj", ".3mf", trace.KeptSuffix}, trace.Endings...)...)

// load opens a file in place of the plan at hand; a picture goes to be traced, and of a
// PDF it is asked whether its lines are to be taken off or it is to be traced.
func load(d *desk.Desk, path string) {
	if picture, ok := trace.PictureOf(path); ok {
		if picture == path && trace.IsPDF(path) {
			loadPDF(d, path)
			return
		}
		d.Remember(path)
		d.Picture(picture)
		return
	}
	if source.IsMesh(path) {
		d.Remember(path)
		fairing.OpenSections(d, path, nil)
		return
	}
	var s *app.Session
	var found source.Checked
	d.Work(tongue.T("Opening %s…", filepath.Base(path)), func(ctx context.Context) (err error) {
		if found = source.CheckContext(ctx, path, drawing.Options{}); fairing.IsDrawing(&found) || len(found.Sheets) > 1 {
			return ctx.Err()
		}
		s, err = app.OpenContext(ctx, path)
		return err
	}, func() {
		d.Remember(path)
		switch {
		case s != nil:
			d.Replace(s)
			d.OfferRecovery()
			tellRead(d, path, &found)
		case len(found.Sheets) > 1:
			askSheet(d, path, found.Sheets)
		default:
			fairing.OpenOutlines(d, path, &found)
		}
	})
}

// openDemo opens the demo plan.
func openDemo(d *desk.Desk) {
	d.AskFirst(tongue.T("open the demo plan"), func() {
		s, err := app.NewDemo()
		if err != nil {
			d.Say(kit.Sentence(err))
			return
		}
		d.Replace(s)
	})
}

// exportTable asks for a file and writes the strake table there.
func exportTable(d *desk.Desk) {
	d.Settle()
	d.AskFileName(tongue.T("Export the strake table"), tongue.T("%s strakes.csv", d.FileName()), func(path string, replace bool) error {
		if err := d.Session.ExportTable(path, replace); err != nil {
			return err
		}
		d.Status(tongue.T("Table written to %s", path))
		d.TellSaves()
		return nil
	})
}

// refused says why a file that the program was started on was not opened, and
// offers what else to do.
func refused(d *desk.Desk, path string, why error) {
	afterOffer(d, func() {
		text := widget.NewLabel(tongue.T("%s\n\nNothing was changed in the file. The window shows the demo plan in its place.", kit.Sentence(why)))
		text.Wrapping = fyne.TextWrapWord
		shown := d.NewDialog(tongue.T("%s cannot be opened", filepath.Base(path)), text)
		other := kit.NewButton(tongue.T("Open another file…"), func() {
			shown.Hide()
			open(d)
		})
		other.Importance = widget.HighImportance
		shown.SetButtons([]fyne.CanvasObject{kit.NewButton(tongue.T("Look at the demo plan"), shown.Hide), other})
		shown.Resize(fyne.NewSize(480, 200))
		shown.Show()
	})
}

// lookAt opens the dialog on a drawing or mesh when nothing else is asked any more.
func lookAt(d *desk.Desk, path string, c *source.Checked) {
	afterOffer(d, func() {
		if c.Kind == source.Mesh {
			d.AskFirst(tongue.T("open the mesh"), func() { fairing.OpenSections(d, path, c) })
			return
		}
		d.AskFirst(tongue.T("open the drawing"), func() { fairing.OpenOutlines(d, path, c) })
	})
}

// afterOffer does something once what a crash left has been answered.
func afterOffer(d *desk.Desk, do func()) {
	if d.Offered != nil {
		d.Offered.SetOnClosed(do)
		return
	}
	do()
}
