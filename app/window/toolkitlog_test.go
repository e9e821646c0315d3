package window

import (
	"errors"
	"log"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
)

// What the toolkit logs of its settings' place is told once, in a sentence, and all
// else as it is.
func TestTheToolkitsSettingsAreToldOfOnce(t *testing.T) {
	var out strings.Builder
	flags, writer := log.Flags(), log.Writer()
	log.SetOutput(&toolkitLog{out: &out})
	log.SetFlags(0)
	defer func() {
		log.SetOutput(writer)
		log.SetFlags(flags)
	}()
	for range 2 {
		fyne.LogError("Unable to create settings storage:", errors.New("mkdir /dev/null: not a directory"))
		fyne.LogError("Settings watch error:", errors.New("no such file"))
		fyne.LogError("Preferences load error:", errors.New("EOF"))
	}
	assert.Equal(t, "strakewright: "+unkeptSettings+"\n", out.String())
	out.Reset()
	fyne.LogError("Something else", errors.New("that matters"))
	log.Println("a line of ours")
	assert.Regexp(t, `^Fyne error:  Something else\n  Cause: that matters\n  At: .*\na line of ours\n$`, out.String())
}
