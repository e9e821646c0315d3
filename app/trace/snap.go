package trace

import (
	"cmp"
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// Settings for finding an outline near a click. Lengths in pixels, brightness 0
// to 255.
const (
	leastReach   = 3.0
	mostReach    = 40.0
	profileStep  = 0.25
	blur         = 0.8  // standard deviation of the smoothing across the outline
	along        = 2    // how far to either side to average along the outline
	leastStep    = 24.0 // a smaller change of brightness is not an outline
	overNoise    = 5.0  // nor is one smaller than this many times the noise
	leastOneWay  = 0.35 // how much the slopes must agree in direction: 0 not at all, 1 completely
	thickestLine = 14.0 // a dark stripe up to this width is a line, and a wider one the edge of a body
	runOn        = 4.0  // how far an outline must continue on either side
	mostBend     = 1.2  // and the most it may be off its tangent there
	clearlyNear  = 1.7  // another outline must be at least this many times as far off
)

// Snap gives the point on the outline nearest to a click, and whether there is a
// clear one: within reach pixels (taken within 3 and 40), of enough contrast,
// and with no other nearly as close. On a thin line it is the middle, on the
// edge of something wider the steepest change of brightness. On flat ground, in
// noise, at crossings and between two lines equally near, at the ends of a line
// and where lines run together it is the click itself, and false.
func (p *Picture) Snap(at Point, reach float64) (Point, bool) {
	found, _, ok := p.SnapLine(at, reach)
	return found, ok
}

// SnapLine is Snap with the direction of the outline there, measured from the
// right downwards.
func (p *Picture) SnapLine(at Point, reach float64) (found Point, heading hull.Angle, ok bool) {
	reach = min(max(reach, leastReach), mostReach)
	if !at.finite() || !p.Holds(at) {
		return at, 0, false
	}
	normal, ok := p.normal(at, reach)
	if !ok {
		return at, 0, false
	}
	o, ok := p.nearestOutline(at, normal, reach)
	if !ok {
		return at, 0, false
	}
	found = at.plus(normal.times(o.at))
	// the slopes around the point itself give the direction better than those
	// around the click
	for range 2 {
		if normal, ok = p.normal(found, o.half+leastReach); !ok {
			return at, 0, false
		}
		if o, ok = p.nearestOutline(found, normal, leastReach); !ok {
			return at, 0, false
		}
		found = found.plus(normal.times(o.at))
	}
	if found.distance(at) > reach || !p.runsOn(found, o) {
		return at, 0, false
	}
	along := normal.turned()
	return found, hull.Angle(math.Atan2(along.Y, along.X)), true
}

// runsOn reports whether the outline continues past a point on both sides, with
// the same width. It does not where it ends, nor where lines run together:
// there the middle of the dark area is not the middle of any of them.
func (p *Picture) runsOn(at Point, o outline) bool {
	n, ok := p.normal(at, o.half+leastReach)
	if !ok {
		return false
	}
	for _, side := range []float64{-runOn, runOn} {
		q, ok := p.nearestOutline(at.plus(n.turned().times(side)), n, leastReach)
		if !ok || math.Abs(q.at) > mostBend || math.Abs(q.half-o.half) > 0.25+o.half/5 {
			return false
		}
	}
	return true
}

// normal is the direction in which the brightness changes most around a point:
// the first eigenvector of the mean of g·gᵀ over the slopes g there, weighted
// towards the middle (the structure tensor of Förstner, 1987, from memory). It
// is false where the slopes do not agree, or there are none.
func (p *Picture) normal(at Point, reach float64) (Point, bool) {
	n := int(math.Ceil(reach))
	sigma := reach / 1.5
	var xx, xy, yy, whole float64
	for j := -n; j <= n; j++ {
		for i := -n; i <= n; i++ {
			q := at.plus(Point{float64(i), float64(j)})
			w := math.Exp(-float64(i*i+j*j) / (2 * sigma * sigma))
			gx := (p.grey(q.plus(Point{1, 0})) - p.grey(q.plus(Point{-1, 0}))) / 2
			gy := (p.grey(q.plus(Point{0, 1})) - p.grey(q.plus(Point{0, -1}))) / 2
			xx, xy, yy, whole = xx+w*gx*gx, xy+w*gx*gy, yy+w*gy*gy, whole+w
		}
	}
	spread := math.Hypot(xx-yy, 2*xy)
	if !(xx+yy > whole*0.05) || spread < leastOneWay*(xx+yy) {
		return Point{}, false
	}
	a := math.Atan2(2*xy, xx-yy) / 2
	return Point{math.Cos(a), math.Sin(a)}, true
}

// step is a place on a profile where the brightness changes.
type step struct {
	at     float64 // px from the click
	height float64 // how much brighter it is after it
}

// outline is where an outline crosses a profile.
type outline struct {
	at   float64 // px from the click
	half float64 // px, half the width of a line; 0 for an edge
}

// nearestOutline gives the nearest clear outline along the normal.
func (p *Picture) nearestOutline(at, normal Point, reach float64) (outline, bool) {
	values, first := p.profile(at, normal, reach+thickestLine)
	steps := stepsOf(values, first)
	if len(steps) == 0 {
		return outline{}, false
	}
	where := outlinesOf(steps, values)
	slices.SortFunc(where, func(a, b outline) int { return cmp.Compare(math.Abs(a.at), math.Abs(b.at)) })
	switch {
	case len(where) == 0 || math.Abs(where[0].at) > reach:
		return outline{}, false
	case len(where) > 1 && math.Abs(where[1].at) < clearlyNear*math.Abs(where[0].at) && math.Abs(where[1].at) <= reach:
		return outline{}, false
	}
	return where[0], true
}

// profile is the brightness along the normal, starting at first, a value every
// profileStep, averaged along the outline.
func (p *Picture) profile(at, normal Point, reach float64) (values []float64, first float64) {
	n := int(math.Ceil(reach / profileStep))
	tangent := normal.turned()
	for k := -n; k <= n; k++ {
		sum := 0.0
		for i := -along; i <= along; i++ {
			sum += p.grey(at.plus(normal.times(float64(k) * profileStep)).plus(tangent.times(float64(i))))
		}
		values = append(values, sum/(2*along+1))
	}
	return values, -float64(n) * profileStep
}

// stepsOf finds the changes of brightness: peaks of the smoothed slope, each
// with the whole change over its flanks.
func stepsOf(values []float64, first float64) []step {
	slope := smoothedSlope(values)
	least := max(leastStep, overNoise*noise(values))
	var out []step
	for k := 1; k+1 < len(slope); k++ {
		g := slope[k]
		a := math.Abs(g)
		if a <= 0 || a < slope[k-1]*sign(g) || a <= slope[k+1]*sign(g) {
			continue
		}
		height := g * profileStep
		for i := k - 1; i >= 0 && slope[i]*g > 0 && math.Abs(slope[i]) <= math.Abs(slope[i+1]); i-- {
			height += slope[i] * profileStep
		}
		for i := k + 1; i < len(slope) && slope[i]*g > 0 && math.Abs(slope[i]) <= math.Abs(slope[i-1]); i++ {
			height += slope[i] * profileStep
		}
		if math.Abs(height) >= least {
			out = append(out, step{first + (float64(k)+vertex(slope[k-1], g, slope[k+1]))*profileStep, height})
		}
	}
	return out
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// vertex is where a parabola through three values one step apart has its peak,
// measured from the middle one.
func vertex(a, b, c float64) float64 {
	d := a - 2*b + c
	if d == 0 {
		return 0
	}
	return min(max((a-c)/(2*d), -0.5), 0.5)
}

// smoothedSlope is the change per pixel, smoothed by a bell of standard
// deviation blur.
func smoothedSlope(values []float64) []float64 {
	n := int(math.Ceil(3 * blur / profileStep))
	out := make([]float64, len(values))
	for k := range values {
		var sum, weight float64
		for i := -n; i <= n; i++ {
			x := float64(i) * profileStep
			w := math.Exp(-x * x / (2 * blur * blur))
			sum += w * x * values[min(max(k+i, 0), len(values)-1)]
			weight += w * x * x
		}
		out[k] = sum / weight
	}
	return out
}

// noise is the median of the changes over one pixel that reverse at once: what
// is left of the values after straight runs are removed.
func noise(values []float64) float64 {
	s := int(1 / profileStep)
	var all []float64
	for k := s; k+s < len(values); k++ {
		all = append(all, math.Abs(values[k-s]-2*values[k]+values[k+s])/2)
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// outlinesOf gives the positions of outlines: the middle of each line, whose
// two steps are equally large, and each step that is not the side of a line. A
// line differs from most of the profile; a light gap between two dark lines is
// not one.
func outlinesOf(steps []step, values []float64) []outline {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	dark := sorted[len(sorted)/2] > (sorted[0]+sorted[len(sorted)-1])/2 // lines are dark
	var out []outline
	for i := 0; i < len(steps); i++ {
		s := steps[i]
		falls := s.height < 0
		if i+1 < len(steps) && falls == dark {
			t := steps[i+1]
			ratio := -t.height / s.height
			if t.at-s.at <= thickestLine && ratio > 0.5 && ratio < 2 {
				out = append(out, outline{(s.at + t.at) / 2, (t.at - s.at) / 2})
				i++
				continue
			}
		}
		out = append(out, outline{at: s.at})
	}
	return out
}
