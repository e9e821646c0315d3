package loft

import (
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// ErrShapeless is wrapped by the error of anything that needs more of a hull than its
// girths: where a strip lies, the flat shape of a strake, a section, free lines and
// lines of least edge-set.
var ErrShapeless = tongue.New("only the girths of this hull are known, and this needs its shape; measure points of its frames, or take their outlines from a drawing")

// loftGirths makes the surface under a layer (from 0) from arcs of the given girths. A
// frame that turns by θ is t·θ longer over planking t thick; a hollow one is shorter,
// and planking is thinned to its share of the remaining radius.
func loftGirths(p *hull.Plan, layer int) (*Surface, error) {
	var folds []Folds
	girths := slices.Clone(p.Hull.Girths)
	down, up := Insets(&p.Hull)
	for i := range girths {
		g := &girths[i]
		left := g.Girth - down[i] - up[i]
		if !(left >= curve.LeastLeft) {
			return nil, tongue.Errorf("frame %s: limits set in by %.2f mm from above and %.2f mm from below leave nothing of its girth of %.2f mm: set them in by less", g.Frame, down[i], up[i], g.Girth)
		}
		g.Girth, g.Turn = left, g.Turn*hull.Angle(left/g.Girth)
		for k := range layer {
			if f, thinned := laidOver(g, i, p, k); thinned && k == layer-1 {
				folds = append(folds, f)
			}
		}
	}
	var h hull.Hull
	h.SetGirths(girths)
	s, err := Loft(h.Frames)
	if err != nil {
		return nil, err
	}
	s.first, s.last = p.Hull.Planked()
	s.shapeless = true
	s.folds = gathered(folds, p, layer-1)
	return s, nil
}

// laidOver puts a layer (from 0) on the arc of a frame, and reports where it is
// thinned.
func laidOver(g *hull.Girth, frame int, p *hull.Plan, layer int) (f Folds, thinned bool) {
	from, to := stretch(p, layer)
	if frame < from || frame > to {
		return f, false
	}
	t := p.Layers[layer].Stock.Thickness
	left := t
	if g.Turn < 0 {
		radius := -g.Girth / float64(g.Turn)
		left = min(t, hollowShare*radius)
		f = Folds{From: frame, To: frame, At: frame, Lower: g.Girth, Why: HollowFold, Radius: radius, Thickness: t, Left: left, Thin: left}
	}
	g.Girth += left * float64(g.Turn)
	return f, left < t-thinnedLeast
}

// gathered merges the places of adjacent frames into one, in their order.
func gathered(folds []Folds, p *hull.Plan, layer int) []Folds {
	if len(folds) == 0 {
		return nil
	}
	out := folds[:1]
	for _, f := range folds[1:] {
		last := &out[len(out)-1]
		if f.From != last.To+1 {
			out = append(out, f)
			continue
		}
		if f.Left < last.Left {
			last.At, last.Left = f.At, f.Left
		}
		last.To, last.Lower = f.To, max(last.Lower, f.Lower)
		last.Radius, last.Thin = min(last.Radius, f.Radius), min(last.Thin, f.Thin)
	}
	from, to := stretch(p, layer)
	finish(out, from, to)
	return out
}

// noteGirths notes what cannot be found from girths alone.
func (l *Layer) noteGirths(h *hull.Hull) {
	if !h.Shapeless() {
		return
	}
	l.tell(GirthsAlone{})
	if u := h.Unturned(); len(u) > 0 {
		l.tell(NoTurn{Frames: u})
	}
}
