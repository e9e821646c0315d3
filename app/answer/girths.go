package answer

import (
	"io"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Girths is the answer of the command girths.
type Girths struct {
	Frames []FrameGirth `json:"frames"`

	ends bool // a layer is laid between frames of its own
}

// FrameGirth is the girth of a frame on the surface that a layer lies on.
type FrameGirth struct {
	Layer int       `json:"layer,omitempty"` // from 1; left out where there is but one
	Frame string    `json:"frame"`
	X     float64   `json:"x"`
	Girth float64   `json:"girth"` // between the limits, planked or not
	Bands []float64 `json:"bands"` // from the upper limit down; 0 where it is not planked

	planked bool
}

// GirthsOf gives the girths of every layer's frames.
func GirthsOf(k *loft.Planking) Girths {
	out := Girths{Frames: []FrameGirth{}}
	for i, l := range k.Layers {
		out.ends = out.ends || k.Plan.Layers[i].From != "" || k.Plan.Layers[i].To != ""
		first, last := l.Surface.Planked()
		for i, f := range k.Plan.Hull.Frames {
			g := FrameGirth{Layer: layerKey(k, l), Frame: f.Name, X: tidy(f.X()), Girth: tidy(l.Girths[i]), planked: i >= first && i <= last, Bands: []float64{}}
			for _, b := range l.Bands {
				g.Bands = append(g.Bands, tidy(b.Girths[i]))
			}
			out.Frames = append(out.Frames, g)
		}
	}
	return out
}

// Text writes a table a layer.
func (g Girths) Text(w io.Writer) error {
	p := &page{w: w}
	for _, rows := range byLayer(g.Frames, func(f FrameGirth) int { return f.Layer }) {
		p.layer(rows[0].Layer)
		t := table{head: heads("frame", "x", "girth")}
		for b := range rows[0].Bands {
			t.head = append(t.head, tongue.T("band %d", b+1))
		}
		for _, f := range rows {
			row := []string{f.Frame, mm(f.X), mm(f.Girth)}
			for _, b := range f.Bands {
				if f.planked {
					row = append(row, mm(b))
				} else {
					row = append(row, "-")
				}
			}
			t.rows = append(t.rows, row)
		}
		p.table(t)
	}
	p.line("Lengths in mm; girth runs from the upper limit down.")
	if slices.ContainsFunc(g.Frames, func(f FrameGirth) bool { return !f.planked }) {
		if g.ends {
			p.line("A dash marks a frame without strakes: a filler block is there, or the layer ends before it.")
		} else {
			p.line("A dash marks a frame without strakes: a filler block is there.")
		}
	}
	return p.err
}
