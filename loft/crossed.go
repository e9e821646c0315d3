package loft

import (
	"fmt"
	"math"
	"strings"

	"strakewright/hull/fault"
)

// Moved tells that a band line is not laid where it is drawn at a frame, since it
// would leave the bands there less than half a strip, or nothing.
type Moved struct {
	Frame   int     // its index
	By      float64 // mm of girth that it is laid further down; negative for up
	Crossed bool    // as drawn it lies above the line over it
}

// movedLeast is how far a line must be moved for it to be told, mm: less is below
// what is marked on a frame.
const movedLeast = 0.05

// movedFrom compares the course of a line with that which keeps within its berth, at
// the planked frames to which it comes.
func (s *Surface) movedFrom(c course, kept *Line, b berth) []Moved {
	var out []Moved
	for i := s.first; i <= s.last; i++ {
		k := s.FrameStation(i)
		if math.IsNaN(c.v[k]) {
			continue
		}
		drawn := s.down(k, c.v[k])
		if by := kept.Down[k] - drawn; math.Abs(by) > movedLeast {
			out = append(out, Moved{Frame: i, By: by, Crossed: b.line > 0 && drawn < b.above[k]-movedLeast})
		}
	}
	return out
}

// Faults gives what of the layer's decisions cannot be laid as it was drawn: band
// lines that cross. They are laid all the same, the lower one below the upper.
func (l *Layer) Faults() []fault.Fault {
	var out []fault.Fault
	for k, b := range l.Lines {
		if frames, by := framesMoved(b.Moved, true); len(frames) > 0 {
			out = append(out, l.crossing(k, frames, by))
		}
	}
	return out
}

// crossing is the fault of a line, from 1, drawn above the one over it.
func (l *Layer) crossing(line int, frames []int, by float64) fault.Fault {
	return fault.Fault{
		What: fmt.Sprintf("layer %d: band lines %d and %d cross: at %s line %d is drawn above line %d, and is laid half a strip below it instead, up to %.1f mm lower",
			l.Number, line-1, line, l.framesCalled(frames), line, line-1, by),
		Mend: fmt.Sprintf("draw line %d below line %d there", line, line-1),
	}
}

// noteMoved says where a line is not laid as it is drawn. That a free line leaves
// the planked region is told elsewhere.
func (l *Layer) noteMoved(line int, b *BandLine) {
	if frames, by := framesMoved(b.Moved, true); len(frames) > 0 {
		f := l.crossing(line, frames, by)
		_, text, _ := strings.Cut(f.Error(), ": ") // a note is told with its layer anyhow
		l.Notes = append(l.Notes, "B"+strings.TrimPrefix(text, "b"))
	}
	if len(b.Runouts) > 0 {
		return
	}
	if frames, by := framesMoved(b.Moved, false); len(frames) > 0 {
		way := "lower"
		if by < 0 {
			way, by = "higher", -by
		}
		l.Notes = append(l.Notes, fmt.Sprintf("Band line %d is drawn at %s so that a band beside it has less than half a strip there; it is laid up to %.1f mm %s.",
			line, l.framesCalled(frames), by, way))
	}
}

// framesMoved gives the frames at which a line was moved, where it crosses or
// where it only lies too close, and the greatest move.
func framesMoved(moves []Moved, crossed bool) (frames []int, by float64) {
	for _, m := range moves {
		if m.Crossed == crossed {
			frames = append(frames, m.Frame)
			if math.Abs(m.By) > math.Abs(by) {
				by = m.By
			}
		}
	}
	return frames, by
}

// framesCalled names frames, by rising index, with those between the ends of a run
// left out: "frames A to D and G".
func (l *Layer) framesCalled(frames []int) string {
	var runs []string
	for i := 0; i < len(frames); {
		j := i
		for j+1 < len(frames) && frames[j+1] == frames[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			runs = append(runs, l.name(frames[i]))
		case 1:
			runs = append(runs, l.name(frames[i]), l.name(frames[j]))
		default:
			runs = append(runs, l.name(frames[i])+" to "+l.name(frames[j]))
		}
		i = j + 1
	}
	if len(frames) == 1 {
		return "frame " + runs[0]
	}
	if len(runs) == 1 {
		return "frames " + runs[0]
	}
	return "frames " + strings.Join(runs[:len(runs)-1], ", ") + " and " + runs[len(runs)-1]
}
