package loft

import (
	"errors"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

const (
	// thinningSlope is the rate at which a thinned skin returns to its full thickness, mm
	// for each mm along the girth: a quarter, common practice for fairing, no source.
	thinningSlope = 0.25
	// mostRounds is how many times a skin that still folds is thinned before the attempt is
	// abandoned.
	mostRounds = 24
	// leastShare is the least distance between two points of the outer face as a share of
	// that between the same points on the inner one.
	leastShare = 0.02
)

// skin is the resulting thickness of the planking on a surface: at every frame, at
// every knot of the panels from the upper limit to the lower.
type skin struct {
	s        *Surface
	t        float64 // mm, of the strips
	from, to int     // the frames between which they are laid
	round    int
	nodes    [][]node // [frame][knot]
}

// node is a knot of a surface at a frame.
type node struct {
	p        mgl64.Vec3
	v, down  float64
	knuckle  bool
	cap      float64 // mm, the greatest thickness allowed here
	out      float64 // mm, the actual thickness, blended with that beside it
	why      FoldCause
	radius   float64    // mm, of the hollow; 0 where there is none
	to       mgl64.Vec3 // the point on the outer face
	trimmed  bool       // it lies past the mitre of a hollow knuckle, and is left out
	unplaced bool       // the outer face does not reach the frame here
}

// newSkin searches the surface for hollows and knuckles that are too tight for planking
// t thick.
func (s *Surface) newSkin(t float64, from, to int) *skin {
	k := &skin{s: s, t: t, from: from, to: to, nodes: make([][]node, s.Frames())}
	for i := range k.nodes {
		k.nodes[i] = k.nodesAt(i)
	}
	return k
}

func (k *skin) nodesAt(i int) []node {
	s := k.s
	station := s.FrameStation(i)
	var out []node
	for n := range s.panels {
		for m, v := range s.panels[n].v {
			j := s.at(n, s.u[i], v)
			a := node{p: j.P, v: v, down: s.down(station, v), cap: k.t}
			switch {
			case !k.lays(i):
				a.cap, a.why = 0, NotLaid
			default:
				a.heed(&j, k.t)
			}
			if n > 0 && m == 0 {
				above := s.at(n-1, s.u[i], v)
				out[len(out)-1].v = v // identical to the v of the break, by which moved recognises it
				out[len(out)-1].turn(&above, &j, k.t)
				out[len(out)-1].take(&a)
				continue // the point was made by the panel above
			}
			out = append(out, a)
		}
	}
	return out
}

func (k *skin) lays(frame int) bool { return frame >= k.from && frame <= k.to }

// heed keeps the skin within its share of the hollow's radius.
func (a *node) heed(j *Jet, t float64) {
	c := j.hollowest()
	if !(c > 0) || math.IsInf(c, 0) {
		return
	}
	a.radius = 1 / c
	if most := hollowShare / c; most < t {
		a.cap, a.why = most, HollowFold
	}
}

// take merges the two nodes that panels have on their knuckle line.
func (a *node) take(b *node) {
	if b.radius > 0 && (a.radius == 0 || b.radius < a.radius) {
		a.radius = b.radius
	}
	if b.cap < a.cap {
		a.cap, a.why = b.cap, b.why
	}
}

// turn keeps the skin round a knuckle from running out to a needle point.
func (a *node) turn(above, below *Jet, t float64) {
	a.knuckle = true
	cosine := above.Normal().Dot(below.Normal())
	half := math.Sqrt(max((1+cosine)/2, 0))
	if most := t * half / leastMitre; most < min(a.cap, t) {
		a.cap, a.why = most, KnuckleFold
	}
}

// blend gives every node its thickness: the greatest that nowhere exceeds the caps,
// changes no faster than thinningSlope and has no corner. Along the length it is
// limited to that slope from frame to frame; down the girth the result is eroded over a
// window and then averaged over the same window, which keeps it below the caps.
func (k *skin) blend() {
	count := len(k.nodes[0])
	under := make([][]float64, len(k.nodes))
	for i := range under {
		under[i] = make([]float64, count)
		for j := range under[i] {
			under[i][j] = k.nodes[i][j].cap
		}
	}
	for j := range count {
		sweep := func(i, beside int) {
			if k.lays(i) && k.lays(beside) { // at its end the skin stops
				d := k.nodes[i][j].p.Sub(k.nodes[beside][j].p).Len()
				under[i][j] = min(under[i][j], under[beside][j]+thinningSlope*d)
			}
		}
		for i := 1; i < len(under); i++ {
			sweep(i, i-1)
		}
		for i := len(under) - 2; i >= 0; i-- {
			sweep(i, i+1)
		}
	}
	for i := range k.nodes {
		k.blendAt(i, under[i])
	}
}

func (k *skin) blendAt(i int, under []float64) {
	nodes := k.nodes[i]
	thinned := false
	for j := range nodes {
		nodes[j].out = under[j]
		thinned = thinned || under[j] < k.t
	}
	if !thinned || !k.lays(i) {
		return
	}
	n := len(nodes)
	held, worn := make([]float64, n), make([]float64, n)
	for j := range nodes {
		held[j] = k.t
		for l := range nodes {
			held[j] = min(held[j], under[l]+thinningSlope*math.Abs(nodes[j].down-nodes[l].down))
		}
	}
	window := max(k.t, 2*nodes[n-1].down/float64(n))
	near := func(j int, of func(l int, d float64)) {
		for l := range nodes {
			if d := math.Abs(nodes[j].down - nodes[l].down); d < window {
				of(l, d/window)
			}
		}
	}
	for j := range nodes {
		worn[j] = held[j]
		near(j, func(l int, _ float64) { worn[j] = min(worn[j], held[l]) })
	}
	for j := range nodes {
		sum, weights := 0.0, 0.0
		near(j, func(l int, d float64) {
			w := (1 - d*d) * (1 - d*d)
			sum, weights = sum+w*worn[l], weights+w
		})
		nodes[j].out = min(sum/weights, held[j])
	}
}

// spot is a node: frame and knot.
type spot struct {
	frame, knot int
	why         FoldCause
}

// sections places the outer face at every frame, and reports where it is impossible or
// folds.
func (k *skin) sections() (frames []hull.Frame, bad []spot) {
	for i := range k.nodes {
		k.place(i)
		bad = append(bad, k.turnedBack(i)...)
		frames = append(frames, k.section(i))
	}
	return frames, bad
}

// place moves the nodes of a frame out to its plane; those of an end curve simply out.
func (k *skin) place(i int) {
	s, plane := k.s, k.s.planes[i]
	for j := range k.nodes[i] {
		a := &k.nodes[i][j]
		a.trimmed, a.unplaced = false, false
		switch {
		case a.out == 0:
			a.to = a.p
		case plane == nil:
			a.to = s.moved(s.u[i], a.v, a.out)
		default:
			var ok bool
			if a.to, ok = s.movedToPlane(i, a.v, a.out, plane); !ok {
				a.to, a.unplaced = a.p, true
			}
		}
		if a.to[1] = max(a.to[1], 0); plane != nil {
			a.to[0] = plane.At(a.to.Y(), a.to.Z())
		}
	}
	k.trim(i)
}

// trim leaves out the nodes beside a hollow knuckle that lie past its mitre, since the
// outer faces of the two sides meet before reaching them.
func (k *skin) trim(i int) {
	nodes := k.nodes[i]
	for j := range nodes {
		if !nodes[j].knuckle {
			continue
		}
		for _, step := range []int{-1, 1} {
			for l := j + step; l > 0 && l < len(nodes)-1 && !nodes[l].knuckle && !forward(&nodes[j], &nodes[l]); l += step {
				nodes[l].trimmed = true
			}
		}
	}
}

// forward reports whether two nodes lie the same way round on the outer face as on the
// inner one, and apart.
func forward(a, b *node) bool {
	in, out := b.p.Sub(a.p), b.to.Sub(a.to)
	return out.Dot(in) > leastShare*in.Dot(in) && out.Len() > curve.LeastChord
}

// apart reports whether two neighbours lie much farther apart on the outer face than
// planking bent to its limit would take them: the face then reaches the frame from
// somewhere else.
func apart(a, b *node) bool {
	return b.to.Sub(a.to).Len() > 4*(b.p.Sub(a.p).Len()+max(a.out, b.out))
}

// turnedBack gives the nodes of a frame at which the outer face cannot be found, runs
// backwards or crosses itself.
func (k *skin) turnedBack(i int) (bad []spot) {
	nodes := k.nodes[i]
	last := -1
	var kept []int
	for j := range nodes {
		if nodes[j].unplaced {
			bad = append(bad, spot{i, j, SquareFold})
		}
		if nodes[j].trimmed {
			continue
		}
		if last >= 0 && apart(&nodes[last], &nodes[j]) {
			bad = append(bad, spot{i, last, SquareFold}, spot{i, j, SquareFold})
		}
		if last >= 0 && !forward(&nodes[last], &nodes[j]) && (nodes[last].out > 0 || nodes[j].out > 0) {
			why := KnuckleFold
			if !nodes[last].knuckle && !nodes[j].knuckle {
				why = HollowFold
			}
			bad = append(bad, spot{i, last, why}, spot{i, j, why})
		}
		last, kept = j, append(kept, j)
	}
	if len(bad) > 0 {
		return bad
	}
	return k.selfCrossed(i, kept)
}

// selfCrossed gives the nodes at the ends of two stretches of a frame's outer face that
// cross, seen along the keel, where those of the inner face do not. For an end curve,
// which lies along the keel, it gives none.
func (k *skin) selfCrossed(i int, kept []int) (bad []spot) {
	if k.s.planes[i] == nil || !k.lays(i) {
		return nil
	}
	nodes := k.nodes[i]
	for a := 0; a+1 < len(kept); a++ {
		for b := a + 2; b+1 < len(kept); b++ {
			p, q, r, o := &nodes[kept[a]], &nodes[kept[a+1]], &nodes[kept[b]], &nodes[kept[b+1]]
			if crosses(p.to, q.to, r.to, o.to) && !crosses(p.p, q.p, r.p, o.p) {
				for _, j := range []int{kept[a], kept[a+1], kept[b], kept[b+1]} {
					bad = append(bad, spot{i, j, NarrowFold})
				}
			}
		}
	}
	return bad
}

// crosses reports whether the stretches ab and cd cross, seen along the keel.
func crosses(a, b, c, d mgl64.Vec3) bool {
	side := func(p, q, r mgl64.Vec3) float64 {
		return (q.Y()-p.Y())*(r.Z()-p.Z()) - (q.Z()-p.Z())*(r.Y()-p.Y())
	}
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// section is the outer face at a frame.
func (k *skin) section(i int) hull.Frame {
	f := hull.Frame{Name: k.s.names[i]}
	for j := range k.nodes[i] {
		a := &k.nodes[i][j]
		if a.trimmed {
			continue
		}
		if a.knuckle {
			f.Knuckles = append(f.Knuckles, len(f.Points))
		}
		f.Points = append(f.Points, a.to)
	}
	return f
}

// blamed finds the nodes because of which a surface could not be lofted: those of the
// frames on either side of the fold, or of frames that have no outline.
func (k *skin) blamed(frames []hull.Frame, err error) (bad []spot) {
	var fold *foldError
	if errors.As(err, &fold) {
		for j := range k.nodes[fold.bay] {
			if math.Abs(k.nodes[fold.bay][j].v-fold.v) < 0.1 {
				bad = append(bad, spot{fold.bay, j, BetweenFold}, spot{fold.bay + 1, j, BetweenFold})
			}
		}
		return bad
	}
	for i, f := range frames {
		if _, err := curve.NewOutline(f); err != nil {
			for j := range k.nodes[i] {
				bad = append(bad, spot{i, j, BetweenFold})
			}
		}
	}
	return bad
}

// cut lowers the caps of the nodes at fault and, when that does not help, those of
// their frames and finally of all.
func (k *skin) cut(bad []spot) {
	lower := func(i, j int, why FoldCause, by float64) {
		if i < 0 || i >= len(k.nodes) || j < 0 || j >= len(k.nodes[i]) {
			return
		}
		a := &k.nodes[i][j]
		if a.out == 0 && a.cap == 0 {
			return
		}
		if a.cap = min(a.cap, a.out) * by; a.cap < k.t/50 {
			a.cap = 0
		}
		if a.why == NoFold {
			a.why = why
		}
	}
	late, last := k.round >= mostRounds/2, k.round >= mostRounds*3/4
	seen := map[[2]int]bool{}
	once := func(i, j int, why FoldCause, by float64) {
		if !seen[[2]int{i, j}] {
			seen[[2]int{i, j}] = true
			lower(i, j, why, by)
		}
	}
	for _, b := range bad {
		once(b.frame, b.knot, b.why, 0.7)
		if late {
			for j := range k.nodes[b.frame] {
				once(b.frame, j, b.why, 0.5)
			}
		}
	}
	if len(bad) == 0 || last {
		for i := range k.nodes {
			for j := range k.nodes[i] {
				once(i, j, BetweenFold, 0.5)
			}
		}
	}
}

// bare removes all thickness.
func (k *skin) bare() {
	for i := range k.nodes {
		for j := range k.nodes[i] {
			a := &k.nodes[i][j]
			a.cap, a.out, a.to = 0, 0, a.p
			if k.lays(i) && a.why == NoFold {
				a.why = BetweenFold
			}
		}
	}
}
