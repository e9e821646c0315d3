package answer

import (
	"io"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TakeOff is the answer of the command take-off.
type TakeOff struct {
	Source string   `json:"source"`
	Plan   string   `json:"plan"` // the file written
	Title  string   `json:"title"`
	Frames []Taken  `json:"frames"`
	Notes  []string `json:"notes"` // what the builder should know of the source
}

// Taken is a frame as taken off.
type Taken struct {
	Frame  string  `json:"frame"`
	X      float64 `json:"x"`
	Points int     `json:"points"` // 0 where only its girth is known
	Girth  float64 `json:"girth"`
}

// TakeOffOf tells what was taken off a source and written to a plan's file, and where
// it does not tell the hull between its frames.
func TakeOffOf(k *loft.Planking, source, plan string, notes []string) TakeOff {
	out := TakeOff{Source: source, Plan: plan, Title: k.Plan.Title, Frames: []Taken{}, Notes: append([]string{}, notes...)}
	for i, f := range k.Plan.Hull.Frames {
		out.Frames = append(out.Frames, Taken{f.Name, tidy(f.X()), measured(&k.Plan.Hull, i), tidy(k.Layers[0].Girths[i])})
	}
	l := k.Layers[0]
	for _, n := range l.Notes {
		if _, unknown := n.(loft.TurnsBetween); unknown {
			out.Notes = append(out.Notes, NoteText(l, n, MM{}))
		}
	}
	return out
}

// measured is the number of points of a frame; 0 where only its girth is known.
func measured(h *hull.Hull, frame int) int {
	if h.Shapeless() {
		return 0
	}
	return len(h.Frames[frame].Points)
}

// points tells a number of points, or a dash for none.
func points(n int) string {
	if n == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}

// Text writes a table of the frames and where the plan is.
func (a TakeOff) Text(w io.Writer) error {
	p := &page{w: w}
	t := table{head: heads("frame", "x", "points", "girth")}
	for _, f := range a.Frames {
		t.rows = append(t.rows, []string{f.Frame, mm(f.X), points(f.Points), mm(f.Girth)})
	}
	p.table(t)
	p.list(tongue.T("Notes"), a.Notes)
	p.gap()
	p.line("Took %d frames off %s; plan written to %s.", len(a.Frames), a.Source, a.Plan)
	return p.err
}
