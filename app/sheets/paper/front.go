package paper

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// leading is the height of a line to its text's em.
const leading = 1.3

// textColumn is a column of text that can be split between its lines; paragraphs are parted by
// a space, and the first is a heading unless it is "".
func textColumn(width float64, heading string, paragraphs ...string) draw.Part {
	return textPart(width, linesOf(width, heading, paragraphs, false))
}

// wholeColumn is one that is split between its paragraphs alone.
func wholeColumn(width float64, heading string, paragraphs ...string) draw.Part {
	return textPart(width, linesOf(width, heading, paragraphs, true))
}

func linesOf(width float64, heading string, paragraphs []string, whole bool) []textLine {
	var lines []textLine
	if heading != "" {
		lines = append(lines, textLine{heading, titleSize, titleSize * leading, false})
	}
	for _, p := range paragraphs {
		for i, l := range draw.Wrap(p, noteSize, width) {
			h := noteSize * leading
			if i == 0 && len(lines) > 0 {
				h += 1.2
			}
			lines = append(lines, textLine{l, noteSize, h, whole && i > 0})
		}
	}
	return lines
}

// noteSize is that of running text, mm to the em.
const noteSize = 2.9

type textLine struct {
	text   string
	size   float64
	height float64
	stays  bool // on the page of the line before
}

func textPart(width float64, lines []textLine) draw.Part {
	p := draw.Part{Width: width}
	for _, l := range lines {
		p.Height += l.height
		p.Drawing.Text(draw.Pt(0, p.Height-0.25*l.size), l.text, draw.Ink, l.size, draw.Left)
	}
	p.Height += 0.6
	p.Split = func(height float64) (head, rest draw.Part, ok bool) {
		n, h := 0, 0.6
		for n < len(lines) && h+lines[n].height <= height {
			h += lines[n].height
			n++
		}
		for n > 0 && n < len(lines) && lines[n].stays {
			n--
		}
		if n < 4 || len(lines)-n < 2 {
			return head, rest, false
		}
		return textPart(width, lines[:n]), textPart(width, lines[n:]), true
	}
	return p
}

// front are the sheets before those of the plan: which sheet is for what, the cautions, and
// the caller's summary.
func (b *Book) front(g *guide) []draw.Sheet {
	room, err := b.Setup.Room()
	if err != nil {
		return nil
	}
	cautions := []draw.Part{provingPart(room.Column), wholeColumn(room.Column, tongue.T("At the bench"), said(cautionLines)...)}
	var lines []string
	for _, l := range b.Summary {
		if l != "" {
			lines = append(lines, l)
		}
	}
	var out []draw.Sheet
	if len(g.boxes) > 0 {
		out = append(out, g.sheet())
	}
	return append(out,
		draw.Sheet{Section: tongue.T("Cautions"), Title: tongue.T("Cautions"), Width: room.Column, Height: 1, Parts: cautions},
		draw.Sheet{Section: tongue.T("Summary"), Title: tongue.T("Summary"), Width: room.Column, Height: 1, Parts: []draw.Part{textColumn(room.Column, tongue.T("Summary"), lines...)}})
}

// provingPart is how to prove the printer, beside the bar that it speaks of.
func provingPart(width float64) draw.Part {
	const bar = 15 // wide, with the space beside it
	// Beside what nests no gap is kept: it is left here.
	words := textColumn(width-bar-gap, tongue.T("Before anything is cut"), said(proving)...)
	p := draw.Part{Width: width, Height: math.Max(words.Height, 106), Nests: true}
	uprightBar(&p.Drawing, draw.Pt(3, 4.5))
	p.Drawing.Add(&words.Drawing, draw.Pt(bar, 0))
	return p
}

// said are texts in the reader's language.
func said(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = tongue.T(t)
	}
	return out
}

var proving = []string{
	tongue.Mark("Print this page alone first, without scaling or fitting to the paper. Measure the bar at the foot and the one beside this text with a steel rule."),
	tongue.Mark("If either is not 100 mm long, enter both measurements as the printer's error: one across the paper, one along it. Print again, and measure again."),
	tongue.Mark("Paper grows and shrinks with the damp of the room: print, glue and use the sheets on one day, and measure a bar again before later use."),
	tongue.Mark("Join a shape in pieces by its crosses: cut one piece at the crosses, lay it over the other until they coincide, and glue."),
}

var cautionLines = []string{
	tongue.Mark("The makers' sheets for tools, woods, glues and finishes, and your local rules, come before anything on this page."),
	tongue.Mark("Knives: use a straight edge that does not slip, on a firm support. Make several light cuts, not one heavy one. Keep the fingers of the other hand behind the blade, cut away from the body, and change a blunt blade."),
	tongue.Mark("Bending with heat: irons, hot water and steam burn at once and stay hot for long. Keep leads, plugs and switches away from water, and let steam out away from face and hands. Never close a steam box tight."),
	tongue.Mark("Dust: extract it where it arises, and wear a mask made for fine dust. Some woods make skin or lungs sensitive, even after years without harm: find out about a species before you sand it, and stop if it troubles you."),
	tongue.Mark("Glues and solvents: air the room, wear gloves that withstand them, keep flames and hot irons away, and read the maker's sheet before you open the tin."),
	tongue.Mark("Pins, clamps and sprung strips let go without warning: wear glasses."),
}
