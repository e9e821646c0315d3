package loft

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// LayingOrder gives the strakes, counted from the upper limit, in the order in
// which they are laid.
func (l *Layer) LayingOrder(rules hull.Cutting) []int {
	n := len(l.Strakes)
	if rules.Laying == hull.Outward {
		return outward(n, l.LaidFrom(rules))
	}
	out := make([]int, n)
	for i := range out {
		switch {
		case rules.Laying == hull.Downward:
			out[i] = i
		case rules.Laying == hull.Upward:
			out[i] = n - 1 - i
		case i%2 == 0:
			out[i] = i / 2
		default:
			out[i] = n - 1 - i/2
		}
	}
	return out
}

// outward is the order of n strakes from one on: the first below the line, the first
// above it, and so on in turn; when one side is finished the other continues. If a
// strake is named, laying begins with that strake.
func outward(n int, from LaidFrom) []int {
	below, above := from.Strake, from.Strake-1
	out := make([]int, 0, n)
	for len(out) < n {
		if below < n {
			out = append(out, below)
			below++
		}
		if above >= 0 {
			out = append(out, above)
			above--
		}
	}
	return out
}

// LaidFrom is where the laying of a layer begins, outward.
type LaidFrom struct {
	Strake int  // index of the first to be laid: the one beneath the line, or the one named
	Line   int  // the line it lies beside, from 1 down; 0 where laying does not begin from a line
	Named  bool // by the builder; else it is the freest
}

// LaidFrom gives where laying outward begins: where the builder says, else beside the
// free line. Of several free lines, or if there is none, it is the line whose greatest
// edge-set is least; if there are no lines, the strake for which it is least. A line or
// strake that the builder named but that no longer exists is ignored. On a hull known
// by its girths alone it is the line nearest to the middle, or the strake there.
func (l *Layer) LaidFrom(rules hull.Cutting) LaidFrom {
	if from, ok := l.startNamed(rules); ok {
		return from
	}
	best, bestFree, least := 0, false, math.Inf(1)
	for k := 1; k < len(l.Lines)-1; k++ {
		free, worst := l.Lines[k].manner == hull.Free, l.unease(edgeSetMost(l.Lines[k].Line), l.Bands[k].First)
		if free && !bestFree || free == bestFree && worst < least {
			best, bestFree, least = k, free, worst
		}
	}
	if best > 0 {
		return LaidFrom{Strake: l.Bands[best].First, Line: best}
	}
	at := 0
	for n, st := range l.Strakes {
		if worst := l.unease(st.EdgeSetMax, n); st.To > st.From && worst < least {
			at, least = n, worst
		}
	}
	return LaidFrom{Strake: at}
}

// CheckStart gives an error if the plan has laying begin at a place that its planking
// does not have.
func (k *Planking) CheckStart() error {
	rules := k.Cutting()
	starts, err := rules.Starts()
	if err != nil {
		return err
	}
	for n, start := range starts {
		if n > len(k.Layers) {
			return tongue.Errorf("it names layer %d, and the plan has %d", n, len(k.Layers))
		}
		switch l := k.Layers[n-1]; {
		case l.LaidFrom(rules).Named:
		case start.Line > 0:
			return tongue.Errorf("there is no line %d in layer %d: it has %d", start.Line, n, len(l.Lines)-2)
		default:
			return tongue.Errorf("there is no strake %s", start.Strake)
		}
	}
	return nil
}

// unease is the figure by which a line above or in a strake is judged: its greatest
// edge-set or, on a hull of unknown shape, the distance of that strake from the middle
// one.
func (l *Layer) unease(edgeSet hull.Curvature, strake int) float64 {
	if l.Surface.shapeless {
		return math.Abs(float64(strake) - float64(len(l.Strakes)-1)/2)
	}
	return float64(edgeSet)
}

// edgeSetMost is the greatest absolute edge-set of a line.
func edgeSetMost(l *Line) hull.Curvature {
	worst := hull.Curvature(0)
	for _, e := range l.EdgeSet {
		worst = max(worst, e, -e)
	}
	return worst
}

// startNamed is where the builder has the laying of the layer begin; ok is false where
// this is not given, or names nothing in the layer.
func (l *Layer) startNamed(rules hull.Cutting) (from LaidFrom, ok bool) {
	starts, err := rules.Starts()
	if err != nil {
		return LaidFrom{}, false
	}
	start, named := starts[l.Number]
	switch {
	case !named:
		return LaidFrom{}, false
	case start.Line > 0 && start.Line < len(l.Lines)-1:
		return LaidFrom{Strake: l.Bands[start.Line].First, Line: start.Line, Named: true}, true
	}
	n := l.StrakeNamed(start.Strake)
	return LaidFrom{Strake: n, Named: true}, n >= 0
}
