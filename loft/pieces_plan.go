package loft

import (
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/cutstock"
)

// CuttingPlan is a layer cut into pieces, and these cut from strips, from sheets and
// from blocks, as each strake is made.
type CuttingPlan struct {
	*Butting
	Lots   []Lot        // one a width of strip, the widest first
	Sheets *SheetPlan   // of the spiled strakes; nil where there are none
	Blocks []BlockPiece // of those to be carved

	by     *buttSearch // what chose the butts
	chosen [][]buttAt  // of every strake
}

// Lot is the pieces of sprung strakes cut from strips of one width.
type Lot struct {
	Width, Thickness float64
	Species          string
	Pieces           []int             // indices into Butting.Pieces, in the order of laying
	Box, Shop        []int             // indices into the plan's box and shop, in the order of Cutting.Used and Bought
	Assumed          bool              // the shop has no such strip: reckoned with the layer's own length, without a price, and Shop is empty
	Cutting          *cutstock.Cutting // its pieces are indices into Pieces

	// Butted tells that strakes of the lot are in several pieces. Cutting.Bound is then
	// proven of these pieces alone, and Least of all others that such strakes may be in,
	// with no more butts in all, on frames and alike on both sides: no cutting of any
	// costs less, whether the butts keep the rule or not. Without butts it is
	// Cutting.Bound; 0 where nothing is proven, which is where a butt lies on no frame
	// or pieces are left.
	Butted bool
	Least  float64
}

// Proven tells whether nothing could cost less, wherever the strakes are butted.
func (l *Lot) Proven() bool { return l.Cutting.Optimal() && l.Least >= l.Cutting.Cost }

// Waste is the length, mm, of the strips used that is not laid: what is left of them,
// the kerfs and the overhangs. pieces are all of the layer.
func (l *Lot) Waste(pieces []LaidPiece) float64 {
	waste := 0.0
	for _, s := range l.Cutting.Strips {
		waste += s.Length
		for _, n := range s.Pieces {
			p := pieces[l.Pieces[n]]
			waste -= p.To - p.From
		}
	}
	return waste
}

// CutLayers cuts all layers from the plan's strips and sheets at hand and on sale, by
// the plan's rules and as each strake is made, from the frames outwards: what one takes the next no longer finds. It is the
// whole answer in one call, and may take a second for a lot of many pieces; it
// stops, with an error that wraps the context's, when the context ends. It is found
// once: whoever asks again is given the same, and changes nothing in it.
func (k *Planking) CutLayers(ctx context.Context) ([]*CuttingPlan, error) {
	k.cutMu.Lock()
	known := k.cut
	k.cutMu.Unlock()
	if known != nil {
		return known, nil
	}
	out, err := k.cutLayers(ctx)
	if err != nil {
		return nil, err
	}
	k.cutMu.Lock()
	defer k.cutMu.Unlock()
	if k.cut == nil {
		k.cut = out
	}
	return k.cut, nil
}

func (k *Planking) cutLayers(ctx context.Context) ([]*CuttingPlan, error) {
	p := k.Plan.Clone() // the counts go down
	var out []*CuttingPlan
	for i, l := range k.Layers {
		c, err := l.cutFrom(ctx, p, i)
		if err != nil {
			return nil, tongue.Errorf("layer %d: %w", i+1, err)
		}
		out = append(out, c)
	}
	return out, nil
}

// Butted gives the pieces of a layer (from 0) as CutLayers has them. Where no strake is
// butted there is but one way, and they are told at once; else the cutting is found, the
// first time.
func (k *Planking) Butted(layer int) *Butting {
	b := k.Layers[layer].buttEvenly(k.Cutting(), k.longest(layer))
	if b.Butts == 0 {
		return b
	}
	cut, err := k.CutLayers(context.Background())
	if err != nil { // a sheet or a strip is none, which the plan's checks refuse
		return b
	}
	return cut[layer].Butting
}

// cutFrom cuts a layer and takes what it uses out of the plan's box and shop. Of
// two ways to butt, into even pieces or into one as long as a strip and a short
// one, it takes that which keeps the rule better, and then the cheaper; and where it is
// not proven that no butts elsewhere would save a strip, it looks for some that do.
func (l *Layer) cutFrom(ctx context.Context, p *hull.Plan, index int) (*CuttingPlan, error) {
	rules := cuttingOf(p)
	longest := l.longestFor(p, index)
	var best *CuttingPlan
	for _, even := range []float64{evenCost, -evenCost} {
		s := newButtSearch(l, rules, longest)
		s.even = even
		chosen, err := s.search(ctx)
		if err != nil {
			return nil, err
		}
		if best, err = s.cheaperOf(ctx, best, chosen, p, index); err != nil {
			return nil, err
		}
		if best.Butts == 0 {
			break // there is but one way
		}
	}
	var err error
	if best, err = best.buttedElsewhere(ctx, p, index); err != nil {
		return nil, err
	}
	if best.Sheets, err = l.sheetsFrom(ctx, p, index, best.Butting); err != nil {
		return nil, err
	}
	best.Blocks = l.blocks(best.Butting)
	best.Spend(p)
	return best, nil
}

// cheaperOf gives the better of a cutting, or nil, and that at the butts chosen.
func (s *buttSearch) cheaperOf(ctx context.Context, than *CuttingPlan, chosen [][]buttAt, p *hull.Plan, index int) (*CuttingPlan, error) {
	c := &CuttingPlan{Butting: s.butting(chosen), by: s, chosen: chosen}
	stock := p.Layers[index].Stock
	if err := c.cutLots(ctx, p, stock, s.rules.Kerf); err != nil {
		return nil, err
	}
	if than != nil && !c.betterThan(than) {
		return than, nil
	}
	return c, s.prove(ctx, c, chosen, p, stock)
}

// buttedElsewhere is the cutting, or a better one with its butts elsewhere.
func (c *CuttingPlan) buttedElsewhere(ctx context.Context, p *hull.Plan, index int) (*CuttingPlan, error) {
	if c.buttsProven() {
		return c, nil
	}
	finds, err := c.by.rebutt(ctx, c.chosen, c.Lots, p, p.Layers[index].Stock)
	if err != nil {
		return nil, err
	}
	for _, chosen := range finds {
		if c, err = c.by.cheaperOf(ctx, c, chosen, p, index); err != nil || c.buttsProven() {
			return c, err
		}
	}
	return c, nil
}

// buttsProven tells whether no butts elsewhere could save a strip.
func (c *CuttingPlan) buttsProven() bool {
	return !slices.ContainsFunc(c.Lots, func(l Lot) bool { return l.Butted && l.Least < l.Cutting.Cost })
}

// Spend takes what a layer uses out of a plan's strips and sheets at hand and on sale.
func (c *CuttingPlan) Spend(p *hull.Plan) {
	for _, lot := range c.Lots {
		spend(p.Box, lot.Box, lot.Cutting.Used)
		spend(p.Shop, lot.Shop, lot.Cutting.Bought)
	}
	if s := c.Sheets; s != nil {
		spendSheets(p.SheetBox, s.Box, s.Nest.Used)
		spendSheets(p.SheetShop, s.Shop, s.Nest.Bought)
	}
}

// Cutting is how strakes are cut: the usual way where the plan says nothing.
func (k *Planking) Cutting() hull.Cutting { return cuttingOf(k.Plan) }

func cuttingOf(p *hull.Plan) hull.Cutting {
	if p.Cutting == (hull.Cutting{}) {
		return hull.NewCutting()
	}
	return p.Cutting
}

// longest gives the length, mm, up to which the pieces of a strake of a layer (from 0)
// are cut: that of the longest strip on sale of its width, of a spiled one what goes
// onto a sheet, and of one to be carved no limit.
func (k *Planking) longest(layer int) func(st *Strake) float64 {
	return k.Layers[layer].longestFor(k.Plan, layer)
}

func (l *Layer) longestFor(p *hull.Plan, index int) func(st *Strake) float64 {
	stock := p.Layers[index].Stock
	return func(st *Strake) float64 {
		switch {
		case st.Making.Mode == hull.Block:
			return math.Inf(1)
		case st.Making.Mode == hull.Spiled && st.To > st.From:
			return l.sheetReach(p, index, st)
		}
		return longestOnSale(fittingStrips(p.Shop, st.Strip, stock), stock.Length)
	}
}

// cutLots cuts the pieces, one width of strip after the other.
func (c *CuttingPlan) cutLots(ctx context.Context, p *hull.Plan, stock hull.Stock, kerf float64) error {
	for _, width := range widthsOf(c.Pieces) {
		lot := Lot{Width: width, Thickness: stock.Thickness, Species: stock.Species}
		var lengths []float64
		for i, piece := range c.Pieces {
			if piece.Mode == hull.Sprung && piece.Strip == width {
				lot.Pieces = append(lot.Pieces, i)
				lengths = append(lengths, piece.Length())
			}
		}
		box, shop := lot.strips(p, stock)
		var err error
		if lot.Cutting, err = cutstock.Cut(ctx, lengths, box, shop, kerf); err != nil {
			return tongue.Errorf("strips %g mm wide: %w", width, err)
		}
		c.Lots = append(c.Lots, lot)
	}
	return nil
}

// betterThan compares breaches, pieces left, butts, cost and strips, in that order.
func (c *CuttingPlan) betterThan(d *CuttingPlan) bool {
	return slices.Compare(c.merit(), d.merit()) < 0
}

func (c *CuttingPlan) merit() []float64 {
	left, cost, strips := 0, 0.0, 0
	for _, lot := range c.Lots {
		left += len(lot.Cutting.Left)
		cost += lot.Cutting.Cost
		strips += len(lot.Cutting.Strips)
	}
	return []float64{float64(len(c.Breaches)), float64(left), float64(c.Butts), cost, float64(strips)}
}

// spend takes so many of those strips away.
func spend(strips []hull.Strips, which, how []int) {
	for n, i := range which {
		if strips[i].Count > 0 {
			strips[i].Count -= how[n]
		}
	}
}

// widthsOf gives the widths of strip that pieces of sprung strakes are cut from,
// widest first.
func widthsOf(pieces []LaidPiece) []float64 {
	var out []float64
	for _, p := range pieces {
		if p.Mode == hull.Sprung && !slices.Contains(out, p.Strip) {
			out = append(out, p.Strip)
		}
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

// fittingStrips gives those of the strips, by index, that a layer of that stock may
// be laid with at that width.
func fittingStrips(strips []hull.Strips, width float64, stock hull.Stock) map[int]hull.Strips {
	out := map[int]hull.Strips{}
	for i, s := range strips {
		if s.Of(width, stock.Thickness, stock.Species) && s.Count != 0 {
			out[i] = s
		}
	}
	return out
}

// longestOnSale is the longest strip that there is no end of; where all have
// one the longest; where there is none, that of the stock.
func longestOnSale(shop map[int]hull.Strips, stock float64) float64 {
	endless, counted := 0.0, 0.0
	for _, s := range shop {
		if s.Count < 0 {
			endless = max(endless, s.Length)
		} else {
			counted = max(counted, s.Length)
		}
	}
	switch {
	case endless > 0:
		return endless
	case counted > 0:
		return counted
	}
	return stock
}

// strips finds the strips of the box and the shop for the lot.
func (l *Lot) strips(p *hull.Plan, stock hull.Stock) (box, shop []cutstock.Strip) {
	pick := func(strips []hull.Strips, into *[]int) (out []cutstock.Strip) {
		fit := fittingStrips(strips, l.Width, stock)
		for i, s := range strips {
			if _, ok := fit[i]; ok {
				*into = append(*into, i)
				out = append(out, cutstock.Strip{Length: s.Length, Price: s.Price, Count: s.Count})
			}
		}
		return out
	}
	box, shop = pick(p.Box, &l.Box), pick(p.Shop, &l.Shop)
	if len(shop) == 0 {
		l.Assumed = true
		shop = []cutstock.Strip{{Length: min(stock.Length, cutstock.Longest), Count: hull.AsMany}}
	}
	return box, shop
}
