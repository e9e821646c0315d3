package kit

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Prose shows a text in Markdown, its lines broken between words at any width.
// Fyne's own breaking of text in several styles goes on a letter a line once the
// room left in a line is narrower than a letter (v2.7.1, lineBounds), so that the
// breaks are set here. follow is called with where a link leads that is clicked, and
// marks gives the stretches of a text that are to stand out, as offsets of its bytes in
// order; either may be nil.
func Prose(markdown string, follow func(to string), marks func(text string) [][2]int) fyne.CanvasObject {
	p := &prose{text: widget.NewRichTextFromMarkdown(markdown), paragraphs: make([][]piece, 1)}
	if follow == nil {
		follow = func(string) {}
	}
	if marks == nil {
		marks = func(string) [][2]int { return nil }
	}
	p.text.Segments = dressed(p.text.Segments, follow, marks)
	p.gather(p.text.Segments)
	return container.New(p, p.text)
}

// dressed has links followed and stretches stand out, in segments and all within them.
func dressed(segments []widget.RichTextSegment, follow func(string), marks func(string) [][2]int) (out []widget.RichTextSegment) {
	for _, s := range segments {
		switch s := s.(type) {
		case *widget.ParagraphSegment:
			s.Texts = dressed(s.Texts, follow, marks)
		case *widget.ListSegment:
			for i, item := range s.Items { // an item is a paragraph: what comes of it stays one segment
				s.Items[i] = dressed([]widget.RichTextSegment{item}, follow, marks)[0]
			}
		case *widget.HyperlinkSegment:
			to := s.URL.String()
			s.OnTapped = func() { follow(to) }
		case *widget.TextSegment:
			out = append(out, marked(s, marks(s.Text))...)
			continue
		}
		out = append(out, s)
	}
	return out
}

// marked parts a text into what stands out and what does not. What stands out is bold,
// underlined and in another ink.
func marked(s *widget.TextSegment, marks [][2]int) (out []widget.RichTextSegment) {
	if len(marks) == 0 {
		return []widget.RichTextSegment{s}
	}
	part := func(text string, mark, last bool) {
		style := s.Style
		style.Inline = style.Inline || !last
		if mark {
			style.TextStyle, style.ColorName = fyne.TextStyle{Bold: true, Underline: true}, theme.ColorNamePrimary
		}
		out = append(out, &widget.TextSegment{Text: text, Style: style})
	}
	from := 0
	for i, m := range marks {
		if m[0] > from {
			part(s.Text[from:m[0]], false, false)
		}
		from = m[1]
		part(s.Text[m[0]:m[1]], true, i == len(marks)-1 && from == len(s.Text))
	}
	if from < len(s.Text) {
		part(s.Text[from:], false, true)
	}
	return out
}

// prose lays out a text in several styles.
type prose struct {
	text       *widget.RichText
	paragraphs [][]piece
	width      float32 // at which the lines were broken last
}

// piece is a run of letters, or the space between two of them, in one style; or a link,
// which is not broken.
type piece struct {
	of    *widget.TextSegment // nil for a link
	text  string
	space bool
}

// wide gives the width of a text in the style of a piece.
func (p *piece) wide(text string) float32 {
	if p.of == nil {
		return fyne.MeasureText(text, theme.TextSize(), fyne.TextStyle{}).Width
	}
	return fyne.MeasureText(text, theme.Size(p.of.Style.SizeName), p.of.Style.TextStyle).Width
}

// gather takes the paragraphs apart into pieces. One goes on till a segment that
// nothing stands beside.
func (p *prose) gather(segments []widget.RichTextSegment) {
	for _, s := range segments {
		switch s := s.(type) {
		case widget.RichTextBlock:
			p.gather(s.Segments())
		case *widget.TextSegment:
			last := len(p.paragraphs) - 1
			p.paragraphs[last] = append(p.paragraphs[last], pieces(s)...)
		case *widget.HyperlinkSegment:
			last := len(p.paragraphs) - 1
			p.paragraphs[last] = append(p.paragraphs[last], piece{text: s.Text})
		}
		if !s.Inline() {
			p.paragraphs = append(p.paragraphs, nil)
		}
	}
}

func pieces(t *widget.TextSegment) (out []piece) {
	for i, word := range strings.Split(t.Text, " ") {
		if i > 0 {
			out = append(out, piece{t, " ", true})
		}
		if word != "" {
			out = append(out, piece{t, word, false})
		}
	}
	return out
}

// Layout breaks the lines for a width.
func (p *prose) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	if size.Width != p.width {
		p.width = size.Width
		for _, paragraph := range p.paragraphs {
			breakLines(paragraph, size.Width-2*theme.InnerPadding())
		}
		p.text.Refresh()
	}
	p.text.Resize(size)
}

// MinSize is as high as the text is at the width it has.
func (p *prose) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(100, p.text.MinSize().Height)
}

// breakLines writes the pieces of a paragraph back, each word that would end
// beyond a width in a new line. A word of its own that is wider stands out.
func breakLines(all []piece, width float32) {
	written := map[*widget.TextSegment]string{}
	at := float32(0)
	for i := 0; i < len(all); {
		space := &all[i]
		if space.space {
			i++
		}
		word, wide := i, float32(0)
		for ; i < len(all) && !all[i].space; i++ {
			wide += all[i].wide(all[i].text)
		}
		if space.space {
			gap, gapWide := " ", space.wide(" ")
			if at+gapWide+wide > width {
				gap, gapWide, at = "\n", 0, 0
			}
			written[space.of] += gap
			at += gapWide
		}
		for _, p := range all[word:i] {
			if p.of != nil {
				written[p.of] += p.text
			}
		}
		at += wide
	}
	for s, text := range written {
		s.Text = text
	}
}
