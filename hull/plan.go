package hull

import "slices"

// Plan holds the builder's decisions, and nothing that follows from them:
// package loft computes everything else with one call.
type Plan struct {
	Title  string
	Hull   Hull
	Layers []Layer // from the frames outwards; at least one

	Woods     []Wood   // the builder's own species, beside those that come with the program
	Moisture  Moisture // the zero value stands for NewMoisture
	Box       []Strips // the strips at hand
	Shop      []Strips // the strips on sale
	SheetBox  []Sheet  // the sheet wood at hand
	SheetShop []Sheet  // the sheet wood on sale
	Cutting   Cutting  // the zero value stands for NewCutting
	Trade     Trade    // the trade's rules of thumb; the zero value stands for NewTrade
	Record    Record   // what was done and measured on the bench, for each side

	extra *extra // keys of the file that this version does not know
}

// Layer is one skin of planking.
type Layer struct {
	Stock Stock
	Edges Edges
	Creep float64    // mm a strip: how much the pitch as laid exceeds the strip's width
	Bands []Band     // from the upper limit down; at least one
	Lines []BandLine // the lines between the bands: one fewer than Bands

	From, To string  // names of the frames between which it is laid; empty for those of the hull
	Blocks   []Solid // areas of it that are carved from solid wood

	extra *extra
}

// Edges is how strips meet: bevelled until they close, or left square.
type Edges string

// The two ways for strips to meet.
const (
	Bevelled Edges = "bevelled"
	Square   Edges = "square"
)

// Stock is the strip a layer is laid with; lengths in mm.
type Stock struct {
	Width, Thickness, Length float64
	Species                  string

	extra *extra
}

// Band is a part of the planked region, divided among strakes.
type Band struct {
	Strakes int       // how many; 0 fits it to the widest frame's girth
	Weights []float64 // each strake's share relative to that of its strip's width; missing ones are 1
	Strips  []float64 // the width of the strip each strake is laid with, mm; missing ones are the stock's
	Modes   []Mode    // how each strake is made; missing ones are left to the rules

	extra *extra
}

// Weight is the share of strake k (from 0) of the band relative to its strip's
// width: 1 unless set.
func (b Band) Weight(k int) float64 {
	if k < len(b.Weights) && b.Weights[k] > 0 {
		return b.Weights[k]
	}
	return 1
}

// Strip is the width of the strip that strake k (from 0) of the band is laid
// with, mm: the stock's unless set.
func (b Band) Strip(k int, stock Stock) float64 {
	if k < len(b.Strips) && b.Strips[k] > 0 {
		return b.Strips[k]
	}
	return stock.Width
}

// LineType is how a band line finds its course.
type LineType string

// The three types of band line.
const (
	Drawn LineType = "drawn" // a smooth line through the held handles
	Free  LineType = "free"  // the unstressed course set by the hold and aim handles
	Least LineType = "least" // the least edge-set between the held handles
)

// Follows says whose unstressed course a free line takes, and from which
// lie-off is measured.
type Follows string

// A batten bends about its face and twists at no cost, and resists only edge-set; the
// strip itself lies as its thickness, width and wood make it.
const (
	ThinBatten  Follows = ""
	StripItself Follows = "strip"
)

// BandLine is the line between two bands, with one handle a frame.
type BandLine struct {
	LineType LineType
	Follows  Follows
	Handles  []Handle // one a frame, in the order of the frames
	Hold     int      // index of the hold handle's frame
	Aim      int      // index of the aim handle's frame; -1 takes the default heading

	extra *extra
}

// Handle is where a band line crosses a frame: Down mm of girth below the upper
// limit on that layer's surface. A released handle lets the line find its own
// easiest course; its Down is kept but not used.
type Handle struct {
	Down float64
	Held bool

	extra *extra
}

// NewPlan is the plan from which the work on a hull starts: its frames, one
// band, one layer, stock 5 x 2 mm in strips of 1000 mm, bevelled edges, no
// creep. The hull is copied; where it names no bow or limits it is given the
// usual ones.
func NewPlan(title string, h Hull) *Plan {
	own := h.Clone()
	own.Settle()
	return &Plan{Title: title, Hull: own, Moisture: NewMoisture(), Cutting: NewCutting(), Trade: NewTrade(), Layers: []Layer{{
		Stock: Stock{Width: 5, Thickness: 2, Length: 1000},
		Edges: Bevelled,
		Bands: []Band{{}},
	}}}
}

// Clone is a copy that shares with p nothing that can change.
func (p *Plan) Clone() *Plan {
	q := *p
	q.Hull = p.Hull.Clone()
	q.Record = p.Record.clone()
	q.Woods, q.Box, q.Shop = slices.Clone(p.Woods), slices.Clone(p.Box), slices.Clone(p.Shop)
	q.SheetBox, q.SheetShop = slices.Clone(p.SheetBox), slices.Clone(p.SheetShop)
	q.Layers = slices.Clone(p.Layers)
	for i := range q.Layers {
		l := &q.Layers[i]
		l.Bands = slices.Clone(l.Bands)
		for k := range l.Bands {
			l.Bands[k].Weights = slices.Clone(l.Bands[k].Weights)
			l.Bands[k].Strips = slices.Clone(l.Bands[k].Strips)
			l.Bands[k].Modes = slices.Clone(l.Bands[k].Modes)
		}
		l.Lines, l.Blocks = slices.Clone(l.Lines), slices.Clone(l.Blocks)
		for k := range l.Lines {
			l.Lines[k].Handles = slices.Clone(l.Lines[k].Handles)
		}
	}
	return &q
}
