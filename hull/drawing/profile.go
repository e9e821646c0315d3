package drawing

import (
	"maps"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// evenScale is how far the stations marked in a profile may stand from their
// given places, as a share of the length between the outermost.
const evenScale = 0.02

// profile makes an end curve from a stem or stern drawn from the side: x along
// the drawing, by the marks of stations or the x of its upper end, z up, and the
// half-siding as the half-breadth all along.
func (t *tracing) profile(name string) (fr hull.Frame, line int, ok bool) {
	o, chains := t.found[name], t.chains[partKey{"", name}]
	line = o.Line
	chains, gaps := joinGaps(chains, math.NaN())
	t.bridged(&t.gaps, name, gaps)
	if len(chains) != 1 {
		t.Add(line, name, "draw it as one line whose pieces meet", "the profile is in %d parts", len(chains))
		return fr, line, false
	}
	run, ok := t.profileRun(name, &chains[0])
	if !ok {
		return fr, line, false
	}
	at, along, ok := t.profileX(name, &o, run.pts[0][0])
	if !ok {
		return fr, line, false
	}
	base, _ := t.level(BaseMark, name, 1)
	fr = chosen(&run, nil)
	fr.Name = name
	for j, p := range fr.Points {
		fr.Points[j] = mgl64.Vec3{at + along*p[1], o.Siding, p[2] - base}
	}
	return fr, line, true
}

// profileRun is the planked part of a profile, from its upper end down: between
// its own marks, or those for all that cross it, otherwise from end to end.
func (t *tracing) profileRun(name string, c *chain) (run chain, ok bool) {
	if c.closed {
		t.Add(c.line, name, "draw the line of the rabbet alone", "the profile is closed")
		return run, false
	}
	last := len(c.pts) - 1
	from, to := place(0), place(last)
	if c.pts[0][1] < c.pts[last][1] {
		from, to = to, from
	}
	for _, end := range []struct {
		mark string
		at   *place
	}{{UpperMark, &from}, {RabbetMark, &to}} {
		p := t.crossedBy(end.mark, name, c)
		switch {
		case p >= 0:
			*end.at = p
		case t.has(end.mark, name):
			t.Add(c.line, name, "draw it across the profile", "the mark %s does not meet its profile", end.mark)
			return run, false
		}
	}
	if from > to {
		run = c.between(to, from)
		run = run.turned()
	} else {
		run = c.between(from, to)
	}
	sound := t.sound(name, &run)
	return run, sound
}

// crossedBy is where a mark for the profile, or for all, crosses it or comes
// close to it; -1 where none does.
func (t *tracing) crossedBy(mark, name string, c *chain) place {
	lines, dots := t.marksOf(mark, name)
	for i := range lines {
		if at := c.crossings(lines[i].pts, &t.close); len(at) > 0 {
			return at[0]
		}
	}
	for _, d := range dots {
		if p, away := c.nearest(d); away < c.length()/20 {
			return p
		}
	}
	return -1
}

// profileX gives at and along, by which a point at u along the drawing lies at x
// = at + along·u: from the stations marked in it, two of which also show whether
// x increases to the right or to the left, or from the x of its upper end, which
// lies at u0.
func (t *tracing) profileX(name string, o *Outline, u0 float64) (at, along float64, ok bool) {
	var us, xs []float64
	for _, f := range slices.Sorted(maps.Keys(t.found)) {
		if is := t.found[f]; is.Placed && !is.Profile && t.has(StationMark, f) {
			u, _ := t.level(StationMark, f, 0)
			us, xs = append(us, u), append(xs, is.X)
		}
	}
	switch len(us) {
	case 0:
		if !o.Placed {
			t.Add(o.Line, name, tongue.T("draw a short upright line at a frame F in the profile and name it station-F, or give the x of its upper end, as profile-%s-x-12", name),
				"the place of its profile along the hull is missing")
			return 0, 0, false
		}
		return o.X - u0, 1, true
	case 1:
		return xs[0] - us[0], 1, true
	}
	i, k := slices.Index(xs, slices.Min(xs)), slices.Index(xs, slices.Max(xs))
	along = math.Copysign(1, us[k]-us[i])
	for j := range us {
		at += (xs[j] - along*us[j]) / float64(len(us))
	}
	for j := range us {
		if off := math.Abs(at + along*us[j] - xs[j]); off > max(evenScale*(xs[k]-xs[i]), 10*meeting) {
			t.Add(o.Line, name, "check the scale of the drawing, and the x of the frames",
				"the stations marked in its profile lie %s mm apart, but x differs by %s mm", fault.Figure(math.Abs(us[k]-us[i])), fault.Figure(xs[k]-xs[i]))
			return 0, 0, false
		}
	}
	return at, along, true
}
