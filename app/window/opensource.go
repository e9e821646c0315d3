package window

import (
	"context"
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/fairing"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/source"
)

// dropped opens the first file that was dropped on the window, after asking about
// changes; nothing where something else is asked.
func dropped(d *desk.Desk, files []fyne.URI) {
	if len(files) > 0 && d.Win.Canvas().Overlays().Top() == nil {
		d.AskFirst("open "+files[0].Name(), func() { load(d, files[0].Path()) })
	}
}

// tellRead tells what the builder should know of a hull source that was opened.
func tellRead(d *desk.Desk, path string, c *source.Checked) {
	if c.Kind != source.PlanFile && len(c.Notes) > 0 {
		d.ShowSentences("Read from "+filepath.Base(path), c.Notes)
	}
}

// askSheet asks which of several sheets with tables the hull is taken off, and opens it.
func askSheet(d *desk.Desk, path string, sheets []string) *kit.Select {
	choice := kit.NewSelect(sheets, nil)
	choice.SetSelectedIndex(0)
	ask := d.Ask("Which sheet of "+filepath.Base(path)+"?", "Open", container.NewVBox(kit.Row("Sheet", choice)), func() { loadSheet(d, path, choice.Selected) })
	ask.Resize(fyne.NewSize(380, 140))
	ask.Show()
	return choice
}

// loadSheet opens the table on a sheet in place of the plan at hand.
func loadSheet(d *desk.Desk, path, sheet string) {
	var s *app.Session
	var found source.Checked
	d.Work("Opening "+filepath.Base(path)+"…", func(ctx context.Context) (err error) {
		if found = source.CheckContext(ctx, path, drawing.Options{Sheet: sheet}); len(found.Faults) > 0 {
			return found.Faults[0]
		}
		s, err = app.FromHull(ctx, keep.Title(path), *found.Hull)
		return err
	}, func() {
		d.Replace(s)
		tellRead(d, path, &found)
	})
}

// loadPDF looks whether lines stand on the first page of a PDF. One of a single page
// without any, a scan, goes to be traced; of any other it is asked.
func loadPDF(d *desk.Desk, path string) {
	pages := 0
	var found source.Checked
	d.Work("Opening "+filepath.Base(path)+"…", func(ctx context.Context) error {
		pages = trace.Pages(ctx, path)
		found = source.CheckContext(ctx, path, drawing.Options{})
		return ctx.Err()
	}, func() {
		if pages == 1 && found.Drawing == nil {
			d.Picture(path)
			return
		}
		askPDF(d, path, pages, &found)
	})
}

// askPDF asks whether the lines on a page of a PDF are taken off, or it is traced.
func askPDF(d *desk.Desk, path string, pages int, first *source.Checked) {
	page, most := 1.0, 9999.0
	text := "Its lines can be taken off as they stand in the file."
	label := "Page"
	if pages > 0 {
		most, label = float64(pages), fmt.Sprintf("Page (of %d)", pages)
	}
	if first.Drawing == nil && len(first.Faults) > 0 {
		text = kit.Sentence(first.Faults[0])
	}
	said := kit.NewLabel(text)
	said.Wrapping = fyne.TextWrapWord
	box := container.NewVBox(said)
	n := kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return page }, func(v float64) bool {
		page = max(1, min(v, most))
		return true
	})
	n.Sync()
	if pages != 1 {
		box.Add(kit.Row(label, n.Box))
	}
	ask := d.NewDialog(filepath.Base(path), box)
	asPicture := kit.NewButton("Trace it as a picture", func() {
		ask.Hide()
		d.Picture(path)
	})
	lines := kit.NewButton("Take the lines off", func() {
		n.Commit()
		ask.Hide()
		loadPage(d, path, int(page))
	})
	lines.Importance = widget.HighImportance
	ask.SetButtons([]fyne.CanvasObject{kit.NewButton("Cancel", ask.Hide), asPicture, lines})
	ask.Resize(fyne.NewSize(520, 180))
	ask.Show()
}

// loadPage opens the dialog on the lines of a page of a PDF.
func loadPage(d *desk.Desk, path string, page int) {
	var found source.Checked
	d.Work(fmt.Sprintf("Reading page %d of %s…", page, filepath.Base(path)), func(ctx context.Context) error {
		found = source.CheckContext(ctx, path, drawing.Options{Page: page})
		return ctx.Err()
	}, func() { fairing.OpenOutlines(d, path, &found) })
}
