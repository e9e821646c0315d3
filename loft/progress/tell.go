package progress

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// share shares what is left at every frame, less the creep of the strakes still to be
// laid and what those cut already take, among those not yet cut.
func (s *benchBand) share(g *regression) {
	s.fresh = false
	for i := range s.along {
		left, creep := s.leftOf(g, i)
		planned := 0.0
		for n := range s.b.Weights {
			w := s.plan(n, i)
			if s.laid[n] || w == 0 {
				continue
			}
			left -= creep + s.b.WedgeAt(n, i)
			if s.cut[n] {
				left -= s.wood(n, i)
			} else {
				planned += w
			}
		}
		if s.hides(i) {
			left -= planned - s.plan(0, i)
			for n := range s.b.Weights {
				if !s.cut[n] {
					s.widths[n][i] = s.plan(n, i)
				}
			}
			s.widths[0][i] = max(left, 0)
			continue
		}
		for n := range s.b.Weights {
			if !s.cut[n] && planned > 0 {
				s.widths[n][i] = max(s.plan(n, i)*left/planned, 0)
			}
		}
	}
}

// leftOf is what is left at a frame, mm, and the creep expected there of a strake still
// to be laid. Where nothing was read the plan holds, with its creep.
func (s *benchBand) leftOf(g *regression, i int) (left, creep float64) {
	if len(s.readings) == 0 && !s.habit.taught {
		left = s.b.Girths[i]
		for n := range s.laid {
			left -= s.widths[n][i] + s.b.WedgeAt(n, i)
		}
		return left, s.toGo(s.habit.Mean)
	}
	return s.without(i, s.laid) + g.mean(s.leftAt(i)), s.toGo(-g.mean(s.next(i)))
}

// hides reports whether the top strake takes up all the difference at a frame: where
// that was chosen and the strake is still to be cut, and is laid there.
func (s *benchBand) hides(frame int) bool {
	return s.way == hull.Hidden && s.b.Number == 1 && !s.cut[0] && s.plan(0, frame) > 0
}

// plan is a strake's width at a frame as first planned.
func (s *benchBand) plan(n, frame int) float64 {
	return s.l.Strakes[s.b.First+n].At[frame].WidthFrame
}

// tell assembles the band's state.
func (s *benchBand) tell(g *regression) BandState {
	out := BandState{Layer: s.l.Number, Band: s.b.Number, Queries: s.queries, Measured: len(s.readings) > 0, Known: len(s.readings) > 0 || s.habit.taught, Remedy: s.way, Wet: s.wet}
	creep, deviation, _ := g.creep()
	out.Creep, out.CreepBound = creep, certain*deviation
	out.CreepToGo = s.toGo(creep)
	for _, n := range s.order {
		out.Laid = append(out.Laid, s.l.Strakes[s.b.First+n].ID)
	}
	for i := range s.along {
		left, toGo := s.leftOf(g, i)
		_, bound := g.expect(s.leftAt(i))
		off := g.mean(stray{frame: i, at: s.along[i], frames: true})
		planned := 0.0
		for n := range s.b.Weights {
			if !s.laid[n] {
				planned += s.plan(n, i) + s.b.WedgeAt(n, i)
			}
		}
		if !s.l.Surface.Planks(i) {
			left, bound, off, toGo = 0, 0, 0, 0
		}
		out.Left = append(out.Left, max(left, 0))
		out.LeftBound = append(out.LeftBound, bound)
		out.FrameOff = append(out.FrameOff, off)
		out.CreepAt = append(out.CreepAt, toGo)
		out.Straying = append(out.Straying, max(left, 0)-planned)
	}
	for n := range s.b.Weights {
		if s.laid[n] {
			continue
		}
		out.Remaining = append(out.Remaining, s.l.Strakes[s.b.First+n].ID)
		out.cuts = append(out.cuts, s.cut[n])
		change := make([]float64, len(s.along))
		for i := range change {
			change[i] = s.widths[n][i] - s.plan(n, i)
		}
		out.Widths = append(out.Widths, s.widths[n])
		out.Change = append(out.Change, change)
	}
	s.seams(g, &out)
	return out
}

// seams gives where the seams lie.
func (s *benchBand) seams(g *regression, out *BandState) {
	count := len(s.b.Weights)
	out.runs, out.Made = make([]bool, count), make([]bool, count+1)
	down := make([]float64, len(s.along))
	for i := range down {
		down[i] = s.l.Lines[s.b.Number-1].Down[s.l.Surface.FrameStation(i)]
	}
	out.Seams = [][]float64{slices.Clone(down)}
	for n := range count {
		out.runs[n] = s.laid[n]
		for i := range down {
			switch w := s.widths[n][i]; {
			case w == 0: // dropped out
			case s.laid[n] && !out.Known:
				down[i] += w
			case s.laid[n]:
				down[i] += s.wood(n, i) - g.mean(s.there(map[int]bool{n: true}, i))
			default:
				down[i] += w + out.CreepAt[i]
			}
			down[i] += s.b.WedgeAt(n, i)
		}
		out.Seams = append(out.Seams, slices.Clone(down))
	}
	for n := range out.Made {
		out.Made[n] = !slices.Contains(out.runs[:n], false) || !slices.Contains(out.runs[n:], false)
	}
	whole := !slices.Contains(out.runs, false)
	out.Made[0], out.Made[count] = whole, whole // the band's edges are in place where all of it is
}
