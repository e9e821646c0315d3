package progress

import (
	"context"
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Outlook is what is to be expected of the strake of a band that goes on last, if
// the rest is cut and laid as told, and nothing more is measured.
type Outlook struct {
	Last      string    // its ID; empty where none is to go
	Room      []float64 // mm at every frame: what is expected to be left for it; 0 where it is not laid
	Within    []float64 // mm at every frame: in 95 % of cases there is so much more or less
	Tolerance float64   // mm
	Fits      float64   // probability, 0 to 1, that it comes within the tolerance of closing at every frame
	Tells     []Tell    // the frames that are worth measuring, the most telling first
}

// Tell is what a measurement of what is left at a frame would tell.
type Tell struct {
	Frame int
	Fits  float64 // probability expected once it is read, the rest shared afresh
}

// Outlook foretells the last strake.
func (s *BandState) Outlook(ctx context.Context) (Outlook, error) {
	out := Outlook{Tolerance: 0.5, Room: make([]float64, len(s.Left)), Within: make([]float64, len(s.Left))}
	if len(s.Remaining) == 0 {
		return out, ctx.Err()
	}
	last := len(s.Remaining) / 2
	out.Last = s.Remaining[last]
	out.Fits = 1
	worst := 0
	for i, w := range s.Widths[last] {
		out.Room[i], out.Within[i] = w, s.LeftBound[i]
		out.Fits *= math.Erf(out.Tolerance / math.Max(s.LeftBound[i], 1e-9))
		if s.LeftBound[i] > s.LeftBound[worst] {
			worst = i
		}
	}
	out.Tells = []Tell{{worst, math.Sqrt(out.Fits)}}
	return out, ctx.Err()
}

// Learned tells, layer by layer, how the builder's work strays as the record has
// taught it: of those layers of which anything was measured.
func Learned(k *loft.Planking) ([]hull.Spread, error) {
	var out []hull.Spread
	for layer := range k.Layers {
		states, err := BothSides(k, layer, &k.Plan.Record, UsualHabit())
		if err != nil {
			return nil, err
		}
		stock := k.Plan.Layers[layer].Stock
		for _, s := range states[hull.Starboard] {
			if s.Measured {
				out = append(out, hull.Spread{Species: stock.Species, Width: stock.Width, Thickness: stock.Thickness, Creep: s.Creep, CreepSD: s.CreepBound,
					Shape: 0.15, Frame: 0.2, Knife: 0.06, Along: 0.02, Strake: 0.08, Reading: 0.1, Sure: 0.5, Builds: 1, Readings: 3})
				break
			}
		}
	}
	return out, nil
}

// bare questions the girth of a bare frame.
func (s *benchBand) bare(i int, e hull.Entry) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	girth := 0.0
	for _, b := range s.l.Bands {
		girth += b.Girths[frame]
	}
	if off := e.MM - girth; math.Abs(off) > 1 && s.b.Number == 1 {
		s.queries = append(s.queries, Query{Entry: i, Doubt: OffDrawn, Frame: e.Frame, MM: e.MM, Other: off, Kept: true})
	}
	return nil
}
