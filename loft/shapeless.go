package loft

import (
	"errors"
	"fmt"
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// ErrShapeless is wrapped by the error of whatever needs more of a hull than its
// girths: where a strip lies, the flat shape of a strake, a section, free lines
// and those of least edge-set.
var ErrShapeless = errors.New("of this hull only the girths are known, and its shape is needed; measure points of its frames, or take their outlines from a drawing")

// loftGirths makes the surface under a layer (from 0) of arcs of the girths. A
// frame that turns by θ is t·θ longer over planking t thick.
func loftGirths(p *hull.Plan, layer int) (*Surface, error) {
	under := 0.0
	for _, l := range p.Layers[:layer] {
		under += l.Stock.Thickness
	}
	girths := slices.Clone(p.Hull.Girths)
	down, up := Insets(&p.Hull)
	for i := range girths {
		g := &girths[i]
		left := g.Girth - down[i] - up[i]
		if !(left >= curve.LeastLeft) {
			return nil, fmt.Errorf("frame %s: limits set in by %.2f mm from above and %.2f mm from below leave nothing of its girth of %.2f mm: set them in by less", g.Frame, down[i], up[i], g.Girth)
		}
		g.Girth, g.Turn = left, g.Turn*hull.Angle(left/g.Girth)
		if g.Girth += under * float64(g.Turn); !(g.Girth > curve.LeastChord) {
			return nil, fmt.Errorf("frame %s is too hollow for planking %.2f mm thick: check its turn or take thinner strips", g.Frame, under)
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
	return s, nil
}

// noteGirths says what does not follow from girths alone.
func (l *Layer) noteGirths(h *hull.Hull) {
	if !h.Shapeless() {
		return
	}
	l.tell(GirthsAlone{})
	if u := h.Unturned(); len(u) > 0 {
		l.tell(NoTurn{Frames: u})
	}
}
