package mesh

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// Mesh is what was taken off a mesh.
type Mesh struct {
	Format Format // empty where it could not be read to its end
	Hull   hull.Hull
	Notes  []string // what the builder should know about it, a sentence each
}

// Check takes a hull off the mesh at a path, and returns every fault found. The fault of work
// that was stopped wraps the context's error.
func Check(ctx context.Context, path string, how Options) (*Mesh, []fault.Fault) {
	r := &reading{List: &fault.List{File: path}, ctx: ctx, how: how, mesh: &Mesh{}}
	if r.how.Progress == nil {
		r.how.Progress = func(float64) {}
	}
	if err := how.check(); err != nil {
		r.Add(0, "", "choose differently", "%s", err)
	} else if err := r.read(path); err != nil {
		r.refuse(err)
	}
	return r.mesh, r.Sorted()
}

// reading takes a hull off a mesh.
type reading struct {
	*fault.List
	ctx  context.Context // of the one call for which it is made
	how  Options
	mesh *Mesh

	opened   *opened
	unit     float64 // mm to a unit of the mesh, at full size
	mm       float64 // to a unit of the mesh, at model size
	extent   extent
	length   int
	stations []float64
	sections [][]line
	twoSkins bool  // the doubled skin has been reported
	doubled  []cut // duplicate pieces
	lie      lie
	sizes    sizes
	frames   []taken
}

// taken is a section that has been made into a frame.
type taken struct {
	x       float64
	side    side
	pts     []mgl64.Vec2 // of its side, or the mean of both
	whole   bool         // it has both sides
	differ  float64
	at      mgl64.Vec2 // where its sides differ by that much
	oneOnly bool       // their mean could not be taken
	miss    float64    // departure of the thinned points, mm
	sag     float64
}

// refuse records an error as a fault of the file.
func (r *reading) refuse(err error) {
	var f fault.Fault
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		f = fault.Fault{What: tongue.T("the reading of the mesh was stopped")}.Because(err)
	case errors.As(err, &f):
	default:
		f = fault.Fault{What: tongue.T("it cannot be read (%s)", err.Error()), Mend: tongue.T("check the file and the disk it is on")}.Because(err)
	}
	f.File = r.File
	r.Found = append(r.Found, f)
}

// read goes through the file, first for its extent and then to slice it.
func (r *reading) read(path string) error {
	rounds, round := 1.0, 0.0
	progress := func(share float64) { r.how.Progress((round + share) / rounds) }
	m, err := open(r.ctx, path, func(share float64) { progress(share) })
	if err != nil {
		return err
	}
	defer m.close()
	r.opened = m
	if m.format == stlFormat {
		rounds = 2
	}
	if r.extent, err = extentOf(r.ctx, m); err != nil {
		return err
	}
	r.mesh.Format = m.format
	if r.measure(); len(r.Found) > 0 {
		return nil
	}
	round = rounds - 1
	low := r.extent.low[r.length] * r.mm
	cuts, err := sliced(r.ctx, m, r.length, r.mm, low, r.stations)
	if err != nil {
		return err
	}
	for _, c := range cuts {
		if r.ctx.Err() != nil {
			return r.ctx.Err()
		}
		lines, doubled := joined(c, r.sizes.near)
		r.sections = append(r.sections, lines)
		r.doubled = append(r.doubled, doubled...)
	}
	if err := r.hull(); err != nil {
		return err
	}
	return r.ctx.Err()
}

// measure settles scale, length and stations.
func (r *reading) measure() {
	e := &r.extent
	switch {
	case e.triangles == 0:
		r.Add(0, "", "check that it is the right file", "there are no triangles in it")
		return
	case e.flat == e.triangles:
		r.Add(0, "", "check that it is the right file", "none of its triangles has an area")
		return
	}
	r.unit = 1
	if r.opened.unit > 0 {
		r.unit = r.opened.unit
	}
	if r.how.Unit > 0 {
		r.unit = r.how.Unit
	}
	r.mm = r.unit
	if r.how.Scale > 0 {
		r.mm /= r.how.Scale
	}
	size := e.high.Sub(e.low).Mul(r.mm)
	r.length, _ = r.how.Length.index()
	if r.length < 0 {
		r.length = e.longest()
	}
	if up, _ := r.how.Up.index(); up == r.length {
		r.Add(0, "", "name the axis of its length", "up is %s, but the mesh is longest along it", string(axisNames[up]))
		return
	}
	i, j := othersThan(r.length)
	diagonal := size.Len()
	switch {
	case min(size[i], size[j]) <= diagonal*1e-4:
		r.Add(0, "", "check that it is the right file", "the mesh is flat: it takes up %s", r.sizeText())
		return
	case diagonal > 10*hull.Largest || size[r.length] > hull.Largest:
		r.Add(0, "", "check its unit and scale", "the mesh would be %s mm long, over 100 m", fault.Figure(size[r.length]))
		return
	case size[r.length] < 1:
		r.Add(0, "", "check its unit and scale", "the mesh would be only %s mm long", fault.Figure(size[r.length]))
		return
	}
	r.sizes.near, r.sizes.silent, r.sizes.bridge = sameShare*diagonal, silentShare*diagonal, bridgeShare*diagonal
	r.stations = stationsOf(&r.how, e.low[r.length]*r.mm, e.high[r.length]*r.mm, r.List)
}

// sizeText gives the size of the mesh, at model size.
func (r *reading) sizeText() string {
	size := r.extent.high.Sub(r.extent.low).Mul(r.mm)
	return tongue.T("%s x %s x %s mm", fault.Figure(size[0]), fault.Figure(size[1]), fault.Figure(size[2]))
}

// hull makes the hull from the sections.
func (r *reading) hull() error {
	if !slices.ContainsFunc(r.sections, func(s []line) bool { return len(s) > 0 }) {
		r.Add(0, "", "give other stations", "no station cuts the mesh, which runs from x %s to %s mm", fault.Figure(r.extent.low[r.length]*r.mm), fault.Figure(r.extent.high[r.length]*r.mm))
		return nil
	}
	var err error
	if r.lie, err = lieOf(r.sections, r.length, r.how.Up, r.sizes.near); err != nil {
		r.Add(0, "", "name its axes along the keel and up, or give one half, or a hull with two like halves", "%s", err)
		return nil
	}
	if r.place(); len(r.Found) > 0 {
		return nil
	}
	h := &r.mesh.Hull
	h.Bow = r.how.Bow
	for k, t := range r.frames {
		pts, knuckles, miss := thinned(t.pts)
		r.frames[k].miss = miss
		fr := hull.Frame{Name: fmt.Sprintf("F%d", k+1)}
		for i := len(pts) - 1; i >= 0; i-- {
			fr.Points = append(fr.Points, mgl64.Vec3{t.x, pts[i][0], pts[i][1]})
		}
		for i := len(knuckles) - 1; i >= 0; i-- {
			fr.Knuckles = append(fr.Knuckles, len(pts)-1-knuckles[i])
		}
		h.Frames = append(h.Frames, fr)
	}
	h.CheckIn(hull.Places{Line: func(int, int) int { return 0 }, Unit: tongue.T("give the unit and the scale of the mesh")}, r.List)
	h.Settle()
	r.notes()
	return nil
}

// place finds the sides of all sections, with z upwards from the lowest point of the
// mesh.
func (r *reading) place() {
	axes := [2]int{}
	axes[0], axes[1] = othersThan(r.length)
	up := axes[r.lie.up]
	base := r.extent.low[up] * r.mm
	if r.lie.sense < 0 {
		base = -r.extent.high[up] * r.mm
	}
	placed := make([][]line, len(r.sections))
	for i, s := range r.sections {
		for _, l := range s {
			pts := make([]mgl64.Vec2, len(l.pts))
			for k, p := range l.pts {
				pts[k] = r.lie.point(p).Sub(mgl64.Vec2{0, base})
			}
			placed[i] = append(placed[i], line{pts, l.closed})
		}
	}
	low, high := box(placed)
	r.sizes.breadth, r.sizes.height = max(high[0], -low[0]), high[1]-low[1]
	for i, lines := range placed {
		r.section(r.stations[i], lines)
	}
	r.posts()
	r.bounds()
}

// postShare is the share of the greatest half-breadth below which a section at an end
// is taken to be of a stem, a sternpost or a rudder only.
const postShare = 0.04

// posts leaves out sections at the ends that are too narrow for the hull, if no
// stations were given.
func (r *reading) posts() {
	broad := 0.0
	for k := range r.frames {
		broad = max(broad, r.frames[k].breadth())
	}
	narrow := func(t *taken) bool { return t.breadth() < postShare*broad }
	if len(r.how.Stations) > 0 || r.how.Every > 0 {
		return
	}
	for n := len(r.frames); n > 0 && narrow(&r.frames[n-1]); n-- {
		r.frames = r.frames[:n-1]
	}
	for len(r.frames) > 0 && narrow(&r.frames[0]) {
		r.frames = r.frames[1:]
	}
}

// breadth is the greatest half-breadth, mm.
func (t *taken) breadth() float64 {
	most := 0.0
	for _, p := range t.pts {
		most = max(most, p[0])
	}
	return most
}

// section takes the frame of one section, if it has one.
func (r *reading) section(x float64, lines []line) {
	var sides [2]side
	var there [2]bool
	for k, s := range []float64{1, -1} {
		if r.lie.half == 0 || r.lie.half == s {
			half, walls := halfOf(lines, s, r.sizes.near)
			sides[k], there[k] = sideOf(half, walls, r.sizes)
		}
	}
	if !there[0] && !there[1] {
		return
	}
	for k := range sides {
		if there[k] && !r.sound(x, &sides[k]) {
			return
		}
	}
	t := taken{x: x, whole: there[0] && there[1]}
	switch {
	case r.lie.half == 0 && !t.whole:
		r.Add(0, "", "give one half, or repair the mesh", "the mesh has only one side of the hull at x %s", fault.Figure(x))
		return
	case t.whole:
		r.both(&t, &sides)
	case there[0]:
		t.side, t.pts = sides[0], sides[0].pts
	default:
		t.side, t.pts = sides[1], sides[1].pts
	}
	t.pts = apart(t.pts)
	if len(t.pts) > 1 && (line{pts: t.pts}).length() > hull.PoleGirth {
		t.sag = sagOf(t.pts)
		r.frames = append(r.frames, t)
	}
}

// both takes the wanted half of two sides, or their mean.
func (r *reading) both(t *taken, sides *[2]side) {
	a, b := sides[0].pts, sides[1].pts
	t.side, t.pts = sides[0], a
	t.differ, t.at = differs(a, b)
	switch {
	case r.how.Half == LeftHalf:
		t.side, t.pts = sides[1], b
	case r.how.Half == BothHalves && t.differ > r.even():
		mean, ok := meanOf(apart(a), apart(b))
		if t.oneOnly = !ok; ok {
			t.pts = mean
		}
	}
	t.side.beside = max(sides[0].beside, sides[1].beside)
	t.side.gaps = slices.Concat(sides[0].gaps, sides[1].gaps)
}

// even is how far halves may differ without a note, mm.
func (r *reading) even() float64 { return max(evenHalves, evenShare/sameShare*r.sizes.near) }

// sound notes what makes a side unfit to be planked.
func (r *reading) sound(x float64, s *side) bool {
	switch {
	case s.torn != nil:
		r.Add(0, "", "close it in the mesh, or leave that station out", "at x %s the side of the hull has a gap of %s mm at height %s and half-breadth %s",
			fault.Figure(x), short(s.torn.width), short(s.torn.at[1]), short(s.torn.at[0]))
	case s.doubled > 0 && r.twoSkins: // it has been reported
	case s.doubled > 0:
		r.twoSkins = true
		r.Add(0, "", "remove the inner one, so that the mesh is only the hull's outer face", "the hull has a double skin: at x %s two surfaces lie about %s mm apart", fault.Figure(x), short(s.doubled))
	default:
		return true
	}
	return false
}

// mostTold is how many similar faults of sections are reported.
const mostTold = 5

// bounds drops similar faults beyond the first few.
func (r *reading) bounds() {
	if n := len(r.Found); n > mostTold {
		r.Found = r.Found[:mostTold]
		r.Add(0, "", "correct these first", "%d more of its sections have faults", n-mostTold)
	}
}

// short is a length in mm as shown to the builder.
func short(v float64) string { return tongue.Figure(strings.TrimSuffix(fmt.Sprintf("%.2f", v), "0")) }
