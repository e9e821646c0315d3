package hull

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Girth is what is known of a frame whose girth alone was measured.
type Girth struct {
	Frame  string
	X      float64 // mm along the keel
	Girth  float64 // mm, from the upper limit to the rabbet
	Turn   Angle   // by which the frame turns from upper limit to rabbet; positive where it is convex
	Turned bool    // whether the turn is known; where it is not, it counts as zero

	extra *extra
}

// Limits of measured girths.
const (
	arcPoints = 25 // of a frame: the cubic through them is right to 1e-6 of any girth that turns through half a circle
	LeastTurn = -180
	MostTurn  = 270 // degrees: beyond this the frame would nearly close
)

// GirthTurn is how far a frame turns from its upper to its lower limit, degrees.
var GirthTurn = Range{LeastTurn, MostTurn, false}

// Shapeless reports whether only the girths of the frames are known. The frames
// are then arcs of that girth and turn, which stand in for them where widths,
// gaps, wedges, bevels and stock are found; they do not show how a strip lies
// on the hull.
func (h *Hull) Shapeless() bool { return len(h.Girths) > 0 }

// SetGirths makes a hull from measured girths: arcs with the girth and turn of
// each, straight where the turn is not known, their middles in one line.
func (h *Hull) SetGirths(girths []Girth) {
	h.Girths = girths
	h.Frames = nil
	most := 0.0
	for _, g := range girths {
		most = max(most, g.Girth)
	}
	for _, g := range girths {
		h.Frames = append(h.Frames, g.arc(most))
	}
}

// arc is the frame that stands for a girth: half way down it slopes at 45
// degrees, at a half-breadth that keeps all of it clear of the centre line.
func (g Girth) arc(clear float64) Frame {
	const steep = math.Pi / 4
	f := Frame{Name: g.Frame}
	for k := range arcPoints {
		s := g.Girth * (float64(k)/(arcPoints-1) - 0.5)
		half := 0.5 * float64(g.Turn) * (float64(k)/(arcPoints-1) - 0.5)
		chord := s
		if half != 0 {
			chord = s * math.Sin(half) / half
		}
		sin, cos := math.Sincos(steep + half)
		f.Points = append(f.Points, mgl64.Vec3{g.X, clear - chord*sin, -chord * cos})
	}
	return f
}

// TurnOf is the angle of the given degrees, to a billionth of a degree, so that
// it is written as it was read.
func TurnOf(deg float64) Angle { return Degrees(math.Round(deg*1e9)/1e9 + 0) }

// girths reads the girths of a plan's hull in place of its frames.
func (r *planReader) girths(n node, h *Hull) {
	items, ok := r.items(n, `"girths"`, MostFrames)
	var girths []Girth
	for i, n := range items {
		where := tongue.T("girth %d", i+1)
		o := r.object(n, where)
		g := Girth{Frame: o.string("frame"), X: o.number("x", Range{-Largest, Largest, false}), Girth: o.number("girth", FrameGirth)}
		if n, has := o.take("turn_deg"); has {
			v, _ := r.number(n, tongue.T("\"turn_deg\" of %s", where), GirthTurn)
			g.Turn, g.Turned = TurnOf(v), true
		}
		g.extra = o.rest()
		ok = ok && g.Girth > 0
		girths = append(girths, g)
	}
	if !ok {
		return
	}
	h.SetGirths(girths)
	h.CheckIn(Places{
		Line: func(frame, _ int) int { return plaintext.LineAt(r.text, items[frame].at) },
		Unit: nowhere.Unit,
	}, &r.List)
}

// girthsList is the girths as they are written to a file.
func (h *Hull) girthsList() list {
	out := list{}
	for _, g := range h.Girths {
		o := object{{"frame", g.Frame}, {"x", g.X}, {"girth", g.Girth}}
		if g.Turned {
			o = append(o, member{"turn_deg", math.Round(g.Turn.Degrees()*1e9)/1e9 + 0})
		}
		out = append(out, append(o, g.extra.members()...))
	}
	return out
}

// Unturned gives the names of the frames whose turn is not known, in a hull
// known by its girths.
func (h *Hull) Unturned() []string {
	var out []string
	for _, g := range h.Girths {
		if !g.Turned {
			out = append(out, g.Frame)
		}
	}
	return out
}
