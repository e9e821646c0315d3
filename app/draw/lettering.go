package draw

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"github.com/strakewright/strakewright/hull/visible"
)

// BenchText is the em of what is read at arm's length at the bench, mm, and
// SmallestText the least em of any label on paper, that of tables, read in the
// hand: their capitals are 2.5 and 1.8 mm high, two of the usual sizes of
// lettering on drawings (ISO 3098, from memory).
const (
	BenchText    = 3.5
	SmallestText = 2.52
)

// capHeight is the height of the lettering's capitals per em.
const capHeight = 0.716

// CapHeight is the height of the capitals of a text of the given size on paper.
func CapHeight(size float64) float64 { return size * capHeight }

// Lettering is the TrueType font used on paper.
func Lettering() []byte { return goregular.TTF }

// glyphs is the parsed font; Lettering is part of the program and always
// parses.
var glyphs = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic(fmt.Sprintf("the built-in font: %v", err))
	}
	return f
})

// advances keeps each character's width per em; 0 where the font lacks it. Those of
// Latin letters, of which nearly all texts are, have a table of their own.
var advances sync.Map

var latinAdvances = sync.OnceValue(func() *[0x180]float64 {
	out := new([0x180]float64)
	for r := range out {
		out[r] = advanceOf(rune(r))
	}
	return out
})

// advance is the width of a character per em; 0 where the font lacks it.
func advance(r rune) float64 {
	if latin := latinAdvances(); r >= 0 && int(r) < len(latin) {
		return latin[r]
	}
	if w, ok := advances.Load(r); ok {
		return w.(float64)
	}
	w := advanceOf(r)
	advances.Store(r, w)
	return w
}

func advanceOf(r rune) float64 {
	w, buf, f := 0.0, sfnt.Buffer{}, glyphs()
	if i, err := f.GlyphIndex(&buf, r); err == nil && i != 0 {
		em := f.UnitsPerEm()
		if a, err := f.GlyphAdvance(&buf, i, fixed.I(int(em)), font.HintingNone); err == nil {
			w = float64(a) / 64 / float64(em)
		}
	}
	return w
}

// TextWidth is the width of a text of the given size on paper, in the unit of
// size.
func TextWidth(text string, size float64) float64 {
	if text = visible.Text(text); inLettering(text) {
		return letteredWidth(text) * size
	}
	runs := Runs(text)
	last := runs[len(runs)-1]
	return (last.X + last.Width) * size
}

// Wrap breaks a text at its spaces into lines no wider than width at the given
// size; a single word wider than that gets a line of its own.
func Wrap(text string, size, width float64) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(visible.Text(text)) {
		longer := strings.TrimPrefix(line+" "+word, " ")
		if line != "" && TextWidth(longer, size) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Fit shortens a text with an ellipsis if it is wider than width.
func Fit(text string, size, width float64) string {
	if TextWidth(text, size) <= width {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(runes[:n]), " ,") + "…"; TextWidth(cut, size) <= width {
			return cut
		}
	}
	return "…"
}

// Box gives the corners of the rectangle that a label covers on paper.
func (l Label) Box() (from, to Point) {
	w := TextWidth(l.Text, l.Size)
	x := l.At.X
	switch l.Align {
	case Centre:
		x -= w / 2
	case Right:
		x -= w
	}
	return Pt(x, l.At.Y-0.78*l.Size), Pt(x+w, l.At.Y+0.22*l.Size)
}
