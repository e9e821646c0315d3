package progress

import (
	"context"
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/cutstock"
)

// RestStrake is a strake still to be laid, as the bench requires it.
type RestStrake struct {
	*loft.Strake                 // as planned
	On           []loft.Crossing // at every frame, instead of the planned At: as shared afresh
	Change       []float64       // mm along the frame, relative to the plan
	Cut          bool            // it is cut already: its widths are fixed
}

// Rest gives the strakes of the band still to be laid, from the upper limit down: where
// they lie, what they are cut to, and whether their strips taper or leave a gap. Where
// the builder's creep is known the widths already have it taken off, and a whole strip
// counts without the plan's allowance for it.
func (s *BandState) Rest() []RestStrake {
	l := s.layer()
	b := l.Bands[s.Band-1]
	var out []RestStrake
	for r, id := range s.Remaining {
		n := l.StrakeNamed(id)
		st := RestStrake{Strake: l.Strakes[n], Change: s.Change[r], Cut: s.cuts[r]}
		for i, c := range st.At {
			w := s.Widths[r][i]
			if !c.Laid || w == 0 {
				st.On = append(st.On, loft.Crossing{})
				continue
			}
			c.Resize(w)
			c.Upper = s.Seams[n-b.First][i]
			if s.Known {
				c.Pitch -= s.plan.Plan.Layers[s.Layer-1].Creep
			}
			c.Decide(l.Rules.Fit)
			st.On = append(st.On, c)
		}
		out = append(out, st)
	}
	return out
}

// layer is the layer as planned.
func (s *BandState) layer() *loft.Layer { return s.plan.Layers[s.Layer-1] }

// excess is the total need of the strakes still to be laid beyond whole strips at every
// frame, mm; negative where they taper.
func (s *BandState) excess(rest []RestStrake) []float64 {
	out := make([]float64, len(s.Left))
	for _, st := range rest {
		for i, c := range st.On {
			if c.Laid {
				out[i] += c.WidthCut - c.Pitch
			}
		}
	}
	return out
}

// wedges are those that fill the gaps between whole strips of the rest, as few as will
// do; each lies below a strake still to be laid.
func (s *BandState) wedges(rest []RestStrake) []loft.Wedge {
	if len(rest) == 0 {
		return nil
	}
	l := s.layer()
	h := s.plan.Plan.Layers[s.Layer-1]
	if s.Known {
		h.Creep = l.Rules.Creep * h.Stock.Width // their creep is taken off already, and closes no gap
	}
	out := l.WedgesIn(l.Bands[s.Band-1], s.excess(rest), &h)
	for i := range out {
		out[i].Below = rest[(2*i+1)*len(rest)/(2*len(out))].ID
	}
	return out
}

// Tally is how the rest of a band comes out, lengths in mm.
type Tally struct {
	Strakes     int     // still to be laid
	Gap         float64 // the widest gathered at a frame
	GapAt       int     // that frame
	GapAll      float64 // the least gathered at any frame: a gap all along
	Shave       float64 // the most taken off a strip
	ShaveAt     int
	ShaveID     string
	Narrowest   float64 // the least width that a strip is cut to
	NarrowestID string
	NarrowestAt int
	Least       float64 // the same relative to its strip, a ratio
	Most        float64 // the greatest width relative to its strip, a ratio
	Wedges      []loft.Wedge
	Strips      int        // strips for what is still to be laid on this side
	Change      float64    // the greatest change of a width along a frame relative to the plan
	Rules       hull.Trade // by which the above is judged
}

// Divides reports whether the rest is shared among the strakes still to be laid with no
// gap to fill, and with none narrower or wider than the rules allow for its strip.
func (t *Tally) Divides() bool {
	return t.Strakes == 0 || t.Gap <= t.Rules.Fit*float64(t.Strakes) && t.Least >= t.Rules.LeastWidth && t.Most <= t.Rules.MostWidth
}

// Tally sums up the state.
func (s *BandState) Tally() Tally {
	t, _ := s.tally(context.Background()) // fails only through its context
	return t
}

// tally is Tally; it stops when the context ends, with an error that wraps the
// context's.
func (s *BandState) tally(ctx context.Context) (Tally, error) {
	rest := s.Rest()
	t := Tally{Rules: s.layer().Rules, Strakes: len(rest), Wedges: s.wedges(rest)}
	first := true
	for _, st := range rest {
		for i, c := range st.On {
			if !c.Laid {
				continue
			}
			if ratio := c.WidthCut / st.Strip; first || ratio < t.Least {
				t.Least, t.Narrowest, t.NarrowestID, t.NarrowestAt = ratio, c.WidthCut, st.ID, i
			}
			first = false
			t.Most = max(t.Most, c.WidthCut/st.Strip)
			if d := c.Pitch - c.WidthCut; d > t.Shave {
				t.Shave, t.ShaveAt, t.ShaveID = d, i, st.ID
			}
			t.Change = max(t.Change, st.Change[i], -st.Change[i])
		}
	}
	excess := s.excess(rest)
	for i, e := range excess {
		if e > t.Gap {
			t.Gap, t.GapAt = e, i
		}
	}
	if len(excess) > 0 {
		t.GapAll = max(slices.Min(excess), 0)
	}
	var err error
	t.Strips, err = s.strips(ctx)
	return t, err
}

// strips counts the strips for the sprung strakes still to be laid that are not yet
// cut.
func (s *BandState) strips(ctx context.Context) (int, error) {
	l, stock := s.layer(), s.plan.Plan.Layers[s.Layer-1].Stock
	toCut := map[string]bool{}
	for r, id := range s.Remaining {
		toCut[id] = !s.cuts[r]
	}
	cut := map[float64][]float64{}
	for _, p := range l.Pieces(stock.Length, s.plan.Cutting().Overhang) {
		st := l.Strakes[p.Strake]
		if toCut[st.ID] && st.Making.Mode == hull.Sprung {
			cut[st.Strip] = append(cut[st.Strip], p.Length())
		}
	}
	n := 0
	for _, lengths := range cut {
		of, err := cutstock.StripsFor(ctx, lengths, stock.Length)
		if err != nil {
			return 0, err
		}
		n += of
	}
	return n, nil
}
