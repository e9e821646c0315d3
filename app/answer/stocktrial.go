package answer

import (
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Kinds gives strips of every width, thickness and species, all else as a
// stock; of what is not given, the stock's own.
//
// The error says which size no strip has, or that these are more kinds than are
// compared at once.
func Kinds(of hull.Stock, widths, thicknesses []float64, species []string) ([]hull.Stock, error) {
	if len(widths) == 0 {
		widths = []float64{of.Width}
	}
	if len(thicknesses) == 0 {
		thicknesses = []float64{of.Thickness}
	}
	if len(species) == 0 {
		species = []string{of.Species}
	}
	n := len(widths) * len(thicknesses) * len(species)
	if n > hull.MostKinds {
		return nil, tongue.Errorf("these are %d kinds of strip: compare at most %d at once", n, hull.MostKinds)
	}
	var out []hull.Stock
	for _, name := range species {
		for _, t := range thicknesses {
			for _, w := range widths {
				s := of
				s.Width, s.Thickness, s.Species = w, t, name
				if err := s.Check(); err != nil {
					return nil, err
				}
				out = append(out, s)
			}
		}
	}
	return out, nil
}

// Trial is a layer laid in strips of one kind, the number of strakes found
// afresh, and cut from the plan's box and shop.
type Trial struct {
	Row         loft.StockRow // its strips and waste are not used: Strips and Waste tell those of the cutting
	Stock       hull.Stock
	Layer       *loft.Layer
	Cut         *loft.CuttingPlan
	Shave, Fill float64 // mm² on one side: of strip to plane off, and of gap to fill
}

// Made counts the strakes that are made in each mode.
func (t *Trial) Made() map[hull.Mode]int {
	out := map[hull.Mode]int{}
	for _, st := range t.Layer.Strakes {
		out[st.Making.Mode]++
	}
	return out
}

// Trials lays one layer of a planking in strips of one kind after another.
type Trials struct {
	k     *loft.Planking
	layer int
	left  *hull.Plan // what the layers below leave in the box and the shop
}

// NewTrials prepares for a layer, from 0: the layers below it are cut first.
func NewTrials(ctx context.Context, k *loft.Planking, layer int) (*Trials, error) {
	t := &Trials{k: k, layer: layer, left: k.Plan.Clone()}
	if layer == 0 {
		return t, nil
	}
	below := *k.Plan
	below.Layers = below.Layers[:layer]
	cuts, err := (&loft.Planking{Plan: &below, Layers: k.Layers[:layer]}).CutLayers(ctx)
	if err != nil {
		return nil, err
	}
	for _, c := range cuts {
		c.Spend(t.left)
	}
	return t, nil
}

// Lay lays the layer in a kind of strip. The error names the strip that cannot
// be laid, or the length that makes no sense, or wraps the context's.
func (t *Trials) Lay(ctx context.Context, stock hull.Stock) (*Trial, error) {
	rows, err := t.k.Compare(ctx, t.layer, []hull.Stock{stock})
	if err != nil {
		return nil, err
	}
	q := *t.k.Plan
	q.Layers = slices.Clone(q.Layers[:t.layer+1])
	h := &q.Layers[t.layer]
	h.Stock = stock
	h.Bands = slices.Clone(h.Bands)
	for i := range h.Bands {
		h.Bands[i].Strakes, h.Bands[i].Strips, h.Bands[i].Modes = 0, nil, nil
	}
	laid, err := t.k.ReplankContext(ctx, &q)
	if err != nil {
		return nil, err
	}
	out := &Trial{Row: rows[0], Stock: stock, Layer: laid.Layers[t.layer]}
	out.Shave, out.Fill = out.Layer.ShaveAndFill()
	only := *t.left
	only.Layers = []hull.Layer{*h}
	cuts, err := (&loft.Planking{Plan: &only, Layers: []*loft.Layer{out.Layer}}).CutLayers(ctx)
	if err != nil {
		return nil, err
	}
	out.Cut = cuts[0]
	return out, nil
}

// Strips is how many strips both sides take, from the box and bought.
func (t *Trial) Strips() int {
	n := 0
	for _, lot := range t.Cut.Lots {
		n += len(lot.Cutting.Strips)
	}
	return n
}

// FromBox is how many of them are in the box already.
func (t *Trial) FromBox() int {
	n := 0
	for _, lot := range t.Cut.Lots {
		for _, u := range lot.Cutting.Used {
			n += u
		}
	}
	return n
}

// Sheets is how many sheets its spiled strakes take.
func (t *Trial) Sheets() int {
	if t.Cut.Sheets == nil {
		return 0
	}
	return len(t.Cut.Sheets.Nest.Sheets)
}

// Missing is how many pieces no strip or sheet is left for.
func (t *Trial) Missing() int {
	n := 0
	for _, lot := range t.Cut.Lots {
		n += len(lot.Cutting.Left)
	}
	if t.Cut.Sheets != nil {
		n += len(t.Cut.Sheets.Nest.Left)
	}
	return n
}

// Cost is what is paid for strips and sheets bought; false where a price is not known.
func (t *Trial) Cost() (float64, bool) { return costOf(t.Cut) }

func costOf(c *loft.CuttingPlan) (float64, bool) {
	sum := 0.0
	for _, lot := range c.Lots {
		bought := 0
		for _, n := range lot.Cutting.Bought {
			bought += n
		}
		if bought > 0 && (lot.Assumed || lot.Cutting.ByLength) {
			return 0, false
		}
		if bought > 0 {
			sum += lot.Cutting.Cost
		}
	}
	if s := c.Sheets; s != nil && s.Nest.Cost > 0 {
		if s.Nest.ByArea {
			return 0, false
		}
		sum += s.Nest.Cost
	}
	return sum, true
}

// Waste is the length, mm, of the strips used that is not laid: what is left of
// them, the kerfs and the overhangs.
func (t *Trial) Waste() float64 { return wasteOf(t.Cut) }

func wasteOf(c *loft.CuttingPlan) float64 {
	waste := 0.0
	for _, lot := range c.Lots {
		waste += lot.Waste(c.Pieces)
	}
	return waste
}

// Needed is, at every frame, the least, the middling and the greatest width
// to cut of the strakes laid there, mm; NaN where none is.
func (t *Trial) Needed() (least, mean, most []float64) {
	n := t.Layer.Surface.Frames()
	least, mean, most = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		least[i], most[i] = math.Inf(1), math.Inf(-1)
		laid := 0
		for _, st := range t.Layer.Strakes {
			if c := st.At[i]; c.Laid {
				laid++
				mean[i] += c.WidthCut
				least[i], most[i] = math.Min(least[i], c.WidthCut), math.Max(most[i], c.WidthCut)
			}
		}
		if laid == 0 {
			least[i], mean[i], most[i] = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		mean[i] /= float64(laid)
	}
	return least, mean, most
}
