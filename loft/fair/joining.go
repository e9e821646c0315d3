package fair

import (
	"math"
	"slices"
)

// joining is how a point finds its neighbours in other frames, and how the distances
// down its own frame are measured. A smooth hull may look far from smooth with the
// wrong neighbours: on a hull given on waterlines the half-breadths along one may be of
// the second degree, and on a high-sided one those at equal shares of the girth.
type joining int

const (
	byGirth   joining = iota // at the same share of the girth; down by the girth of the frame
	byRow                    // the points of the same number; down by the girth of the frame
	byMeanRow                // the points of the same number; down by the mean girth of all frames
	byEvenRow                // the points of the same number; down by depth where they lie level, else all alike
	joinings
)

// inRows reports whether points of the same number may be neighbours: where all frames
// have as many, and the same knuckles.
func (g *grid) inRows() bool {
	for _, o := range g.outlines {
		if len(o.curve.Girth) != len(g.outlines[0].curve.Girth) || !slices.Equal(o.ends, g.outlines[0].ends) {
			return false
		}
	}
	return true
}

// rowPlaces are the places of the rows down any frame, mm; nil where every frame has its own.
func (g *grid) rowPlaces() []float64 {
	if g.joined < byMeanRow {
		return nil
	}
	n := len(g.outlines[0].curve.Girth)
	out := make([]float64, n)
	for j := 1; j < n; j++ {
		step := 0.0
		for _, o := range g.outlines {
			step += (o.curve.Girth[j] - o.curve.Girth[j-1]) / float64(len(g.outlines))
		}
		out[j] = out[j-1] + step
	}
	if g.joined == byEvenRow {
		if level := g.level(); level != nil {
			return level
		}
		for j := range out {
			out[j] = out[n-1] * float64(j) / float64(n-1)
		}
	}
	return out
}

// levelWithin is the greatest difference in height, mm, between points of one row that
// counts as level.
const levelWithin = 0.01

// level gives the depth of the rows below the first, mm, where all except the first and
// the last lie level in nearly all frames, as waterlines do; else nil.
func (g *grid) level() []float64 {
	n := len(g.outlines[0].curve.Girth)
	out := make([]float64, n)
	for j := range out {
		var z []float64
		for i := range g.frames {
			z = append(z, g.at[g.first[i]+j][1])
		}
		slices.Sort(z)
		out[j] = -z[len(z)/2]
		if spread := z[len(z)-1-len(z)/10] - z[len(z)/10]; spread > levelWithin && j > 0 && j < n-1 {
			return nil
		}
	}
	for j := n - 1; j >= 0; j-- {
		if j < n-1 && !(out[j]-out[0] < out[j+1]) {
			return nil
		}
		out[j] -= out[0]
	}
	return out
}

// choose joins the points in the way by which they predict one another best; by girth
// unless another way gains more than a given share. It gives a stiffness close to the
// one that suits.
func (g *grid) choose(trusted []bool, gain float64) (stiff [2]float64, err error) {
	stiff = [2]float64{1, 1}
	if g.thin != nil {
		stiff, err = g.thin.choose(g.thin.shown(trusted), gain)
		stiff[1] *= g.thin.denser(g)
		return stiff, err
	}
	if !g.inRows() || g.work() > mostChoiceWork {
		return stiff, nil
	}
	chosen, least, start := byGirth, math.Inf(1), stiff
	for how := range joinings {
		f, err := g.settledJoined(how, start, trusted)
		if err != nil {
			return stiff, err
		}
		if s := f.surprise(); s < least*gain {
			chosen, least, stiff = how, s, f.stiff
		}
		start = f.stiff // not far from what suits the next
	}
	return stiff, g.join(chosen)
}

const (
	// mostOrder is the highest order of the differences that is tried: on hulls of
	// published formulas the seventh is no better.
	mostOrder = 5
	// mostChoiceWork, in the terms of mostFairWork, is the limit above which no choice is
	// made: 25 frames of 30 points, close enough to define a hull however they are joined.
	mostChoiceWork = 10e6
)

// settledJoined joins the points in that way and gives the surface that then suits.
func (g *grid) settledJoined(how joining, start [2]float64, trusted []bool) (*smoothed, error) {
	if err := g.join(how); err != nil {
		return nil, err
	}
	return g.settle(start, trusted, (*smoothed).surprise)
}
