package paper

import (
	"cmp"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
)

// gap is the space kept between what shares a page, mm.
const gap = 3

// block is a part of a sheet, as it is laid on a page.
type block struct {
	part    draw.Part
	sheet   int  // its sheet's number among those given
	section int  // counts the sections, in their order
	after   bool // it stands on no page before the block ahead of it
	shift   draw.Point
	w, h    float64   // the rectangle of all its ink
	top     []float64 // at every mm across, how far down nothing is drawn
	foot    []float64 // and from where on nothing is any more
}

// newBlock measures a part: what is drawn beyond its rectangle widens the block, so
// that it is laid on the page whole.
func newBlock(p draw.Part, sheet, section int) block {
	b := block{part: p, sheet: sheet, section: section, after: p.Follows, w: p.Width, h: p.Height}
	if from, to, ok := p.Drawing.Bounds(); ok {
		b.shift = draw.Pt(math.Max(-from.X, 0), math.Max(-from.Y, 0))
		b.w, b.h = math.Max(b.w, to.X)+b.shift.X, math.Max(b.h, to.Y)+b.shift.Y
	}
	b.measure()
	return b
}

// measure finds where a block is empty above and below, to within gap on either side.
func (b *block) measure() {
	n := int(math.Ceil(b.w - 1e-9))
	b.top, b.foot = make([]float64, n), make([]float64, n)
	for i := range n {
		b.foot[i] = b.h
	}
	if !b.part.Nests {
		return
	}
	for i := range n {
		b.top[i], b.foot[i] = b.h, 0
	}
	for _, it := range b.part.Drawing.Items {
		b.inked(it)
	}
}

func (b *block) inked(it draw.Item) {
	if s, ok := it.(draw.Stroke); ok {
		for i := 1; i < len(s.Points); i++ {
			b.box(draw.Bounds(draw.Stroke{Points: s.Points[i-1 : i+1], Pen: s.Pen}))
		}
		return
	}
	b.box(draw.Bounds(it))
}

func (b *block) box(from, to draw.Point) {
	first, last := int(from.X+b.shift.X)-gap, int(to.X+b.shift.X)+gap
	for i := max(first, 0); i <= min(last, len(b.top)-1); i++ {
		b.top[i] = math.Min(b.top[i], from.Y+b.shift.Y)
		b.foot[i] = math.Max(b.foot[i], to.Y+b.shift.Y)
	}
}

// placed is a block by the upper left corner of its rectangle in a page's window.
type placed struct {
	block
	at draw.Point
}

// skyline is how far down a page is taken at every mm across: blocks go where they come
// highest, and of such places leftmost. (Bottom-left rule: Jylänki, A Thousand Ways to
// Pack the Bin, 2010, section 2.3, here with sides that need not be straight.)
type skyline struct {
	w, h  float64
	taken []float64
}

func newSkyline(w, h float64) *skyline {
	return &skyline{w, h, make([]float64, int(w)+1)}
}

// spot finds the highest place for a block as wide as the page lets it be; ok is false
// where it is wider than the page.
func (s *skyline) spot(b *block) (at draw.Point, ok bool) {
	if b.w > s.w+1e-6 {
		return at, false
	}
	best := math.Inf(1)
	try := func(x int) {
		y := 0.0
		for i := range b.top {
			if j := x + i; j < len(s.taken) {
				y = math.Max(y, s.taken[j]-b.top[i])
			}
		}
		if y < best-1e-9 {
			best, at = y, draw.Pt(float64(x), y)
		}
	}
	try(0)
	for x := 1; float64(x)+b.w <= s.w+1e-6; x++ {
		if s.taken[x] != s.taken[x-1] {
			try(x)
		}
	}
	return at, true
}

// put takes the place of a block.
func (s *skyline) put(b *block, at draw.Point) {
	x := int(at.X)
	for i := -gap; i < len(b.foot)+gap; i++ {
		if j := x + i; j >= 0 && j < len(s.taken) {
			foot := b.foot[min(max(i, 0), len(b.foot)-1)]
			if i >= 0 && i < len(b.foot) || !b.part.Nests {
				s.taken[j] = math.Max(s.taken[j], at.Y+foot+gap)
			}
		}
	}
}

// most blocks that are tried in vain before a page counts as full.
const patience = 60

// layPage lays blocks on one page of that window, in their order as far as they fit, and
// gives the rest. What does not fit may be passed over by its own section and the next.
func layPage(blocks []block, w, h float64) (on []placed, rest []block) {
	s := newSkyline(w, h)
	rest = make([]block, 0, len(blocks))
	passed, first, waits := 0, -1, false // waits: the block ahead goes onto a later page
	for _, b := range blocks {
		late := first >= 0 && b.section > first+1
		tail := &b
		for tail != nil && passed <= patience && !late && !(waits && b.after) {
			head, more, ok := s.place(*tail)
			back := ok && tail != &b && head.at.X <= on[len(on)-1].at.X // a part left of what it goes on from misleads
			if !ok || back {
				passed++
				break
			}
			s.put(&head.block, head.at)
			on, tail = append(on, head), more
		}
		if waits = tail != nil; waits {
			rest = append(rest, *tail)
			if first < 0 {
				first = b.section
			}
		}
	}
	return on, rest
}

// place finds the place of a block on the page, or of as much of it as there is room for
// where it can be split.
func (s *skyline) place(b block) (on placed, rest *block, ok bool) {
	at, ok := s.spot(&b)
	if !ok {
		return on, nil, false
	}
	if at.Y+b.h > s.h+1e-6 {
		if b.part.Split == nil {
			return on, nil, false
		}
		head, tail, ok := b.part.Split(s.h - at.Y)
		if !ok {
			return on, nil, false
		}
		t := newBlock(tail, b.sheet, b.section)
		t.after = true
		b, rest = newBlock(head, b.sheet, b.section), &t
		if at.Y+b.h > s.h+1e-6 {
			return on, nil, false
		}
	}
	return placed{b, at}, rest, true
}

// use is the share of a window that the rectangles of its blocks cover, each with half
// of the space that it keeps from others; it is counted on a grid of 1 mm.
func use(on []placed, w, h float64) float64 {
	nx, ny := int(w), int(h)
	cells, n := make([]uint64, nx*ny/64+1), 0 // a bit each
	for _, b := range on {
		x0, x1 := max(int(b.at.X-gap/2.0+0.5), 0), min(int(b.at.X+b.w+gap/2.0+0.5), nx)
		y0, y1 := max(int(b.at.Y-gap/2.0+0.5), 0), min(int(b.at.Y+b.h+gap/2.0+0.5), ny)
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				c, bit := (y*nx+x)/64, uint64(1)<<((y*nx+x)%64)
				if cells[c]&bit == 0 {
					cells[c] |= bit
					n++
				}
			}
		}
	}
	return float64(n) / float64(nx*ny)
}

// full is a page with what is laid on it.
type full struct {
	page
	on  []placed
	use float64
}

// course is a way to lay out the pages so far.
type course struct {
	pages []full
	rest  []block
	used  float64 // the sum of the use of its pages
}

// courses are as many as are followed at a time.
const courses = 4

// fewest lays blocks out on pages upright and lying. Of what comes about by the one or
// the other, page by page, the courses that use their pages best are followed, since
// the fullest page at first may leave more for the last ones. stuck is a block that
// goes onto no page.
func (s Setup) fewest(blocks []block) (pages []full, stuck *block) {
	ways := []course{{rest: blocks}}
	for {
		var next []course
		for _, c := range ways {
			if len(c.rest) == 0 {
				return c.pages, nil // the best of those that end first
			}
			for _, f := range s.fills(c.rest) {
				next = append(next, course{append(slices.Clip(c.pages), f.full), f.rest, c.used + f.use})
			}
		}
		if len(next) == 0 {
			return nil, &ways[0].rest[0]
		}
		slices.SortStableFunc(next, func(a, b course) int {
			return cmp.Or(cmp.Compare(min(len(a.rest), 1), min(len(b.rest), 1)), cmp.Compare(b.used, a.used))
		})
		next = slices.CompactFunc(next, func(a, b course) bool { return len(a.rest) == len(b.rest) && a.used == b.used })
		ways = next[:min(courses, len(next))]
	}
}

// filled is a page and what did not go onto it.
type filled struct {
	full
	rest []block
}

// fills lays out one page upright and one lying.
func (s Setup) fills(blocks []block) (out []filled) {
	for _, lying := range []bool{false, true} {
		long := float64(handyRoll)
		if lying && s.isRoll() {
			for _, b := range blocks {
				long = math.Max(long, b.w+2*s.Margin)
			}
			long = math.Min(long, longestRoll)
		}
		p := s.page(lying, long)
		w, h := p.window()
		on, left := layPage(blocks, w, h)
		if len(on) == 0 {
			continue
		}
		if s.isRoll() {
			p = trimmedTo(p, on, lying)
			w, h = p.window()
		}
		out = append(out, filled{full{p, on, use(on, w, h)}, left})
	}
	return out
}

// trimmedTo is a page of a roll cut off behind its blocks.
func trimmedTo(p page, on []placed, lying bool) page {
	w, h := 0.0, 0.0
	for _, b := range on {
		w, h = math.Max(w, b.at.X+b.w), math.Max(h, b.at.Y+b.h)
	}
	return p.trimmed(lying, w, h)
}
