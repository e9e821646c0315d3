package kit

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
)

// At every width all words stand there, none of them broken, and no line is wider
// than the room.
func TestProseBreaksBetweenWords(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	const text = "The **gauge strip** stands under it (▴ outwards, ▾ inwards, ! suspect), and *Escape* puts it back; **Taper** (▾): wider than needed."
	plain := strings.NewReplacer("**", "", "*", "").Replace(text)
	for width := float32(120); width < 500; width += 7 {
		o := Prose("# Head\n\n" + text + "\n\n- " + text).(*fyne.Container)
		o.Resize(fyne.NewSize(width, 400))
		rich := o.Objects[0].(*widget.RichText)
		got := allText(rich.Segments)
		assert.Equal(t, strings.Fields("Head "+plain+" • "+plain), strings.Fields(got), "a width of %g", width)
		assert.Contains(t, got, "\n")
		assert.LessOrEqual(t, rich.MinSize().Width, width+theme.Padding())
	}
}

func allText(segments []widget.RichTextSegment) (text string) {
	for _, s := range segments {
		if b, ok := s.(widget.RichTextBlock); ok {
			text += allText(b.Segments())
		} else {
			text += s.Textual()
		}
		if !s.Inline() {
			text += " "
		}
	}
	return text
}
