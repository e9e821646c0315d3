package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Whatever a plan does not say about the timbers of a hull is drawn in proportions
// that are common practice, no source; none of it is measured or cut. The siding of
// keel and posts is the plan's own: twice the half-breadth at which the planking meets
// them.
const (
	// keelDepth is how far the keel stands out below the planking, in sidings; and
	// its limits, as shares of the length of the hull.
	keelDepth           = 1.25
	leastKeel, mostKeel = 0.010, 0.030
	// keelShare is the greatest half-breadth, as a share of the hull's, at which the
	// planking is taken to meet a keel, rather than to end on a flat bottom or a
	// chine.
	keelShare = 0.15
	// postShare is how many times the keel's siding the curve of an end may spread
	// and still be that of a post.
	postShare = 2.2
	// leastPost is the least share of the height of an end that its post takes; where less
	// of it is so narrow there is no post.
	leastPost = 0.35
	// headProud is how far the head of a post stands above the planking, in
	// sidings.
	headProud = 1.3
	// cutwater is the siding of keel and posts at their outer edge, as a share.
	cutwater = 0.72
	// frameSiding and frameMoulding are how thick the frames are along the hull, as a
	// share of their spacing, and how deep, as a share of the greatest half-breadth.
	frameSiding, frameMoulding = 0.26, 0.075
	// railShare is the least width of the edge of the planking, as a share of the
	// greatest half-breadth: any thinner and it would not be visible.
	railShare = 0.035
)

// Structure makes the scene of what a layer of planking lies on: keel, stem and
// sternpost, the frames behind it, the flat of a transom, the edge of the planking at
// the upper limit, and the ground under it all. The outlines are the whole frames, in
// order and from the top of each downwards, mm; if nil, the planked part of the
// frames is used.
func Structure(l *loft.Layer, outlines [][]mgl64.Vec3) *Scene {
	s := &Scene{}
	if outlines == nil {
		outlines = plankedOutlines(l)
	}
	b := newBuilder(s, l, thinned(outlines))
	b.backbone()
	b.ends()
	b.frames()
	b.rail()
	b.floor()
	return s
}

// thinned drops every other point of outlines that have more than a timber needs to look
// smooth.
func thinned(outlines [][]mgl64.Vec3) [][]mgl64.Vec3 {
	const enough = 17
	out := make([][]mgl64.Vec3, len(outlines))
	for f, o := range outlines {
		if out[f] = o; len(o) < 2*enough-1 || len(o)%2 == 0 {
			continue
		}
		out[f] = nil
		for i := 0; i < len(o); i += 2 {
			out[f] = append(out[f], o[i])
		}
	}
	return out
}

// WithBackbone gives the scene of bare frames with keel, stem and sternpost, and the
// ground under them; see Structure.
func (s *Scene) WithBackbone(l *loft.Layer, outlines [][]mgl64.Vec3) *Scene {
	out := s.with()
	b := newBuilder(out, l, outlines)
	b.backbone()
	b.floor()
	return out
}

// plankedOutlines samples the frames between the limits.
func plankedOutlines(l *loft.Layer) [][]mgl64.Vec3 {
	const points = 17
	out := make([][]mgl64.Vec3, len(l.Girths))
	for f, g := range l.Girths {
		for i := range points {
			out[f] = append(out[f], l.Surface.AtDown(f, g*float64(i)/(points-1)))
		}
	}
	return out
}

// builder adds the timbers of a hull to a scene.
type builder struct {
	s        *Scene
	l        *loft.Layer
	outlines [][]mgl64.Vec3
	half     float64 // mm, the greatest half-breadth
	length   float64 // mm
	siding   float64 // mm, of the keel; 0 where the planking meets none
	depth    float64 // mm, how far the keel stands out
	foot     float64 // z of the lowest point
}

func newBuilder(s *Scene, l *loft.Layer, outlines [][]mgl64.Vec3) *builder {
	b := &builder{s: s, l: l, outlines: outlines, foot: math.Inf(1)}
	lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, o := range outlines {
		for _, p := range o {
			b.half = math.Max(b.half, math.Abs(p.Y()))
			lo, hi = math.Min(lo, p.X()), math.Max(hi, p.X())
			b.foot = math.Min(b.foot, p.Z())
		}
		sum += o[len(o)-1].Y()
	}
	b.length = hi - lo
	if y := sum / float64(len(outlines)); y < keelShare*b.half {
		b.siding = math.Max(2*y, 0.004*b.length)
		b.depth = math.Max(leastKeel*b.length, math.Min(keelDepth*b.siding, mostKeel*b.length))
	}
	return b
}

// tag is the tag of a timber near a frame.
func tag(frame int) Tag { return Tag{Built, int16(frame)} }

// band is a strip of the mesh between two rows with the same number of points, with
// the normals of each, on both sides of the ship where it is off the centre plane.
type band struct {
	of     Material
	tone   float64
	a, b   []mgl64.Vec3
	na, nb []mgl64.Vec3
	shut   []float64 // nil for open
	tag    func(i int) Tag
	grainB bool // the grain runs from a to b, not along them
}

func (s *Scene) band(k band, both bool) {
	sides := []float64{1}
	if both {
		sides = []float64{1, -1}
	}
	for _, side := range sides {
		base := int32(len(s.Vertices))
		along, skip := 0.0, 400*hashed(len(k.a), int(k.a[0].X()), 3)
		for i := range k.a {
			if i > 0 {
				along += k.a[i].Sub(k.a[i-1]).Len()
			}
			shut := 0.0
			if k.shut != nil {
				shut = k.shut[i]
			}
			wide := k.b[i].Sub(k.a[i]).Len()
			v := Vertex{Tone: k.tone, Shut: shut, Of: k.of}
			v.At, v.Normal, v.Grain = across(k.a[i], side), across(k.na[i], side), [2]float32{float32(skip + along), float32(skip)}
			w := v
			w.At, w.Normal, w.Grain[1] = across(k.b[i], side), across(k.nb[i], side), float32(skip+wide)
			if k.grainB {
				v.Grain = [2]float32{float32(skip - side*wide), float32(skip + along)}
				w.Grain = [2]float32{float32(skip), v.Grain[1]}
			}
			s.Vertices = append(s.Vertices, v, w)
		}
		for i := range int32(len(k.a) - 1) {
			p, t := base+2*i, k.tag(int(i))
			s.Triangles = append(s.Triangles, Triangle{p, p + 1, p + 2, t, false}, Triangle{p + 1, p + 3, p + 2, t, false})
		}
	}
}

// evenly gives the same normal n times.
func evenly(n mgl64.Vec3, times int) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, times)
	for i := range out {
		out[i] = n
	}
	return out
}

// spine is the line along which the planking meets keel and posts: from the head of the
// post at the end of least x down, along the keel, and up the other post. y is half its
// siding there.
type spine struct {
	p     []mgl64.Vec3
	frame []int
}

func (b *builder) spine() spine {
	var out spine
	first, last := 0, len(b.outlines)-1
	add := func(p mgl64.Vec3, frame int) {
		p[1] = math.Max(p.Y(), 0.3*b.siding)
		if n := len(out.p); n > 0 && p.Sub(out.p[n-1]).Len() < 0.02*b.siding {
			return
		}
		out.p, out.frame = append(out.p, p), append(out.frame, frame)
	}
	post := b.postOf(first)
	for _, p := range post {
		add(p, first)
	}
	keel := b.l.Lines[len(b.l.Lines)-1].P
	whole := keel[0].Sub(b.outlines[0][len(b.outlines[0])-1]).Len() < 0.01*b.length
	for f := range b.outlines {
		if !whole || f == last {
			add(b.outlines[f][len(b.outlines[f])-1], f)
			continue
		}
		for i := b.l.Surface.FrameStation(f); i < b.l.Surface.FrameStation(f+1); i++ {
			add(keel[i], f)
		}
	}
	post = b.postOf(last)
	for i := range post {
		add(post[len(post)-1-i], last)
	}
	return out
}

// postOf gives the part of an end curve that is a post, from its head down; nil where
// that end is a frame like the others.
func (b *builder) postOf(f int) []mgl64.Vec3 {
	o := b.outlines[f]
	i := len(o) - 1
	for i > 0 && o[i-1].Y() < postShare*math.Max(b.siding, 2*o[len(o)-1].Y())/2 {
		i--
	}
	foot := o[len(o)-1].Z()
	if o[i].Z()-foot < leastPost*(o[0].Z()-foot) || len(o)-i < 3 {
		return nil
	}
	post := o[i:]
	if i == 0 { // up to the planking's edge: the head stands above it
		up := unit(o[0].Sub(o[min(2, len(o)-1)]))
		up[1] = 0
		head := o[0].Add(up.Mul(headProud * b.siding))
		post = append([]mgl64.Vec3{head}, post...)
	}
	return post
}

// backbone adds keel, stem and sternpost as one timber: its sides from the planking
// outwards, its outer and inner faces, and its two ends.
func (b *builder) backbone() {
	if b.siding == 0 {
		return
	}
	k := b.spine()
	n := len(k.p)
	if n < 2 {
		return
	}
	var outer, outerMid, inner, out, in []mgl64.Vec3
	for i, p := range k.p {
		mitre := outwardsAt(k.p, i)
		q := p.Add(mitre.Mul(b.depth))
		q[1] = p.Y() * cutwater
		b.foot = math.Min(b.foot, q.Z())
		outer, outerMid = append(outer, q), append(outerMid, mgl64.Vec3{q.X(), 0, q.Z()})
		inner = append(inner, mgl64.Vec3{p.X(), 0, p.Z()})
		out, in = append(out, unit(mitre)), append(in, unit(mitre).Mul(-1))
	}
	of := func(i int) Tag { return tag(k.frame[i]) }
	side := evenly(mgl64.Vec3{0, 1, 0}, n)
	b.s.band(band{of: Timber, a: k.p, b: outer, na: side, nb: side, tag: of}, true)
	b.s.band(band{of: Timber, a: outer, b: outerMid, na: out, nb: out, tone: -0.04, tag: of}, true)
	b.s.band(band{of: Timber, a: k.p, b: inner, na: in, nb: in, tone: 0.03, tag: of}, true)
	for _, end := range [][2]int{{0, 1}, {n - 1, n - 2}} {
		i := end[0]
		along := k.p[i].Sub(k.p[end[1]])
		along[1] = 0
		face := evenly(unit(along), 2)
		b.s.band(band{of: Timber, tone: -0.08, a: []mgl64.Vec3{inner[i], outerMid[i]}, b: []mgl64.Vec3{k.p[i], outer[i]},
			na: face, nb: face, tag: func(int) Tag { return of(i) }}, true)
	}
	for _, edge := range [][]mgl64.Vec3{outer, k.p} {
		b.s.draw(Polyline{Points: edge, Kind: SeamLine, Width: 1, Gap: b.depth}, true)
	}
}

// outwardsAt is the direction away from the hull in the centre plane at a point of its
// spine, with the length that a mitre needs there, so that what is drawn beside the
// spine keeps its distance from it.
func outwardsAt(p []mgl64.Vec3, i int) mgl64.Vec3 {
	square := func(a, b mgl64.Vec3) mgl64.Vec3 {
		d := b.Sub(a)
		return unit(mgl64.Vec3{d.Z(), 0, -d.X()})
	}
	switch i {
	case 0:
		return square(p[0], p[1])
	case len(p) - 1:
		return square(p[i-1], p[i])
	}
	m, n := square(p[i-1], p[i]), square(p[i], p[i+1])
	sum := m.Add(n)
	return sum.Mul(1 / math.Max(1+m.Dot(n), 0.5))
}

// ends closes the middle part of the ends that are not posts: a transom, or the
// foremost frame of a hull that is cut off there.
func (b *builder) ends() {
	for _, e := range []struct {
		frame int
		out   float64
	}{{0, -1}, {len(b.outlines) - 1, 1}} {
		o := b.outlines[e.frame]
		var edge, middle, normals []mgl64.Vec3
		for i, p := range o {
			edge, middle = append(edge, p), append(middle, mgl64.Vec3{p.X(), 0, p.Z()})
			d := o[min(i+1, len(o)-1)].Sub(o[max(i-1, 0)])
			normals = append(normals, unit(mgl64.Vec3{-d.Z() * e.out, 0, d.X() * e.out}))
		}
		if widest(o) < 3*b.siding {
			continue
		}
		b.s.band(band{of: Timber, tone: 0.12, a: edge, b: middle, na: normals, nb: normals, grainB: true, tag: func(int) Tag { return tag(e.frame) }}, true)
		b.s.Draw(edge, LimitLine, 1, true)
	}
}

func widest(o []mgl64.Vec3) float64 {
	most := 0.0
	for _, p := range o {
		most = math.Max(most, p.Y())
	}
	return most
}

// frames adds the frames behind the planking: their inner faces and their two sides.
func (b *builder) frames() {
	n := len(b.outlines)
	moulding := frameMoulding * b.half
	half := frameSiding * b.length / float64(max(n-1, 1)) / 2
	half = math.Min(half, moulding/2)
	for f := 1; f < n-1; f++ {
		normal, ok := planeOf(b.outlines[f])
		if ok && widest(b.outlines[f]) > 2.5*moulding {
			b.frame(f, normal, half, moulding)
		}
	}
}

// frame adds a frame with a siding of twice half and a moulding of mould, mm. It is
// bevelled to lie within the planking on both sides.
func (b *builder) frame(f int, normal mgl64.Vec3, half, moulding float64) {
	o := b.outlines[f]
	in := inwards(o, normal)
	outer, inner, shut := make([]mgl64.Vec3, len(o)), make([]mgl64.Vec3, len(o)), make([]float64, len(o))
	for i, p := range o {
		bevel := 0.02 * moulding
		for _, g := range []int{f - 1, f + 1} {
			q := b.outlines[g]
			if len(q) != len(o) {
				continue
			}
			if d := q[i].Sub(p); d.Dot(normal) != 0 {
				bevel = math.Max(bevel, half*d.Dot(in[i])/math.Abs(d.Dot(normal)))
			}
		}
		bevel = math.Min(bevel, moulding)
		outer[i], inner[i] = inset(p, in[i], bevel), inset(p, in[i], bevel+moulding)
		shut[i] = shutAt(p, o[0])
	}
	b.cutHead(outer)
	b.cutHead(inner)
	of := func(int) Tag { return tag(f) }
	for _, by := range []float64{half, -half} {
		face := evenly(normal.Mul(math.Copysign(1, by)), len(o))
		b.s.band(band{of: Timber, a: moved(outer, normal, by), b: moved(inner, normal, by), na: face, nb: face, shut: shut, tag: of}, true)
	}
	b.s.band(band{of: Timber, tone: 0.06, a: moved(inner, normal, -half), b: moved(inner, normal, half), na: in, nb: in, shut: shut, tag: of}, true)
	up := evenly(mgl64.Vec3{0, 0, 1}, 2)
	head := []mgl64.Vec3{outer[0], inner[0]}
	b.s.band(band{of: Timber, tone: 0.10, a: moved(head, normal, -half), b: moved(head, normal, half), na: up, nb: up, tag: of}, true)
}

// cutHead shortens the head of a frame so that it stays below the edge of the
// planking where that rises along the ship.
func (b *builder) cutHead(line []mgl64.Vec3) {
	line[0] = line[0].Add(unit(line[1].Sub(line[0])).Mul(0.5 * railShare * b.half))
}

// moved gives points moved along a direction.
func moved(pts []mgl64.Vec3, along mgl64.Vec3, by float64) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(pts))
	for i, p := range pts {
		out[i] = p.Add(along.Mul(by))
	}
	return out
}

// inwards gives at every point of an outline the direction into the hull, in the
// outline's plane and square to it.
func inwards(o []mgl64.Vec3, normal mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(o))
	for i := range o {
		down := o[min(i+1, len(o)-1)].Sub(o[max(i-1, 0)])
		out[i] = unit(down.Cross(normal)) // normal is forward along x, down the frame: to the middle
	}
	return out
}

// inset moves a point inwards, but not past the middle of the ship.
func inset(p, in mgl64.Vec3, by float64) mgl64.Vec3 {
	q := p.Add(in.Mul(by))
	q[1] = math.Max(q.Y(), 0)
	return q
}

// rail adds the upper edge of the planking, which shows its thickness, and a lip
// inside it.
func (b *builder) rail() {
	top := b.l.Lines[0].P
	first, last := b.l.Surface.Planked()
	from, to := b.l.Surface.FrameStation(first), b.l.Surface.FrameStation(last)
	wide := math.Max(b.l.Thickness(), railShare*b.half)
	var outer, inner, lip, up, in []mgl64.Vec3
	var shut []float64
	u := b.l.Surface.Stations()
	for i := from; i <= to; i++ {
		j := b.l.Surface.At(u[i], b.l.Lines[0].V[i])
		n := j.Normal()
		level := unit(mgl64.Vec3{n.X(), n.Y(), 0})
		p := top[i].Sub(level.Mul(wide))
		p[1] = math.Max(p.Y(), 0)
		outer, inner = append(outer, top[i]), append(inner, p)
		lip = append(lip, p.Sub(mgl64.Vec3{0, 0, wide}))
		up, in = append(up, mgl64.Vec3{0, 0, 1}), append(in, level.Mul(-1))
		shut = append(shut, 0)
	}
	frames := nearestFrames(b.l)
	of := func(i int) Tag { return Tag{Built, frames[from+i]} }
	b.s.band(band{of: Timber, tone: 0.10, a: outer, b: inner, na: up, nb: up, shut: shut, tag: of}, true)
	b.s.band(band{of: Timber, a: inner, b: lip, na: in, nb: in, tag: of}, true)
	b.s.draw(Polyline{Points: inner, Kind: SeamLine, Width: 0.9, Gap: wide}, true)
}

// floor lays the ground: the outline of the hull from above, and of what stands
// on the ground.
func (b *builder) floor() {
	top := math.Inf(-1)
	f := &Floor{}
	breadth := func(at func(o []mgl64.Vec3) mgl64.Vec3) (plan []mgl64.Vec3) {
		for _, o := range b.outlines {
			plan = append(plan, at(o))
		}
		for i := len(b.outlines) - 1; i >= 0; i-- {
			plan = append(plan, across(at(b.outlines[i]), -1))
		}
		return plan
	}
	f.Plan = breadth(func(o []mgl64.Vec3) mgl64.Vec3 {
		best := o[0]
		for _, p := range o {
			if p.Y() > best.Y() {
				best = p
			}
			top = math.Max(top, p.Z())
		}
		return best
	})
	f.Foot = breadth(func(o []mgl64.Vec3) mgl64.Vec3 {
		p := o[len(o)-1]
		p[1] = math.Max(p.Y(), b.siding)
		return p
	})
	f.Under, f.Over = b.foot, top
	b.s.Floor = f
}
