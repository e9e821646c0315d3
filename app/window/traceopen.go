package window

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"strakewright/app/trace"
)

// openPicture asks for a picture and puts it down.
func (tr *tracer) openPicture() {
	o := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			tr.desk.say(sentence(err))
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		_ = r.Close() // opened only to name it
		tr.openAt(path)
	}, tr.win)
	o.SetFilter(storage.NewExtensionFileFilter([]string{".png", ".jpg", ".jpeg", ".pdf", ".PNG", ".JPG", ".JPEG", ".PDF"}))
	tr.desk.startIn(o)
	o.Resize(dialogSize(tr.win))
	o.Show()
}

// openAt puts a picture down; of a PDF it asks for the page first.
func (tr *tracer) openAt(path string) {
	if !trace.IsPDF(path) {
		tr.load(path, 1)
		return
	}
	page := 1.0
	n := newNumber(tr.desk, 1, whole, func() float64 { return page }, func(v float64) bool {
		page = max(1, min(v, 9999))
		return true
	})
	n.sync()
	ask := dialog.NewCustomConfirm("Which page of "+filepath.Base(path)+"?", "Open", "Cancel", row("Page", n.box), func(yes bool) {
		n.commit()
		if yes {
			tr.load(path, int(page))
		}
	}, tr.win)
	ask.Resize(fyne.NewSize(320, 140))
	ask.Show()
}

// load reads a picture, which can be stopped.
func (tr *tracer) load(path string, page int) {
	var p *trace.Picture
	tr.desk.work("Opening "+filepath.Base(path)+"…", func(ctx context.Context) (err error) {
		p, err = trace.Open(ctx, path, page)
		return err
	}, func() {
		tr.t.AddPicture(p)
		tr.take(traceClicks)
		tr.board.fit()
	})
}
