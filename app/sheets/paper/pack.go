package paper

import (
	"cmp"
	"math"
	"math/bits"
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
	upright bool // its page is not to lie on its side
	shift   draw.Point
	w, h    float64   // the rectangle of all its ink
	top     []float64 // at every mm across, how far down nothing is drawn
	foot    []float64 // and from where on nothing is any more
	splits  map[float64]split
}

// split is a block split at a height; ok is false where it can't be.
type split struct {
	head, rest *block
	ok         bool
}

// splitAt splits a block, and keeps how: courses come to the same heights again and again.
func (b *block) splitAt(height float64) split {
	if was, ok := b.splits[height]; ok {
		return was
	}
	var out split
	if head, rest, ok := b.part.Split(height); ok {
		out = split{newBlock(head, b.sheet, b.section), newBlock(rest, b.sheet, b.section), true}
		out.rest.after = true
	}
	b.splits[height] = out
	return out
}

// newBlock measures a part: what is drawn beyond its rectangle widens the block, so
// that it is laid on the page whole.
func newBlock(p draw.Part, sheet, section int) *block {
	b := &block{part: p, sheet: sheet, section: section, after: p.Follows, w: p.Width, h: p.Height}
	if p.Split != nil {
		b.splits = map[float64]split{}
	}
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
	*block
	at draw.Point
}

// skyline is how far down a page is taken at every mm across: blocks go where they come
// highest, and of such places leftmost. (Bottom-left rule: Jylänki, A Thousand Ways to
// Pack the Bin, 2010, section 2.3, here with sides that need not be straight.) What a
// block closes off above itself is a pocket, a skyline of its own with a ceiling
// (ibid., section 2.4.3, the waste map).
type skyline struct {
	w, h    float64
	left    int // of a pocket: the column of the page at which it begins
	taken   []float64
	ceiling []float64 // of a pocket: how far down it reaches
	pockets []*skyline
}

// A pocket is at least that wide and high, mm: less holds nothing of use.
const (
	leastPocket = 12
	lowest      = 6
)

func newSkyline(w, h float64) *skyline {
	return &skyline{w: w, h: h, taken: make([]float64, int(w)+1)}
}

// spot finds the highest place for a block as wide as the page lets it be; ok is false
// where the page, or the room under a ceiling, has none.
func (s *skyline) spot(b *block) (at draw.Point, ok bool) {
	if b.w > s.w+1e-6 {
		return at, false
	}
	best := math.Inf(1)
	if s.ceiling == nil && b.part.Split == nil {
		best = s.h - b.h + 2e-6 // lower down it goes off the page
	}
	none := best
	try := func(x int) {
		y := 0.0
		for i, top := range b.top {
			if j := x + i; j < len(s.taken) && s.taken[j]-top > y {
				if y = s.taken[j] - top; y >= best-1e-9 {
					return
				}
			}
		}
		if y < best-1e-9 && s.under(b, x, y) {
			best, at = y, draw.Pt(float64(s.left+x), y)
		}
	}
	try(0)
	for x := 1; float64(x)+b.w <= s.w+1e-6; x++ {
		if s.taken[x] != s.taken[x-1] {
			try(x)
		}
	}
	return at, best < none
}

// under tells whether a block at a place stays clear of the ceiling.
func (s *skyline) under(b *block, x int, y float64) bool {
	if s.ceiling == nil {
		return true
	}
	for i, foot := range b.foot {
		if x+i >= len(s.ceiling) || y+foot > s.ceiling[x+i]+1e-9 {
			return false
		}
	}
	return true
}

// put takes the place of a block.
func (s *skyline) put(b *block, at draw.Point) {
	x := int(at.X) - s.left
	s.closeOff(b, x, at.Y)
	for i := -gap; i < len(b.foot)+gap; i++ {
		if j := x + i; j >= 0 && j < len(s.taken) {
			foot := b.foot[min(max(i, 0), len(b.foot)-1)]
			if i >= 0 && i < len(b.foot) || !b.part.Nests {
				s.taken[j] = math.Max(s.taken[j], at.Y+foot+gap)
			}
		}
	}
}

// closeOff keeps what lies free above a block as pockets. They stay a gap away from its
// sides, beside which others may come.
func (s *skyline) closeOff(b *block, x int, y float64) {
	from := -1
	for i := gap; i <= len(b.top)-gap; i++ {
		j := x + i
		free := i < len(b.top)-gap && j < len(s.taken) && y+b.top[i]-gap-s.taken[j] >= lowest
		if free && from < 0 {
			from = i
		}
		if free || from < 0 {
			continue
		}
		if i-from >= leastPocket {
			p := &skyline{left: s.left + x + from, w: float64(i - from)}
			for n := from; n < i; n++ {
				p.taken = append(p.taken, s.taken[x+n])
				p.ceiling = append(p.ceiling, y+b.top[n]-gap)
			}
			s.pockets = append(s.pockets, p)
		}
		from = -1
	}
}

// most blocks that are tried in vain before a page counts as full.
const patience = 60

// ahead is by how many sections one may run ahead of what waits: the pages stay in the
// order of the work, and are filled.
const ahead = 3

// layPage lays blocks on one page of that window, in their order as far as they fit, and
// gives the rest. What does not fit may be passed over by its own section and the next few,
// but for what leads its section.
// A block that leaves more than a share of its rectangle empty above itself waits until
// others have been tried; Inf lets none wait.
func layPage(blocks []*block, w, h, share float64) (on []placed, rest []*block) {
	s := newSkyline(w, h)
	on, rest = s.sweep(blocks, true, share)
	if !math.IsInf(share, 1) {
		var more []placed
		more, rest = s.sweep(rest, false, math.Inf(1))
		on = append(on, more...)
	}
	return on, rest
}

// sweep lays what fits of blocks and leaves no more than that share of their rectangles
// empty, the first in any case if it must be laid.
func (s *skyline) sweep(blocks []*block, must bool, share float64) (on []placed, rest []*block) {
	rest = make([]*block, 0, len(blocks))
	passed, first, led, waits := 0, -1, -1, false // waits: the block ahead goes onto a later page
	for i, b := range blocks {
		late := first >= 0 && b.section > first+ahead || b.section == led
		most := share
		if must && i == 0 {
			most = math.Inf(1)
		}
		tail := b
		for tail != nil && passed <= patience && !late && !(waits && b.after) {
			if tail == b {
				if p, at, ok := s.pocketFor(tail); ok {
					p.put(tail, at)
					on, tail = append(on, placed{tail, at}), nil
					continue
				}
			}
			head, more, ok := s.place(tail, most)
			back := ok && tail != b && head.at.X <= on[len(on)-1].at.X // a part left of what it goes on from misleads
			if !ok || back {
				passed++
				break
			}
			s.put(head.block, head.at)
			on, tail = append(on, head), more
		}
		if waits = tail != nil; waits {
			rest = append(rest, tail)
			if first < 0 {
				first = b.section
			}
			if b.part.Leads {
				led = b.section
			}
		}
	}
	return on, rest
}

// empty is the share of its rectangle that a block at a place leaves empty above itself.
func (s *skyline) empty(b *block, at draw.Point) float64 {
	sum := 0.0
	for i, top := range b.top {
		if j := int(at.X) - s.left + i; j < len(s.taken) {
			sum += math.Max(at.Y+top-s.taken[j], 0)
		}
	}
	return sum / (b.w * b.h)
}

// pocketFor finds the first pocket that holds a block.
func (s *skyline) pocketFor(b *block) (p *skyline, at draw.Point, ok bool) {
	for _, p := range s.pockets {
		if p, at, ok := p.pocketFor(b); ok {
			return p, at, true
		}
		if at, ok := p.spot(b); ok {
			return p, at, true
		}
	}
	return nil, at, false
}

// place finds the place of a block on the page, or of as much of it as there is room for
// where it can be split; none where it leaves more than that share of its rectangle empty.
func (s *skyline) place(b *block, share float64) (on placed, rest *block, ok bool) {
	at, ok := s.spot(b)
	if !ok || s.empty(b, at) > share {
		return on, nil, false
	}
	if at.Y+b.h > s.h+1e-6 {
		if b.part.Split == nil || !math.IsInf(share, 1) {
			return on, nil, false
		}
		parted := b.splitAt(s.h - at.Y)
		if !parted.ok {
			return on, nil, false
		}
		b, rest = parted.head, parted.rest
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
	row, n := make([]uint64, nx/64+1), 0 // a bit for each cell
	for y := range ny {
		clear(row)
		for _, b := range on {
			if y < int(b.at.Y-gap/2.0+0.5) || y >= int(b.at.Y+b.h+gap/2.0+0.5) {
				continue
			}
			x0, x1 := max(int(b.at.X-gap/2.0+0.5), 0), min(int(b.at.X+b.w+gap/2.0+0.5), nx)
			for i := x0 / 64; i*64 < x1; i++ {
				row[i] |= ^uint64(0) << max(x0-64*i, 0) & (^uint64(0) >> max(64*i+64-x1, 0))
			}
		}
		for _, c := range row {
			n += bits.OnesCount64(c)
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

// laid is a page of a course and those before it, which courses share.
type laid struct {
	full
	before *laid
}

// pages are all of them in their order.
func (l *laid) pages() (out []full) {
	for ; l != nil; l = l.before {
		out = append(out, l.full)
	}
	slices.Reverse(out)
	return out
}

// course is a way to lay out the pages so far.
type course struct {
	last       *laid
	rest       []*block
	used, room float64 // of all its pages, mm²
}

// with is a course that goes on by one page.
func (c *course) with(f filled) course {
	w, h := f.window()
	return course{&laid{f.full, c.last}, f.rest, c.used + f.use*w*h, c.room + w*h}
}

// density is the share of all its pages that is covered.
func (c *course) density() float64 { return c.used / c.room }

// followed is how many courses are followed at a time: many through a small book, of
// which a badly used page is a greater part and which takes less time; few along a roll,
// whose pages are few and are laid out in more ways.
func (s Setup) followed(blocks int) int {
	if s.isRoll() {
		return min(max(500/max(blocks, 1), 3), 6)
	}
	return min(max(3000/max(blocks, 1), 4), 60)
}

// fewest lays blocks out on pages upright and lying. Of what comes about by the one or
// the other, page by page, the courses that use their pages best are followed, since
// the fullest page at first may leave more for the last ones. stuck is a block that
// goes onto no page.
func (s Setup) fewest(blocks []*block) (pages []full, stuck *block) {
	ways := []course{{rest: blocks}}
	var done *course
	for {
		var next []course
		for _, c := range ways {
			if len(c.rest) == 0 {
				if !s.isRoll() || len(blocks) == 0 {
					return c.last.pages(), nil // the best of those that end first
				}
				if done == nil || c.density() > done.density() {
					done = &c // of a roll, that which takes the least of it
				}
				continue
			}
			for _, f := range s.fills(c.rest) {
				next = append(next, c.with(f))
			}
		}
		if len(next) == 0 && done != nil {
			return done.last.pages(), nil
		}
		if len(next) == 0 {
			return nil, ways[0].rest[0]
		}
		slices.SortStableFunc(next, func(a, b course) int {
			return cmp.Or(cmp.Compare(min(len(a.rest), 1), min(len(b.rest), 1)), cmp.Compare(b.density(), a.density()))
		})
		next = slices.CompactFunc(next, func(a, b course) bool { return len(a.rest) == len(b.rest) && a.used == b.used })
		ways = next[:min(s.followed(len(blocks)), len(next))]
	}
}

// filled is a page and what did not go onto it.
type filled struct {
	full
	rest []*block
}

// fewBlocks are so few that a roll is tried in more lengths for them.
const fewBlocks = 100

// fills lays out one page upright and one lying; of a roll, several lengths of it.
func (s Setup) fills(blocks []*block) (out []filled) {
	longs := []float64{0}
	if s.isRoll() {
		longs = []float64{0.8 * handyRoll, handyRoll, 1.2 * handyRoll}
		if len(blocks) <= fewBlocks {
			longs = append(longs, 0.9*handyRoll, 1.1*handyRoll, 1.3*handyRoll)
		}
	}
	for _, lying := range []bool{false, true} {
		if lying && blocks[0].upright {
			break
		}
		for _, long := range longs {
			if lying && s.isRoll() {
				for _, b := range blocks {
					long = math.Max(long, b.w+2*s.Margin)
				}
				long = math.Min(long, longestRoll)
			}
			for _, share := range shares {
				if f, ok := s.fill(blocks, s.page(lying, long), lying, share); ok {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// fill lays out a page; ok is false where nothing goes onto it.
func (s Setup) fill(blocks []*block, p page, lying bool, share float64) (out filled, ok bool) {
	w, h := p.window()
	on, rest := layPage(blocks, w, h, share)
	if len(on) == 0 {
		return out, false
	}
	if s.isRoll() {
		p = trimmedTo(p, on, lying)
		w, h = p.window()
	}
	return filled{full{p, on, use(on, w, h)}, rest}, true
}

// shares are those of a block's rectangle that it may leave empty before others are tried.
var shares = []float64{math.Inf(1), 0.2, 0.1, 0.05, 0.02}

// trimmedTo is a page of a roll cut off behind its blocks.
func trimmedTo(p page, on []placed, lying bool) page {
	w, h := 0.0, 0.0
	for _, b := range on {
		w, h = math.Max(w, b.at.X+b.w), math.Max(h, b.at.Y+b.h)
	}
	return p.trimmed(lying, w, h)
}
