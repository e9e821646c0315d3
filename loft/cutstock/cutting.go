package cutstock

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Strip describes strips of one length from which pieces may be cut.
type Strip struct {
	Length float64 // mm
	Price  float64 // of one, in any currency; ignored for the box
	Count  int     // number available; negative for unlimited
}

// CutStrip is one strip and what is cut from it.
type CutStrip struct {
	Box    bool      // from the box; else bought
	Of     int       // its index in the box or the shop
	Length float64   // mm
	Pieces []int     // their indices, in the order of laying
	At     []float64 // mm from the strip's end to the beginning of each
	Left   float64   // mm left over at the far end
}

// Cutting is what to cut from which strip.
type Cutting struct {
	Strips   []CutStrip // in the order in which they are first needed
	Left     []int      // pieces for which no strip is left: none if there are enough strips
	Used     []int      // number used of each kind in the box
	Bought   []int      // number bought of each kind in the shop
	Cost     float64    // of those bought: money, or mm if a kind of strip has no price
	Bound    float64    // proved lower bound on the cost of any cutting; 0 if pieces are left
	ByLength bool       // whether the cost is in mm
	Length   float64    // mm of all strips used
	Kerf     float64    // mm lost between pieces
	Waste    float64    // mm left over of all strips used, kerf included
}

// Optimal reports whether nothing could cost less, and no piece is left.
func (c *Cutting) Optimal() bool { return len(c.Left) == 0 && c.Bound >= c.Cost }

// Gap is the greatest amount by which another cutting might cost less.
func (c *Cutting) Gap() float64 { return max(c.Cost-c.Bound, 0) }

// cutUnit is the step, mm, in which lengths are computed: a tenth of a nanometre, to
// which pieces, kerfs and strips are rounded. What is cut from a strip may thus overrun
// it by half of that for each piece and kerf, which nobody can see or saw; and no piece
// that fits is rejected for more than that.
const cutUnit = 1e-7

// mostCutPieces and Longest limit what Cut accepts.
const (
	mostCutPieces = 5000
	Longest       = 20000 // mm
)

// Cut finds from which strips to cut pieces of these lengths (mm, in the order of
// laying), with a kerf lost between two pieces of one strip: first from those in the
// box, which cost nothing more, then from those bought, for the least money (or the
// least length if a kind on sale has no price). The same input gives the same cutting.
// The error names a piece, strip or kerf that makes no sense, or wraps the context's if
// that ends first.
//
// This is the one-dimensional cutting stock problem with several lengths. Strips are
// filled with the longest piece first, and the rest of each as full as possible (the
// minimum bin slack heuristic of Gupta and Ho, Production Planning & Control 10, 1999);
// the bound comes from dual feasible functions (Fekete and Schepers, Math. Programming
// 91, 2001) and from the linear program over cutting patterns (Gilmore and Gomory,
// Operations Research 9, 1961), whose patterns also guide the search for something
// better, together with values learnt from pass to pass. Lengths are distinguished to a
// tenth of a nanometre and prices to a millionth. The work is limited by a count of
// steps.
func Cut(ctx context.Context, pieces []float64, box, shop []Strip, kerf float64) (*Cutting, error) {
	if err := cuttable(pieces, box, shop, kerf); err != nil {
		return nil, err
	}
	j := newCutJob(pieces, box, shop, kerf)
	j.budget = effort{ctx, cutBudget}
	best, bound := j.solve()
	if err := stopped(ctx, "the cutting"); err != nil {
		return nil, err
	}
	return j.report(pieces, box, shop, kerf, best, bound), nil
}

// cuttable refuses input that makes no sense.
func cuttable(pieces []float64, box, shop []Strip, kerf float64) error {
	if !(kerf >= 0) || kerf > Longest {
		return tongue.Errorf("a kerf of %g mm is impossible: give 0 or more", kerf)
	}
	if len(pieces) > mostCutPieces {
		return tongue.Errorf("there are %d pieces, more than the limit of %d: cut one layer or one width at a time", len(pieces), mostCutPieces)
	}
	for i, p := range pieces {
		if !(p > 0) || p > Longest {
			return tongue.Errorf("piece %d is %g mm long: give it above 0 and at most %d", i+1, p, Longest)
		}
	}
	for i, s := range box {
		if err := s.sound(i, "box"); err != nil {
			return err
		}
	}
	for i, s := range shop {
		if err := s.sound(i, "shop"); err != nil {
			return err
		}
		if !(s.Price >= 0) || s.Price > 1e6 {
			return tongue.Errorf("strip %d of the shop costs %g: give 0 to 1000000", i+1, s.Price)
		}
	}
	return nil
}

func (s Strip) sound(i int, where string) error {
	if !(s.Length > 0) || s.Length > Longest {
		return tongue.Errorf("strip %d of the %s is %g mm long: give it above 0 and at most %d", i+1, where, s.Length, Longest)
	}
	return nil
}

// cutKind is strips of one length as the search sees them: whole numbers.
type cutKind struct {
	room  int // units, one kerf longer than the strip
	price int
	count int // unlimited: -1
}

// cutItem is pieces of one length.
type cutItem struct {
	size  int // units, kerf included
	count int
}

// packed is one strip cut: its kind, and the item of each of its pieces.
type packed struct {
	kind int
	of   []int
}

// cutJob is a problem in whole numbers. Its kinds are the box, the shop and last, where
// strips may not suffice, one in unlimited supply that costs more than all the others.
type cutJob struct {
	kinds   []cutKind
	items   []cutItem // by falling size
	members [][]int   // the pieces of each item
	boxes   int       // kinds of the box
	shops   int
	scale   float64 // price units in a unit of money, or mm
	lengthy bool    // the cost is in mm
	budget  effort
}

// cutBudget is the number of steps of a few nanoseconds that the search may take: about
// half a second's work.
const cutBudget = 5e8

// moneyUnit is the step to which prices are rounded.
const moneyUnit = 1e-6

func newCutJob(pieces []float64, box, shop []Strip, kerf float64) *cutJob {
	j := kindsOnly(box, shop, kerf)
	lost := units(kerf)
	dear := 1
	for _, k := range j.kinds {
		dear = max(dear, k.price)
	}
	order := make([]int, len(pieces))
	longest := 0
	for i := range order {
		order[i] = i
		longest = max(longest, units(pieces[i])+lost)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(units(pieces[b]), units(pieces[a])) })
	for _, p := range order {
		size := units(pieces[p]) + lost
		if n := len(j.items); n == 0 || j.items[n-1].size != size {
			j.items, j.members = append(j.items, cutItem{size: size}), append(j.members, nil)
		}
		n := len(j.items) - 1
		j.items[n].count++
		j.members[n] = append(j.members[n], p)
	}
	if !slices.ContainsFunc(j.kinds, func(k cutKind) bool { return k.count < 0 && k.room >= longest }) {
		// It holds any piece, and one such strip is dearer than a strip for every piece.
		j.kinds = append(j.kinds, cutKind{longest, dear * (len(pieces) + 1), -1})
	}
	j.coarsen()
	return j
}

// kindsOnly is a problem without pieces.
func kindsOnly(box, shop []Strip, kerf float64) *cutJob {
	j := &cutJob{boxes: len(box), shops: len(shop), scale: 1 / moneyUnit}
	for _, s := range shop {
		j.lengthy = j.lengthy || s.Price == 0
	}
	lost := units(kerf)
	for _, s := range box {
		j.kinds = append(j.kinds, cutKind{units(s.Length) + lost, 0, s.Count})
	}
	for _, s := range shop {
		price := max(int(math.Round(s.Price/moneyUnit)), 1)
		if j.lengthy {
			price = units(s.Length)
		}
		j.kinds = append(j.kinds, cutKind{units(s.Length) + lost, max(price, 1), s.Count})
	}
	if j.lengthy {
		j.scale = 1 / cutUnit
	}
	j.coarsenPrices()
	return j
}

func units(mm float64) int { return int(math.Round(mm / cutUnit)) }

// coarsenPrices takes the greatest unit in which all prices are whole.
func (j *cutJob) coarsenPrices() {
	g := 0
	for _, k := range j.kinds {
		g = gcd(g, k.price)
	}
	if g < 2 {
		return
	}
	for k := range j.kinds {
		j.kinds[k].price /= g
	}
	j.scale /= float64(g)
}

// coarsen takes the greatest unit in which all pieces are whole.
func (j *cutJob) coarsen() {
	g := 0
	for _, it := range j.items {
		g = gcd(g, it.size)
	}
	if g < 2 {
		return
	}
	for i := range j.items {
		j.items[i].size /= g
	}
	for k := range j.kinds {
		j.kinds[k].room /= g
	}
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// short is the kind that stands for missing strips, or −1.
func (j *cutJob) short() int {
	if len(j.kinds) > j.boxes+j.shops {
		return len(j.kinds) - 1
	}
	return -1
}

// cost is the price of all strips.
func cutCost(kinds []cutKind, strips []packed) int {
	sum := 0
	for _, s := range strips {
		sum += kinds[s.kind].price
	}
	return sum
}

// report gives a solution in the terms of the pieces.
func (j *cutJob) report(pieces []float64, box, shop []Strip, kerf float64, strips []packed, bound int) *Cutting {
	c := &Cutting{Used: make([]int, len(box)), Bought: make([]int, len(shop)), ByLength: j.lengthy}
	next := make([]int, len(j.items))
	cost := 0
	for _, s := range strips {
		var own []int
		for _, i := range s.of {
			own = append(own, j.members[i][next[i]])
			next[i]++
		}
		slices.Sort(own)
		if s.kind == j.short() {
			c.Left = append(c.Left, own...)
			continue
		}
		if len(own) == 0 {
			continue
		}
		cut := CutStrip{Box: s.kind < j.boxes, Of: s.kind, Pieces: own}
		if cut.Box {
			c.Used[cut.Of]++
			cut.Length = box[cut.Of].Length
		} else {
			cut.Of -= j.boxes
			c.Bought[cut.Of]++
			cut.Length = shop[cut.Of].Length
			cost += j.kinds[s.kind].price
			c.Cost += priceOf(shop[cut.Of], j.lengthy)
		}
		cut.lay(pieces, kerf)
		c.Length += cut.Length
		c.Kerf += kerf * float64(len(own)-1)
		c.Waste += cut.Length
		for _, p := range own {
			c.Waste -= pieces[p]
		}
		c.Strips = append(c.Strips, cut)
	}
	slices.Sort(c.Left)
	slices.SortFunc(c.Strips, func(a, b CutStrip) int { return cmp.Compare(a.Pieces[0], b.Pieces[0]) })
	switch {
	case len(c.Left) > 0: // nothing is proved about what cannot be cut
	case bound >= cost:
		c.Bound = c.Cost // in its own figures, which may be finer than the units
	default:
		c.Bound = min(float64(bound)/j.scale, c.Cost)
	}
	return c
}

// priceOf is the price at which a strip counts.
func priceOf(s Strip, lengthy bool) float64 {
	if lengthy {
		return s.Length
	}
	return s.Price
}

// lay places the pieces along the strip.
func (c *CutStrip) lay(pieces []float64, kerf float64) {
	at := 0.0
	for k, p := range c.Pieces {
		if k > 0 {
			at += kerf
		}
		c.At = append(c.At, at)
		at += pieces[p]
	}
	c.Left = max(c.Length-at, 0)
}
