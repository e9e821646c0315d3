package drawing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// Bounds of reading the contour of a piece.
const (
	mouthTurn  = math.Pi * 60 / 180 // least turn from the contour into the slot for a keel
	steepest   = math.Pi * 20 / 180 // by which the wall of such a slot may lean
	widestSlot = 0.8                // of the half-breadth: the widest cut on the centre line that is still a slot
	widestTab  = 0.5                // likewise, for a tab that stands out there
	deckSlope  = math.Pi * 50 / 180 // by which a deck's edge may rise or fall at the side
	lowestDeck = 0.35               // of the height: a deck's edge lies above this
	hollow     = 0.02               // of the height: how much lower the bottom may lie than at the centre line
	surely     = 0.03               // of the height: how far the middle of an upright piece lies above half height, to be sure
	longEdge   = 0.6                // of the height of a half frame: the least length of its straight edge on the centre line
)

// slot is a slot cut into a piece on its centre line; ok is false where there is
// none.
type slot struct {
	end  float64 // height of its closed end
	half float64 // half-breadth at its mouth
	ok   bool
}

// contour is what was read of a piece to be cut, set upright with its centre
// line at 0.
type contour struct {
	right, left  *chain // the planked sides, from the deck down, y outwards; a half frame has only one
	below, above slot
	deck, foot   float64 // heights of the upper and lower end of the planking
	tab          bool    // the planking ends below at a tab of the piece
	quarters     int     // turns of 90 degrees to the left that set it upright
	wider        bool    // it could stand another way, and is taken to be wider above than below
	share        float64 // of the height, by which its middle lies above half height
	notches      []bridge
}

// lack says why a piece cannot be read, and how to mend it.
type lack struct{ what, mend string }

// read finds how a closed outline stands and which part of it is planked. With upright
// set it stands as drawn; otherwise it has the slot that level speaks of, if any. left
// is how many pairs of pieces may still be examined.
func (c *chain) read(upright bool, level Level, left *int) (contour, lack) {
	var good []contour
	var why lack
	symmetric := false
	for axis := range 2 {
		t := c.quarter(axis)
		centre, even := ownCentre([]chain{t})
		if !even || (upright && axis > 0) {
			continue
		}
		for _, q := range []int{axis, axis + 2} {
			if upright && q > 0 {
				continue
			}
			if q > axis {
				t, centre = t.quarter(2), -centre
			}
			k, lack := t.whole(centre, left)
			if lack.what != "" {
				if !symmetric {
					why = lack
				}
				symmetric = true
				continue
			}
			symmetric = true
			k.quarters = q
			good = append(good, k)
		}
	}
	if !symmetric {
		return c.half(upright, level)
	}
	return likeliest(slotted(good, level), why)
}

// slotted keeps, of several ways a piece may stand, those in which it has the slot
// that level speaks of; all of them where none has.
func slotted(good []contour, level Level) []contour {
	var out []contour
	for _, k := range good {
		if (level == SlotBelow && k.below.ok) || (level == SlotAbove && k.above.ok) {
			out = append(out, k)
		}
	}
	if len(out) > 0 {
		return out
	}
	return good
}

// likeliest chooses among the ways in which a piece may stand: wider above than below,
// but not against the way in which it is drawn.
func likeliest(good []contour, why lack) (contour, lack) {
	switch len(good) {
	case 0:
		return contour{}, why
	case 1:
		return good[0], lack{}
	}
	best := good[0]
	if best.quarters != 0 {
		for _, k := range good {
			if k.share > best.share {
				best = k
			}
		}
	}
	if best.share < surely {
		return contour{}, lack{tongue.T("its shape does not show which way is up"), tongue.T("turn it upright in the drawing and add --upright for all, or use the slots' height with --level")}
	}
	best.wider = true
	return best, lack{}
}

// quarter is the chain turned to the left by n × 90 degrees about the origin.
func (c *chain) quarter(n int) chain {
	out := *c
	out.pts = make([]mgl64.Vec2, len(c.pts))
	for i, q := range c.pts {
		for range n {
			q = mgl64.Vec2{-q[1], q[0]}
		}
		out.pts[i] = q
	}
	return out
}

// whole reads a piece with both sides.
func (c *chain) whole(centre float64, left *int) (k contour, why lack) {
	m := c.moved(mgl64.Vec2{centre, 0}, 1)
	low, high := place(-1), place(-1)
	for _, p := range m.crossings([]mgl64.Vec2{{0, -2 * farthest}, {0, 2 * farthest}}, left) {
		z := m.at(p)[1]
		if low < 0 || z < m.at(low)[1] {
			low = p
		}
		if high < 0 || z > m.at(high)[1] {
			high = p
		}
	}
	if low < 0 || !(m.at(high)[1]-m.at(low)[1] > meeting) {
		return k, lack{tongue.T("its outline does not cross its centre line twice"), tongue.T("draw it as one closed line")}
	}
	one, two := m.between(low, high), m.between(high, low)
	two = two.turned()
	if one.outwards() < 0 {
		one, two = two, one
	}
	two = two.moved(mgl64.Vec2{}, -1)
	k.share = m.middle()
	if why = k.side(&one); why.what != "" {
		return k, why
	}
	first := k
	if why = k.side(&two); why.what != "" {
		return k, why
	}
	k.right, k.left = first.right, k.right
	if first.below.ok != k.below.ok || first.above.ok != k.above.ok || first.tab != k.tab {
		return k, lack{tongue.T("its slot on the centre line is cut on only one side"), tongue.T("draw it the same on both sides")}
	}
	k.below.half, k.above.half = (first.below.half+k.below.half)/2, (first.above.half+k.above.half)/2
	k.deck, k.foot = (first.deck+k.deck)/2, (first.foot+k.foot)/2
	return k, lack{}
}

// middle is how far the centroid of a closed chain's area lies above half its height,
// as a share of that height.
func (c *chain) middle() float64 {
	b := boxOf(c.pts)
	sum, area := 0.0, 0.0
	for i := 1; i < len(c.pts); i++ {
		p, q := c.pts[i-1], c.pts[i]
		cross := p[0]*q[1] - q[0]*p[1]
		area += cross / 2
		sum += (p[1] + q[1]) * cross / 6
	}
	if area == 0 {
		return 0
	}
	return (sum/area - (b.y0+b.y1)/2) / (b.y1 - b.y0)
}

// half reads a piece with only one side, whose straight edge is taken to lie on the
// centre line. If it lay on its side it could be anything.
func (c *chain) half(upright bool, level Level) (contour, lack) {
	var good []contour
	why := lack{tongue.T("its outline is neither the same on both sides of a centre line nor that of a half frame with a straight edge there"),
		tongue.T("remove it, set it to not used in the window, or draw both sides alike")}
	for _, q := range []int{0, 2} {
		if upright && q > 0 {
			break
		}
		t, sides := c.quarter(q), 0
		for _, side := range []float64{1, -1} {
			m := t.moved(mgl64.Vec2{}, side)
			run, at, ok := m.offEdge()
			if !ok {
				continue
			}
			run = run.moved(mgl64.Vec2{at, 0}, 1)
			k := contour{quarters: q, share: m.middle()}
			if is := k.side(&run); is.what != "" {
				if q == 0 {
					why = is
				}
				continue
			}
			if side < 0 {
				k.left, k.right = k.right, nil
			}
			sides++
			good = append(good, k)
		}
		if sides > 1 {
			return contour{}, lack{tongue.T("it is a half frame with a straight edge on either side, and its shape does not show which lies on the centre line"), tongue.T("draw both sides of it")}
		}
	}
	return likeliest(slotted(good, level), why)
}

// offEdge is a closed chain without its straight edge at the least x, from the lower end
// of that edge to the upper; ok is false where there is no long edge there.
func (c *chain) offEdge() (run chain, at float64, ok bool) {
	b := boxOf(c.pts)
	at = b.x0 + meeting
	n := len(c.pts) - 1
	best, from := 0.0, 0
	for i := range n {
		p, q := c.pts[i], c.pts[i+1]
		if math.Abs(p[0]-at) <= meeting && math.Abs(q[0]-at) <= meeting && p.Sub(q).Len() > best {
			best, from = p.Sub(q).Len(), i
		}
	}
	if best < longEdge*(b.y1-b.y0) {
		return run, at, false
	}
	run = c.between(place(from+1), place(from))
	if run.pts[0][1] > run.pts[len(run.pts)-1][1] {
		run = run.turned()
	}
	return run, at, true
}

// side reads one side of a piece, from the centre line below, outwards and round to it
// above.
func (k *contour) side(h *chain) lack {
	b, reach := boxOf(h.pts), h.reach(1)
	tall := b.y1 - b.y0
	long := reach + tall // about the length of the side
	from, below, tab, why := h.mouth(reach, long)
	if why.what != "" {
		return why
	}
	k.below, k.tab = below, tab
	flipped := h.turned()
	for i := range flipped.pts {
		flipped.pts[i][1] *= -1
	}
	_, k.above, _, _ = flipped.mouth(reach, long)
	k.above.end *= -1
	run, top, found, why := h.climb(from, long, b.y0+lowestDeck*tall, b.y1)
	if why.what != "" {
		return why
	}
	k.notches = append(k.notches, found...)
	planked := run.between(place(from), place(top))
	low := math.Inf(1)
	for _, q := range planked.pts {
		low = min(low, q[1])
	}
	k.foot, k.deck = planked.pts[0][1], planked.pts[len(planked.pts)-1][1]
	if k.foot-low > hollow*tall {
		return lack{tongue.T("its outline lies lower beside the centre line than there"), tongue.T("check that it is upright, with its keel below")}
	}
	planked = planked.turned()
	k.right = &planked
	return lack{}
}

// mouth is where the contour of the bottom begins beside the centre line: at the edge of a
// slot there, where a tab stands out, or on the centre line itself. why is set where a tab
// may equally be what is left beside a corner cut away.
func (c *chain) mouth(reach, long float64) (at int, s slot, tab bool, why lack) {
	start, before := c.pts[0][1], 0 // the corner before
	for i := 1; i < len(c.pts)-1 && c.pts[i][0] <= widestSlot*reach; i++ {
		if !c.corner[i] {
			continue
		}
		wall, after := c.pts[i].Sub(c.pts[i-1]), c.pts[i+1].Sub(c.pts[i])
		turn, z := signedTurn(wall, after), c.pts[i][1]
		upright := math.Abs(wall[0]) < math.Sin(steepest)*wall.Len()
		switch {
		case upright && turn > mouthTurn && z < start-2*meeting && after[0] > 0:
			return i, slot{end: start, half: c.pts[i][0], ok: true}, false, lack{}
		case upright && turn < -notchTurn && z > start+2*meeting && after[0] > 0 && c.pts[i][0] <= widestTab*reach:
			if _, _, ok := c.cornerNotch(before, long); before > 0 && ok {
				why = lack{tongue.T("the projection below on its centre line may be a tab, or the remains of a corner that was cut away"), tongue.T("draw its outline without it")}
			}
			return i, slot{}, true, why
		case turn > 0:
			if k, _ := c.notchFrom(i, long); k > 0 {
				i = k
			}
		}
		before = i
	}
	return 0, slot{}, false, lack{}
}

// climb goes up a side until it turns in over the deck, bridging the notches on the way.
// The top of what it gives is the corner at the deck, which lies above the height above.
// long is about the length of the side, highest the height of the piece's highest point.
func (c *chain) climb(from int, long, above, highest float64) (out chain, top int, found []bridge, why lack) {
	out = *c
	for i := from + 1; i < len(out.pts)-1; i++ {
		if !out.corner[i] {
			continue
		}
		if whole, b, ok := out.cornerNotch(i, long); ok {
			b.below += highest
			found, out = append(found, b), whole
			i--
			continue
		}
		if k, wide := out.notchFrom(i, long); k > 0 {
			if wide > notchShare*long {
				return out, 0, found, lack{tongue.T("a notch of %s mm in its outline is too wide to be bridged", fault.Figure(math.Round(wide*10)/10)), tongue.T("draw its outline across it")}
			}
			found = append(found, bridge{wide: wide, below: highest - max(out.pts[i][1], out.pts[k][1])})
			out, i = out.across(i, k)
			continue
		}
		before, after := out.pts[i].Sub(out.pts[i-1]), out.pts[i+1].Sub(out.pts[i])
		turn := signedTurn(before, after)
		inboard := math.Abs(signedTurn(mgl64.Vec2{-1, 0}, after)) < deckSlope
		switch {
		case turn > 0 && inboard && out.pts[i][1] > above:
			return out, i, found, lack{}
		case turn < -notchTurn, turn > 0 && inboard:
			return out, 0, found, lack{tongue.T("its outline turns in %s mm below its highest point, and no notch that can be bridged begins there", fault.Figure(math.Round((highest-out.pts[i][1])*10)/10)),
				tongue.T("draw its outline across what is cut out there")}
		}
	}
	return out, 0, found, lack{tongue.T("its outline turns no corner where its side meets the deck"), tongue.T("draw the deck's edge with a corner, or turn the piece upright")}
}

// notchFrom is the corner at which a notch that begins at corner i ends, and the width
// of the notch; 0 where none begins.
func (c *chain) notchFrom(i int, long float64) (k int, wide float64) {
	way := 0.0
	for k, n := i+1, 0; k < len(c.pts)-1 && n < mostWalls && way < long/2; k++ {
		way += c.pts[k].Sub(c.pts[k-1]).Len()
		if !c.corner[k] {
			continue
		}
		n++
		if w, ok := c.notch(i, k, way); ok && w <= notchWidest*long {
			return k, w
		}
	}
	return 0, 0
}

// cornerNotch finds a notch that takes away a corner of the outline, as for a chine log or
// a strip along the deck: in at corner i, along, and out again. out is the outline as it
// would go on to the corner from either side; b is how wide the notch is, and how far the
// corner lies below height 0.
func (c *chain) cornerNotch(i int, long float64) (out chain, b bridge, ok bool) {
	var corners [2]int
	for n, j := 0, i+1; n < 2; j++ {
		if j >= len(c.pts)-1 || c.pts[j].Sub(c.pts[i]).Len() > notchShare*long {
			return out, b, false
		}
		if c.corner[j] {
			corners[n] = j
			n++
		}
	}
	m, k := corners[0], corners[1]
	turn := func(j int) float64 { return signedTurn(c.pts[j].Sub(c.pts[j-1]), c.pts[j+1].Sub(c.pts[j])) }
	if !(turn(i) > notchTurn && turn(m) < -notchTurn && turn(k) > sharpest) {
		return out, b, false
	}
	over := 2 * c.pts[k].Sub(c.pts[i]).Len()
	before, _ := c.runs(i, -1, over)
	after, _ := c.runs(k, 1, over)
	if signedTurn(before, after) < sharpest {
		return out, b, false // no corner is missing
	}
	up, back := c.beyond(i, -1, over, notchShare*long), c.beyond(k, 1, over, notchShare*long)
	left := mostWalls * mostWalls * mostWalls
	for _, p := range up.crossings(back.pts, &left) {
		if q, away := back.nearest(up.at(p)); away <= meeting {
			up, back = up.between(0, p), back.between(0, q)
			meet := up.pts[len(up.pts)-1]
			return c.cornered(i, k, &up, &back), bridge{wide: over / 2, below: -meet[1]}, true
		}
	}
	return out, b, false
}

// beyond is how the outline would go on from point i, following its course before it
// (step -1), or would come to it, following its course after it (1): an arc of a circle,
// running away from the point.
func (c *chain) beyond(i, step int, over, far float64) chain {
	dir, curvature := c.runs(i, step, over)
	dir, curvature = dir.Mul(-float64(step)), curvature*-float64(step)
	out := chain{}
	for n := range mostWalls + 1 {
		s := far * float64(n) / mostWalls
		turn := min(max(curvature*s/2, -notchAlong), notchAlong)
		out.pts = append(out.pts, c.pts[i].Add(mgl64.Rotate2D(turn).Mul2x1(dir).Mul(s)))
		out.corner = append(out.corner, false)
	}
	return out
}

// cornered is the chain with a corner in place of what is drawn from corner i to corner
// k, where the continuations of both sides meet.
func (c *chain) cornered(i, k int, up, back *chain) chain {
	out := chain{closed: c.closed, line: c.line}
	add := func(part *chain) {
		for j, q := range part.pts {
			if n := len(out.pts); n == 0 || out.pts[n-1].Sub(q).Len() >= hull.Apart {
				out.pts, out.corner = append(out.pts, q), append(out.corner, part.corner[j])
			}
		}
	}
	before, after, turned := chain{pts: c.pts[:i], corner: c.corner[:i]}, chain{pts: c.pts[k+1:], corner: c.corner[k+1:]}, back.turned()
	add(&before)
	add(up)
	out.corner[len(out.corner)-1] = true
	add(&turned)
	add(&after)
	return out
}
