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
	const text = "The [strips](strips) and the **gauge strip** stands under it (▴ outwards, ▾ inwards, ! suspect), and *Escape* puts it back; **Taper** (▾): wider than needed."
	plain := strings.NewReplacer("**", "", "*", "", "[", "", "](strips)", "").Replace(text)
	for width := float32(120); width < 500; width += 7 {
		o := Prose("# Head\n\n"+text+"\n\n- "+text, nil, nil).(*fyne.Container)
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

func TestProseFollowsLinksAndMarksWords(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	a.Settings().SetTheme(NewTheme(false)) // whose fonts have all styles
	var to string
	o := Prose("A *strip* beside [another page](lines).\n\n- one strip", func(s string) { to = s }, func(text string) (out [][2]int) {
		if i := strings.Index(text, "strip"); i >= 0 {
			out = append(out, [2]int{i, i + 5})
		}
		return out
	}).(*fyne.Container)
	o.Resize(fyne.NewSize(300, 300))
	var bold []string
	var look func(segments []widget.RichTextSegment)
	look = func(segments []widget.RichTextSegment) {
		for _, s := range segments {
			switch s := s.(type) {
			case *widget.ParagraphSegment:
				look(s.Texts)
			case *widget.ListSegment:
				look(s.Items)
			case *widget.HyperlinkSegment:
				s.OnTapped()
			case *widget.TextSegment:
				if s.Style.TextStyle.Underline {
					bold = append(bold, s.Text)
				}
			}
		}
	}
	look(o.Objects[0].(*widget.RichText).Segments)
	assert.Equal(t, "lines", to)
	assert.Equal(t, []string{"strip", "strip"}, bold)
}
