package paper

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/draw"
)

// flow sets lines of text on as many pages as they take.
type flow struct {
	setup  Setup
	title  string
	column float64 // width of the text
	leaves []leaf
	y      float64
}

// widestColumn is how wide text may run to be read with ease, mm.
const widestColumn = 190

// textRoll is the length of a page of text on a roll, mm of paper.
const textRoll = 297

func newFlow(setup Setup, title string) *flow {
	f := &flow{setup: setup, title: title}
	w, _ := setup.page(false, textRoll).window()
	f.column = math.Min(w, widestColumn)
	f.turn()
	return f
}

// turn begins a page.
func (f *flow) turn() {
	p := f.setup.page(false, math.Max(textRoll, f.setup.Size.Height))
	f.leaves = append(f.leaves, leaf{page: p, section: f.title, title: f.title, drawing: func(*draw.Drawing) {}})
	f.y = p.windowTop()
}

func (f *flow) last() *leaf { return &f.leaves[len(f.leaves)-1] }

// need turns the page unless that much height is left on it.
func (f *flow) need(h float64) {
	l := f.last()
	_, room := l.window()
	if f.y+h > l.windowTop()+room && f.y > l.windowTop() {
		f.turn()
	}
}

// draws adds to what the last page draws.
func (f *flow) draws(more func(*draw.Drawing)) {
	l := f.last()
	before := l.drawing
	l.drawing = func(d *draw.Drawing) { before(d); more(d) }
}

// leading is the height of a line to its text's em.
const leading = 1.45

// say sets a paragraph, indented, after a space.
func (f *flow) say(text string, size, indent, space float64) {
	f.y += space
	for _, line := range draw.Wrap(text, size, f.column-indent) {
		f.need(size * leading)
		f.y += size * leading
		at := draw.Pt(f.last().left()+indent, f.y-0.35*size)
		f.draws(func(d *draw.Drawing) { d.Text(at, line, draw.Ink, size, draw.Left) })
	}
}

// entry sets one line of contents with its page's number at the right.
func (f *flow) entry(text, number string, sheet int) {
	const indent = 6
	f.need(textSize * leading)
	f.y += textSize * leading
	left, base := f.last().left(), f.y-0.35*textSize
	right := left + f.column
	text = draw.Fit(text, textSize, f.column-indent-draw.TextWidth("  "+number, textSize)-4)
	f.draws(func(d *draw.Drawing) {
		d.Text(draw.Pt(left+indent, base), text, draw.Ink, textSize, draw.Left)
		d.Text(draw.Pt(right, base), number, draw.Ink, textSize, draw.Right)
		from, to := left+indent+draw.TextWidth(text, textSize)+2, right-draw.TextWidth(number, textSize)-2
		if to-from > 4 {
			d.Line(draw.Faint, draw.Pen{Width: 0.2, Dash: []float64{0.3, 1.7}}, draw.Pt(from, base), draw.Pt(to, base))
		}
	})
	l := f.last()
	l.links = append(l.links, link{draw.Pt(left, base-textSize), draw.Pt(right, base+0.3*textSize), sheet})
}

// contents lists the sheets by section with the numbers of their pages.
func (b *Book) contents(at []int) []leaf {
	f := newFlow(b.Setup, "Contents")
	f.say(b.Title, 9, 0, 0)
	if b.Setup.Ship != "" {
		f.say(b.Setup.Ship, 7, 0, 1)
	}
	f.y += 4
	section := ""
	for i, s := range b.Sheets {
		if i == 0 || s.Section != section {
			section = s.Section
			f.need(3 + (titleSize+textSize)*leading)
			f.say(section, titleSize, 0, 3)
		}
		f.entry(s.Title, fmt.Sprint(at[i]), i)
	}
	return f.leaves
}

// summary sets the caller's lines.
func (b *Book) summary() []leaf {
	f := newFlow(b.Setup, "Summary")
	for _, line := range b.Summary {
		if line == "" {
			f.y += 4
			continue
		}
		f.say(line, textSize, 0, 0)
	}
	return f.leaves
}

// cautions says what can hurt, and how the paper is proved. Common practice,
// no source; makers' sheets and local rules come first.
func (b *Book) cautions() []leaf {
	f := newFlow(b.Setup, "Cautions")
	room := f.column
	f.column -= 26
	f.say("Before anything is cut", titleSize, 0, 0)
	for _, text := range proving {
		f.say(text, textSize, 0, 1.5)
	}
	f.say("At the bench", titleSize, 0, 5)
	for _, text := range cautionLines {
		f.say(text, textSize, 0, 1.5)
	}
	l := &f.leaves[0]
	before := l.drawing
	at := draw.Pt(l.left()+room-14, l.windowTop()+10)
	l.drawing = func(d *draw.Drawing) { before(d); uprightBar(d, at) }
	return f.leaves
}

var proving = []string{
	"Print this page alone first, without scaling or fitting to the paper. Measure the bar at the foot and the one beside this text with a steel rule.",
	"If either is not 100 mm long, enter both measurements as the printer's error: one across the paper, one along it. Print again, and measure again.",
	"Paper grows and shrinks with the damp of the room: print, glue and use the sheets on one day, and measure a bar again before later use.",
	"Join a shape in pieces by its crosses: cut one piece at the crosses, lay it over the other until they coincide, and glue.",
}

var cautionLines = []string{
	"The makers' sheets for tools, woods, glues and finishes, and your local rules, come before anything on this page.",
	"Knives: use a straight edge that does not slip, on a firm support. Make several light cuts, not one heavy one. Keep the fingers of the other hand behind the blade, cut away from the body, and change a blunt blade.",
	"Bending with heat: irons, hot water and steam burn at once and stay hot for long. Keep leads, plugs and switches away from water, and let steam out away from face and hands. Never close a steam box tight.",
	"Dust: extract it where it arises, and wear a mask made for fine dust. Some woods make skin or lungs sensitive, even after years without harm: find out about a species before you sand it, and stop if it troubles you.",
	"Glues and solvents: air the room, wear gloves that withstand them, keep flames and hot irons away, and read the maker's sheet before you open the tin.",
	"Pins, clamps and sprung strips let go without warning: wear glasses.",
}
