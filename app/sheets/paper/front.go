package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Step is a step of the work, and the sheets that are for it.
type Step struct {
	Sections []string     // of the sheets
	What     string       // what is done with them
	Picture  draw.Drawing // 30 x 18 mm
}

// The size of a step's picture, mm.
const (
	pictureWidth  = 30.0
	pictureHeight = 18.0
)

// leading is the height of a line to its text's em.
const leading = 1.3

// textColumn is a column of text that can be split between its lines; paragraphs are parted by
// a space, and the first is a heading unless it is "".
func textColumn(width float64, heading string, paragraphs ...string) draw.Part {
	var lines []textLine
	if heading != "" {
		lines = append(lines, textLine{heading, titleSize, titleSize * leading})
	}
	for _, p := range paragraphs {
		for i, l := range draw.Wrap(p, noteSize, width) {
			h := noteSize * leading
			if i == 0 && len(lines) > 0 {
				h += 1.2
			}
			lines = append(lines, textLine{l, noteSize, h})
		}
	}
	return textPart(width, lines)
}

// noteSize is that of running text, mm to the em.
const noteSize = 2.9

type textLine struct {
	text   string
	size   float64
	height float64
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
		if n < 4 || len(lines)-n < 2 {
			return head, rest, false
		}
		return textPart(width, lines[:n]), textPart(width, lines[n:]), true
	}
	return p
}

// front are the sheets before those of the plan: cautions, and the caller's summary.
func (b *Book) front() []draw.Sheet {
	room, err := b.Setup.Room()
	if err != nil {
		return nil
	}
	upright := draw.Part{Width: 12, Height: 106}
	uprightBar(&upright.Drawing, draw.Pt(3, 4.5))
	cautions := []draw.Part{upright, textColumn(room.Column-15, tongue.T("Before anything is cut"), said(proving)...), textColumn(room.Column, tongue.T("At the bench"), said(cautionLines)...)}
	var lines []string
	for _, l := range b.Summary {
		if l != "" {
			lines = append(lines, l)
		}
	}
	return []draw.Sheet{
		{Section: tongue.T("Cautions"), Title: tongue.T("Cautions"), Width: room.Column, Height: 1, Parts: cautions},
		{Section: tongue.T("Summary"), Title: tongue.T("Summary"), Width: room.Column, Height: 1, Parts: []draw.Part{textColumn(room.Column, tongue.T("Summary"), lines...)}},
	}
}

// contents is the page that says which sheet is for what: the steps of the work with a
// picture each, and under each the sheets with the numbers of their pages.
func (b *Book) contents(on [][]int) []leaf {
	w, _ := b.Setup.page(false, handyRoll).window()
	w -= 2 * hair.Width
	var boxes []draw.Part
	var links [][]link
	for i, s := range b.steps() {
		box, to := b.stepBox(i+1, s, on, min(w, 2*pictureWidth+130))
		boxes, links = append(boxes, box), append(links, to)
	}
	var out []leaf
	for len(boxes) > 0 {
		p := b.Setup.page(false, math.Max(handyRoll, b.Setup.Size.Height))
		_, h := p.window()
		y, n := 0.0, 0
		if len(out) == 0 {
			y = 12
		}
		start := y
		for n < len(boxes) && (n == 0 || y+boxes[n].Height <= h) {
			y += boxes[n].Height + 2
			n++
		}
		if b.Setup.isRoll() {
			p = p.trimmed(false, w, y)
		}
		out = append(out, b.contentsLeaf(p, boxes[:n], links[:n], start))
		boxes, links = boxes[n:], links[n:]
	}
	return out
}

// contentsLeaf draws boxes under each other, each joined to the next.
func (b *Book) contentsLeaf(p page, boxes []draw.Part, links [][]link, y float64) leaf {
	l := leaf{page: p, section: tongue.T("Contents"), title: tongue.T("Which sheet is for what"), use: 1}
	top := p.windowTop()
	l.drawing = func(d *draw.Drawing) {
		if y > 0 {
			room := p.right() - p.left()
			d.Text(draw.Pt(p.left(), top+5), draw.Fit(b.Title, 6, room), draw.Ink, 6, draw.Left)
			d.Text(draw.Pt(p.left(), top+10), draw.Fit(tongue.T("In the order of the work, from the top down. Every drawing is at full size unless it says otherwise; both sides of the hull are alike."), noteSize, room), draw.Ink, noteSize, draw.Left)
		}
		at := top + y
		for i := range boxes {
			d.Add(&boxes[i].Drawing, draw.Pt(p.left()+hair.Width, at))
			at += boxes[i].Height + 2
		}
	}
	at := top + y
	for i := range boxes {
		for _, k := range links[i] {
			l.links = append(l.links, link{draw.Pt(k.from.X+p.left(), k.from.Y+at), draw.Pt(k.to.X+p.left(), k.to.Y+at), k.sheet})
		}
		at += boxes[i].Height + 2
	}
	return l
}

// steps are the caller's, without those that have no sheets, and one for each section
// that none of them names.
func (b *Book) steps() []Step {
	var out []Step
	named := map[string]bool{}
	there := map[string]bool{}
	for _, s := range b.Sheets {
		there[s.Section] = true
	}
	for _, s := range b.Guide {
		if slices.ContainsFunc(s.Sections, func(n string) bool { return there[n] }) {
			out = append(out, s)
		}
		for _, n := range s.Sections {
			named[n] = true
		}
	}
	for _, s := range b.Sheets {
		if !named[s.Section] {
			named[s.Section] = true
			out = append(out, Step{Sections: []string{s.Section}})
		}
	}
	return out
}

// stepBox draws a step: its number, its picture, what is done, and its sheets, each once
// for all of its kind.
func (b *Book) stepBox(number int, s Step, on [][]int, width float64) (draw.Part, []link) {
	const text = pictureWidth + 13
	p := draw.Part{Width: width}
	d := &p.Drawing
	d.Text(draw.Pt(4.5, 7), fmt.Sprint(number), draw.Ink, titleSize, draw.Centre)
	d.Add(&s.Picture, draw.Pt(9, 1.5))
	y := 1.0
	var links []link
	for _, line := range draw.Wrap(s.What, noteSize, width-text-2) {
		y += noteSize * leading
		d.Text(draw.Pt(text, y-0.2), line, draw.Ink, noteSize, draw.Left)
	}
	y += 0.8
	for i := 0; i < len(b.Sheets); {
		if !slices.Contains(s.Sections, b.Sheets[i].Section) {
			i++
			continue
		}
		n, pages := i, []int(nil)
		for ; n < len(b.Sheets) && b.Sheets[n].CommonTitle() == b.Sheets[i].CommonTitle(); n++ {
			pages = append(pages, on[n]...)
		}
		y += noteSize*leading + 0.3
		links = append(links, link{draw.Pt(text, y-noteSize), draw.Pt(width-2, y+0.3*noteSize), i})
		entry(d, b.Sheets[i].CommonTitle(), ranges(pages), text, width-2, y-0.3)
		i = n
	}
	p.Height = math.Max(y+1.8, pictureHeight+3)
	d.Line(draw.Ink, hair, draw.Pt(0, 0), draw.Pt(width, 0), draw.Pt(width, p.Height), draw.Pt(0, p.Height), draw.Pt(0, 0))
	d.Line(draw.Ink, hair, draw.Pt(9, 0), draw.Pt(9, p.Height))
	d.Area(draw.Ink, draw.Pt(3.3, p.Height-4), draw.Pt(5.7, p.Height-4), draw.Pt(4.5, p.Height-1.5))
	return p, links
}

// entry sets one line of contents with its pages at the right.
func entry(d *draw.Drawing, text, pages string, left, right, base float64) {
	pages = draw.Fit(pages, noteSize, (right-left)/2)
	text = draw.Fit(text, noteSize, right-left-draw.TextWidth("  "+pages, noteSize)-4)
	d.Text(draw.Pt(left, base), text, draw.Ink, noteSize, draw.Left)
	d.Text(draw.Pt(right, base), pages, draw.Ink, noteSize, draw.Right)
	if from, to := left+draw.TextWidth(text, noteSize)+2, right-draw.TextWidth(pages, noteSize)-2; to-from > 4 {
		d.Line(draw.Faint, draw.Pen{Width: 0.2, Dash: []float64{0.3, 1.7}}, draw.Pt(from, base), draw.Pt(to, base))
	}
}

// ranges writes numbers of pages, as "4–7, 9".
func ranges(pages []int) string {
	slices.Sort(pages)
	pages = slices.Compact(pages)
	var out []string
	for i := 0; i < len(pages); {
		j := i
		for j+1 < len(pages) && pages[j+1] == pages[j]+1 {
			j++
		}
		if j == i {
			out = append(out, fmt.Sprint(pages[i]))
		} else {
			out = append(out, fmt.Sprintf("%d–%d", pages[i], pages[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
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
