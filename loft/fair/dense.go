package fair

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// Points of a frame: above mostSettled, on average, the surface is settled on outlines
// thinned to about enoughSettled, which determine its stiffness just as well.
const (
	mostSettled   = 40.0
	enoughSettled = 28
)

// thinGrid is a grid of thinned outlines, beside the full one.
type thinGrid struct {
	*grid
	of []int // for each of its points, the index in the full grid
}

// thinned gives the thin grid of a grid whose frames are dense; nil for others.
func (g *grid) thinned(outlines []outline) (*thinGrid, error) {
	if g.usual() <= mostSettled {
		return nil, nil
	}
	t := &thinGrid{}
	frames := slices.Clone(g.frames)
	for i := range frames {
		kept := outlines[i].kept(enoughSettled)
		frames[i] = picked(frames[i], kept)
		for _, j := range kept {
			t.of = append(t.of, g.first[i]+j)
		}
	}
	var err error
	t.grid, err = newGrid(g.ctx, frames)
	return t, err
}

// kept chooses about that many points of an outline, evenly by girth, with its ends and
// knuckles and at least four in each run between these, if it has them.
func (o *outline) kept(enough int) []int {
	girth := o.curve.Girth
	out := []int{0}
	for k := 1; k < len(o.ends); k++ {
		a, b := o.ends[k-1], o.ends[k]
		runs := max(math.Round((girth[b]-girth[a])/o.curve.Total()*float64(enough-1)), 3)
		for n := 1.0; n <= runs; n++ {
			at := girth[a] + (girth[b]-girth[a])*n/runs
			j, found := slices.BinarySearch(girth[a:b+1], at)
			if j += a; !found && j > a && (j > b || at-girth[j-1] < girth[j]-at) {
				j--
			}
			if n == runs {
				j = b
			}
			if j > out[len(out)-1] {
				out = append(out, j)
			}
		}
	}
	return out
}

// picked is a frame with some of its points, all its knuckles among them.
func picked(f hull.Frame, points []int) hull.Frame {
	out := f
	out.Points, out.Knuckles = nil, nil
	for n, j := range points {
		out.Points = append(out.Points, f.Points[j])
		if slices.Contains(f.Knuckles, j) {
			out.Knuckles = append(out.Knuckles, n)
		}
	}
	return out
}

// suit settles the thin grid, and gives the surface of the full one that is as stiff
// and as free to turn.
func (t *thinGrid) suit(g *grid, start [2]float64, trusted []bool, criterion func(*smoothed) float64) (*smoothed, turns, error) {
	denser := t.denser(g)
	start[1] /= denser
	f, turning, err := t.grid.suit(start, t.shown(trusted), criterion)
	if err != nil {
		return nil, turning, err
	}
	gather(g.lengthwise, g.along, adapted(turning.along))
	gather(g.girthwise, g.down, adapted(turning.down))
	full, err := g.smooth([2]float64{f.stiff[0], f.stiff[1] * denser}, trusted)
	return full, turning, err
}

// denser is the factor by which the full grid is stiffer down the girth when it is
// equivalent. The differences there are taken over the mean distance h of the points;
// on two grids of one hull they have the same weight where stiffness times h⁶ is the
// same, while those along the hull do not depend on h.
func (t *thinGrid) denser(g *grid) float64 { return math.Pow((g.usual()-1)/(t.usual()-1), 6) }

// shown reports which of the thin grid's points are trusted.
func (t *thinGrid) shown(trusted []bool) []bool {
	out := make([]bool, len(t.of))
	for n, k := range t.of {
		out[n] = trusted[k]
	}
	return out
}
