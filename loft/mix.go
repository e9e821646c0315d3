package loft

import (
	"context"
	"math"
	"slices"
	"sort"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// MixPart is a number of strakes of one strip width.
type MixPart struct {
	Width float64 // mm
	Count int
}

// Mix is a choice of strips for a band.
type Mix struct {
	Parts []MixPart // up to three widths, the narrowest first
	Order []float64 // mm, each strake's strip from the upper limit down: the wider ones where the frames turn least
	Shave float64   // mm² of strip to plane off along the whole band
	Fill  float64   // mm² of gap to fill that creep does not close
}

// strakesOf is the number of strakes in a mix.
func (m *Mix) strakes() int {
	n := 0
	for _, p := range m.Parts {
		n += p.Count
	}
	return n
}

const (
	mixWidths  = 3   // most different widths in a band
	mixStrakes = 200 // most strakes in a band
)

// BestMix finds, for band b (from 0) of a layer, the mix of up to three of the widths
// that leaves the least to shave or fill at all frames at once: the area, along the
// band's length, between what full strips cover and what the band needs. Strips creep
// apart by the plan's allowance and, where that closes a gap, by up to the share of
// their width in the plan's rules. Of mixes that leave the same, the one with fewer
// widths, then with fewer strakes, is taken. The error says what is wrong with the
// widths, or wraps the context's if that ends first.
func (k *Planking) BestMix(ctx context.Context, layer, band int, widths []float64) (Mix, error) {
	if layer < 0 || layer >= len(k.Layers) || band < 0 || band >= len(k.Layers[layer].Bands) {
		return Mix{}, tongue.Errorf("there is no band %d in layer %d", band+1, layer+1)
	}
	ws := slices.Clone(widths)
	slices.Sort(ws)
	ws = slices.Compact(ws)
	switch {
	case len(ws) == 0:
		return Mix{}, tongue.Errorf("there are no widths to mix: give one or more")
	case len(ws) > hull.MostMixed:
		return Mix{}, tongue.Errorf("a mix of %d widths is too much to search: give %d at most", len(ws), hull.MostMixed)
	}
	for _, w := range ws {
		if err := hull.StripWidth.Refuse(tongue.T("a strip's width"), w, " mm"); err != nil {
			return Mix{}, err
		}
	}
	l, h := k.Layers[layer], &k.Plan.Layers[layer]
	n := l.need(l.Bands[band], h)
	if n.widest/ws[0] > mixStrakes {
		return Mix{}, tongue.Errorf("strips %g mm wide are too narrow for a band of %.0f mm: over %d strakes", ws[0], n.widest, mixStrakes)
	}
	best, err := n.search(ctx, ws)
	if err != nil {
		return Mix{}, err
	}
	best.Order = l.place(l.Bands[band], best)
	return best, nil
}

// need is what a band requires of its strips.
type need struct {
	width  []float64 // mm at every frame, across the run, with what bevels take
	length []float64 // mm of run that each frame stands for
	creep  float64   // mm a strip, allowed by the plan
	spread float64   // share of their width by which strips creep apart naturally
	widest float64
}

// need takes it from the layer as laid: bevels take the turn of the frame times the
// thickness, however many strips there are.
func (l *Layer) need(b *Band, h *hull.Layer) need {
	s := l.Surface
	n := need{creep: h.Creep, spread: l.Rules.Creep, width: make([]float64, s.Frames()), length: make([]float64, s.Frames())}
	mid := l.Strakes[b.First+len(b.Weights)/2].Centre
	for i := range n.width {
		for k := range b.Weights {
			st := l.Strakes[b.First+k]
			if c := &st.At[i]; c.Laid {
				n.width[i] += c.WidthCut + st.Strip + h.Creep - c.Pitch
			}
		}
		a, z := max(i-1, 0), min(i+1, s.Frames()-1)
		n.length[i] = (mid.S[s.FrameStation(z)] - mid.S[s.FrameStation(a)]) / 2
		n.widest = max(n.widest, n.width[i])
	}
	return n
}

// leaves is what a number of strips covering a total width in mm leave to shave and to
// fill.
func (n *need) leaves(run float64, count int) (shave, fill float64) {
	run += n.creep * float64(count)
	slack := max(n.spread*run-n.creep*float64(count), 0)
	for i, w := range n.width {
		shave += max(run-w, 0) * n.length[i]
		fill += max(w-run-slack, 0) * n.length[i]
	}
	return shave, fill
}

// search tries every choice of up to three widths. For each number of the first two,
// the number of the third is found by walking downhill from the one that fills the
// widest frame: the remainder is convex in the total width. It looks at the context at
// every number of the second.
func (n *need) search(ctx context.Context, ws []float64) (Mix, error) {
	var best Mix
	better := func(m Mix) {
		if best.Parts == nil || m.beats(&best) {
			best = m
		}
	}
	for i, a := range ws {
		better(n.downhill(a, nil))
		for j := i + 1; j < len(ws); j++ {
			for ca := 1; float64(ca)*a < n.widest+a; ca++ {
				if err := halt.Asked(ctx, findingMix); err != nil {
					return Mix{}, err
				}
				better(n.downhill(ws[j], []MixPart{{a, ca}}))
				for k := j + 1; k < len(ws); k++ {
					for cb := 1; float64(ca)*a+float64(cb)*ws[j] < n.widest+ws[j]; cb++ {
						if err := halt.Asked(ctx, findingMix); err != nil {
							return Mix{}, err
						}
						better(n.downhill(ws[k], []MixPart{{a, ca}, {ws[j], cb}}))
					}
				}
			}
		}
	}
	return best, nil
}

// findingMix is what BestMix does.
const findingMix = "the search for the best mix"

// beats compares two mixes.
func (m *Mix) beats(o *Mix) bool {
	const same = 1e-9
	d := (m.Shave + m.Fill) - (o.Shave + o.Fill)
	if math.Abs(d) > same*(1+o.Shave+o.Fill) {
		return d < 0
	}
	if len(m.Parts) != len(o.Parts) {
		return len(m.Parts) < len(o.Parts)
	}
	return m.strakes() < o.strakes()
}

// downhill adds to the given parts the number of strips of width w, at least one, that
// leaves the least.
func (n *need) downhill(w float64, parts []MixPart) Mix {
	given, count := 0.0, 0
	for _, p := range parts {
		given += p.Width * float64(p.Count)
		count += p.Count
	}
	at := func(c int) Mix {
		m := Mix{Parts: append(slices.Clone(parts), MixPart{w, c})}
		m.Shave, m.Fill = n.leaves(given+w*float64(c), count+c)
		return m
	}
	c := max(int(math.Ceil((n.widest-given)/w)), 1)
	best := at(c)
	for c > 1 {
		m := at(c - 1)
		if m.Shave+m.Fill > best.Shave+best.Fill {
			break
		}
		best, c = m, c-1
	}
	return best
}

// place assigns the strips to the strakes of a band, the widest where the frame of
// greatest girth turns least: the flatter the frame, the less a wide strip stands off
// it (by w²·κ/8).
func (l *Layer) place(b *Band, m Mix) []float64 {
	var strips []float64
	for i := len(m.Parts) - 1; i >= 0; i-- {
		for range m.Parts[i].Count {
			strips = append(strips, m.Parts[i].Width)
		}
	}
	s := l.Surface
	k := s.FrameStation(l.Greatest())
	top, bottom := l.Lines[b.Number-1].V[k], l.Lines[b.Number].V[k]
	places := make([]int, len(strips))
	bend := make([]float64, len(strips))
	for i := range places {
		places[i] = i
		f := (float64(i) + 0.5) / float64(len(strips))
		j := s.atStation(k, top+f*(bottom-top))
		bend[i] = math.Abs(float64(j.strainsOf(0, 1, 0, 0).face))
	}
	sort.SliceStable(places, func(i, j int) bool { return bend[places[i]] < bend[places[j]]-1e-9 })
	out := make([]float64, len(strips))
	for i, at := range places {
		out[at] = strips[i]
	}
	return out
}
