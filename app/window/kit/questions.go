package kit

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"
)

// Extensions is a filter of endings, in small letters or great.
func Extensions(of ...string) storage.FileFilter {
	both := slices.Clone(of)
	for _, e := range of {
		both = append(both, strings.ToUpper(e))
	}
	return storage.NewExtensionFileFilter(both)
}

// StartIn has a dialog begin in a folder.
func StartIn(o interface{ SetLocation(fyne.ListableURI) }, folder string) {
	if dir, err := storage.ListerForURI(storage.NewFileURI(folder)); err == nil {
		o.SetLocation(dir)
	}
}

// DialogSize is a size for a dialog about files in a window.
func DialogSize(w fyne.Window) fyne.Size {
	s := w.Canvas().Size()
	return fyne.NewSize(fyne.Min(800, s.Width*0.85), fyne.Min(560, s.Height*0.85))
}

// AskPath asks for a file to write; write is asked again with replace if the
// file exists and the user wants it replaced. The file itself is touched by
// write alone, so that a failed one leaves the old file whole.
func (n *Notices) AskPath(title, path string, write func(path string, replace bool) error) {
	entry := NewField()
	entry.SetText(path)
	browse := n.Button("Folder…", "Chooses the folder", func() {
		o := dialog.NewFolderOpen(func(dir fyne.ListableURI, err error) {
			if err == nil && dir != nil {
				entry.SetText(filepath.Join(dir.Path(), filepath.Base(entry.Text)))
			}
		}, n.Win)
		StartIn(o, filepath.Dir(path))
		o.Resize(DialogSize(n.Win))
		o.Show()
	})
	ask := n.Ask(title, "Save", container.NewVBox(container.NewBorder(nil, nil, nil, browse, Tipped(entry, "The name and the folder of the file"))), func() {
		n.WritePath(strings.TrimSpace(entry.Text), write)
	})
	entry.OnSubmitted = func(string) { ask.Confirm() }
	ask.Resize(fyne.NewSize(DialogSize(n.Win).Width, 140))
	ask.Show()
	n.Win.Canvas().Focus(entry)
}

// WritePath writes a file by a function; where that tells that the file exists, it
// asks whether to replace it.
func (n *Notices) WritePath(path string, write func(path string, replace bool) error) {
	err := write(path, false)
	if errors.Is(err, fs.ErrExist) {
		n.AskReplace("Replace it?", filepath.Base(path)+" exists already.", func() {
			if err := write(path, true); err != nil {
				n.Say(Sentence(err))
			}
		})
		return
	}
	if err != nil {
		n.Say(Sentence(err))
	}
}

// AskReplace asks whether what is there is to be replaced.
func (n *Notices) AskReplace(title, there string, replace func()) {
	n.Confirm(title, there, "Replace", replace)
}

// Confirm asks before something that cannot be taken back: a Return does not do it.
func (n *Notices) Confirm(title, text, yes string, f func()) {
	ask := n.Ask(title, yes, NewLabel(text), f)
	ask.yes.Importance = widget.DangerImportance
	ask.Show()
}

// Choice is an answer to a question, and what follows from it.
type Choice struct {
	Name string
	Do   func()
}

// AskWhich asks which of two things to do, if either; the second is the usual one.
func (n *Notices) AskWhich(title, text string, other, usual Choice) {
	var ask *dialog.CustomDialog
	button := func(c Choice) *Button {
		return NewButton(c.Name, func() {
			ask.Hide()
			c.Do()
		})
	}
	main := button(usual)
	main.Importance = widget.HighImportance
	ask = n.NewDialog(title, NewLabel(text))
	ask.SetButtons([]fyne.CanvasObject{button(Choice{"Cancel", func() {}}), button(other), main})
	ask.Show()
}
