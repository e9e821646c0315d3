package mesh

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// note notes a sentence.
//
//tongue:says 0
func (r *reading) note(format string, args ...any) {
	r.mesh.Notes = append(r.mesh.Notes, tongue.T(format, args...))
}

// notes say how the mesh was read.
func (r *reading) notes() {
	r.scaleNote()
	r.lieNotes()
	r.stationNote()
	r.halfNote()
	r.limitNotes()
	r.gapNotes()
	r.strayNotes()
	r.truthNote()
}

func (r *reading) scaleNote() {
	why := tongue.T("as it says")
	switch {
	case r.how.Unit > 0:
		why = tongue.T("as was said")
	case r.opened.unit == 0:
		why = tongue.T("because the file names no unit")
	}
	scale := ""
	if r.how.Scale > 0 {
		scale = tongue.T(", scaled to 1:%s", fault.Figure(r.how.Scale))
	}
	r.note("%s of %d triangles, a unit of it taken for %s mm, %s%s: %s.", r.mesh.Format.inWords(), r.extent.triangles, fault.Figure(r.unit), why, scale, r.sizeText())
}

func (r *reading) lieNotes() {
	i, j := othersThan(r.length)
	axes := [2]int{i, j}
	name := func(k int) string { return axisNames[k : k+1] }
	up, down := name(axes[r.lie.up]), ""
	if r.lie.sense < 0 {
		up, down = "-"+up, tongue.T(" (the mesh stands on its head)")
	}
	guess := tongue.T("by its shape")
	if !r.lie.sure {
		guess = tongue.T("a guess, because its shape leaves it open")
	}
	if r.how.Up != "" {
		guess = tongue.T("as was said")
	}
	r.note("Its %s runs along the keel, its %s athwart and its %s up%s, %s; heights count from its lowest point.", name(r.length), name(axes[r.lie.athwart]), up, down, guess)
	size := r.extent.high.Sub(r.extent.low)
	for _, k := range axes {
		if r.how.Length == "" && size[k] > alikeLengths*size[r.length] {
			r.note("It is nearly as long along its %s: check that its length is the right one.", name(k))
		}
	}
	if r.how.Bow == "" {
		r.note("The bow is taken to be at the least %s, because a mesh does not show it.", name(r.length))
	}
}

func (r *reading) stationNote() {
	n := len(r.frames)
	if n == 0 {
		return
	}
	how := tongue.T("as was said")
	if len(r.how.Stations) == 0 && r.how.Every == 0 {
		how = tongue.T("evenly")
	}
	r.note("%s, set %s from x %s to x %s mm.", tongue.Count(n, "%d frame", "%d frames", n), how, fault.Figure(r.frames[0].x), fault.Figure(r.frames[n-1].x))
	if out := len(r.stations) - n; out > 0 {
		left := tongue.Count(out, "%d station", "%d stations", out)
		r.note("%s left out, because the hull has no breadth there.", left)
	}
	if names, n := r.listed(func(t *taken) bool { return t.breadth() < postShare*r.sizes.breadth }); n > 0 {
		r.note("On frames %s the section is so narrow that it may show only a stem, sternpost or rudder: check them.", names)
	}
}

func (r *reading) halfNote() {
	if r.lie.half != 0 {
		side := tongue.In("side", "greater")
		if r.lie.half < 0 {
			side = tongue.In("side", "lesser")
		}
		r.note("It is one half of a hull, on the side of the %s %s; its middle plane is at %s mm.", side, r.athwartName(), fault.Figure(r.lie.middle))
		return
	}
	most, single := taken{}, ""
	at := -1
	for k, t := range r.frames {
		if t.differ > most.differ {
			most, at = t, k
		}
		if t.oneOnly && single == "" {
			single = fmt.Sprintf("F%d", k+1)
		}
	}
	switch {
	case at < 0 || most.differ <= r.even():
		r.note("Its halves agree within %s mm.", short(math.Ceil(r.even()*100)/100))
	default:
		r.note("Its halves differ most on frame F%d, by %s mm at height %s and half-breadth %s; %s is taken.", at+1, short(most.differ), short(most.at[1]), short(most.at[0]), r.how.Half)
	}
	if single != "" {
		r.note("Only the right half is used where the corners of both do not match, first on frame %s.", single)
	}
}

func (r *reading) athwartName() string {
	i, j := othersThan(r.length)
	k := [2]int{i, j}[r.lie.athwart]
	return axisNames[k : k+1]
}

// listed names frames for which something holds, as "F1, F2 and 3 more"; empty for none.
func (r *reading) listed(holds func(t *taken) bool) (names string, n int) {
	const most = 4
	var some []string
	for k := range r.frames {
		if !holds(&r.frames[k]) {
			continue
		}
		if n++; n <= most {
			some = append(some, fmt.Sprintf("F%d", k+1))
		}
	}
	names = strings.Join(some, ", ")
	if n > most {
		names += tongue.T(" and %d more", n-most)
	}
	return names, n
}

func (r *reading) limitNotes() {
	all := len(r.frames)
	of := func(names string, n int) string {
		if n == all {
			return tongue.T("On all frames")
		}
		return tongue.T("On frames %s", names)
	}
	if names, n := r.listed(func(t *taken) bool { return t.side.open && !t.side.deck }); n > 0 {
		r.note("%s the upper limit is the open edge of the mesh.", of(names, n))
	}
	if names, n := r.listed(func(t *taken) bool { return !t.side.open || t.side.deck }); n > 0 {
		r.note("%s the upper limit is the highest point of the side: a guess; deck and inside are left out.", of(names, n))
	}
	if names, n := r.listed(func(t *taken) bool { return t.side.keel }); n > 0 {
		r.note("%s the rabbet is where the side of the keel meets the hull: a guess.", of(names, n))
	}
	if names, n := r.listed(func(t *taken) bool { return !t.side.keel }); n > 0 {
		r.note("%s the rabbet is the lowest point of the section: a guess.", of(names, n))
	}
	if names, n := r.listed(func(t *taken) bool { return t.side.beside > 0 }); n > 0 {
		r.note("%s whatever lies round the hull's side is left out.", of(names, n))
	}
}

// stray is how far an end of a frame may lie off the line between those of its neighbours without
// a note, as a share of the hull's height.
const stray = 0.04

// strayNotes notes frames whose ends lie off the line of their neighbours: where a mesh is torn
// at its edge, or the hull has a step.
func (r *reading) strayNotes() {
	for _, limit := range []string{tongue.T("upper limit"), "rabbet"} {
		end := func(t *taken) float64 {
			if limit == "rabbet" {
				return t.pts[0][1]
			}
			return t.pts[len(t.pts)-1][1]
		}
		off := make([]float64, len(r.frames))
		for k := 1; k+1 < len(off); k++ {
			a, t, b := &r.frames[k-1], &r.frames[k], &r.frames[k+1]
			off[k] = end(t) - end(a) - (end(b)-end(a))*(t.x-a.x)/(b.x-a.x)
		}
		for k := 1; k+1 < len(off); k++ {
			if math.Abs(off[k]) > stray*r.sizes.height && juts(off, k) {
				r.note("On frame F%d (x %s) the %s lies %s mm off the line between its neighbours: check whether the mesh is torn there.", k+1, fault.Figure(r.frames[k].x), limit, short(math.Abs(off[k])))
			}
		}
	}
}

// juts distinguishes a single frame that is off from a line that bends, where the
// neighbours also seem off, the other way and by less.
func juts(off []float64, k int) bool {
	for _, n := range []int{k - 1, k + 1} {
		if n > 0 && n+1 < len(off) && (off[n]*off[k] > 0 || math.Abs(off[n]) < math.Abs(off[k])/4 || math.Abs(off[n]) > math.Abs(off[k])) {
			return false
		}
	}
	return true
}

func (r *reading) gapNotes() {
	n, most, at, x := 0, gap{}, -1, 0.0
	for k, t := range r.frames {
		for _, g := range t.side.gaps {
			if g.width <= r.sizes.silent {
				continue
			}
			if n++; g.width > most.width {
				most, at, x = g, k, t.x
			}
		}
	}
	if n > 0 {
		r.note("%s in its sections bridged, the widest of %s mm on frame F%d (x %s) at height %s.", tongue.Count(n, "%d gap", "%d gaps", n), short(most.width), at+1, fault.Figure(x), short(most.at[1]))
	}
	if slices.ContainsFunc(r.doubled, func(c cut) bool {
		a, b := r.lie.point(c[0]), r.lie.point(c[1])
		return max(math.Abs(a[0]), math.Abs(b[0])) > r.sizes.near // in the middle plane the halves may meet
	}) {
		r.note("Repeated triangles count once.")
	}
}

// truthNote notes how close the frames are to the mesh, and the mesh to the shape
// it was made from.
func (r *reading) truthNote() {
	miss, sag := 0.0, 0.0
	for _, t := range r.frames {
		miss, sag = max(miss, t.miss), max(sag, t.sag)
	}
	up := func(v float64) float64 { return math.Ceil(v*1000) / 1000 }
	r.note("A smooth curve through the points of a frame keeps within %s mm of the mesh; its facets lie up to about %s mm inside the surface that they represent.", fault.Figure(up(max(miss, thinnedTo/10))), fault.Figure(up(sag)))
}
