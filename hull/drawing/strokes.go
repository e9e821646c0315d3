package drawing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Limits of drawings; lengths in mm.
const (
	mostDrawn    = 200000             // points of all curves together
	mostStrokes  = 100000             // lines and curves
	mostMarked   = 200                // points of the lines of one mark
	mostOutline  = 20000              // points of one outline
	mostClose    = 5000000            // pairs of pieces of outlines and marks that lie close together
	mostPieces   = 3000               // pieces of one outline
	farthest     = 1000000            // 1 km: more means a wrong unit
	flatness     = 0.001              // by which a chord may depart from its curve
	meeting      = 0.05               // the largest gap between ends that are joined
	sharpest     = math.Pi * 25 / 180 // the turn from which a corner is kept
	deepestGroup = 200                // groups nested in groups
	deepestUse   = 16                 // copies nested in copies
)

// stroke is an unbroken line as drawn; mm, y upwards.
type stroke struct {
	names  []string // its own and those of the groups it lies in, from the outermost
	layer  string
	id     string // for a line without a name of its own
	alone  int    // a number of its own if it is not to be joined to others where no name says what it is; otherwise 0
	pts    []mgl64.Vec2
	joints []int // points at which two pieces of it meet
	closed bool
	dot    bool    // a point, or a circle that stands for its centre
	where  *stands // for a frame drawn in space, otherwise nil
	line   int
}

// pen draws strokes through a transformation into mm.
type pen struct {
	to      mgl64.Mat3
	where   *stands
	names   []string
	layer   string
	id      string
	alone   int
	line    int
	strokes *[]stroke
	left    *int // how many points may still be drawn
	wild    *int // line of the first coordinate that is out of bounds, or 0

	cur   stroke
	at    mgl64.Vec2 // before the transformation
	first mgl64.Vec2
}

// put adds a point, already in mm.
func (p *pen) put(q mgl64.Vec2, joint bool) {
	if !(math.Abs(q[0]) <= farthest && math.Abs(q[1]) <= farthest) {
		if *p.wild == 0 {
			*p.wild = max(p.line, 1)
		}
		return
	}
	if *p.left--; *p.left < 0 {
		return
	}
	n := len(p.cur.pts)
	if n > 0 && p.cur.pts[n-1].Sub(q).Len() < hull.Apart/10 {
		if joint && n > 1 {
			p.cur.joint(n - 1)
		}
		return
	}
	p.cur.pts = append(p.cur.pts, q)
	if joint && n > 0 {
		p.cur.joint(n)
	}
}

// spent reports whether drawing has stopped at a limit: the drawing then has a
// fault.
func (p *pen) spent() bool { return *p.left < 0 || *p.wild > 0 }

// joint records that pieces meet at point i.
func (s *stroke) joint(i int) {
	if n := len(s.joints); n == 0 || s.joints[n-1] != i {
		s.joints = append(s.joints, i)
	}
}

// mapped is a point in mm.
func (p *pen) mapped(q mgl64.Vec2) mgl64.Vec2 { return p.to.Mul3x1(q.Vec3(1)).Vec2() }

// move starts a stroke.
func (p *pen) move(q mgl64.Vec2) {
	p.lift()
	p.at, p.first = q, q
	p.put(p.mapped(q), false)
}

// lineTo draws a straight line.
func (p *pen) lineTo(q mgl64.Vec2) {
	p.at = q
	p.put(p.mapped(q), true)
}

// curve draws a smooth curve, over parameters 0 to 1, that starts where the pen
// is.
func (p *pen) curve(f func(t float64) mgl64.Vec2) {
	const parts, depth = 8, 7
	a := p.mapped(f(0))
	for k := range parts {
		t0, t1 := float64(k)/parts, float64(k+1)/parts
		b := p.mapped(f(t1))
		p.halve(f, t0, t1, a, b, depth)
		p.put(b, k == parts-1)
		a = b
	}
	p.at = f(1)
}

// halve draws the part between two points of a curve by halving it until it is
// flat.
func (p *pen) halve(f func(t float64) mgl64.Vec2, t0, t1 float64, a, b mgl64.Vec2, depth int) {
	m := (t0 + t1) / 2
	q := p.mapped(f(m))
	if depth == 0 || *p.left < 0 || !(q.Sub(a.Add(b).Mul(0.5)).Len() > flatness) {
		return
	}
	p.halve(f, t0, m, a, q, depth-1)
	p.put(q, false)
	p.halve(f, m, t1, q, b, depth-1)
}

// cubic draws a Bézier curve.
func (p *pen) cubic(b, c, d mgl64.Vec2) {
	a := p.at
	p.curve(func(t float64) mgl64.Vec2 {
		s := 1 - t
		return a.Mul(s * s * s).Add(b.Mul(3 * s * s * t)).Add(c.Mul(3 * s * t * t)).Add(d.Mul(t * t * t))
	})
	p.at = d
}

// arc draws an arc of an ellipse, axes u and v from its centre, between angles
// in rad, in parts of a quarter at most.
func (p *pen) arc(centre, u, v mgl64.Vec2, from, to float64) {
	n := int(math.Ceil(math.Abs(to-from)/(math.Pi/2) - 1e-9))
	n = min(max(n, 1), 8)
	for k := range n {
		a, b := from+(to-from)*float64(k)/float64(n), from+(to-from)*float64(k+1)/float64(n)
		p.curve(func(t float64) mgl64.Vec2 {
			sin, cos := math.Sincos(a + (b-a)*t)
			return centre.Add(u.Mul(cos)).Add(v.Mul(sin))
		})
	}
}

// close draws back to where the stroke began.
func (p *pen) close() {
	if len(p.cur.pts) > 2 {
		p.put(p.mapped(p.first), true)
		p.cur.closed = true
	}
	p.lift()
	p.at = p.first
}

// lift ends the stroke.
func (p *pen) lift() {
	if s := p.cur; len(s.pts) > 1 || s.dot {
		s.names, s.layer, s.id, s.alone, s.where, s.line = p.names, p.layer, p.id, p.alone, p.where, p.line
		*p.strokes = append(*p.strokes, s)
	}
	p.cur = stroke{}
}

// dot marks a place.
func (p *pen) dot(q mgl64.Vec2) {
	p.lift()
	p.put(p.mapped(q), false)
	p.cur.dot = len(p.cur.pts) > 0
	p.lift()
}

// chain is strokes joined end to end.
type chain struct {
	pts    []mgl64.Vec2
	corner []bool // at each point
	closed bool   // the last point then coincides with the first
	line   int
}

// joined joins strokes whose ends meet, in whatever order and direction they
// are drawn. Where three or more ends meet, only their order decides which
// continue into each other; with care, none are joined there.
func joined(strokes []stroke, care bool) []chain {
	used := again(strokes)
	var out []chain
	for i := range strokes {
		if used[i] || strokes[i].dot {
			continue
		}
		used[i] = true
		whole := strokes[i]
		for !whole.closed {
			if meets(whole.pts[0], whole.pts[len(whole.pts)-1]) && len(whole.pts) > 3 {
				whole.closed = true
				break
			}
			k, flip, front := nextPiece(&whole, strokes, used, care)
			if k < 0 {
				break
			}
			used[k] = true
			piece := strokes[k]
			if flip {
				piece = piece.reversed()
			}
			if front {
				whole = piece.followedBy(whole)
			} else {
				whole = whole.followedBy(piece)
			}
		}
		out = append(out, whole.chain())
	}
	return out
}

// again reports which strokes coincide all along with an earlier one, as where a
// drawing has been pasted over itself.
func again(strokes []stroke) []bool {
	out := make([]bool, len(strokes))
	byEnd := map[[2]int][]int{} // the strokes that have an end in a square of the drawing
	for i := range strokes {
		if s := &strokes[i]; !s.dot {
			for _, k := range candidates(byEnd, s) {
				if s.liesOn(&strokes[k]) {
					out[i] = true
					break
				}
			}
			if !out[i] {
				for _, end := range s.squares(0) {
					byEnd[end] = append(byEnd[end], i)
				}
			}
		}
	}
	return out
}

// candidates are strokes that have an end near the first end of s, up to a
// limit.
func candidates(byEnd map[[2]int][]int, s *stroke) []int {
	const most = 8 // with more ends than this it is a knot, not a drawing pasted over itself
	var out []int
	for _, q := range s.squares(1)[:9] {
		out = append(out, byEnd[q][:min(len(byEnd[q]), most)]...)
	}
	return out
}

// squares are the squares, of side meeting, in which its first and last points lie,
// with the given number round each.
func (s *stroke) squares(round int) [][2]int {
	var out [][2]int
	for _, q := range []mgl64.Vec2{s.pts[0], s.pts[len(s.pts)-1]} {
		x, y := int(math.Floor(q[0]/meeting)), int(math.Floor(q[1]/meeting))
		for dx := -round; dx <= round; dx++ {
			for dy := -round; dy <= round; dy++ {
				out = append(out, [2]int{x + dx, y + dy})
			}
		}
	}
	return out
}

// liesOn reports whether a stroke coincides with another all along, in either
// direction.
func (s *stroke) liesOn(other *stroke) bool {
	a, b := s.pts[0], s.pts[len(s.pts)-1]
	c, d := other.pts[0], other.pts[len(other.pts)-1]
	if !(meets(a, c) && meets(b, d)) && !(meets(a, d) && meets(b, c)) {
		return false
	}
	own, their := chain{pts: s.pts, corner: make([]bool, len(s.pts))}, chain{pts: other.pts}
	if math.Abs(own.length()-their.length()) > 2*meeting {
		return false
	}
	for _, q := range own.evenly(16) {
		if _, away := their.nearest(q); away > meeting {
			return false
		}
	}
	return true
}

func meets(a, b mgl64.Vec2) bool { return a.Sub(b).Len() <= meeting }

// nextPiece finds a stroke that continues from the end of whole, or leads to
// its front; flip says whether it has to be reversed for that.
func nextPiece(whole *stroke, strokes []stroke, used []bool, care bool) (k int, flip, front bool) {
	first, last := whole.pts[0], whole.pts[len(whole.pts)-1]
	atLast, atFirst := !care || endsAt(last, strokes) == 2, !care || endsAt(first, strokes) == 2
	for k := range strokes {
		s := &strokes[k]
		if used[k] || s.closed || s.dot {
			continue
		}
		a, b := s.pts[0], s.pts[len(s.pts)-1]
		switch {
		case atLast && meets(last, a):
			return k, false, false
		case atLast && meets(last, b):
			return k, true, false
		case atFirst && meets(first, b):
			return k, false, true
		case atFirst && meets(first, a):
			return k, true, true
		}
	}
	return -1, false, false
}

// endsAt counts the ends of strokes that meet at a point.
func endsAt(q mgl64.Vec2, strokes []stroke) int {
	n := 0
	for k := range strokes {
		if s := &strokes[k]; !s.closed && !s.dot {
			for _, end := range []mgl64.Vec2{s.pts[0], s.pts[len(s.pts)-1]} {
				if meets(q, end) {
					n++
				}
			}
		}
	}
	return n
}

// reversed is the stroke run backwards.
func (s stroke) reversed() stroke {
	n := len(s.pts)
	r := s
	r.pts, r.joints = make([]mgl64.Vec2, n), nil
	for i, q := range s.pts {
		r.pts[n-1-i] = q
	}
	for i := len(s.joints) - 1; i >= 0; i-- {
		r.joints = append(r.joints, n-1-s.joints[i])
	}
	return r
}

// followedBy joins a stroke whose first point is the last point of this one.
func (s stroke) followedBy(next stroke) stroke {
	n := len(s.pts)
	out := s
	out.line = min(s.line, next.line)
	out.pts = append(s.pts[:n:n], next.pts[1:]...)
	out.joints = append([]int{}, s.joints...)
	out.joint(n - 1)
	for _, j := range next.joints {
		if j > 0 {
			out.joint(n - 1 + j)
		}
	}
	return out
}

// chain finds the corners of a joined stroke.
func (s stroke) chain() chain {
	n := len(s.pts)
	c := chain{pts: s.pts, corner: make([]bool, n), closed: s.closed, line: s.line}
	for _, j := range s.joints {
		if j > 0 && j < n-1 {
			c.corner[j] = turnAt(s.pts[j-1], s.pts[j], s.pts[j+1]) > sharpest
		}
	}
	if c.closed {
		c.pts = append([]mgl64.Vec2{}, s.pts...)
		c.pts[n-1] = c.pts[0]
		at := turnAt(c.pts[n-2], c.pts[0], c.pts[1]) > sharpest
		c.corner[0], c.corner[n-1] = at, at
	}
	return c
}

// turnAt is the angle by which the path from a through b to c turns, from 0 to
// π.
func turnAt(a, b, c mgl64.Vec2) float64 {
	u, v := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(u[0]*v[1]-u[1]*v[0], u.Dot(v)))
}

// place is a place on a chain: a point and the share of the distance to the
// next.
type place float64

// at is the point at a place.
func (c *chain) at(p place) mgl64.Vec2 {
	i := min(int(p), len(c.pts)-2)
	return c.pts[i].Add(c.pts[i+1].Sub(c.pts[i]).Mul(float64(p) - float64(i)))
}

// crossings are the places at which another line crosses the chain. Each pair of
// pieces that lie close takes one from left; when it falls below 0 the search is
// given up.
func (c *chain) crossings(line []mgl64.Vec2, left *int) []place {
	whole := boxOf(line)
	boxes := make([]box, len(line)-1)
	for k := range boxes {
		boxes[k] = boxOf(line[k : k+2])
	}
	var out []place
	for i := 0; i+1 < len(c.pts); i++ {
		own := boxOf(c.pts[i : i+2])
		if !own.touches(&whole) {
			continue
		}
		for k := range boxes {
			if !own.touches(&boxes[k]) {
				continue // most pairs
			}
			if *left--; *left < 0 {
				return nil
			}
			if t, ok := crossed(c.pts[i], c.pts[i+1], line[k], line[k+1]); ok {
				out = append(out, place(float64(i)+t))
			}
		}
	}
	return out
}

// box is the least and greatest coordinates of some points, with a small
// margin.
type box struct{ x0, x1, y0, y1 float64 }

func boxOf(pts []mgl64.Vec2) box {
	b := box{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, q := range pts {
		b.x0, b.x1 = min(b.x0, q[0]-meeting), max(b.x1, q[0]+meeting)
		b.y0, b.y1 = min(b.y0, q[1]-meeting), max(b.y1, q[1]+meeting)
	}
	return b
}

func (b *box) touches(c *box) bool {
	return b.x0 <= c.x1 && c.x0 <= b.x1 && b.y0 <= c.y1 && c.y0 <= b.y1
}

// crossed is the share of the distance from a to b at which it meets cd; cd may
// fall short by as much as is allowed between ends that are joined.
func crossed(a, b, c, d mgl64.Vec2) (t float64, ok bool) {
	u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
	det := u[0]*v[1] - u[1]*v[0]
	if math.Abs(det) < 1e-12*u.Len()*v.Len() {
		return 0, false
	}
	t = (w[0]*v[1] - w[1]*v[0]) / det
	s := (w[0]*u[1] - w[1]*u[0]) / det
	slack := meeting / v.Len()
	return min(max(t, 0), 1), t >= -1e-9 && t <= 1+1e-9 && s >= -slack && s <= 1+slack
}

// nearest is the place on the chain nearest to a point.
func (c *chain) nearest(q mgl64.Vec2) (best place, away float64) {
	away = math.Inf(1)
	for i := 0; i+1 < len(c.pts); i++ {
		a, u := c.pts[i], c.pts[i+1].Sub(c.pts[i])
		t := 0.0
		if l := u.Dot(u); l > 0 {
			t = min(max(q.Sub(a).Dot(u)/l, 0), 1)
		}
		off := a.Add(u.Mul(t)).Sub(q)
		if d := off.Dot(off); d < away {
			best, away = place(float64(i)+t), d
		}
	}
	return best, math.Sqrt(away)
}

// between is the part of the chain from one place to another; on a closed chain
// it may pass the seam.
func (c *chain) between(from, to place) chain {
	out := chain{line: c.line}
	add := func(q mgl64.Vec2, corner bool) {
		if n := len(out.pts); n > 0 && out.pts[n-1].Sub(q).Len() < hull.Apart {
			out.corner[n-1] = out.corner[n-1] || (corner && n > 1)
			return
		}
		out.pts, out.corner = append(out.pts, q), append(out.corner, corner)
	}
	add(c.at(from), false)
	stop := to
	if to < from {
		stop = place(len(c.pts) - 1)
	}
	for i := int(from) + 1; place(i) < stop; i++ {
		add(c.pts[i], c.corner[i])
	}
	if to < from {
		for i := 0; place(i) < to; i++ {
			add(c.pts[i], c.corner[i])
		}
	}
	end := c.at(to)
	if n := len(out.pts); n > 1 && out.pts[n-1].Sub(end).Len() < hull.Apart {
		out.pts[n-1] = end
	} else {
		add(end, false)
	}
	out.corner[len(out.corner)-1] = false
	return out
}

// turned is the chain run backwards.
func (c *chain) turned() chain {
	n := len(c.pts)
	out := chain{pts: make([]mgl64.Vec2, n), corner: make([]bool, n), closed: c.closed, line: c.line}
	for i := range c.pts {
		out.pts[n-1-i], out.corner[n-1-i] = c.pts[i], c.corner[i]
	}
	return out
}

// length is the length of the chain in mm.
func (c *chain) length() float64 {
	sum := 0.0
	for i := 1; i < len(c.pts); i++ {
		sum += c.pts[i].Sub(c.pts[i-1]).Len()
	}
	return sum
}

// centre is the centre of a closed line that is a circle, to a fiftieth of its
// radius.
func (s *stroke) centre() (c mgl64.Vec2, round bool) {
	n := len(s.pts)
	if !s.closed || n < 8 {
		return c, false
	}
	b := boxOf(s.pts)
	c = mgl64.Vec2{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2}
	least, most := math.Inf(1), 0.0
	for _, q := range s.pts {
		r := q.Sub(c).Len()
		least, most = min(least, r), max(most, r)
	}
	return c, most-least <= most/50
}

// thinned is the chain with at most most points, as far as its ends and corners
// allow.
func (c chain) thinned(most int) chain {
	step := (len(c.pts) + most - 1) / max(most-2, 1)
	if len(c.pts) <= most {
		return c
	}
	out := chain{closed: c.closed, line: c.line}
	for i, q := range c.pts {
		if i%step == 0 || i == len(c.pts)-1 || c.corner[i] {
			out.pts, out.corner = append(out.pts, q), append(out.corner, c.corner[i])
		}
	}
	return out
}
