package paper

import (
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Page is a page ready to be printed.
type Page struct {
	Width, Height float64      // of paper, mm
	Scale         pdf.Scale    // takes the printer's error out
	Drawing       draw.Drawing // true mm from the page's upper left corner
	Number        int          // from 1
	Section       string       // of its sheets, the first where there are more
	Title         string       // as in its heading
	Starts        []Start      // the sheets that begin on it
	Use           float64      // the share of its window that is covered; see Pages
}

// Start is where a sheet begins.
type Start struct {
	Sheet int     // its number among the sheets given, from 0
	Y     float64 // on the page, true mm
}

// Pages lays sheets out on pages, in their order but for what fills a gap on the page
// before. The use of a page is the share of the room between its heading and its foot
// that the rectangles of what is laid there cover, with half of the space that each must
// keep from others. The error says what is wrong with a setting or a sheet.
func Pages(sheets []draw.Sheet, setup Setup) ([]Page, error) {
	setup, err := setup.filled()
	if err != nil {
		return nil, err
	}
	blocks, err := setup.blocksOf(sheets)
	if err != nil {
		return nil, err
	}
	leaves, err := setup.layOut(blocks, sheets)
	if err != nil {
		return nil, err
	}
	return finished(leaves, setup), nil
}

func finished(leaves []leaf, setup Setup) []Page {
	pages := make([]Page, len(leaves))
	for i := range leaves {
		pages[i] = leaves[i].finished(setup, i+1, len(leaves))
	}
	return pages
}

// MeanUse is the mean of the use of pages by their area, 0 for none.
func MeanUse(pages []Page) float64 {
	used, area := 0.0, 0.0
	for i := range pages {
		p := &pages[i]
		used += p.Use * p.Width * p.Height
		area += p.Width * p.Height
	}
	if area == 0 {
		return 0
	}
	return used / area
}

// leaf is a page before it is numbered.
type leaf struct {
	full
	section, title string
	starts         []Start
	front          []begun // of a booklet's front
	holds          []int   // the sheets of which something stands on it
	links          []link  // of the guide
}

// begun is where a section begins.
type begun struct {
	section string
	y       float64 // true mm
}

// finished draws a leaf with its heading and foot.
func (l *leaf) finished(setup Setup, number, of int) Page {
	p := Page{Width: l.width, Height: l.height, Scale: l.scale(), Number: number, Section: l.section, Title: l.title, Starts: l.starts, Use: l.use}
	for _, b := range l.on {
		p.Drawing.Add(&b.part.Drawing, draw.Pt(l.left()+b.at.X+b.shift.X, l.windowTop()+b.at.Y+b.shift.Y))
	}
	heading(&p.Drawing, l.page, l.title, setup.Ship, tongue.T("page %d of %d", number, of))
	l.foot(&p.Drawing, setup.Ship, setup.Stamp)
	return p
}

// blocksOf are the parts of sheets, as they are laid on pages.
func (s Setup) blocksOf(sheets []draw.Sheet) (blocks []*block, err error) {
	section := -1
	for i := range sheets {
		sheet := &sheets[i]
		if !within(sheet.Width, 1e-3, 1e5) || !within(sheet.Height, 1e-3, 1e5) {
			return nil, tongue.Errorf("sheet %q is %v by %v mm, too large for any paper", sheet.Name, sheet.Width, sheet.Height)
		}
		if i == 0 || sheet.Section != sheets[i-1].Section {
			section++
		}
		for _, p := range s.partsOf(sheet) {
			blocks = append(blocks, newBlock(p, i, section))
		}
	}
	return blocks, nil
}

func (s Setup) layOut(blocks []*block, sheets []draw.Sheet) ([]leaf, error) {
	var out []leaf
	begun := map[int]bool{}
	pages, stuck := s.fewest(blocks)
	if stuck != nil {
		return nil, tongue.Errorf("sheet %q has a part that goes onto no page", sheets[stuck.sheet].Name)
	}
	for _, f := range pages {
		out = append(out, f.leaf(sheets, begun))
	}
	return out, nil
}

// leaf is a page with its blocks.
func (f full) leaf(sheets []draw.Sheet, begun map[int]bool) leaf {
	l := leaf{full: f}
	var sections []string
	for _, b := range f.on {
		s := &sheets[b.sheet]
		if !slices.Contains(sections, s.Section) {
			sections = append(sections, s.Section)
		}
		if !slices.Contains(l.holds, b.sheet) {
			l.holds = append(l.holds, b.sheet)
		}
		if !begun[b.sheet] {
			begun[b.sheet] = true
			l.starts = append(l.starts, Start{Sheet: b.sheet, Y: f.windowTop() + b.at.Y})
		}
	}
	l.section, l.title = sections[0], strings.Join(sections, "; ")
	if len(l.holds) == 1 {
		l.title = sheets[l.holds[0]].CommonTitle()
	}
	return l
}

// captionHeight is the height of the caption over a sheet that has no parts, mm.
const captionHeight = 5.5

// partsOf gives the parts of a sheet, none larger than a page: what is, comes in pieces.
func (s Setup) partsOf(sheet *draw.Sheet) []draw.Part {
	if sheet.Parts == nil {
		return s.piecesOf(draw.Part{Drawing: sheet.Drawing, Width: sheet.Width, Height: sheet.Height}, sheet.Title)
	}
	var out []draw.Part
	for _, p := range sheet.Parts {
		out = append(out, s.piecesOf(p, "")...)
	}
	return out
}

// longestRoll is how long a page of a roll may become, true mm; what shares a
// page of it stays within a length that is easily handled.
const (
	longestRoll = 4500
	handyRoll   = 1000
)

// fits tells whether a page holds so much, upright or lying.
func (s Setup) fits(width, height float64) bool {
	for _, lying := range []bool{false, true} {
		if w, h := s.page(lying, longestRoll).window(); width <= w && height <= h {
			return true
		}
	}
	return false
}

// piecesOf gives a part whole, under its caption unless that is "", or in pieces where
// no page holds it.
func (s Setup) piecesOf(p draw.Part, caption string) []draw.Part {
	b := newBlock(p, 0, 0)
	head := 0.0
	if caption != "" {
		head = captionHeight
	}
	if s.fits(b.w, b.h+head) {
		if caption == "" {
			return []draw.Part{p}
		}
		return []draw.Part{captioned(&b.part.Drawing, b.shift, b.w, b.h, caption)}
	}
	if p.Split != nil && s.fits(b.w, 60) {
		return []draw.Part{p}
	}
	whole := draw.Sheet{Width: b.w, Height: b.h}
	whole.Drawing.Add(&p.Drawing, b.shift)
	g := s.gridFor(&whole, whole.Width > whole.Height)
	if other := s.gridFor(&whole, whole.Width <= whole.Height); other.pieces() < g.pieces() {
		g = other
	}
	var out []draw.Part
	for row := range g.rows {
		for column := range g.columns {
			d := g.piece(&whole, column, row)
			name := g.placeName(column, row)
			if caption != "" {
				name = caption + ", " + name
			}
			w := min(g.w, whole.Width+g.gx-g.columns[column])
			h := min(g.h, whole.Height+g.gy-g.rows[row])
			out = append(out, captioned(&d, draw.Pt(-g.columns[column], -g.rows[row]), w, h, name))
		}
	}
	return out
}

// captioned is a drawing, moved by a vector into its rectangle, under a caption.
func captioned(d *draw.Drawing, by draw.Point, w, h float64, caption string) draw.Part {
	out := draw.Part{Width: max(w, min(draw.TextWidth(caption, textSize), leastWidth)), Height: h + captionHeight}
	out.Drawing.Text(draw.Pt(0, 3.6), draw.Fit(caption, textSize, out.Width), draw.Ink, textSize, draw.Left)
	out.Drawing.Add(d, draw.Pt(by.X, by.Y+captionHeight))
	return out
}

// gridFor cuts a sheet for pages that lie or stand, leaving room for captions.
func (s Setup) gridFor(sheet *draw.Sheet, lying bool) grid {
	w, h := s.page(lying, longestRoll).window()
	return gridOf(sheet, w-1, h-captionHeight-1, s.Overlap) // lines cut at its sides are as wide as their pens
}

// Room tells what pages hold.
type Room struct {
	Column float64 // the width of a column of text and tables, several of which stand beside each other, mm
	Long   float64 // the length of the longest thing that goes onto a page
	Wide   float64 // the width of the widest table
	Gap    float64 // the space between neighbours
}

// narrowest is the least width of a column of text, mm.
const narrowest = 84

// Room tells what the pages of a setup hold, upright or lying.
func (s Setup) Room() (Room, error) {
	s, err := s.filled()
	if err != nil {
		return Room{}, err
	}
	column := func(w float64) float64 { // in whole mm, by which a page is filled
		n := max(float64(int((w+gap)/(narrowest+gap))), 1)
		return math.Floor((w+gap)/n - gap)
	}
	across, _ := s.page(false, longestRoll).window()
	along, _ := s.page(true, longestRoll).window()
	r := Room{Column: column(across), Long: max(across, along), Wide: max(across, along), Gap: gap}
	if s.isRoll() {
		r.Wide = across
		return r, nil
	}
	r.Column = min(r.Column, column(along))
	return r, nil
}
