package answer

import (
	"sort"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// LayerSeam tells how far the seams of a layer lie off those of the one
// beneath.
type LayerSeam struct {
	Layer  int     `json:"layer"`
	Least  float64 `json:"least"`
	Middle float64 `json:"middle"` // as many seams are nearer as farther
	Seams  []Seam  `json:"seams"`
	Advice string  `json:"advice"`
}

// Seam is the place where a seam comes nearest to one beneath.
type Seam struct {
	Below    string  `json:"below"`   // the strake above the seam
	Beneath  string  `json:"beneath"` // the strake above the nearest seam beneath
	Frame    string  `json:"frame"`
	Distance float64 `json:"distance"`
}

// SeamsOf measures a layer, from 1: the innermost has none beneath it.
func SeamsOf(k *loft.Planking, layer int, u Units) (LayerSeam, error) {
	if u == nil {
		u = MM{}
	}
	if layer < 1 || layer >= len(k.Layers) {
		return LayerSeam{}, tongue.Errorf("layer %d has no layer beneath it: ask for the seams of layer 2 or one above it", layer+1)
	}
	all := k.Clearances(layer)
	out := LayerSeam{Layer: layer + 1, Seams: []Seam{}}
	var apart []float64
	for _, c := range all {
		if c.Beneath == "" {
			continue
		}
		out.Seams = append(out.Seams, Seam{c.Seam, c.Beneath, k.Plan.Hull.Frames[c.Frame].Name, tidy(c.Distance)})
		apart = append(apart, c.Distance)
	}
	if len(apart) == 0 {
		out.Advice = tongue.T("Layer %d has no seam over one beneath.", layer+1)
		return out, nil
	}
	sort.Float64s(apart)
	out.Least, out.Middle = tidy(apart[0]), tidy(apart[len(apart)/2])
	near := loft.Nearest(all)
	out.Advice = tongue.T("The seams of layer %d come as near as %s to one beneath: below strake %s over the seam below %s, at frame %s. Half of them stay at least %s away. Strakes that taper unlike those beneath must cross their seams somewhere, so the least distance may be zero.",
		layer+1, u.Length(near.Distance), near.Seam, near.Beneath, k.Plan.Hull.Frames[near.Frame].Name, u.Length(apart[len(apart)/2]))
	return out, nil
}

func (s LayerSeam) text(p *page) {
	p.gap()
	p.line("%s", s.Advice)
	t := table{head: heads("seam below", "over that below", "frame", "distance")}
	for _, c := range s.Seams {
		t.rows = append(t.rows, []string{c.Below, c.Beneath, c.Frame, mm(c.Distance)})
	}
	if len(t.rows) > 0 {
		p.table(t)
	}
}
