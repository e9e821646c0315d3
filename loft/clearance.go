package loft

import (
	"context"
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Clearance is how close a seam of a layer comes to one of the layer beneath.
type Clearance struct {
	Seam, Beneath string  // IDs of the strakes above the two seams
	Frame         int     // where they are closest
	Distance      float64 // mm along the frame
}

// Clearances gives, for every seam within a layer (from 1; the innermost has none
// beneath it), its closest approach at any frame to a seam of the layer beneath, in
// order down the hull. Seams at the limits, which all layers share, are left out.
func (k *Planking) Clearances(layer int) []Clearance {
	if layer < 1 || layer >= len(k.Layers) {
		return nil
	}
	upper, under := k.Layers[layer], k.Layers[layer-1]
	out := make([]Clearance, len(upper.Strakes)-1)
	for n := range out {
		out[n] = Clearance{Seam: upper.Strakes[n].ID, Distance: math.Inf(1)}
	}
	for i := range upper.Surface.Frames() {
		beneath := under.seamsAt(i)
		for n := range out {
			if !upper.Strakes[n].At[i].Laid {
				continue
			}
			at := under.downOf(i, upper.Seams[n+1].P[upper.Surface.FrameStation(i)])
			for _, s := range beneath {
				if d := math.Abs(s.down - at); d < out[n].Distance {
					out[n].Distance, out[n].Frame, out[n].Beneath = d, i, s.id
				}
			}
		}
	}
	return out
}

type seamAt struct {
	id   string
	down float64
}

// seamsAt lists the seams between laid strakes at a frame.
func (l *Layer) seamsAt(frame int) []seamAt {
	var out []seamAt
	k := l.Surface.FrameStation(frame)
	for n, st := range l.Strakes[:len(l.Strakes)-1] {
		if st.At[frame].Laid {
			out = append(out, seamAt{st.ID, l.Seams[n+1].Down[k]})
		}
	}
	return out
}

// downOf is the girth down the layer's own frame to the point nearest to one of a layer
// above it, found among its knots and between them.
func (l *Layer) downOf(frame int, p mgl64.Vec3) float64 {
	s := l.Surface
	k := s.FrameStation(frame)
	best, least := 0.0, math.Inf(1)
	const steps = 64
	for i := 0; i <= steps; i++ {
		v := float64(i) / steps
		if d := s.placeAt(k, v).Sub(p).Len(); d < least {
			best, least = v, d
		}
	}
	for step := 0.5 / steps; step > 1e-6; step /= 2 {
		for _, v := range []float64{best - step, best + step} {
			if d := s.placeAt(k, v).Sub(p).Len(); v >= 0 && v <= 1 && d < least {
				best, least = v, d
			}
		}
	}
	return s.down(k, best)
}

// Nearest is the least of the clearances; +Inf if there are none.
func Nearest(c []Clearance) Clearance {
	out := Clearance{Distance: math.Inf(1)}
	for _, x := range c {
		if x.Distance < out.Distance {
			out = x
		}
	}
	return out
}

// staggers are the weights tried for the first strake of a band, each with the number
// of strakes added: they shift all its seams by up to half a strake. None is above 1,
// since no strip can be planed wider.
var staggers = []struct {
	first float64
	more  int
}{{1, 0}, {0.6, 0}, {0.7, 0}, {0.8, 0}, {0.9, 0}, {0.5, 1}, {0.6, 1}, {0.7, 1}}

// Stagger returns a plan in which the first strake of each band of a layer (from 1) has
// the weight that keeps the seams farthest from those beneath. The median distance is
// compared first, since strakes that taper differently from those beneath must cross
// them somewhere, then the least. The plan passed in is not changed. It stops when the
// context ends, with an error that wraps the context's.
func Stagger(ctx context.Context, p *hull.Plan, layer int) (*hull.Plan, error) {
	k, err := plank(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	q := *p
	q.Layers = append([]hull.Layer{}, p.Layers...)
	if layer < 1 || layer >= len(p.Layers) {
		return &q, nil
	}
	h := &q.Layers[layer]
	h.Bands = append([]hull.Band{}, h.Bands...)
	for b := range h.Bands {
		n := k.Layers[layer].Bands[b].Strakes
		old, best := h.Bands[b], [2]float64{-1, -1}
		keep := old
		for _, w := range staggers {
			trial := old
			trial.Strakes = n + w.more
			trial.Weights = make([]float64, trial.Strakes)
			for i := range trial.Weights {
				trial.Weights[i] = old.Weight(i)
			}
			trial.Weights[0] = w.first * old.Weight(0)
			h.Bands[b] = trial
			t, err := plank(ctx, &q, k)
			if err != nil {
				return nil, err
			}
			if got := spread(t.Clearances(layer)); got[0] > best[0]+1e-9 || got[0] > best[0]-1e-9 && got[1] > best[1]+1e-9 {
				best, keep = got, trial
			}
		}
		h.Bands[b] = keep
	}
	return &q, nil
}

// spread gives the median and the least of the distances.
func spread(c []Clearance) [2]float64 {
	d := make([]float64, len(c))
	for i := range c {
		d[i] = c[i].Distance
	}
	sort.Float64s(d)
	if len(d) == 0 {
		return [2]float64{}
	}
	return [2]float64{d[len(d)/2], d[0]}
}
