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
// breaks are set here.
func Prose(markdown string) fyne.CanvasObject {
	p := &prose{text: widget.NewRichTextFromMarkdown(markdown), paragraphs: make([][]piece, 1)}
	p.gather(p.text.Segments)
	return container.New(p, p.text)
}

// prose lays out a text in several styles.
type prose struct {
	text       *widget.RichText
	paragraphs [][]piece
	width      float32 // at which the lines were broken last
}

// piece is a run of letters, or the space between two of them, in one style.
type piece struct {
	of    *widget.TextSegment
	text  string
	space bool
}

// wide gives the width of a text in the style of a piece.
func (p *piece) wide(text string) float32 {
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
			written[p.of] += p.text
		}
		at += wide
	}
	for s, text := range written {
		s.Text = text
	}
}
