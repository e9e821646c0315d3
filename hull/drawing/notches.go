package drawing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

const (
	notchShare  = 0.2                // of the length of the outline: the widest notch that is bridged
	notchWidest = 0.5                // of the length: anything wider is part of the shape
	notchDetour = 1.3                // times its width: the least length of the way along its walls
	notchTurn   = math.Pi * 40 / 180 // least turn at its beginning and at its end
	mostWalls   = 8                  // of one notch
	notchAlong  = math.Pi * 30 / 180 // by which the outline beside it may turn from the line across it
)

// withoutNotches bridges the notches of an outline, cut for a stringer or a keel,
// and the tabs on it: where it turns a corner, leaves its course and comes back to
// go on as before. wide is the width of a notch that is too wide for that, or 0. A
// notch across the centre line is for a keel, and is left.
func (c *chain) withoutNotches(centre float64) (out chain, found []bridge, wide float64) {
	out = *c
	top, length := topOf([]chain{*c}), c.length()
	for i := 1; i < len(out.pts)-1; i++ {
		if !out.corner[i] {
			continue
		}
		way := 0.0
		for k, n := i+1, 0; k < len(out.pts)-1 && n < mostWalls && way < length/2; k++ {
			way += out.pts[k].Sub(out.pts[k-1]).Len()
			if !out.corner[k] {
				continue
			}
			n++
			w, ok := out.notch(i, k, way)
			switch {
			case !ok || w > notchWidest*length || (out.pts[i][0]-centre)*(out.pts[k][0]-centre) <= 0:
				continue
			case w > notchShare*length:
				return out, found, w
			}
			found = append(found, bridge{wide: w, below: top - max(out.pts[i][1], out.pts[k][1])})
			out, i = out.across(i, k)
			break
		}
	}
	return out, found, 0
}

// notch is the width of the notch from corner i to corner k, between which the
// outline is way mm long; ok is false where there is none.
func (c *chain) notch(i, k int, way float64) (wide float64, ok bool) {
	chord := c.pts[k].Sub(c.pts[i])
	wide = chord.Len()
	if !(wide > meeting && way > notchDetour*wide) {
		return 0, false
	}
	before, after := c.edges(i, k)
	in, back := c.pts[i+1].Sub(c.pts[i]), c.pts[k].Sub(c.pts[k-1])
	first, last := signedTurn(before, in), signedTurn(back, after)
	return wide, first*last > 0 && math.Abs(first) > notchTurn && math.Abs(last) > notchTurn &&
		math.Abs(signedTurn(before, chord)) < notchAlong && math.Abs(signedTurn(chord, after)) < notchAlong
}

// edges are the directions, as unit vectors, in which the outline reaches corner i
// and leaves corner k, measured over a distance equal to that between them, or to
// the next corner.
func (c *chain) edges(i, k int) (before, after mgl64.Vec2) {
	over := c.pts[k].Sub(c.pts[i]).Len()
	return c.along(i, -1, over), c.along(k, 1, over)
}

// along is the direction of the outline at point i, measured over the distance
// over before it (step -1) or after it (1), but no farther than the next corner.
func (c *chain) along(i, step int, over float64) mgl64.Vec2 {
	return c.chord(i, step, over).Normalize()
}

// chord is the chord that ends or starts at point i, along the outline; along
// uses it.
func (c *chain) chord(i, step int, over float64) mgl64.Vec2 {
	at := i + step
	for at > 0 && at < len(c.pts)-1 && !c.corner[at] && c.pts[at].Sub(c.pts[i]).Len() < over {
		at += step
	}
	return c.pts[at].Sub(c.pts[i]).Mul(float64(step))
}

// runs is how the outline runs at point i: its direction, a unit vector, and its
// curvature, 1/mm, positive to the left. Both are found from two chords before it (step
// -1) or after it (1), the longer about the length over, up to the next corner. A chord
// departs from the direction at its end by half the turn of the outline along it.
func (c *chain) runs(i, step int, over float64) (mgl64.Vec2, float64) {
	far, near := c.chord(i, step, over), c.chord(i, step, over/2)
	long, short := far.Len(), near.Len()
	bend := signedTurn(far, near)
	if long-short < over/10 || math.Abs(bend) > notchAlong {
		return near.Normalize(), 0
	}
	turn := bend * short / (long - short)
	return mgl64.Rotate2D(turn).Mul2x1(near.Normalize()), -float64(step) * 2 * bend / (long - short)
}

// across is the chain with a smooth curve from corner i to corner k in place of
// what is drawn there, and the index of that curve's end.
func (c *chain) across(i, k int) (out chain, end int) {
	const steps = 8
	a, b := c.pts[i], c.pts[k]
	w := b.Sub(a).Len()
	before, _ := c.runs(i, -1, w)
	after, _ := c.runs(k, 1, w)
	out = chain{closed: c.closed, line: c.line}
	add := func(q mgl64.Vec2, corner bool) { out.pts, out.corner = append(out.pts, q), append(out.corner, corner) }
	for j := range i {
		add(c.pts[j], c.corner[j])
	}
	for s := range steps + 1 {
		t := float64(s) / steps
		add(a.Mul(1-t*t*(3-2*t)).Add(b.Mul(t*t*(3-2*t))).Add(before.Mul(w*t*(1-t)*(1-t))).Sub(after.Mul(w*t*t*(1-t))), false)
	}
	end = len(out.pts) - 1
	for j := k + 1; j < len(c.pts); j++ {
		add(c.pts[j], c.corner[j])
	}
	return out, end
}

// signedTurn is the angle from one direction to another, positive to the left.
func signedTurn(u, v mgl64.Vec2) float64 {
	return math.Atan2(u[0]*v[1]-u[1]*v[0], u.Dot(v))
}
