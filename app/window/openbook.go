package window

import (
	"net/url"
	"os"
	"path/filepath"

	"github.com/strakewright/strakewright/app/book"
	"github.com/strakewright/strakewright/app/window/kit"
)

// openBook writes the picture book where the user's passing files lie, and has the system
// open it, with a browser as a rule.
func (w *mainWindow) openBook() {
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	first, err := book.Write(filepath.Join(cache, "strakewright", "book"))
	if err == nil {
		err = w.desk.App.OpenURL(&url.URL{Scheme: "file", Path: filepath.ToSlash(first)})
	}
	if err != nil {
		w.desk.Say(kit.Sentence(err))
		return
	}
	w.desk.Status("The picture book is " + first)
}
