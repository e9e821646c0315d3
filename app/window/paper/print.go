package paper

import (
	"context"
	"errors"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// outside is what other programs do for the dialog.
type outside struct {
	print func(ctx context.Context, args ...string) (said string, err error) // nil where nothing prints by command
	open  func(path string) error                                            // by the program that the desktop has for it
}

// newOutside gives the programs of this computer: lp, of the printing system CUPS, and
// what the desktop opens files with.
func newOutside(a fyne.App) outside {
	o := outside{open: func(path string) error { return a.OpenURL(&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}) }}
	if lp, err := exec.LookPath("lp"); err == nil {
		o.print = func(ctx context.Context, args ...string) (string, error) {
			said, err := exec.CommandContext(ctx, lp, args...).CombinedOutput()
			return strings.TrimSpace(string(said)), err
		}
	}
	return o
}

// printing are the words of lp that print a file without scaling it to the page
// (print-scaling, PWG 5100.13) on a paper of that name; false of a paper that it has no
// name for.
func printing(s export.Settings, title, file string) (args []string, ok bool) {
	media, ok := paperNames[s.Paper]
	if s.Paper == export.Roll || !ok {
		return nil, false
	}
	return []string{"-t", visible.Text(title), "-o", "media=" + media, "-o", "print-scaling=none", "--", file}, true
}

// askPrint asks before the booklet is printed, or says that it opens instead.
func (p *paperDialog) askPrint() {
	if p.set == nil {
		return
	}
	set, settings := p.set, p.settings
	_, byCommand := printing(settings, "", "")
	if byCommand = byCommand && p.out.print != nil; !byCommand {
		p.makeBooklet(set, func(ctx context.Context, file string) error { return p.out.open(file) },
			func(string) {
				p.desk.Status(tongue.T("The booklet is open in another program: print it there at 100 %, without fitting to the page."))
			})
		return
	}
	p.desk.Ask(tongue.T("Print the booklet?"), tongue.T("Print"), kit.Wrapped(tongue.Count(set.Pages(), "%d page on %s, without scaling, on the printer you usually use. Then measure the bars on it before you cut.", "%d pages on %s, without scaling, on the printer you usually use. Then measure the bars on a page before you cut.", set.Pages(), tongue.T(paperNames[settings.Paper]))), func() {
		said := ""
		p.makeBooklet(set, func(ctx context.Context, file string) (err error) {
			defer func() { _ = os.RemoveAll(filepath.Dir(file)) }() // the printing system keeps one of its own
			args, _ := printing(settings, p.desk.Session.Title(), file)
			if said, err = p.out.print(ctx, args...); err != nil {
				return tongue.Errorf("it was not printed: %s: look whether a printer is set up and switched on, or write the files and print the booklet from another program", strings.TrimSuffix(visible.Text(firstOf(said, err.Error())), "."))
			}
			return nil
		}, func(string) {
			p.desk.Status(tongue.T("Sent to the printer: %s", visible.Text(firstOf(said, tongue.T("the booklet")))))
		})
	}).Show()
}

func firstOf(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// makeBooklet writes the booklet to a file that only this run knows of, and has something
// done with it, off the main goroutine; then on it.
func (p *paperDialog) makeBooklet(set *export.Set, use func(ctx context.Context, file string) error, then func(file string)) {
	file := ""
	p.desk.Work(tongue.T("Making the booklet…"), func(ctx context.Context) error {
		dir, err := os.MkdirTemp("", "strakewright-")
		if err != nil {
			return tongue.Errorf("the booklet could not be kept for the printer: %w", err)
		}
		file = filepath.Join(dir, "booklet.pdf")
		if err := writeTo(file, func(w io.Writer) error { return set.Booklet(ctx, w, func(int, int) {}) }); err != nil {
			_ = os.RemoveAll(dir)
			return err
		}
		return use(ctx, file)
	}, func() { then(file) })
}

func writeTo(path string, write func(io.Writer) error) error {
	f, err := os.Create(path)
	if err != nil {
		return tongue.Errorf("the booklet could not be kept for the printer: %w", err)
	}
	return errors.Join(write(f), f.Close())
}

// offerFolder says where the files are, and offers to look at them.
func (p *paperDialog) offerFolder(dir string) {
	d := p.desk
	shown := d.Shown(tongue.T("The paper is written"), kit.Wrapped(tongue.T("The files are in %s. The booklet holds all that is to be printed.", visible.Text(dir))))
	open := kit.NewButton(tongue.T("Open the folder"), func() {
		shown.Hide()
		p.openOutside(dir)
	})
	open.Importance = widget.HighImportance
	shown.SetButtons([]fyne.CanvasObject{
		kit.NewButton(tongue.T("Close"), shown.Hide),
		kit.NewButton(tongue.T("Open the booklet"), func() {
			shown.Hide()
			p.openOutside(filepath.Join(dir, "booklet.pdf"))
		}), open})
	shown.Resize(fyne.NewSize(460, 160))
	shown.Show()
}

func (p *paperDialog) openOutside(path string) {
	if err := p.out.open(path); err != nil {
		p.desk.Say(kit.Sentence(tongue.Errorf("%s could not be opened from here: %w", path, err)))
	}
}
