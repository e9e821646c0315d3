package desk

import (
	"os"
	"path/filepath"
	"slices"

	"github.com/strakewright/strakewright/app/draw/views"
)

// What is chosen of the window itself, and not of a plan, is kept from one run of the
// program to the next.
const (
	darkKey   = "window.dark"
	inchesKey = "window.inches"
	folderKey = "files.folder"
	recentKey = "files.recent"
)

// recentMost is how many files are remembered.
const recentMost = 8

// Recall takes up the units that were shown last, and tells whether the window was dark.
func (d *Desk) Recall() (dark bool) {
	p := d.App.Preferences()
	if p.Bool(inchesKey) {
		d.Units = views.Inches
	}
	d.Dark = p.Bool(darkKey)
	return d.Dark
}

// Remember puts a file first among those opened or saved last.
func (d *Desk) Remember(path string) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return
	}
	p := d.App.Preferences()
	p.SetString(folderKey, filepath.Dir(abs))
	list := append([]string{abs}, slices.DeleteFunc(d.Recent(), func(old string) bool { return old == abs })...)
	p.SetStringList(recentKey, list[:min(len(list), recentMost)])
	d.Remembered()
}

// Recent gives the files opened or saved last, the latest first.
func (d *Desk) Recent() []string { return slices.Clone(d.App.Preferences().StringList(recentKey)) }

// ForgetFile drops a file from those opened last.
func (d *Desk) ForgetFile(path string) {
	d.App.Preferences().SetStringList(recentKey, slices.DeleteFunc(d.Recent(), func(old string) bool { return old == path }))
	d.Remembered()
}

// ForgetFiles drops them all.
func (d *Desk) ForgetFiles() {
	d.App.Preferences().SetStringList(recentKey, nil)
	d.Remembered()
}

// Folder is the plan's folder, or else that of the file opened or saved last, or else
// the one the program was started in.
func (d *Desk) Folder() string {
	if d.Session.Path() == "" {
		last := d.App.Preferences().String(folderKey)
		if info, err := os.Stat(last); last != "" && err == nil && info.IsDir() {
			return last
		}
	}
	return d.AtHand.Folder()
}
