package loft

import "math"

// Moved records that a band line is laid away from where it is drawn at a frame,
// because as drawn it would leave a band there less than half a strip, or nothing.
type Moved struct {
	Frame   int     // its index
	By      float64 // mm of girth that it is moved down; negative for up
	Crossed bool    // as drawn it lies above the line over it
}

// movedLeast is the least move that is reported, mm; anything less cannot be marked on
// a frame.
const movedLeast = 0.05

// movedFrom compares the course of a line with the one kept within its berth, at the
// planked frames that it reaches.
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

// noteMoved records where a line is laid away from where it is drawn. A free line that
// leaves the planked region is reported elsewhere.
func (l *Layer) noteMoved(line int, b *BandLine) {
	if frames, by := framesMoved(b.Moved, true); len(frames) > 0 {
		l.tell(LinesCross{Line: line, Frames: frames, By: by})
	}
	if len(b.Runouts) > 0 {
		return
	}
	if frames, by := framesMoved(b.Moved, false); len(frames) > 0 {
		l.tell(TooClose{Line: line, Frames: frames, By: by})
	}
}

// framesMoved gives the frames at which a line was moved because it crosses another or,
// if crossed is false, because it lies too close, and the greatest move.
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
