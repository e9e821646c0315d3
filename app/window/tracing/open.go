package tracing

import (
	"context"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// openPicture asks for a picture and puts it down.
func (tr *tracer) openPicture() {
	tr.AskFile(tr.main.Folder(), kit.Extensions(trace.Endings...), tr.OpenAt)
}

// OpenAt puts a picture down; where a tracing of it is kept, and none is at
// hand, it asks first whether to go on with that.
func (tr *tracer) OpenAt(path string) {
	kept, ok := trace.FindKept(path)
	if !ok || len(tr.t.Grounds()) > 0 {
		tr.openNew(path)
		return
	}
	text := tongue.T("You have traced on this picture before.")
	if info, err := os.Stat(kept); err == nil {
		text = tongue.T("You have traced on this picture before, last on %s.", tongue.Moment(info.ModTime()))
	}
	tr.AskWhich(tongue.T("Resume the tracing?"), text+"\n"+tongue.T("Starting over puts that tracing aside; it is not deleted."),
		kit.Choice{Name: tongue.T("Start over"), Do: func() { tr.anew(kept, path) }}, kit.Choice{Name: tongue.T("Resume it"), Do: func() { tr.resume(kept, path) }})
}

// anew puts a tracing aside and opens its picture.
func (tr *tracer) anew(kept, path string) {
	if _, err := trace.PutAside(kept); err != nil {
		tr.Notices.Say(kit.Sentence(err))
		return
	}
	tr.openNew(path)
}

// resume goes on with a tracing that was kept.
func (tr *tracer) resume(kept, path string) {
	k, err := trace.ReadKept(kept)
	if err != nil {
		tr.Confirm(tongue.T("Put it aside?"), kit.Sentence(err), tongue.T("Put it aside"), func() { tr.anew(kept, path) })
		return
	}
	var t *trace.Trace
	tr.Work(tongue.T("Opening the tracing…"), func(ctx context.Context) error {
		var ps []*trace.Picture
		for _, s := range k.Sources(kept) {
			p, err := trace.Open(ctx, s.Path, s.Page)
			if err != nil {
				return err
			}
			ps = append(ps, p)
		}
		t, err = trace.Resume(k, ps)
		return err
	}, func() {
		tr.t, tr.keeper = t, trace.NewKeeper(kept)
		tr.noted, tr.keptAt = t.Changes(), t.Changes()
		if g, ok := tr.ground(); ok {
			tr.setKnown(g.Calibration)
		}
		tr.goOn()
		tr.board.Fit()
		tr.did(nil)
		tr.say(tongue.Count(len(t.Frames()), "The tracing is resumed, with %d frame.", "The tracing is resumed, with %d frames.", len(t.Frames())) + " " + tr.next())
	})
}

// openNew puts a picture down; of a PDF of several pages it asks for the page
// first.
func (tr *tracer) openNew(path string) {
	if !trace.IsPDF(path) {
		tr.load(path, 1)
		return
	}
	pages := 0
	tr.Work(tongue.T("Opening %s…", filepath.Base(path)), func(ctx context.Context) error {
		pages = trace.Pages(ctx, path)
		return nil
	}, func() {
		if pages == 1 {
			tr.load(path, 1)
			return
		}
		tr.askPage(path, pages)
	})
}

// askPage asks for the page of a PDF of so many, 0 where that is not known.
func (tr *tracer) askPage(path string, pages int) {
	page, most, label := 1.0, 9999.0, tongue.T("Page")
	if pages > 0 {
		most, label = float64(pages), tongue.T("Page (of %d)", pages)
	}
	n := kit.NewNumber(tr.Notices, 1, kit.Whole, func() float64 { return page }, func(v float64) bool {
		page = max(1, min(v, most))
		return true
	})
	n.Sync()
	ask := tr.Ask(tongue.T("Which page of %s?", filepath.Base(path)), tongue.T("Open"), container.NewVBox(kit.Row(label, n.Box)), func() {
		n.Commit()
		tr.load(path, int(page))
	})
	n.Entry.OnSubmitted = func(string) { ask.Confirm() }
	ask.Resize(fyne.NewSize(320, 140))
	ask.Show()
	tr.Win.Canvas().Focus(n.Entry)
}

// load reads a picture, which can be stopped.
func (tr *tracer) load(path string, page int) {
	var p *trace.Picture
	tr.Work(tongue.T("Opening %s…", filepath.Base(path)), func(ctx context.Context) (err error) {
		p, err = trace.Open(ctx, path, page)
		return err
	}, func() {
		tr.t.AddPicture(p)
		tr.take(traceClicks)
		tr.panel.tabs.SelectIndex(pictureTab)
		tr.board.Fit()
	})
}
