package loft

import (
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/cutstock"
)

// StockRow is the result of laying a layer in strips of one kind.
type StockRow struct {
	Stock         float64 // width, mm
	Thickness     float64 // mm
	Species       string
	Strakes       []int   // in each band
	Narrowest     float64 // least width needed anywhere, mm
	Widest        float64 // greatest
	Tapered       int     // strakes that taper somewhere
	TaperMost     float64 // mm: the most that is taken off a strip anywhere
	Wedges        int     // stealers among them
	Stealers      int
	Drops         int
	LeftOver      []float64 // mm that full strips leave in each band at the greatest frame
	Creep         []float64 // mm that the plan allows them to creep there
	EdgeStrainMax float64   // strain of edge-set at a strake's edge, κg·w/2 for its width there: a ratio
	FaceStrainMax float64   // strain of the face bend at its outer fibres, t·κn/2: a ratio
	How           How       // how the hardest bend is made, by the limits of the wood
	Spiled        int       // strakes of one side that are cut from sheet
	Blocks        int       // likewise, those that are carved
	Strips        int       // strips to buy for both sides, for the other strakes
	Length        float64   // mm of these on both sides
	Waste         float64   // mm of the strips bought that is left over
}

// Compare lays a layer (from 0) in each kind of strip in turn, with the number of
// strakes found afresh for each, and everything else as planned. The error names the
// strip that cannot be laid, or wraps the context's if that ends first.
func (k *Planking) Compare(ctx context.Context, layer int, stocks []hull.Stock) ([]StockRow, error) {
	planned, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	var out []StockRow
	for _, stock := range stocks {
		q := inStock(k.Plan, layer, stock)
		l, err := newLayer(ctx, q, layer, planned.Surface, planned)
		if err != nil {
			return nil, tongue.Errorf("strips %g mm wide: %w", stock.Width, err)
		}
		row, err := l.stockRow(ctx, stock, k.Plan.Layers[layer].Creep)
		if err != nil {
			return nil, tongue.Errorf("strips %g mm wide: %w", stock.Width, err)
		}
		out = append(out, row)
	}
	return out, nil
}

func noLayer(p *hull.Plan, layer int) error {
	return tongue.Errorf("there is no layer %d: the plan has %d", layer+1, len(p.Layers))
}

// inStock is the plan with another strip, and the number of strakes left open.
func inStock(p *hull.Plan, layer int, stock hull.Stock) *hull.Plan {
	q := *p
	q.Layers = slices.Clone(p.Layers)
	l := &q.Layers[layer]
	l.Stock = stock
	l.Bands = slices.Clone(l.Bands)
	for i := range l.Bands {
		l.Bands[i].Strakes = 0
		l.Bands[i].Strips, l.Bands[i].Modes = nil, nil
	}
	return &q
}

// stockRow gives the row of a layer as laid in strips of one kind.
func (l *Layer) stockRow(ctx context.Context, stock hull.Stock, creep float64) (StockRow, error) {
	r := StockRow{Stock: stock.Width, Thickness: stock.Thickness, Species: stock.Species,
		Narrowest: math.Inf(1), Wedges: len(l.Wedges), Drops: len(l.Drops)}
	for _, b := range l.Bands {
		r.Strakes = append(r.Strakes, b.Strakes)
		r.LeftOver = append(r.LeftOver, b.Left)
		r.Creep = append(r.Creep, creep*float64(b.Strakes))
	}
	for _, w := range l.Wedges {
		if w.Stealer {
			r.Stealers++
		}
	}
	for _, st := range l.Strakes {
		r.strake(st)
	}
	bend := BendLimitsOf(l.Rules)
	for _, b := range l.bends(stock.Thickness, bend) {
		r.FaceStrainMax = max(r.FaceStrainMax, b.Strain)
	}
	r.How = bend.How(r.FaceStrainMax)
	var lengths []float64
	for _, p := range l.Pieces(stock.Length, 0) {
		if l.Strakes[p.Strake].Making.Mode != hull.Sprung {
			continue
		}
		lengths = append(lengths, p.Length(), p.Length())
	}
	var err error
	r.Strips, err = cutstock.StripsFor(ctx, lengths, stock.Length)
	r.Waste = float64(r.Strips)*stock.Length - r.Length
	return r, err
}

// strake adds one strake to the row.
func (r *StockRow) strake(st *Strake) {
	tapers := false
	for _, c := range st.At {
		if c.Laid {
			r.Narrowest, r.Widest = min(r.Narrowest, c.WidthCut), max(r.Widest, c.WidthCut)
			tapers = tapers || c.Action == Taper
			r.TaperMost = max(r.TaperMost, c.Pitch-c.WidthCut)
		}
	}
	if tapers {
		r.Tapered++
	}
	r.EdgeStrainMax = max(r.EdgeStrainMax, st.Making.Edge.Figure)
	switch st.Making.Mode {
	case hull.Spiled:
		r.Spiled++
	case hull.Block:
		r.Blocks++
	default:
		r.Length += 2 * st.Length
	}
}
