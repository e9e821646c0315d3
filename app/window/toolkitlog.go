package window

import (
	"bytes"
	"io"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// toolkitLog is where the toolkit logs to. Of its own settings, and of folders that a
// dialog about files offers (v2.7.1, app/preferences.go, app/settings_desktop.go and
// dialog/file.go), it logs three lines at each look, with folders of the machine that it
// was built on, and also where nothing is lost. Whoever started the program is told, once
// and in a sentence, where settings cannot be kept; all else that the toolkit logs is
// passed on.
type toolkitLog struct {
	out     io.Writer
	leftOut bool // of the entry whose lines come
	told    bool
}

// What an entry begins with, and its lines after the first.
const (
	toolkitEntry = "Fyne error:  "
	entryCause   = "  Cause:"
	entryPlace   = "  At: "
)

// notKept are the toolkit's reasons where settings cannot be kept, and harmless those
// where a file of them is being written, or was so when the program was killed, or where
// the user has no folder of some kind.
var (
	notKept  = []string{"Failed on saving preferences", "Failed on force saving preferences", "Unable to create settings storage:", "Failed to create app storage space"}
	harmless = []string{"Preferences load error:", "Settings load error:", "Settings watch error:", "Settings un-watch error:", "Failed to watch settings file:", "Getting favorite locations", "Failed to load user theme file"}
)

const unkeptSettings = "what the window remembers from one run to the next, as recent files and its layout, cannot be kept; make your home folder one that can be written to."

// Write takes a line of the log, as package log gives it.
func (l *toolkitLog) Write(line []byte) (int, error) {
	if _, reason, entry := bytes.Cut(line, []byte(toolkitEntry)); entry {
		begins := func(with string) bool { return strings.HasPrefix(string(reason), with) }
		kept := !slices.ContainsFunc(notKept, begins)
		l.leftOut = !kept || slices.ContainsFunc(harmless, begins)
		if !kept && !l.told {
			l.told = true
			_, err := io.WriteString(l.out, "strakewright: "+tongue.T(unkeptSettings)+"\n")
			return len(line), err
		}
	} else if !bytes.Contains(line, []byte(entryCause)) && !bytes.Contains(line, []byte(entryPlace)) {
		l.leftOut = false
	}
	if l.leftOut {
		return len(line), nil
	}
	return l.out.Write(line)
}
