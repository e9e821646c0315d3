package drawing

import (
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Halves says how far the two halves of a frame that was drawn whole differ.
type Halves struct {
	Frame string
	MM    float64 // the farthest that any point of one lies from the other, mirrored
	Y, Z  float64 // where: half-breadth, and height above the base line, mm
}

// Limits for telling halves apart.
const (
	evenHalves = 0.01 // mm by which halves may differ without a note
	halfSteps  = 200  // places at which they are compared, evenly spaced along each
)

// halvesOf compares two halves, each with y outwards and z upwards.
func halvesOf(frame string, a, b *chain) Halves {
	h := Halves{Frame: frame}
	for _, pair := range [][2]*chain{{a, b}, {b, a}} {
		for _, q := range pair[0].evenly(halfSteps) {
			if _, away := pair[1].nearest(q); away > h.MM {
				h.MM, h.Y, h.Z = away, q[0], q[1]
			}
		}
	}
	return h
}

// evenly gives n+1 points evenly spaced along the chain, and its corners.
func (c *chain) evenly(n int) []mgl64.Vec2 {
	var out []mgl64.Vec2
	step := c.length() / float64(n)
	want, at := 0.0, 0.0
	for i := 1; i < len(c.pts); i++ {
		a, u := c.pts[i-1], c.pts[i].Sub(c.pts[i-1])
		d := u.Len()
		for d > 0 && want <= at+d && len(out) < 4*n {
			out = append(out, a.Add(u.Mul((want-at)/d)))
			want += step
		}
		if c.corner[i] && len(out) < 4*n {
			out = append(out, c.pts[i])
		}
		at += d
	}
	return append(out, c.pts[len(c.pts)-1])
}

// Most gives the frame whose halves differ most; ok is false where none was drawn
// whole.
func (d *Drawing) Most() (h Halves, ok bool) {
	for _, x := range d.Halves {
		if !ok || x.MM > h.MM {
			h, ok = x, true
		}
	}
	return h, ok
}

// Even reports whether the halves agree within 0.01 mm.
func (h Halves) Even() bool { return h.MM <= evenHalves }

// String says how far the halves differ, and where.
func (h Halves) String() string {
	return tongue.T("%.2f mm, at height %.1f mm and half-breadth %.1f mm", h.MM, h.Z, h.Y)
}

// halfNotes notes by how much the halves of whole frames differ, and where.
func (t *tracing) halfNotes() {
	d := t.drawing
	most, ok := d.Most()
	if !ok {
		return
	}
	note := func(format string, args ...any) { d.Notes = append(d.Notes, tongue.T(format, args...)) }
	whole, taken := tongue.T("%s drawn whole", tongue.Count(len(d.Halves), "%d frame", "%d frames", len(d.Halves))), t.half.String()
	if most.Even() {
		note("%s: the halves agree within %.2f mm; %s is taken.", whole, evenHalves, taken)
		return
	}
	note("%s: the halves differ most on frame %s, by %s; %s is taken.", whole, fault.Name(most.Frame), most, taken)
	for _, h := range d.Halves {
		if !h.Even() && h != most {
			note("Frame %s: its two halves differ by up to %s.", fault.Name(h.Frame), h)
		}
	}
}

// String says which half is used.
func (h Half) String() string {
	return [...]string{tongue.T("their mean"), tongue.T("the right half alone"), tongue.T("the left half alone")}[h]
}
