package answer

import (
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/fair"
)

// Misfit is how a frame lies against the smooth run of its neighbours, lengths
// in mm, outwards positive. Points count from 1 at the upper limit.
type Misfit struct {
	Frame    string    `json:"frame"`
	Judged   bool      `json:"judged"`   // false for an end curve, which bears on its neighbours only
	Shift    float64   `json:"shift"`    // of the frame as a whole
	RMS      float64   `json:"rms"`      // of its points, root mean square
	Noise    float64   `json:"noise"`    // of all points of the hull, standard deviation: so much is no news
	Off      []float64 `json:"off"`      // of each point
	Suspects []int     `json:"suspects"` // points that bump
	Bumped   bool      `json:"bumped"`   // the frame as a whole does
}

// MisfitsOf tells how the frames of a hull lie against the run of their
// neighbours, as fair.Misfits found it.
func MisfitsOf(h *hull.Hull, found []fair.Misfit) []Misfit {
	out := []Misfit{}
	for i, m := range found {
		a := Misfit{Frame: m.Frame, Judged: !h.Frames[i].IsEnd(), Shift: tidy(m.Shift), RMS: tidy(m.RMS), Noise: tidy(m.Noise),
			Off: tidyAll(m.Off), Suspects: []int{}, Bumped: m.Bumped}
		for _, j := range m.Suspects {
			a.Suspects = append(a.Suspects, j+1)
		}
		out = append(out, a)
	}
	return out
}

// misfits writes the frames against the run of their neighbours.
func (p *page) misfits(found []Misfit) {
	if len(found) == 0 {
		return
	}
	p.gap()
	p.line("Against the smooth run of the neighbours, outwards positive (points from the upper limit down):")
	t := table{head: heads("frame", tongue.In("frame", "all"), "worst", "at point", "suspect")}
	for _, m := range found {
		t.rows = append(t.rows, m.row())
	}
	p.table(t)
	p.line("The points scatter by %s mm about a smooth run; a misfit no larger than that means nothing.", mm(found[0].Noise))
}

func (m Misfit) row() []string {
	if !m.Judged {
		return []string{m.Frame, "-", "-", "-", ""}
	}
	worst := 0
	for j, off := range m.Off {
		if off*off > m.Off[worst]*m.Off[worst] {
			worst = j
		}
	}
	suspect := ""
	switch n := len(m.Suspects); {
	case m.Bumped:
		suspect = tongue.T("the frame")
	case n == 1:
		suspect = tongue.T("point %d", m.Suspects[0])
	case n > 1:
		suspect = tongue.T("%d points", n)
	}
	return []string{m.Frame, mm(m.Shift), mm(m.Off[worst]), strconv.Itoa(worst + 1), suspect}
}
