package scene

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Strip is a strip over the frames as it is drawn: at rest, or moving from one
// state to the next.
type Strip struct {
	Course, Normals  []mgl64.Vec3 // as in loft.Sprung
	Bay              int
	Width, Thickness float64 // mm
	At               []StripAt
}

// StripAt is the strip at a frame. Forces are in newtons, for the stiffest wood
// that it may be made of.
type StripAt struct {
	Frame              int
	Held               bool
	LiftOff            float64 // mm; NaN where the strip does not reach that far
	P, Out, Down       mgl64.Vec3
	Press, Bears, Side float64
}

// least is the least lift-off, mm, and force, N, that are shown.
const least = 0.1

// StripBetween is a strip part of the way from one state to another, 0 to 1. It is
// at rest only at either end; in between, every point moves in a straight line.
func StripBetween(sp *loft.Springing, from, to *loft.Sprung, part float64) Strip {
	out := Strip{Bay: from.Bay, Width: sp.Section.Width, Thickness: sp.Section.Thickness}
	a, b := leftLong(from), leftLong(to)
	for i := range a {
		out.Course = append(out.Course, mix(a[i], b[i], part))
		out.Normals = append(out.Normals, unit(mix(from.Normals[i], to.Normals[i], part)))
	}
	for i := range from.At {
		a, b := stripAt(&from.At[i]), stripAt(&to.At[i])
		switch {
		case part <= 0:
			out.At = append(out.At, a)
			continue
		case part >= 1:
			out.At = append(out.At, b)
			continue
		}
		number := func(x, y float64) float64 { return x + (y-x)*part }
		b.LiftOff = number(a.LiftOff, b.LiftOff)
		b.P, b.Out, b.Down = mix(a.P, b.P, part), unit(mix(a.Out, b.Out, part)), unit(mix(a.Down, b.Down, part))
		b.Press, b.Bears, b.Side = number(a.Press, b.Press), number(a.Bears, b.Bears), number(a.Side, b.Side)
		out.At = append(out.At, b)
	}
	return out
}

// leftLong is the course of a strip whose ends, straight where they are free, are
// extended to the planes of the first and the last frame if they meet these: it is cut
// to length last of all.
func leftLong(s *loft.Sprung) []mgl64.Vec3 {
	out := slices.Clone(s.Course)
	last := len(out) - 1
	for _, e := range []struct {
		at         *loft.SprungFrame
		end, inner int
	}{{&s.At[0], 0, 1}, {&s.At[len(s.At)-1], last, last - 1}} {
		if e.at.Reached() && e.at.P.Sub(out[e.end]).Dot(out[e.end].Sub(out[e.inner])) > 0 {
			out[e.end] = e.at.P
		}
	}
	return out
}

func stripAt(f *loft.SprungFrame) StripAt {
	side := f.Side.High
	if -f.Side.Low > side {
		side = f.Side.Low
	}
	return StripAt{f.Frame, f.Held, f.LiftOff, f.P, f.Out, f.Down, f.Press.High, f.Bears.High, side}
}

// Hardest gives the greatest force of a state, N.
func Hardest(s *loft.Sprung) float64 {
	most := 0.0
	for i := range s.At {
		a := stripAt(&s.At[i])
		most = math.Max(most, math.Max(math.Max(a.Press, a.Bears), math.Abs(a.Side)))
	}
	return most
}

func mix(a, b mgl64.Vec3, t float64) mgl64.Vec3 { return a.Add(b.Sub(a).Mul(t)) }

// unit scales a vector to length 1; a zero vector stays as it is.
func unit(v mgl64.Vec3) mgl64.Vec3 {
	if l := v.Len(); l > 0 {
		return v.Mul(1 / l)
	}
	return v
}

// nearest is the index of the frame nearest to the middle of a segment of the course.
func (s *Strip) nearest(segment int) int {
	return min((2*segment+1+s.Bay)/(2*s.Bay), len(s.At)-1)
}

// lifted reports whether a segment of its course stands off the frames: from half a
// bay before a frame from which the strip lifts, or which it does not reach, to half
// a bay after it.
func (s *Strip) lifted(segment int) bool { return !(s.At[s.nearest(segment)].LiftOff <= least) }

// corners are the four corners of the strip's section at every point: outer upper,
// outer lower, inner lower, inner upper.
func (s *Strip) corners() [][4]mgl64.Vec3 {
	out := make([][4]mgl64.Vec3, len(s.Course))
	last := len(s.Course) - 1
	for i, p := range s.Course {
		along := unit(s.Course[min(i+1, last)].Sub(s.Course[max(i-1, 0)]))
		down := along.Cross(s.Normals[i])
		if down.Z() > 0 {
			down = down.Mul(-1)
		}
		down, out4 := unit(down).Mul(s.Width/2), s.Normals[i].Mul(s.Thickness/2)
		out[i] = [4]mgl64.Vec3{p.Add(out4).Sub(down), p.Add(out4).Add(down), p.Sub(out4).Add(down), p.Sub(out4).Sub(down)}
	}
	return out
}

// Note is a place on a strip that has something to report.
type Note struct {
	Kind  NoteKind
	Frame int
	Of    mgl64.Vec3 // mm: the point that it concerns
	At    mgl64.Vec3 // mm: the point beside which it is written
	Size  float64    // mm or N
}

// NoteKind says what a note reports.
type NoteKind uint8

// The kinds of notes.
const (
	HeldNote  NoteKind = iota // it is held here
	LiftNote                  // it stands off by this distance, mm
	PressNote                 // it is pressed on with this force, N
	BearsNote                 // the frame bears this force, N
	SideNote                  // it is pushed along the frame with this force, N; negative is upwards
)

// The arrows' lengths, as shares of the length of the strip: that for the
// greatest force, and the shortest that still reads as an arrow.
const longestArrow, shortestArrow = 0.12, 0.03

// WithStrip gives the scene with a strip laid on one side of it, and the notes on it;
// for a nil strip just the scene. See lay. The scene itself is not changed.
func (s *Scene) WithStrip(k *Strip, side, hardest float64) (*Scene, []Note) {
	out := s.with()
	if k == nil {
		return out, nil
	}
	notes := out.lay(k, side, hardest)
	return out, notes
}

// lay adds a strip to the scene, on the side of positive y (1) or of negative (-1),
// with a line to it from each frame from which it lifts off, and an arrow for each
// force; an arrow for hardest newtons is the longest. It returns the notes on the
// strip.
func (s *Scene) lay(k *Strip, side, hardest float64) []Note {
	s.ribbon(k, side)
	var notes []Note
	add := func(n Note) {
		n.Of, n.At = across(n.Of, side), across(n.At, side)
		notes = append(notes, n)
	}
	length := k.Course[0].Sub(k.Course[len(k.Course)-1]).Len()
	for i := range k.At {
		f := &k.At[i]
		half := f.Out.Mul(k.Thickness / 2)
		face := f.P.Add(half)
		if f.Held {
			add(Note{HeldNote, f.Frame, face, face, 0})
		}
		if f.LiftOff > least {
			inner := f.P.Sub(half)
			s.stroke(LiftLine, 1.6, side, inner, inner.Sub(f.Out.Mul(f.LiftOff)))
			add(Note{LiftNote, f.Frame, face, face.Add(f.Out.Mul(shortestArrow * length)), f.LiftOff})
		}
		arrow := func(kind NoteKind, newtons float64, tip, back mgl64.Vec3) {
			if !(math.Abs(newtons) >= least) {
				return
			}
			share := math.Min(math.Abs(newtons)/math.Max(hardest, least), 1)
			tail := tip.Add(back.Mul(length * (shortestArrow + share*(longestArrow-shortestArrow))))
			s.arrow(tail, tip, f.Down, side, length)
			add(Note{kind, f.Frame, tip, tail, newtons})
		}
		arrow(PressNote, f.Press, face, f.Out)
		arrow(BearsNote, f.Bears, f.P.Sub(half), f.Out.Mul(-1))
		up := f.Down.Mul(-math.Copysign(1, f.Side))
		arrow(SideNote, f.Side, face.Add(up.Mul(k.Width/2)), up)
	}
	return notes
}

// ribbon adds the strip itself: its four faces and two ends, with its outer edges
// drawn, and hatched across its outer face where it stands off.
func (s *Scene) ribbon(k *Strip, side float64) {
	corner := k.corners()
	last := len(corner) - 1
	frame := func(i int) int16 { return int16(k.At[k.nearest(i)].Frame) }
	quad := func(f int16, n [2]mgl64.Vec3, a, b, c, d mgl64.Vec3) {
		base := int32(len(s.Vertices))
		for j, p := range [4]mgl64.Vec3{a, b, c, d} {
			s.Vertices = append(s.Vertices, Vertex{At: across(p, side), Normal: across(n[j/2], side)})
		}
		t := Tag{NoStrake, f}
		s.Triangles = append(s.Triangles, Triangle{base, base + 1, base + 2, t, false}, Triangle{base, base + 2, base + 3, t, false})
	}
	for i := range last {
		p, q := &corner[i], &corner[i+1]
		for j := range 4 {
			h := (j + 1) % 4
			n := func(c *[4]mgl64.Vec3) mgl64.Vec3 { return unit(c[j].Add(c[h]).Sub(c[(j+2)%4].Add(c[(j+3)%4]))) }
			quad(frame(i), [2]mgl64.Vec3{n(p), n(q)}, p[j], p[h], q[h], q[j])
		}
	}
	for _, i := range []int{0, last} {
		c, n := &corner[i], unit(k.Course[i].Sub(k.Course[last/2]))
		quad(frame(i), [2]mgl64.Vec3{n, n}, c[0], c[1], c[2], c[3])
		s.stroke(SeamLine, 1, side, c[0], c[1])
	}
	upper, lower := make([]mgl64.Vec3, len(corner)), make([]mgl64.Vec3, len(corner))
	for i := range corner {
		upper[i], lower[i] = corner[i][0], corner[i][1]
	}
	s.stroke(SeamLine, 1, side, upper...)
	s.stroke(SeamLine, 1, side, lower...)
	for i := range last {
		if k.lifted(i) {
			s.stroke(LiftLine, 1, side, upper[i], lower[i+1])
		}
	}
}

// arrow adds an arrow with four barbs, so that it can be recognised from every
// side.
func (s *Scene) arrow(tail, tip, beside mgl64.Vec3, side, length float64) {
	s.stroke(ForceLine, 2.2, side, tail, tip)
	back := unit(tail.Sub(tip))
	wide := unit(beside.Sub(back.Mul(beside.Dot(back))))
	if math.Abs(beside.Dot(back)) > 0.9 {
		wide = unit(mgl64.Vec3{1, 0, 0}.Sub(back.Mul(back.X())))
	}
	barb := math.Min(0.4*tail.Sub(tip).Len(), 0.6*shortestArrow*length)
	for _, w := range []mgl64.Vec3{wide, back.Cross(wide)} {
		s.stroke(ForceLine, 1.8, side, tip.Add(back.Add(w.Mul(0.35)).Mul(barb)), tip, tip.Add(back.Sub(w.Mul(0.35)).Mul(barb)))
	}
}

// stroke draws a line on one side.
func (s *Scene) stroke(kind Kind, width, side float64, pts ...mgl64.Vec3) {
	out := make([]mgl64.Vec3, len(pts))
	for i, p := range pts {
		out[i] = across(p, side)
	}
	s.Draw(out, kind, width, false)
}
