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

// guide is what says which sheet is for what: the steps of the work under each other, with
// a picture each, and under each its sheets with the numbers of their pages.
type guide struct {
	title string
	width float64
	boxes []draw.Part
	links [][]link // of each box, from its upper left corner
}

// Heights in a guide, mm.
const (
	guideHead = 12.0 // of its title
	guideStep = 2.0  // between boxes
)

// guide is the booklet's, with the pages that each sheet is on; its size is the same
// whatever they are.
func (b *Book) guide(on [][]int) guide {
	room, _ := b.Setup.Room()
	w, h := b.Setup.page(false, handyRoll).window()
	g := guide{title: b.Title, width: min(w, 2*room.Column+gap) - 2*hair.Width}
	for i, s := range b.steps() {
		boxes, to := b.stepBoxes(i+1, s, on, g.width, h-guideHead)
		g.boxes, g.links = append(g.boxes, boxes...), append(g.links, to...)
	}
	return g
}

// sheet is the guide to be laid out.
func (g *guide) sheet() draw.Sheet {
	p := g.part(0, len(g.boxes))
	return draw.Sheet{Section: tongue.T("Contents"), Title: tongue.T("Which sheet is for what"), Width: p.Width, Height: p.Height, Parts: []draw.Part{p}}
}

// head is the height of what stands above a box.
func (g *guide) head(first int) float64 {
	if first == 0 {
		return guideHead
	}
	return 0
}

// holds is how many boxes from the first on there is room for.
func (g *guide) holds(first int, height float64) (n int) {
	left := height - g.head(first) + guideStep + 1e-9
	for first+n < len(g.boxes) && left >= g.boxes[first+n].Height+guideStep {
		left -= g.boxes[first+n].Height + guideStep
		n++
	}
	return n
}

// part is a column of boxes, under the title if the first is the guide's first.
func (g *guide) part(first, n int) draw.Part {
	p := draw.Part{Width: g.width + 2*hair.Width}
	if first == 0 {
		p.Drawing.Text(draw.Pt(0, 5), draw.Fit(g.title, 6, p.Width), draw.Ink, 6, draw.Left)
		p.Drawing.Text(draw.Pt(0, 10), draw.Fit(tongue.T("In the order of the work, from the top down. Every drawing is at full size unless it says otherwise; both sides of the hull are alike."), noteSize, p.Width), draw.Ink, noteSize, draw.Left)
	}
	for i, y := range g.ys(first, n) {
		p.Drawing.Add(&g.boxes[first+i].Drawing, draw.Pt(hair.Width, y))
		p.Height = y + g.boxes[first+i].Height
	}
	p.Split = func(height float64) (head, rest draw.Part, ok bool) {
		k := g.holds(first, height)
		if k == 0 || k >= n {
			return head, rest, false
		}
		return g.part(first, k), g.part(first+k, n-k), true
	}
	return p
}

// ys are where the boxes of a part begin.
func (g *guide) ys(first, n int) []float64 {
	var out []float64
	y := g.head(first)
	for i := range n {
		out = append(out, y)
		y += g.boxes[first+i].Height + guideStep
	}
	return out
}

// into draws the guide anew on the pages it has been laid out on, as the sheet of that
// number, and links it to the sheets.
func (g *guide) into(leaves []leaf, sheet int) {
	first := 0
	for i := range leaves {
		l := &leaves[i]
		for _, b := range l.on {
			if b.sheet != sheet {
				continue
			}
			n := g.holds(first, b.part.Height)
			b.part = g.part(first, n)
			for k, y := range g.ys(first, n) {
				l.link(g.links[first+k], l.left()+b.at.X+b.shift.X+hair.Width, l.windowTop()+b.at.Y+b.shift.Y+y)
			}
			first += n
		}
	}
}

// link adds links, moved so far.
func (l *leaf) link(links []link, x, y float64) {
	for _, k := range links {
		l.links = append(l.links, link{draw.Pt(k.from.X+x, k.from.Y+y), draw.Pt(k.to.X+x, k.to.Y+y), k.sheet})
	}
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

// kindsOf are the sheets of a step, each kind by its first.
func (b *Book) kindsOf(s Step) (first []int) {
	last := ""
	for i := range b.Sheets {
		sheet := &b.Sheets[i]
		if !slices.Contains(s.Sections, sheet.Section) {
			last = ""
			continue
		}
		if title := sheet.CommonTitle(); len(first) == 0 || title != last {
			first, last = append(first, i), title
		}
	}
	return first
}

// pagesOf are the pages of a sheet and those of its kind that follow it.
func (b *Book) pagesOf(first int, on [][]int) (pages []int) {
	for n := first; n < len(b.Sheets) && b.Sheets[n].CommonTitle() == b.Sheets[first].CommonTitle(); n++ {
		pages = append(pages, on[n]...)
	}
	return pages
}

// stepBoxes draws a step: its number, its picture, what is done, and its sheets, each once
// for all of its kind; in boxes no higher than that.
func (b *Book) stepBoxes(number int, s Step, on [][]int, width, most float64) (boxes []draw.Part, links [][]link) {
	const line = noteSize*leading + 0.3
	kinds := b.kindsOf(s)
	for len(boxes) == 0 || len(kinds) > 0 {
		what := draw.Wrap(s.What, noteSize, width-stepText-2)
		n := max(min(len(kinds), int((most-3.6-float64(len(what))*noteSize*leading)/line)), 1)
		n = min(n, len(kinds))
		box, to := b.stepBox(number, s, what, kinds[:n], on, width)
		boxes, links, kinds = append(boxes, box), append(links, to), kinds[n:]
	}
	return boxes, links
}

// stepText is where the text of a box begins, mm.
const stepText = pictureWidth + 13

func (b *Book) stepBox(number int, s Step, what []string, kinds []int, on [][]int, width float64) (draw.Part, []link) {
	p := draw.Part{Width: width}
	d := &p.Drawing
	d.Text(draw.Pt(4.5, 7), fmt.Sprint(number), draw.Ink, titleSize, draw.Centre)
	d.Add(&s.Picture, draw.Pt(9, 1.5))
	y := 1.0
	var links []link
	for _, line := range what {
		y += noteSize * leading
		d.Text(draw.Pt(stepText, y-0.2), line, draw.Ink, noteSize, draw.Left)
	}
	y += 0.8
	for _, i := range kinds {
		y += noteSize*leading + 0.3
		links = append(links, link{draw.Pt(stepText, y-noteSize), draw.Pt(width-2, y+0.3*noteSize), i})
		entry(d, b.Sheets[i].CommonTitle(), ranges(b.pagesOf(i, on)), stepText, width-2, y-0.3)
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
