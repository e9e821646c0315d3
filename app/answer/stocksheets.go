package answer

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// CutSheets is the sheet wood that the spiled strakes of a layer take.
type CutSheets struct {
	Thickness float64    `json:"thickness"`
	Species   string     `json:"species"`
	Assumed   bool       `json:"assumed"` // no such sheet is on sale: reckoned with the usual size
	Sheets    []CutSheet `json:"sheets"`
	Buy       []BuySheet `json:"buy"`
	FromBox   int        `json:"sheets_from_box"`
	Cost      *float64   `json:"cost"`           // null where a price is not known
	Bound     *float64   `json:"cost_bound"`     // the least that sheets of so much area cost
	Area      float64    `json:"area_mm2"`       // of the sheets used
	AreaBound float64    `json:"area_bound_mm2"` // where the cost is by area: the least area of whole sheets to buy
	Optimal   bool       `json:"optimal"`        // by the area alone: nothing could cost less
	Waste     float64    `json:"waste_mm2"`      // of the sheets used that no strake covers
	Missing   int        `json:"missing"`
	Margin    float64    `json:"margin"`
	Clear     float64    `json:"clear"`
	Advice    string     `json:"advice"`
}

// CutSheet is a sheet and what is cut from it.
type CutSheet struct {
	Number int          `json:"number"` // through the whole layer
	From   string       `json:"from"`   // box or shop
	Width  float64      `json:"width"`
	Length float64      `json:"length"` // along the grain
	Waste  float64      `json:"waste_mm2"`
	Pieces []SheetPlace `json:"pieces"`
}

// SheetPlace is where a piece lies on its sheet.
type SheetPlace struct {
	Piece  int     `json:"piece"` // its number in the order of laying
	Strake string  `json:"strake"`
	Over   bool    `json:"turned_over"`
	Turned bool    `json:"turned"` // by half a turn
	Tilt   float64 `json:"tilt_deg"`
	X      float64 `json:"x"` // of its least corner, from the sheet's, along the grain
	Y      float64 `json:"y"` // across it
}

// BuySheet is so many sheets of one size.
type BuySheet struct {
	Width  float64 `json:"width"`
	Length float64 `json:"length"`
	Count  int     `json:"count"`
	Price  float64 `json:"price"` // of one; 0 where it is not known
}

// CutBlock is the block that a strake to be carved needs, one a side.
type CutBlock struct {
	Strake  string  `json:"strake"`
	Length  float64 `json:"length"`
	Breadth float64 `json:"breadth"`
	Depth   float64 `json:"depth"`
	Count   int     `json:"count"` // both sides
	Rough   bool    `json:"rough"` // of the hull only girths are known
}

// sheetsOf puts the sheets of a layer into words; nil where there are none. Of
// each piece it gives the number of its sheet, or 0, into sheet.
func sheetsOf(p *hull.Plan, c *loft.CuttingPlan, sheet []int, u Units) *CutSheets {
	s := c.Sheets
	if s == nil {
		return nil
	}
	n := s.Nest
	out := &CutSheets{Thickness: tidy(s.Thickness), Species: s.Species, Assumed: s.Assumed, Sheets: []CutSheet{}, Buy: []BuySheet{},
		Area: tidy(n.Area), Optimal: n.Optimal(), Waste: tidy(n.Waste), Missing: len(n.Left), Margin: tidy(s.Margin), Clear: tidy(s.Clear)}
	for i, laid := range n.Sheets {
		one := CutSheet{Number: i + 1, From: "shop", Width: tidy(laid.Width), Length: tidy(laid.Length), Waste: tidy(laid.Waste), Pieces: []SheetPlace{}}
		if laid.Box {
			one.From = "box"
			out.FromBox++
		} else {
			price := 0.0
			if !s.Assumed {
				price = p.SheetShop[s.Shop[laid.Of]].Price
			}
			out.buy(one, price)
		}
		for _, placed := range laid.Pieces {
			number := s.Pieces[placed.Piece].Laid
			sheet[number] = i + 1
			x, y := math.Inf(1), math.Inf(1)
			for _, q := range s.Outline(placed) {
				x, y = min(x, q.X()), min(y, q.Y())
			}
			one.Pieces = append(one.Pieces, SheetPlace{number + 1, c.Pieces[number].ID, placed.Mirrored, placed.Turned,
				tidy(hull.Angle(placed.Tilt).Degrees()), tidy(x), tidy(y)})
		}
		out.Sheets = append(out.Sheets, one)
	}
	if n.ByArea || s.Assumed {
		out.AreaBound = tidy(n.Bound)
	}
	if !n.ByArea || len(out.Buy) == 0 {
		cost, bound := tidy(n.Cost), tidy(n.Bound)
		out.Cost, out.Bound = &cost, &bound
	}
	out.Advice = out.advise(u)
	return out
}

// buy counts a sheet that is bought.
func (s *CutSheets) buy(one CutSheet, price float64) {
	for i := range s.Buy {
		if b := &s.Buy[i]; b.Width == one.Width && b.Length == one.Length && b.Price == price {
			b.Count++
			return
		}
	}
	s.Buy = append(s.Buy, BuySheet{one.Width, one.Length, 1, price})
}

// size tells the size of a sheet, the length along the grain.
func sheetSize(width, length float64, u Units) string {
	return number(u, width, 0) + " × " + told(u, length, 0)
}

// advise says in one sentence what sheets are taken, and how near that is to what
// the area alone asks for.
func (s *CutSheets) advise(u Units) string {
	text := tongue.T("Sheet wood %s thick", told(u, s.Thickness, 1))
	if s.Species != "" {
		text += tongue.T(" of %s", s.Species)
	}
	text += tongue.T(", the grain along the length: %d of your own", s.FromBox)
	for _, b := range s.Buy {
		text += tongue.T(", buy %d of %s", b.Count, sheetSize(b.Width, b.Length, u))
		if b.Price > 0 {
			text += tongue.T(" at %.2f", b.Price)
		}
	}
	if s.Missing > 0 {
		return text + tongue.T("; no sheet is large enough or left for %s: give longer or wider sheets, or more", pieces(s.Missing)) + "."
	}
	if s.Cost != nil {
		text += tongue.T("; cost %.2f", *s.Cost)
	}
	text += tongue.T("; %.0f %% of it is left over", 100*s.Waste/max(s.Area, 1e-9))
	switch {
	case s.Optimal:
		text += tongue.T(", the fewest that the area allows")
	case s.Bound != nil:
		text += tongue.T("; the least cost by area alone is %.2f", *s.Bound)
	default:
		text += tongue.T("; the least by area alone is %s of sheets", u.Area(s.AreaBound))
	}
	if s.Assumed {
		text += tongue.T("; no such sheet is on sale, so the list counts the usual size, without a price")
	}
	return text + "."
}

// blocksOf tells the blocks of a layer.
func blocksOf(c *loft.CuttingPlan) []CutBlock {
	out := []CutBlock{}
	for _, b := range c.Blocks {
		out = append(out, CutBlock{b.ID, tidy(b.Length), tidy(b.Breadth), tidy(b.Depth), len(hull.Sides()), b.Rough})
	}
	return out
}

// Tell says what wood a block takes.
func (b CutBlock) Tell(u Units) string {
	text := tongue.T("Strake %s is carved: %d blocks of %s × %s × %s", b.Strake, b.Count,
		number(u, b.Length, 1), number(u, b.Breadth, 1), told(u, b.Depth, 1))
	if b.Rough {
		text += tongue.T(", of a flat strake, since only girths are known")
	}
	return text + "."
}

// woodCost adds up what the strips and the sheets bought for a layer cost; false
// where a price is not known.
func (c Cutting) woodCost() (float64, bool) {
	sum := 0.0
	for _, l := range c.Lots {
		if l.Cost == nil {
			return 0, false
		}
		sum += *l.Cost
	}
	if c.Sheets != nil {
		if c.Sheets.Cost == nil {
			return 0, false
		}
		sum += *c.Sheets.Cost
	}
	return sum, true
}

// woodAdvice is what sheets, blocks and all together come to, after the strips.
func (c Cutting) woodAdvice() string {
	var parts []string
	if s := c.Sheets; s != nil {
		bought := 0
		for _, b := range s.Buy {
			bought += b.Count
		}
		n := 0
		for _, p := range c.Pieces {
			if p.Mode == string(hull.Spiled) {
				n++
			}
		}
		parts = append(parts, tongue.T("buy %s, besides %d of your own, for %s cut to a flat shape", counted(bought, "no sheets", "%d sheet", "%d sheets"), s.FromBox, pieces(n)))
		if s.Missing > 0 {
			parts = append(parts, tongue.T("find a sheet for %s more", pieces(s.Missing)))
		}
	}
	blocks := 0
	for _, b := range c.Blocks {
		blocks += b.Count
	}
	if blocks > 0 {
		parts = append(parts, tongue.Count(blocks, "have %d block to carve", "have %d blocks to carve", blocks))
	}
	if len(parts) == 0 {
		return ""
	}
	if cost, known := c.woodCost(); known && cost > 0 {
		parts = append(parts, tongue.T("strips and sheets cost %.2f together", cost))
	}
	return "; " + strings.Join(parts, "; ")
}

// sheetText writes sheets and blocks.
func (c Cutting) sheetText(p *page) {
	if s := c.Sheets; s != nil {
		p.gap()
		p.line("%s", s.Advice)
		t := table{head: heads(tongue.In("wood", "sheet"), tongue.In("wood", "from"), "width", "length", "pieces", "left over cm2")}
		for _, one := range s.Sheets {
			t.rows = append(t.rows, []string{strconv.Itoa(one.Number), said(fromWords, one.From), decimals(one.Width, -1), decimals(one.Length, -1),
				joined(one.Pieces, func(q SheetPlace) string { return q.Name(c) }), decimals(one.Waste/100, 1)})
		}
		p.table(t)
		p.line("A piece marked * is drawn as seen from its other face: cut it out and turn it over.")
	}
	for _, b := range c.Blocks {
		p.line("%s", b.Tell(MM{}))
	}
}

// Name tells a piece on a sheet, its strake and side, and by a star that it is turned over.
func (q SheetPlace) Name(c Cutting) string {
	side := tongue.In("starboard", "S")
	if c.Pieces[q.Piece-1].Side == string(hull.Port) {
		side = tongue.In("port", "P")
	}
	text := fmt.Sprintf("%d (%s %s)", q.Piece, q.Strake, side)
	if q.Over {
		text += "*"
	}
	return text
}
