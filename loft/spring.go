package loft

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/rod"
)

// Springing is a strip that is laid over the frames along a line of a layer, and
// held at some of them. It touches frames, not a surface: between them it runs as
// its stiffness has it, and where it is not held it may lift off. Its middle lies
// half its thickness outside of the frames. Nothing rubs, the frames do not give,
// and the wood is straight and elastic.
type Springing struct {
	First, Last int         // the frames between which it is laid
	Section     rod.Section // of the strip; the moduli stand for nominal ones where Modulus is not known
	Modulus     Range       // GPa along the grain: of the woods its species may mean; 0 where it is not known
	Play        float64     // mm that a hold leaves it along the frame, to either side; see Held

	layer    *Layer
	supports []rod.Support // of every frame from First
	between  [][]mgl64.Vec3
}

const (
	// nominal is the modulus, N/mm², with which a strip of unknown wood is reckoned:
	// where it lies does not depend on it.
	nominal = 10000.0
	// searchBay and tellBay are the segments of the strip in a bay while holds are
	// looked for, and when a strip is told of (then also half as many).
	searchBay, tellBay = 4, 6
	// manyBays is from how many bays on these are fewer, down to leastBay: all of the
	// strip is then cut no finer than over so many. Our choice.
	manyBays, leastBay = 40, 2
	// usualPlay is how near, mm, a strip is set by hand. A strip some 5 mm wide that is
	// forced onto a line to a hundredth presses sideways with tens of newtons for it,
	// which tells of the line and not of the bench. Our choice.
	usualPlay = 0.1
	// setting is how many holds set a strip on its line.
	setting = 3
)

// HoldWithin is within what a strip may be asked to lie in its place, mm.
var HoldWithin = hull.Range{Low: 0.01, High: 10}

// ModulusOf is the modulus of elasticity of a species, GPa at 12 percent moisture,
// over the woods that the name may mean, with these; 0 where none is known.
func ModulusOf(p *hull.Plan, species string) (Range, []hull.Wood) {
	known := slices.DeleteFunc(WoodsNamed(species, p.Woods, hull.UsualWoods()), func(w hull.Wood) bool { return w.Stiffness == 0 })
	if len(known) == 0 {
		return Range{}, nil
	}
	var figures []float64
	for _, w := range known {
		figures = append(figures, w.Stiffness)
	}
	return RangeOf(figures...), known
}

// Spring lays a strip of width and thickness, mm, over the frames from first to last
// along a line of the layer. The modulus is that of its wood, GPa, 0 where it is not
// known. The error says what of it cannot be.
func (l *Layer) Spring(line *Line, first, last int, width, thickness float64, modulus Range) (*Springing, error) {
	return l.springAlong(curve.NewBatten(l.Surface.stations, line.V), first, last, width, thickness, modulus)
}

// SpringLie is Spring along an unstressed line, over the frames that it crosses.
func (l *Layer) SpringLie(lie *Lie, width, thickness float64, modulus Range) (*Springing, error) {
	var u, v []float64
	first, last := math.MaxInt, -1
	for _, p := range lie.Points {
		if len(u) > 0 && !(p.U > u[len(u)-1]) {
			continue
		}
		u, v = append(u, p.U), append(v, p.V)
		if p.Frame >= 0 {
			first, last = min(first, p.Frame), max(last, p.Frame)
		}
	}
	return l.springAlong(curve.NewBatten(u, v), first, last, width, thickness, modulus)
}

// springAlong is Spring along the course v(u).
func (l *Layer) springAlong(course curve.Batten, first, last int, width, thickness float64, modulus Range) (*Springing, error) {
	s := l.Surface
	if s.shapeless {
		return nil, tongue.Errorf("the lie of a strip over the frames cannot be found: %w", ErrShapeless)
	}
	from, to := s.Planked()
	first, last = max(first, from), min(last, to)
	if last-first < 1 {
		return nil, tongue.Errorf("a strip that is laid over fewer than two frames is not bent: choose a longer one")
	}
	for _, f := range []struct {
		name   string
		figure float64
	}{{"wide", width}, {"thick", thickness}} {
		if !(f.figure > 0) || math.IsInf(f.figure, 0) {
			return nil, tongue.Errorf("there is no strip %g mm %s: give it more than 0", f.figure, f.name)
		}
	}
	e := nominal
	if modulus.High > 0 {
		e = modulus.High * mpaInGPa
	}
	sp := &Springing{First: first, Last: last, Modulus: modulus, Play: usualPlay, layer: l,
		Section: rod.Section{Width: width, Thickness: thickness, Modulus: e, Shear: shearShare * e}}
	for i := first; i <= last; i++ {
		v, _, _ := course.At(s.u[i])
		o := s.midOutline(i, v, thickness)
		if len(o.at) < 2 {
			return nil, tongue.Errorf("frame %s has no outline %g mm outside of it: the strip is too thick there", s.names[i], thickness/2)
		}
		sp.supports = append(sp.supports, rod.Support{Outline: o.place, At: o.alongTo(o.origin)})
		if i == last {
			break
		}
		var way []mgl64.Vec3
		for k := 1; k < 3*tellBay; k++ {
			u := s.u[i] + (s.u[i+1]-s.u[i])*float64(k)/(3*tellBay)
			v, _, _ := course.At(u)
			way = append(way, s.moved(u, v, thickness/2))
		}
		sp.between = append(sp.between, way)
	}
	return sp, nil
}

// mpaInGPa turns GPa into N/mm².
const mpaInGPa = 1000

// Sprung is a strip at rest, held at some frames and let go at the others.
type Sprung struct {
	Held    []int         // frames, rising
	Course  []mgl64.Vec3  // mm, of its middle, from the first frame to the last, as many points in every bay
	Normals []mgl64.Vec3  // outward normal of its face at every point
	Bay     int           // points from one frame to the next
	At      []SprungFrame // at every frame it crosses, rising

	Energy    float64 // N·mm, of bending and twisting; for the highest modulus
	Strain    float64 // greatest strain in its faces from bending flatwise, a ratio
	Worst     int     // the frame nearest to that
	Bends     How     // how a strip of that wood is brought so far
	Edge      float64 // greatest strain in its edges from bending sideways, a ratio
	EdgeWorst int     // the frame nearest to that
	Converged bool    // false where it found no rest: it springs out from between its holds
	Error     float64 // mm: how far a reckoning half as fine is off anywhere; NaN where that was not asked for
}

// SprungFrame is the strip at one frame. Forces are 0 at a frame that it does not
// touch; else they are those over the woods that its species may mean.
type SprungFrame struct {
	Frame   int
	Held    bool
	LiftOff float64    // mm, of its inner face off the frame, along the frame's plane; NaN where it does not come so far, as Stray
	Stray   float64    // mm along the frame from its line, positive downwards
	P       mgl64.Vec3 // mm, of its middle
	Out     mgl64.Vec3 // unit, square to strip and frame, outwards
	Down    mgl64.Vec3 // unit, square to it and to the strip, downwards
	Press   Range      // N with which it has to be pressed on; 0 where the frame bears it
	Bears   Range      // N with which the frame presses it from inside
	Side    Range      // N along the frame that keep it from slipping, positive downwards; only where it is held and uses all of its play
}

// middle is the frame from which a strip is laid both ways: of those it crosses, not
// the ends if there are others, the one of greatest girth.
func (sp *Springing) middle() int {
	first, last := sp.First, sp.Last
	if last-first > 1 {
		first, last = first+1, last-1
	}
	best := first
	for i := first; i <= last; i++ {
		if sp.layer.Girths[i] > sp.layer.Girths[best] {
			best = i
		}
	}
	return best
}

// Order gives the frames in the order in which a strip is pressed on: from the
// middle one outwards, towards rising x first.
func (sp *Springing) Order() []int {
	middle := sp.middle()
	out := []int{middle}
	for d := 1; middle-d >= sp.First || middle+d <= sp.Last; d++ {
		for _, i := range []int{middle + d, middle - d} {
			if i >= sp.First && i <= sp.Last {
				out = append(out, i)
			}
		}
	}
	return out
}

// Amidships are the frames at which a strip is held that is let fall over the others:
// the middle one and its two neighbours, as far as there are.
func (sp *Springing) Amidships() []int {
	order := sp.Order()
	out := slices.Clone(order[:min(3, len(order))])
	slices.Sort(out)
	return out
}

// Held gives the strip held at those frames with its face flat on them, and let go at
// all others. The three holds nearest to the middle one in Order set it on its line;
// at the others it may lie off that by Play, as it likes best. The error is that of the
// context, or says which frame it is that the strip does not cross, or that two are
// needed.
func (sp *Springing) Held(ctx context.Context, frames []int) (*Sprung, error) {
	return sp.held(ctx, frames, sp.finely(tellBay), false)
}

// finely gives the segments of a bay, usually so many; fewer where the frames stand close.
func (sp *Springing) finely(usual int) int {
	return max(min(usual, usual*manyBays/(sp.Last-sp.First)), leastBay)
}

// held is Held with so many segments a bay; rough tells no error.
func (sp *Springing) held(ctx context.Context, frames []int, bay int, rough bool) (*Sprung, error) {
	frames = slices.Clone(frames)
	slices.Sort(frames)
	frames = slices.Compact(frames)
	if len(frames) < 2 {
		return nil, tongue.Errorf("a strip held at %s swings: hold it at two frames at least", counted(len(frames)))
	}
	supports := slices.Clone(sp.supports)
	for _, f := range frames {
		if f < sp.First || f > sp.Last {
			name := fmt.Sprint(f)
			if f >= 0 && f < sp.layer.Surface.Frames() {
				name = sp.layer.Surface.FrameName(f)
			}
			return nil, tongue.Errorf("the strip does not cross frame %s: it goes from %s to %s", name, sp.layer.Surface.FrameName(sp.First), sp.layer.Surface.FrameName(sp.Last))
		}
		supports[f-sp.First].Hold, supports[f-sp.First].Play = rod.Clamped, sp.Play
	}
	set := 0
	for _, f := range sp.Order() {
		if slices.Contains(frames, f) && set < setting {
			supports[f-sp.First].Play = 0
			set++
		}
	}
	rest, err := rod.Solve(ctx, rod.Problem{Section: sp.Section, Supports: supports, Between: sp.between, Bay: bay, Rough: rough})
	if err != nil {
		return nil, err
	}
	return sp.sprung(frames, rest), nil
}

// counted names a few frames.
func counted(n int) string {
	return [...]string{tongue.T("no frame"), tongue.T("one frame alone")}[n]
}

// sprung reads a rest.
func (sp *Springing) sprung(frames []int, rest *rod.Rest) *Sprung {
	out := &Sprung{Held: frames, Course: rest.Points, Normals: rest.Normals, Bay: rest.Bay, Energy: rest.Energy, Converged: rest.Converged, Error: rest.Error}
	near := func(point int) int { return sp.First + (point+rest.Bay/2)/rest.Bay }
	for i := range rest.Face {
		if e := sp.Section.Thickness * math.Abs(rest.Face[i]) / 2; e > out.Strain || i == 0 {
			out.Strain, out.Worst = e, near(i)
		}
		if e := sp.Section.Width * math.Abs(rest.Edge[i]) / 2; e > out.Edge || i == 0 {
			out.Edge, out.EdgeWorst = e, near(i)
		}
	}
	out.Bends = BendLimitsOf(sp.layer.Rules).How(out.Strain)
	for i, c := range rest.At {
		f := SprungFrame{Frame: sp.First + i, Held: slices.Contains(frames, sp.First+i), LiftOff: c.Off, Stray: c.Stray, P: c.P, Out: c.Out, Down: c.Across,
			Side: sp.newtons(c.Side)}
		if c.Force < 0 {
			f.Press = sp.newtons(-c.Force)
		} else {
			f.Bears = sp.newtons(c.Force)
		}
		out.At = append(out.At, f)
	}
	return out
}

// newtons is a force reckoned with the section's modulus over those that the wood may
// have; 0 where its modulus is not known.
func (sp *Springing) newtons(force float64) Range {
	e := sp.Section.Modulus / mpaInGPa
	return RangeOf(force*sp.Modulus.Low/e, force*sp.Modulus.High/e)
}

// in tells whether the strip lies in its place at a frame within so many mm.
func (f *SprungFrame) in(within float64) bool {
	const rounding = 1e-9
	return f.LiftOff <= within+rounding && math.Abs(f.Stray) <= within+rounding
}

// Reached tells whether the strip comes as far as the frame.
func (f *SprungFrame) Reached() bool { return !math.IsNaN(f.LiftOff) }

// astray gives the frames at which the strip is not in its place.
func (s *Sprung) astray(within float64) []int {
	var out []int
	for i := range s.At {
		if !s.At[i].in(within) {
			out = append(out, s.At[i].Frame)
		}
	}
	return out
}

// SpringBack says how far a strip springs back that is let go.
type SpringBack string

// The ways. No published figure is at hand of what is left of a bend: by how much a
// strip creeps that is held bent dry, or by how much one that was bent wet or hot,
// and held till it was dry, opens again. The Wood Handbook's chapter on bending says
// that it does, and gives no amount (from memory).
const (
	backWhole   SpringBack = "whole"   // to where it lies let go, all but what it crept by, which is not known
	backUnknown SpringBack = "unknown" // less than that; by how much is not known
)

// SpringBackOf gives it for how the strip was brought into its bend.
func SpringBackOf(how How) SpringBack {
	if how == Dry {
		return backWhole
	}
	return backUnknown
}
