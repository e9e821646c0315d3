package loft

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"strakewright/hull"
)

// StockRow tells how a layer comes out in strips of one width.
type StockRow struct {
	Stock         float64 // mm
	Strakes       []int   // in each band
	Narrowest     float64 // least width needed anywhere, mm
	Widest        float64 // greatest
	Tapered       int     // strakes that taper somewhere
	Wedges, Drops int
	LeftOver      []float64 // mm that full strips leave in each band at the greatest frame
	EdgeStrainMax float64   // strain of edge-set at a strip's edge, κg·w/2: a ratio
	Strips        int       // strips to buy for both sides
	Length        float64   // mm of strake on both sides
	Waste         float64   // mm of the strips bought that is left over
}

// CompareStock lays layer (from 0) in strips of each width in turn, the number
// of strakes found afresh for each, all else as planned. The error names the
// width that cannot be laid.
func CompareStock(p *hull.Plan, layer int, widths []float64) ([]StockRow, error) {
	if layer < 0 || layer >= len(p.Layers) {
		return nil, fmt.Errorf("there is no layer %d: the plan has %d", layer+1, len(p.Layers))
	}
	base, err := Plank(p)
	if err != nil {
		return nil, err
	}
	var out []StockRow
	for _, w := range widths {
		l, err := newLayer(inWidth(p, layer, w), layer, base.Layers[layer].Surface)
		if err != nil {
			return nil, fmt.Errorf("strips %g mm wide: %w", w, err)
		}
		out = append(out, l.stockRow(&p.Layers[layer].Stock, w))
	}
	return out, nil
}

// inWidth is the plan with another strip, and the number of strakes left open.
func inWidth(p *hull.Plan, layer int, w float64) *hull.Plan {
	q := *p
	q.Layers = append([]hull.Layer{}, p.Layers...)
	l := &q.Layers[layer]
	l.Stock.Width = w
	l.Bands = append([]hull.Band{}, l.Bands...)
	for i := range l.Bands {
		l.Bands[i].Strakes = 0
		l.Bands[i].Strips = nil
	}
	return &q
}

// stockRow reads a layer as laid in strips of that width.
func (l *Layer) stockRow(stock *hull.Stock, w float64) StockRow {
	r := StockRow{Stock: w, Narrowest: math.Inf(1), Wedges: len(l.Wedges), Drops: len(l.Drops)}
	for _, b := range l.Bands {
		r.Strakes = append(r.Strakes, b.Strakes)
		r.LeftOver = append(r.LeftOver, b.Left)
	}
	for _, st := range l.Strakes {
		tapers := false
		for _, c := range st.At {
			if c.Laid {
				r.Narrowest, r.Widest = min(r.Narrowest, c.WidthCut), max(r.Widest, c.WidthCut)
				tapers = tapers || c.Action == Taper
			}
		}
		if tapers {
			r.Tapered++
		}
		r.EdgeStrainMax = max(r.EdgeStrainMax, float64(st.EdgeSetMax)*w/2)
		r.Length += 2 * st.Length
	}
	var lengths []float64
	for _, p := range l.Pieces(stock.Length, 0) {
		lengths = append(lengths, p.Length(), p.Length())
	}
	r.Strips = StripsFor(lengths, stock.Length)
	r.Waste = float64(r.Strips)*stock.Length - r.Length
	return r
}

// StripsFor is the number of strips of that length, mm, that pieces take, the
// longest cut first, each from the first strip that still holds it: never over
// 11/9 of the least number and 6/9 of a strip (Dósa, LNCS 4614, 2007). A piece
// longer than a strip takes one by itself.
func StripsFor(pieces []float64, strip float64) int {
	pieces = slices.Clone(pieces)
	sort.Sort(sort.Reverse(sort.Float64Slice(pieces)))
	var left []float64
	for _, p := range pieces {
		placed := false
		for i := range left {
			if left[i] >= p-1e-9 {
				left[i] -= p
				placed = true
				break
			}
		}
		if !placed {
			left = append(left, strip-p)
		}
	}
	return len(left)
}
