package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/windowtest"
)

// The lines of the help page are broken between words, and fill their width.
func TestHelpIsBrokenBetweenWords(t *testing.T) {
	w := newWindow(t)
	help(w.desk)
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	rows := map[float32]string{} // by height
	windowtest.Walk(top, func(o fyne.CanvasObject) {
		if x, ok := o.(*canvas.Text); ok {
			rows[x.Position().Y] += x.Text
		}
	})
	for _, text := range rows {
		assert.NotEqual(t, 1, len([]rune(strings.TrimSpace(text))), "a row of one letter: %q", text)
	}
}
