package paper

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
)

// Spaces between what shares a page, and the height of the caption over each,
// mm.
const (
	gapAcross     = 8
	gapDown       = 6
	captionHeight = 6.5
)

// block is a small sheet, or one of the pieces of a long and low one, that
// may share a page with others.
type block struct {
	sheet  *draw.Sheet
	index  int // of the sheet
	grid   grid
	column int
}

func (b block) whole() bool { return b.grid.pieces() == 1 }

func (b block) width() float64 {
	if b.whole() {
		return math.Max(b.sheet.Width, draw.TextWidth(b.sheet.Title, textSize))
	}
	return math.Min(b.grid.w, b.sheet.Width+b.grid.gx-b.grid.columns[b.column])
}

func (b block) height() float64 { return captionHeight + b.sheet.Height + 2*b.grid.gy }

// caption names the sheet where the page does not, and the piece.
func (b block) caption(titled bool) string {
	piece := b.grid.placeName(b.column, 0)
	switch {
	case titled:
		return piece
	case piece == "":
		return b.sheet.Title
	}
	return b.sheet.Title + ", " + piece
}

// draw draws a block with its caption's corner at a place.
func (b block) draw(d *draw.Drawing, at draw.Point, titled bool) {
	d.Text(draw.Pt(at.X, at.Y+4), b.caption(titled), draw.Ink, textSize, draw.Left)
	part := b.sheet.Drawing
	if !b.whole() {
		part = b.grid.piece(b.sheet, b.column, 0)
	}
	d.Add(&part, draw.Pt(at.X-b.grid.columns[b.column], at.Y+captionHeight-b.grid.rows[0]))
}

// placed is a block by the corner of its caption in a page's window.
type placed struct {
	block
	at draw.Point
}

// run is sheets of one section that share pages, all upright or all lying.
type run struct {
	lying  bool
	sheets int
	pages  [][]placed
}

// share lays out as many sheets as it can, from one on, of one section, on
// pages that they share. ok is false where the first shares with nothing.
func share(sheets []draw.Sheet, first int, setup Setup) (leaves []leaf, n int, ok bool) {
	own := sheets[first].Width > sheets[first].Height
	best := setup.runFrom(sheets, first, own)
	if other := setup.runFrom(sheets, first, !own); setup.cost(other) < setup.cost(best) {
		best = other
	}
	if best.blocks() < 2 {
		return nil, 0, false
	}
	begun := -1
	for _, p := range best.pages {
		l := setup.shared(p, best.lying)
		for _, b := range p {
			if b.index > begun {
				begun = b.index
				l.starts = append(l.starts, Start{Sheet: begun, Y: l.windowTop() + b.at.Y})
			}
		}
		leaves = append(leaves, l)
	}
	return leaves, best.sheets, true
}

func (r run) blocks() int {
	n := 0
	for _, p := range r.pages {
		n += len(p)
	}
	return n
}

// cost is the pages that a sheet of a run takes, or the length of a roll; of
// two that take as many, the one in fewer pieces is cheaper.
func (s Setup) cost(r run) float64 {
	if r.sheets == 0 {
		return math.Inf(1)
	}
	sum := 0.01 * float64(r.blocks())
	for _, p := range r.pages {
		if !s.isRoll() {
			sum++
			continue
		}
		l := s.shared(p, r.lying)
		sum += l.width * l.height / s.Size.Width
	}
	return sum / float64(r.sheets)
}

// shared is a page with blocks.
func (s Setup) shared(blocks []placed, lying bool) leaf {
	p := s.page(lying, handyRoll)
	if s.isRoll() {
		w, h := 0.0, 0.0
		for _, b := range blocks {
			w = math.Max(w, b.at.X+b.width())
			h = math.Max(h, b.at.Y+b.height())
		}
		p = p.trimmed(lying, w, h)
	}
	sheet := blocks[0].sheet
	l := leaf{page: p, section: sheet.Section, title: sheet.Title}
	titled := blocks[0].index == blocks[len(blocks)-1].index
	if !titled {
		l.title = sheet.Section
	}
	l.drawing = func(d *draw.Drawing) {
		for _, b := range blocks {
			b.draw(d, draw.Pt(p.left()+b.at.X, p.windowTop()+b.at.Y), titled)
		}
	}
	return l
}

// runFrom packs the sheets of one section, from one on, until one comes that
// cannot share. A sheet that one page can hold stays on one.
func (s Setup) runFrom(sheets []draw.Sheet, first int, lying bool) run {
	w, h := s.page(lying, handyRoll).window()
	r := run{lying: lying}
	shelf := shelves{w: w, h: h}
	var now []placed
	for i := first; i < len(sheets) && sheets[i].Section == sheets[first].Section; i++ {
		blocks := s.blocksOf(&sheets[i], i, w, h)
		if blocks == nil {
			break
		}
		r.sheets++
		rest, fresh := shelf, shelves{w: w, h: h}
		if len(now) > 0 && !rest.holds(blocks) && fresh.holds(blocks) {
			r.pages, now, shelf = append(r.pages, now), nil, shelves{w: w, h: h}
		}
		for _, b := range blocks {
			at, ok := shelf.put(b)
			if !ok {
				r.pages, now, shelf = append(r.pages, now), nil, shelves{w: w, h: h}
				at, _ = shelf.put(b)
			}
			now = append(now, placed{b, at})
		}
	}
	if len(now) > 0 {
		r.pages = append(r.pages, now)
	}
	return r
}

// blocksOf gives the blocks of a sheet; none if it is too large to share. On
// a roll, nothing is cut that the roll holds whole.
func (s Setup) blocksOf(sheet *draw.Sheet, index int, w, h float64) []block {
	g := gridOf(sheet, w, h-captionHeight, s.Overlap)
	if len(g.rows) > 1 || g.pieces() > 1 && (s.isRoll() || g.gy < gutter) {
		return nil
	}
	var out []block
	for c := range g.columns {
		out = append(out, block{sheet: sheet, index: index, grid: g, column: c})
	}
	if b := out[0]; b.width() > w || b.height() > h {
		return nil
	}
	return out
}

// shelves are rows of blocks, each as high as its highest.
type shelves struct {
	w, h       float64
	x, y, high float64
}

// put places a block; ok is false where the page is full. A piece that joins
// one on its left begins a row: labels at its edge stand out into the margin.
func (s *shelves) put(b block) (at draw.Point, ok bool) {
	if s.x > 0 && (b.column > 0 || s.x+b.width() > s.w) {
		s.x, s.y, s.high = 0, s.y+s.high+gapDown, 0
	}
	if s.y+b.height() > s.h {
		return at, false
	}
	at = draw.Pt(s.x, s.y)
	s.x += b.width() + gapAcross
	s.high = math.Max(s.high, b.height())
	return at, true
}

func (s *shelves) holds(blocks []block) bool {
	for _, b := range blocks {
		if _, ok := s.put(b); !ok {
			return false
		}
	}
	return true
}
