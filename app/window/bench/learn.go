package bench

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// learnPart takes what this build teaches into the builder's own file, and what
// others taught from it.
func (b *Panel) learnPart(shown func() bool) fyne.CanvasObject {
	d := b.desk
	told := b.Text(func() string {
		s := b.bench.State()
		if !shown() || s == nil || s.Spread.Check() != nil {
			return tongue.T("How your work strays is learned from what is measured; a file of your own takes it to the next build.")
		}
		return answer.SpreadText(s.Spread, d.Units)
	})
	into := d.Button(tongue.T("Into my file…"), tongue.T("Writes what this build has taught into a file of your own, beside what others taught"), func() {
		d.Settle()
		d.AskFileName(tongue.T("Learn into your own file"), "builds"+app.BuilderExtension, func(path string, _ bool) error {
			b.learnInto(path)
			return nil
		})
	})
	from := d.Button(tongue.T("From my file…"), tongue.T("Takes what other builds taught with this wood and strip into the plan; one Undo takes it back"), func() {
		d.Settle()
		d.AskFile(d.Folder(), kit.Extensions(app.BuilderExtension), b.learnFrom)
	})
	return container.NewVBox(kit.Heading(tongue.T("From build to build")), told, container.NewGridWithColumns(2, into, from))
}

// learnInto writes what the plan has taught into the builder's own file.
func (b *Panel) learnInto(path string) {
	d, k := b.desk, b.desk.Planking()
	var taught []hull.Spread
	var lost []string
	d.Work(tongue.T("Learning from this build…"), func(ctx context.Context) (err error) {
		taught, lost, err = app.LearnInto(ctx, path, func() {}, k)
		return err
	}, func() {
		for _, s := range lost {
			d.Say(s)
		}
		d.Status(tongue.T("Learned into %s: %s", filepath.Base(path), answer.SpreadText(taught[0], d.Units)))
	})
}

// learnFrom takes from the builder's own file what serves the plan.
func (b *Panel) learnFrom(path string) {
	d := b.desk
	own, err := hull.OpenBuilder(path)
	if err == nil {
		var taken []hull.Spread
		if taken, err = d.Session.TakeSpreads(own, filepath.Base(path)); len(taken) > 0 {
			d.Status(tongue.T("Taken from %s: %s Undo takes it back.", filepath.Base(path), answer.SpreadText(taken[0], d.Units)))
		}
	}
	if err != nil {
		d.Say(kit.Sentence(err))
	}
	d.TellSaves()
}
