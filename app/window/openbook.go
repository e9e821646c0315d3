package window

import (
	"net/url"
	"os"
	"path/filepath"

	"github.com/strakewright/strakewright/app/book"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/keep"
)

// openBook writes the picture book where the user's passing files lie, and has the system
// open it, with a browser as a rule.
func (w *mainWindow) openBook() {
	own, err := keep.OwnFolder()
	if err != nil {
		own = filepath.Join(os.TempDir(), "strakewright")
	}
	first, err := book.Write(filepath.Join(own, "book"))
	if err == nil {
		err = w.desk.App.OpenURL(&url.URL{Scheme: "file", Path: filepath.ToSlash(first)})
	}
	if err != nil {
		w.desk.Say(kit.Sentence(err))
		return
	}
	w.desk.Status(tongue.T("The picture book is %s", first))
}
