package answer

import (
	"fmt"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/cutstock"
)

// Cutting is a layer cut into pieces, and these from strips, sheets and blocks.
type Cutting struct {
	Layer     int        `json:"layer,omitempty"` // from 1; left out where there is but one
	Lots      []CutLot   `json:"lots"`            // one a width of strip, the widest first
	Sheets    *CutSheets `json:"sheets"`          // null where no strake is cut from sheet
	Blocks    []CutBlock `json:"blocks"`          // in the order of laying
	Pieces    []CutPiece `json:"pieces"`          // in the order of laying
	Butts     int        `json:"butts"`           // on one side
	Breaches  []string   `json:"breaches"`        // where the rule of butts is not kept
	Pins      int        `json:"pins"`            // to have ready: the most that one strake takes on both sides
	Treenails int        `json:"pegs"`            // of the whole layer
	Cost      *float64   `json:"cost"`            // of strips and sheets together; null where a price is not known
	Advice    string     `json:"advice"`
}

// CutLot is the strips of one width.
type CutLot struct {
	Width     float64    `json:"width"`
	Thickness float64    `json:"thickness"`
	Species   string     `json:"species"`
	Assumed   bool       `json:"assumed"` // nothing of the kind is on sale: reckoned with the layer's own length
	Strips    []CutStrip `json:"strips"`  // in the order in which they are first wanted
	Buy       []Buy      `json:"buy"`
	FromBox   int        `json:"strips_from_box"`
	Cost      *float64   `json:"cost"` // null where a price is not known
	Bound     *float64   `json:"cost_bound"`
	Length    float64    `json:"length"`            // mm bought
	Least     float64    `json:"length_gap"`        // mm that another cutting might save at the most, where the cost is by length
	Gap       *float64   `json:"cost_gap"`          // what another cutting might save at the most
	Optimal   bool       `json:"optimal"`           // proven the cheapest for these pieces
	Butted    bool       `json:"butted"`            // some strakes are in several pieces: others would do
	Anywhere  bool       `json:"optimal_any_butts"` // proven the cheapest wherever on frames the strakes are butted, no oftener in all than here
	Might     *float64   `json:"gap_any_butts"`     // what butts elsewhere might save at the most, in money or mm as the cost is reckoned; null where that is not known
	Waste     float64    `json:"waste"`             // mm of the strips that is not laid: left over, kerfs and overhangs
	Missing   int        `json:"missing"`

	lengthy bool // Might is mm
}

// Buy is so many strips of one length.
type Buy struct {
	Length float64 `json:"length"`
	Count  int     `json:"count"`
	Price  float64 `json:"price"` // of one; 0 where it is not known
}

// CutStrip is a strip and what is cut from it.
type CutStrip struct {
	Number int     `json:"number"` // through the whole layer
	From   string  `json:"from"`   // box or shop
	Length float64 `json:"length"`
	Pieces []int   `json:"pieces"` // numbers of pieces, in the order of laying
	Left   float64 `json:"left"`
}

// CutPiece is a piece in the order of laying.
type CutPiece struct {
	Number    int     `json:"number"` // from 1
	Strake    string  `json:"strake"`
	Side      string  `json:"side"`
	Part      int     `json:"part"`
	Of        int     `json:"of"`
	From      string  `json:"from"` // frame, or empty where none is near
	To        string  `json:"to"`
	Length    float64 `json:"length"`   // to cut, the overhang included
	Overhang  float64 `json:"overhang"` // of the length, to hold it by: not laid
	Mode      string  `json:"mode"`     // sprung, spiled or block
	Strip     int     `json:"strip"`    // the strip's number; 0: none is left for it, or it is of none
	Sheet     int     `json:"sheet"`    // the sheet's number; 0 likewise
	Width     float64 `json:"width"`
	Pins      int     `json:"pins"`
	Treenails int     `json:"pegs"`
}

// CuttingOf puts the cutting of a layer into words; nil units tell mm.
func CuttingOf(k *loft.Planking, layer int, c *loft.CuttingPlan, u Units) Cutting {
	if u == nil {
		u = MM{}
	}
	l := k.Layers[layer]
	out := Cutting{Layer: layerKey(k, l), Lots: []CutLot{}, Pieces: []CutPiece{}, Breaches: []string{}, Butts: c.Butts, Pins: c.Pins, Treenails: c.Treenails}
	for _, b := range c.Breaches {
		out.Breaches = append(out.Breaches, BreachText(l, b))
	}
	strip, sheet := make([]int, len(c.Pieces)), make([]int, len(c.Pieces))
	number := 0
	for i := range c.Lots {
		lot := cutLot(k.Plan, &c.Lots[i], c.Pieces)
		for n, s := range c.Lots[i].Cutting.Strips {
			number++
			lot.Strips[n].Number = number
			for _, p := range s.Pieces {
				strip[c.Lots[i].Pieces[p]] = number
			}
		}
		out.Lots = append(out.Lots, lot)
	}
	out.Sheets, out.Blocks = sheetsOf(k.Plan, c, sheet, u), blocksOf(c)
	frame := func(f int) string {
		if f < 0 {
			return ""
		}
		return k.Plan.Hull.Frames[f].Name
	}
	for i, p := range c.Pieces {
		out.Pieces = append(out.Pieces, CutPiece{Number: i + 1, Strake: p.ID, Side: string(p.Side), Part: p.Number, Of: p.Of, From: frame(p.FromFrame), To: frame(p.ToFrame),
			Length: tidy(p.Length()), Overhang: tidy(p.Overhang), Mode: string(p.Mode), Strip: strip[i], Sheet: sheet[i], Width: tidy(p.Strip), Pins: p.Pins, Treenails: p.Treenails})
	}
	if cost, known := out.woodCost(); known {
		cost = tidy(cost)
		out.Cost = &cost
	}
	out.Advice = out.advise(u)
	return out
}

func cutLot(p *hull.Plan, lot *loft.Lot, pieces []loft.LaidPiece) CutLot {
	c := lot.Cutting
	out := CutLot{Width: tidy(lot.Width), Thickness: tidy(lot.Thickness), Species: lot.Species, Assumed: lot.Assumed, Strips: []CutStrip{}, Buy: []Buy{},
		Optimal: c.Optimal(), Butted: lot.Butted, Anywhere: lot.Proven(), Waste: tidy(lot.Waste(pieces)), Missing: len(c.Left),
		lengthy: c.ByLength || lot.Assumed}
	if lot.Least > 0 || c.Cost == 0 {
		might := tidy(c.Cost - lot.Least)
		out.Might = &might
	}
	for _, n := range c.Used {
		out.FromBox += n
	}
	for _, s := range c.Strips {
		from := "shop"
		if s.Box {
			from = "box"
		} else {
			out.Length += s.Length
			out.buy(p, lot, s)
		}
		cut := CutStrip{From: from, Length: tidy(s.Length), Pieces: []int{}, Left: tidy(s.Left)}
		for _, n := range s.Pieces {
			cut.Pieces = append(cut.Pieces, lot.Pieces[n]+1)
		}
		out.Strips = append(out.Strips, cut)
	}
	if c.ByLength || lot.Assumed {
		out.Least = tidy(c.Gap())
		if len(out.Buy) > 0 {
			return out
		}
	}
	cost, bound, gap := tidy(c.Cost), tidy(c.Bound), tidy(c.Gap())
	out.Cost, out.Bound, out.Gap = &cost, &bound, &gap
	return out
}

// buy counts a strip that is bought.
func (l *CutLot) buy(p *hull.Plan, lot *loft.Lot, s cutstock.CutStrip) {
	price := 0.0
	if !lot.Assumed {
		price = p.Shop[lot.Shop[s.Of]].Price
	}
	for i := range l.Buy {
		if l.Buy[i].Length == s.Length && l.Buy[i].Price == price {
			l.Buy[i].Count++
			return
		}
	}
	l.Buy = append(l.Buy, Buy{tidy(s.Length), 1, price})
}

// Tell says in one sentence what a lot takes and how near it is to the best.
func (l CutLot) Tell(u Units) string {
	text := tongue.T("Strips %s wide: %d of your own", u.Length(l.Width), l.FromBox)
	for _, b := range l.Buy {
		text += tongue.T(", buy %d of %s", b.Count, u.Length(b.Length))
		if b.Price > 0 {
			text += tongue.T(" at %.2f", b.Price)
		}
	}
	switch {
	case l.Missing > 0:
		return text + tongue.Count(l.Missing, "; no strip is left for %d piece: add more of your own or from a supplier", "; no strip is left for %d pieces: add more of your own or from a supplier", l.Missing)
	case l.Cost != nil:
		text += tongue.T("; cost %.2f", *l.Cost)
	}
	text += l.proof(u)
	if l.Assumed {
		text += tongue.T("; none of the kind is on sale, so the list counts strips of the layer's own length")
	}
	return text
}

// proof tells how near a lot is to the best, and of what that is proven.
func (l CutLot) proof(u Units) string {
	var text string
	these := l.Butted && !l.Anywhere
	switch {
	case l.Anywhere && l.Butted:
		return tongue.T(", proven the cheapest possible, wherever on the frames as few butts fall")
	case l.Optimal && these:
		text = tongue.T(", proven the cheapest for these pieces")
	case l.Optimal:
		text = tongue.T(", proven the cheapest possible")
	case l.Gap != nil && these:
		text = tongue.T(", proven within %.2f of the cheapest for these pieces", *l.Gap)
	case l.Gap != nil:
		text = tongue.T(", proven within %.2f of the cheapest possible", *l.Gap)
	case these:
		text = tongue.T(", proven within %s of the least length for these pieces", u.Length(l.Least))
	default:
		text = tongue.T(", proven within %s of the least length possible", u.Length(l.Least))
	}
	switch {
	case !l.Butted:
	case l.Might == nil:
		text += tongue.T("; butts elsewhere might save more")
	case l.lengthy:
		text += tongue.T("; butts elsewhere could save %s at the most", u.Length(*l.Might))
	default:
		text += tongue.T("; butts elsewhere could save %.2f at the most", *l.Might)
	}
	return text
}

func (c Cutting) advise(u Units) string {
	buy, box, missing := 0, 0, 0
	waste := 0.0
	for _, l := range c.Lots {
		for _, b := range l.Buy {
			buy += b.Count
		}
		box += l.FromBox
		missing += l.Missing
		waste += l.Waste
	}
	sprung := 0
	for _, p := range c.Pieces {
		if p.Mode == string(hull.Sprung) {
			sprung++
		}
	}
	text := tongue.T("Buy %d strips, besides %d of your own, for %d pieces with %s left over", buy, box, sprung, u.Length(waste))
	text += c.woodAdvice()
	text += tongue.T("; keep %d pins ready", c.Pins)
	if c.Treenails > 0 {
		text += tongue.T(" and %d treenails", c.Treenails)
	}
	if missing > 0 {
		text += tongue.Count(missing, ", but find strips for %d piece more", ", but find strips for %d pieces more", missing)
	}
	if n := len(c.Breaches); n > 0 {
		text += tongue.Count(n, "; at %d place butts lie nearer than the rule asks, which is common practice and no law",
			"; at %d places butts lie nearer than the rule asks, which is common practice and no law", n)
	}
	return text + "."
}

func (c Cutting) text(p *page) {
	p.gap()
	if c.Layer > 0 {
		p.line("Cutting, layer %d: %s", c.Layer, c.Advice)
	} else {
		p.line("Cutting: %s", c.Advice)
	}
	for _, l := range c.Lots {
		p.line("%s.", l.Tell(MM{}))
	}
	p.list(tongue.T("Butts"), c.Breaches)
	t := table{head: heads("piece", "strake", "side", "part", tongue.In("frame", "from"), tongue.In("frame", "to"), "length", "strip", "width", "pins", "treenails")}
	for _, s := range c.Pieces {
		width := ""
		if s.Mode == string(hull.Sprung) { // else it is from no strip
			width = decimals(s.Width, -1)
		}
		t.rows = append(t.rows, []string{strconv.Itoa(s.Number), s.Strake, said(sideWords, s.Side), fmt.Sprintf("%d/%d", s.Part, s.Of), s.From, s.To, decimals(s.Length, 1), s.Wood(), width, strconv.Itoa(s.Pins), strconv.Itoa(s.Treenails)})
	}
	p.table(t)
	t = table{head: heads("strip", tongue.In("wood", "from"), "width", "length", "pieces", tongue.In("wood", "left"))}
	for _, l := range c.Lots {
		for _, s := range l.Strips {
			t.rows = append(t.rows, []string{strconv.Itoa(s.Number), said(fromWords, s.From), decimals(l.Width, -1), decimals(s.Length, -1), joined(s.Pieces, strconv.Itoa), decimals(s.Left, 1)})
		}
	}
	p.table(t)
	c.sheetText(p)
	p.line("Cut on a support, in several light scores, fingers behind the blade. Sand with extraction and a mask.")
}

// Wood tells what a piece is cut from: the number of its strip, its sheet, or a block.
func (p CutPiece) Wood() string {
	switch {
	case p.Mode == string(hull.Block):
		return tongue.T("block")
	case p.Sheet > 0:
		return tongue.T("sheet %d", p.Sheet)
	case p.Strip > 0:
		return strconv.Itoa(p.Strip)
	case p.Mode == string(hull.Spiled):
		return tongue.T("no sheet")
	}
	return tongue.In("strip", "none")
}

// BreachText tells where the rule of butts is not kept, as a sentence.
func BreachText(l *loft.Layer, b loft.Breach) string {
	id := l.Strakes[b.Strake].ID
	if b.Kind == loft.NoFrame {
		return tongue.T("A butt of strake %s misses the frames: a bay there is longer than a strip.", id)
	}
	above, frame := l.Strakes[b.Above].ID, l.Surface.FrameName(b.Frame)
	if b.Kind == loft.OneFrame {
		return tongue.T("Strakes %s and %s both butt on frame %s with %d full strakes between, not %d.", above, id, frame, b.Has, b.Wants)
	}
	return tongue.T("The butt of strake %s on frame %s is %d frames from that of its neighbour %s, not %d.", id, frame, b.Has, above, b.Wants)
}
