package kit

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// fileAsked asks for a file by its path, of which as much is typed as is known: what goes
// on from there is listed. What is chosen in the list stands in the field, and is opened
// when it is chosen again.
type fileAsked struct {
	in    *Notices
	of    storage.FileFilter
	path  *Field
	list  *List
	told  *widget.Label
	from  string   // the folder that is listed
	found []string // paths; those of folders end in a separator
	busy  bool     // the field follows the list
	ask   *Question
	use   func(path string)
}

// AskFile asks for a file that is there, of those a filter lets through, and
// hands its path on; it begins in a folder.
func (n *Notices) AskFile(folder string, of storage.FileFilter, use func(path string)) {
	f := &fileAsked{in: n, of: of, path: NewField(), told: Wrapped(""), use: use}
	f.list = NewList(func() int { return len(f.found) }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(row int, o fyne.CanvasObject) {
		if row < len(f.found) {
			SetText(o.(*widget.Label), f.rowText(row))
		}
	})
	f.list.OnSelected = f.chosen
	f.path.OnChanged = func(string) { f.look() }
	f.path.OnSubmitted = func(string) { f.take() }
	head := container.NewBorder(nil, nil, nil, NewButton(tongue.T("Browse…"), func() {
		f.ask.Hide()
		n.browse(folder, of, use)
	}), f.path)
	f.ask = n.Ask(tongue.T("Open a file"), tongue.T("Open"), container.NewBorder(head, f.told, nil, nil, f.list), nil)
	f.ask.yes.OnTapped = f.take
	f.ask.Resize(DialogSize(n.Win))
	f.ask.Show()
	f.goTo(folder)
	n.Win.Canvas().Focus(f.path)
}

// separator stands between the folders of a path.
const separator = string(filepath.Separator)

// goTo lists a folder.
func (f *fileAsked) goTo(folder string) {
	if !strings.HasSuffix(folder, separator) {
		folder += separator
	}
	f.path.SetText(folder)
	f.path.CursorColumn = len([]rune(folder))
	f.path.Refresh()
	f.look()
}

// look lists what goes on from what is typed: the folder above, folders, and files that
// the filter lets through.
func (f *fileAsked) look() {
	if f.busy {
		return
	}
	folder, begin := filepath.Split(f.path.Text)
	f.from, f.found = folder, nil
	if up := filepath.Dir(filepath.Clean(folder)); begin == "" && filepath.IsAbs(folder) && up != filepath.Clean(folder) {
		f.found = append(f.found, strings.TrimSuffix(up, separator)+separator)
	}
	all, err := os.ReadDir(folder)
	var files []string
	for _, e := range all {
		name, path := e.Name(), filepath.Join(folder, e.Name())
		if hidden := strings.HasPrefix(name, ".") && !strings.HasPrefix(begin, "."); hidden || !strings.HasPrefix(strings.ToLower(name), strings.ToLower(begin)) {
			continue
		}
		if at, err := os.Stat(path); err == nil && at.IsDir() {
			f.found = append(f.found, path+separator)
		} else if f.of.Matches(storage.NewFileURI(path)) {
			files = append(files, path)
		}
	}
	f.found = append(f.found, files...)
	switch {
	case err != nil:
		f.told.SetText(tongue.T("There is no folder %s that can be read.", visible.Text(folder)))
	case len(f.found) == 0:
		f.told.SetText(tongue.T("It does not begin as any file that the program opens."))
	default:
		f.told.SetText("")
	}
	f.list.UnselectAll()
	f.list.goTo(0)
	f.list.ScrollToTop()
	f.list.Refresh()
}

// rowText is what the list says of a path.
func (f *fileAsked) rowText(row int) string {
	path := f.found[row]
	switch {
	case !strings.HasSuffix(path, separator):
		return visible.Text(filepath.Base(path))
	case strings.HasPrefix(f.from, path) && f.from != path:
		return tongue.T("▴ the folder above")
	}
	return "▸ " + visible.Text(filepath.Base(path)) + separator
}

// chosen puts what is chosen in the list into the field, and takes what stands there.
func (f *fileAsked) chosen(row int) {
	if row >= len(f.found) {
		return
	}
	f.list.UnselectAll()
	path := f.found[row]
	if f.path.Text == path {
		f.take()
		return
	}
	f.busy = true
	f.path.SetText(path)
	f.busy = false
}

// take opens the file in the field, or lists the folder there.
func (f *fileAsked) take() {
	path := strings.TrimSpace(f.path.Text)
	at, err := os.Stat(path)
	switch {
	case err == nil && at.IsDir():
		f.goTo(path)
	case err == nil:
		f.ask.Hide()
		f.use(path)
	case len(f.found) == 1:
		f.path.SetText(f.found[0])
		f.take()
	default:
		f.told.SetText(tongue.T("There is no file %s in that folder.", visible.Text(filepath.Base(path))))
	}
}

// browse asks for a file by the toolkit's own dialog.
func (n *Notices) browse(folder string, of storage.FileFilter, use func(path string)) {
	o := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			n.Say(Sentence(err))
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		_ = r.Close() // opened only to name it
		use(path)
	}, n.Win)
	o.SetFilter(of)
	StartIn(o, folder)
	o.Resize(DialogSize(n.Win))
	o.Show()
}
