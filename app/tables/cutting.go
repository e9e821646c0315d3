package tables

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Cut cuts every layer into pieces and these from strips, by the plan's rules
// but for the overhang: one answer a layer of the plan. The error says which
// setting does not go with the plan, or what cannot be cut.
func Cut(ctx context.Context, k *loft.Planking, s Settings) ([]*loft.CuttingPlan, error) {
	if err := s.check(k); err != nil {
		return nil, err
	}
	rules := k.Cutting()
	rules.Overhang = s.Overhang
	if rules == k.Cutting() {
		return k.CutLayers(ctx)
	}
	p := k.Plan.Clone()
	p.Cutting = rules
	return (&loft.Planking{Plan: p, Layers: k.Layers}).CutLayers(ctx)
}

// cuttingList is a row a piece to cut, layer by layer in the order of laying,
// and after the strakes of a layer its wedges, which are cut from what is left.
func cuttingList(k *loft.Planking, s Settings, cuts []*loft.CuttingPlan) Table {
	t := Table{Name: "cutting-list", Title: tongue.T("Cutting list"), Columns: []Column{
		{"side", tongue.T("side"), Text},
		{"layer", tongue.T("layer"), Whole},
		{"id", tongue.T("piece of"), Text},
		{"kind", tongue.T("kind"), Text},
		{"piece", tongue.T("piece"), Whole},
		{"pieces", tongue.T("of"), Whole},
		{"from", tongue.T("from frame"), Text},
		{"to", tongue.T("to frame"), Text},
		{"length_mm", tongue.T("length laid, mm"), Length},
		{"overhang_mm", tongue.T("overhang, mm"), Length},
		{"cut_length_mm", tongue.T("length to cut, mm"), Length},
		{"width_first_mm", tongue.T("width at its first frame (arc), mm"), Length},
		{"width_last_mm", tongue.T("width at its last frame (arc), mm"), Length},
		{"width_widest_mm", tongue.T("widest (arc), mm"), Length},
		{"width_narrowest_mm", tongue.T("narrowest (arc), mm"), Length},
		{"stock_width_mm", tongue.T("stock width, mm"), Length},
		{"stock_thickness_mm", tongue.T("stock thickness, mm"), Length},
		{"stock_length_mm", tongue.T("stock length, mm"), Length},
		{"species", tongue.T("species"), Text},
		{"strip", tongue.T("from strip"), Whole},
		{"strip_at_mm", tongue.T("from the strip's end, mm"), Length},
		{"straight_cuts", tongue.T("the strake's straight cuts"), Text},
		{"set", tongue.T("cut together with"), Text},
		{"mode", tongue.T("how it is made"), Text},
		{"sheet", tongue.T("from sheet"), Whole},
	}}
	for _, l := range s.layers(k) {
		t.pieces(k, l, cuts[l.Number-1])
		t.wedges(k, l)
	}
	return t
}

// origin is the strip or the sheet that a piece is cut from.
type origin struct {
	lot    *loft.Lot // nil of a piece from no strip
	number int       // of the strip, from 1 through all lots of the layer; 0 where no strip is left for it
	length float64
	at     float64
	sheet  int // the number of the sheet, from 1; 0 where it is from none
}

// origins gives the origin of every piece of a layer.
func origins(c *loft.CuttingPlan) []origin {
	out := make([]origin, len(c.Pieces))
	before := 0
	for i := range c.Lots {
		lot := &c.Lots[i]
		for _, piece := range lot.Pieces {
			out[piece].lot = lot
		}
		for n, strip := range lot.Cutting.Strips {
			for j, piece := range strip.Pieces {
				out[lot.Pieces[piece]] = origin{lot: lot, number: before + n + 1, length: strip.Length, at: strip.At[j]}
			}
		}
		before += len(lot.Cutting.Strips)
	}
	if c.Sheets != nil {
		for n, sheet := range c.Sheets.Nest.Sheets {
			for _, placed := range sheet.Pieces {
				o := &out[c.Sheets.Pieces[placed.Piece].Laid]
				o.sheet, o.length = n+1, sheet.Length
			}
		}
	}
	return out
}

// pieces adds the pieces of a layer's strakes.
func (t *Table) pieces(k *loft.Planking, l *loft.Layer, c *loft.CuttingPlan) {
	from, sets := origins(c), l.CutSets()
	for i, p := range c.Pieces {
		st, o := l.Strakes[p.Strake], from[i]
		cuts := l.CutsOf(st, st.At)
		w := widthsOf(l, p.Piece, cuts)
		stock := stockOf(k, l)
		var width, length, number, at, sheet any // nothing to tell where no wood is left
		if o.lot != nil {
			width = tidy(o.lot.Width)
		}
		switch {
		case o.number > 0:
			length, number, at = tidy(o.length), o.number, tidy(o.at)
		case o.sheet > 0:
			length, sheet = tidy(o.length), o.sheet
		}
		t.add(string(p.Side), l.Number, st.ID, strakeKind(st), p.Number, p.Of, frameName(k, p.FromFrame), frameName(k, p.ToFrame),
			tidy(p.To-p.From), tidy(p.Overhang), tidy(p.Length()), tidy(w.first), tidy(w.last), tidy(w.widest), tidy(w.narrowest),
			width, tidy(stock.Thickness), length, stock.Species, number, at, cutsText(l, cuts), others(sets, st), string(p.Mode), sheet)
	}
}

func strakeKind(st *loft.Strake) string {
	if st.Garboard {
		return "garboard"
	}
	return "strake"
}

// frameName names a frame; -1 is none.
func frameName(k *loft.Planking, frame int) string {
	if frame < 0 {
		return ""
	}
	return k.Plan.Hull.Frames[frame].Name
}

// cutsText tells the cuts of a sprung strake; "" of another.
func cutsText(l *loft.Layer, c *loft.Cuts) string {
	if c == nil {
		return ""
	}
	return answer.CutsText(l, c, answer.MM{})
}

// others are the strakes that are cut together with one.
func others(sets []loft.CutSet, st *loft.Strake) string {
	set := loft.SetOf(sets, st.ID)
	if set == nil || set.Cuts.Whole() {
		return ""
	}
	var ids []string
	for _, s := range set.Strakes {
		if s != st {
			ids = append(ids, s.ID)
		}
	}
	return strings.Join(ids, ", ")
}

// widths are those of a piece at the frames it is laid on, mm to cut.
type widths struct{ first, last, widest, narrowest float64 }

// widthsOf reads a piece's widths at the frames from its first to its last, where it
// is laid at all: those that its strip is planed to by the cuts, or where there are
// none those of its shape. Zero where it is laid at none.
func widthsOf(l *loft.Layer, p loft.Piece, cuts *loft.Cuts) widths {
	st := l.Strakes[p.Strake]
	w := widths{narrowest: math.Inf(1)}
	found := false
	for i, c := range st.At {
		at := st.Centre.S[l.Surface.FrameStation(i)] - st.Centre.S[st.From]
		if !c.Laid || at < p.From-1e-6 || at > p.To+1e-6 {
			continue
		}
		wide := c.WidthCut
		if cuts != nil {
			wide = cuts.Width(at)
		}
		if !found {
			w.first, found = wide, true
		}
		w.last = wide
		w.widest, w.narrowest = max(w.widest, wide), min(w.narrowest, wide)
	}
	if !found {
		return widths{}
	}
	return w
}

// wedges adds the wedges of a layer: a triangle each, cut over-long.
func (t *Table) wedges(k *loft.Planking, l *loft.Layer) {
	stock := stockOf(k, l)
	for _, side := range sides {
		for _, g := range l.Wedges {
			over := g.Length * l.Rules.WedgeOver
			t.add(side, l.Number, tongue.T("below %s", g.Below), wedgeKind(g), 1, 1, frameName(k, g.From), frameName(k, g.To),
				tidy(g.Length), tidy(over), tidy(g.Length+over), 0.0, tidy(g.Width), tidy(g.Width), 0.0,
				tidy(stock.Width), tidy(stock.Thickness), nil, stock.Species, nil, nil, "", "", nil, nil)
		}
	}
}

// strips is a row a kind of strip and layer: how many are cut up.
func strips(k *loft.Planking, s Settings, cuts []*loft.CuttingPlan) Table {
	t := Table{Name: "strips", Title: tongue.T("Strips"), Columns: []Column{
		{"layer", tongue.T("layer"), Whole},
		{"width_mm", tongue.T("width, mm"), Length},
		{"thickness_mm", tongue.T("thickness, mm"), Length},
		{"length_mm", tongue.T("length, mm"), Length},
		{"species", tongue.T("species"), Text},
		{"from", tongue.T("from"), Text},
		{"strips", tongue.T("strips"), Whole},
		{"pieces", tongue.T("pieces cut from them"), Whole},
		{"cut_mm", tongue.T("their length together, mm"), Length},
		{"left_over_mm", tongue.T("left over with the kerf, mm"), Length},
		{"first", tongue.T("the first strip's number"), Whole},
	}}
	for _, l := range s.layers(k) {
		for _, c := range Strips(cuts[l.Number-1]) {
			t.add(l.Number, tidy(c.Width), tidy(c.Thickness), tidy(c.Length), c.Species, c.From(), c.Strips, c.Pieces, tidy(c.Cut),
				tidy(float64(c.Strips)*c.Length-c.Cut), c.First)
		}
	}
	return t
}

// sheetWood is a row a sheet that spiled strakes are cut from, and after the sheets of a
// layer a row a block to carve, its breadth as the width.
func sheetWood(k *loft.Planking, s Settings, cuts []*loft.CuttingPlan) Table {
	t := Table{Name: "sheet-wood", Title: tongue.T("Sheet wood and blocks"), Columns: []Column{
		{"layer", tongue.T("layer"), Whole},
		{"kind", tongue.T("kind"), Text},
		{"number", tongue.T("number"), Whole},
		{"from", tongue.T("from"), Text},
		{"length_mm", tongue.T("length along the grain, mm"), Length},
		{"width_mm", tongue.T("width, mm"), Length},
		{"thickness_mm", tongue.T("thickness, mm"), Length},
		{"species", tongue.T("species"), Text},
		{"pieces", tongue.T("pieces cut from it"), Whole},
		{"strakes", tongue.T("strakes"), Text},
		{"waste_mm2", tongue.T("left over, mm²"), Length},
	}}
	for _, l := range s.layers(k) {
		c, species := cuts[l.Number-1], stockOf(k, l).Species
		if c.Sheets != nil {
			for n, sheet := range c.Sheets.Nest.Sheets {
				from := tongue.T("to buy")
				if sheet.Box {
					from = tongue.T("own wood")
				}
				t.add(l.Number, "sheet", n+1, from, tidy(sheet.Length), tidy(sheet.Width), tidy(c.Sheets.Thickness), species,
					len(sheet.Pieces), c.StrakesOn(n), tidy(sheet.Waste))
			}
		}
		for n, b := range c.Blocks {
			for range hull.Sides() {
				t.add(l.Number, "block", n+1, tongue.T("to buy"), tidy(b.Length), tidy(b.Breadth), tidy(b.Depth), species, 1, b.ID, nil)
			}
		}
	}
	return t
}

// StripCount is how many strips of a kind a layer takes for both sides.
type StripCount struct {
	Width, Thickness, Length float64 // mm
	Species                  string
	Box                      bool // from the box; else to be bought
	Strips, Pieces           int
	Cut                      float64 // mm of all pieces
	First                    int     // number of the first of them, as the pieces of the cutting list have it
}

// From tells where the strips come from.
func (c StripCount) From() string {
	if c.Box {
		return tongue.T("own wood")
	}
	return tongue.T("to buy")
}

// String tells it in words, as "27 strips of 5 x 1000 mm to buy, for 40 pieces".
func (c StripCount) String() string {
	where := tongue.T("to buy")
	if c.Box {
		where = tongue.T("your own")
	}
	return tongue.T("%d strips of %g x %g mm %s, for %d pieces", c.Strips, tidy(c.Width), tidy(c.Length), where, c.Pieces)
}

// Strips counts the strips that a layer is cut from, those of the box first,
// the longest first.
func Strips(c *loft.CuttingPlan) []StripCount {
	var out []StripCount
	before := 0
	for _, lot := range c.Lots {
		var kinds []StripCount
		for n, strip := range lot.Cutting.Strips {
			i := slices.IndexFunc(kinds, func(k StripCount) bool { return k.Box == strip.Box && k.Length == strip.Length })
			if i < 0 {
				i = len(kinds)
				kinds = append(kinds, StripCount{Width: lot.Width, Thickness: lot.Thickness, Length: strip.Length, Species: lot.Species, Box: strip.Box, First: before + n + 1})
			}
			kinds[i].Strips++
			kinds[i].Pieces += len(strip.Pieces)
			for _, piece := range strip.Pieces {
				kinds[i].Cut += c.Pieces[lot.Pieces[piece]].Length()
			}
		}
		slices.SortStableFunc(kinds, func(a, b StripCount) int {
			if a.Box != b.Box {
				if a.Box {
					return -1
				}
				return 1
			}
			return cmp.Compare(b.Length, a.Length)
		})
		out = append(out, kinds...)
		before += len(lot.Cutting.Strips)
	}
	return out
}

// Uncut is how many pieces of a layer no strip or sheet is left for.
func Uncut(c *loft.CuttingPlan) int {
	n := 0
	for _, lot := range c.Lots {
		n += len(lot.Cutting.Left)
	}
	if c.Sheets != nil {
		n += len(c.Sheets.Nest.Left)
	}
	return n
}
