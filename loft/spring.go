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

// Springing is a strip laid over the frames along a line of a layer, and held at some
// of them. It touches frames, not a surface: between them its course follows from its
// stiffness, and where it is not held it may lift off. Its middle lies half its
// thickness outside the frames. There is no friction, the frames are rigid, and the
// wood is straight and elastic.
type Springing struct {
	First, Last int         // the frames between which it is laid
	Section     rod.Section // of the strip; the moduli are nominal where Modulus is not known
	Modulus     Range       // GPa along the grain: of the woods its species may mean; 0 where it is not known
	Play        float64     // mm of play that a hold leaves along the frame, to either side; see Held

	layer    *Layer
	supports []rod.Support // of every frame from First
	between  [][]mgl64.Vec3
}

const (
	// nominal is the modulus, N/mm², used for a strip of unknown wood: its course does not
	// depend on it.
	nominal = 10000.0
	// searchBay and tellBay are the segments of the strip in a bay during the search for
	// holds, and for a final result (with half as many for comparison).
	searchBay, tellBay = 4, 6
	// manyBays is the number of bays above which a bay has fewer segments, down to
	// leastBay: the whole strip is then divided no finer than over that many. Our choice.
	manyBays, leastBay = 40, 2
	// usualPlay is the accuracy, mm, with which a strip is set by hand. A strip some 5 mm
	// wide that is forced onto a line to a hundredth presses sideways with tens of newtons,
	// which says something about the line and nothing about the bench. Our choice.
	usualPlay = 0.1
	// setting is the number of holds that set a strip on its line.
	setting = 3
)

// HoldWithin is the range of tolerances, mm, that may be asked of a strip's place.
var HoldWithin = hull.Range{Low: 0.01, High: 10}

// ModulusOf is the modulus of elasticity of a species, GPa at 12 percent moisture, over
// the woods of the given list that the name may mean; 0 where none is known.
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

// Spring lays a strip of given width and thickness, mm, over the frames from first to
// last along a line of the layer. The modulus is that of its wood, GPa, 0 where it is
// not known. The error says what is impossible.
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

// Sprung is a strip at rest, held at some frames and free at the others.
type Sprung struct {
	Held    []int         // frames, rising
	Course  []mgl64.Vec3  // mm, of its middle, from the first frame to the last, with the same number of points in every bay
	Normals []mgl64.Vec3  // outward normal of its face at every point
	Bay     int           // points from one frame to the next
	At      []SprungFrame // at every frame it crosses, rising

	Energy    float64 // N·mm, of bending and twisting; for the highest modulus
	Strain    float64 // greatest strain in its faces from bending flatwise, a ratio
	Worst     int     // the frame nearest to that
	Bends     How     // how a strip of that wood is bent so far
	Edge      float64 // greatest strain in its edges from bending sideways, a ratio
	EdgeWorst int     // the frame nearest to that
	Converged bool    // false where it found no rest: it springs out from between its holds
	Error     float64 // mm: the greatest difference from a computation half as fine; NaN where that was not asked for
}

// SprungFrame is the strip at one frame. Forces are 0 at a frame that it does not
// touch; else they are ranges over the woods that its species may mean.
type SprungFrame struct {
	Frame   int
	Held    bool
	LiftOff float64    // mm, of its inner face off the frame, along the frame's plane; NaN where it does not reach, as for Stray
	Stray   float64    // mm along the frame from its line, positive downwards
	P       mgl64.Vec3 // mm, of its middle
	Out     mgl64.Vec3 // unit, square to strip and frame, outwards
	Down    mgl64.Vec3 // unit, square to it and to the strip, downwards
	Press   Range      // N with which it has to be pressed on; 0 where it rests on the frame
	Bears   Range      // N with which the frame presses on it from inside
	Side    Range      // N along the frame that keep it from slipping, positive downwards; only where it is held and uses all of its play
}

// middle is the frame from which a strip is laid both ways: the one of greatest girth
// among those it crosses, leaving out the ends if there are others.
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

// Amidships are the frames at which a strip is held when it is left free on the others:
// the middle one and its two neighbours, as far as they exist.
func (sp *Springing) Amidships() []int {
	order := sp.Order()
	out := slices.Clone(order[:min(3, len(order))])
	slices.Sort(out)
	return out
}

// Held gives the strip held at those frames with its face flat on them, and free at all
// others. The three holds nearest to the middle one in Order set it on its line; at the
// others it may lie off the line by up to Play, wherever its energy is least. The error
// is that of the context, or names a frame that the strip does not cross, or says that
// two are needed.
func (sp *Springing) Held(ctx context.Context, frames []int) (*Sprung, error) {
	return sp.held(ctx, frames, sp.finely(tellBay), false)
}

// finely gives the segments of a bay, usually so many; fewer where the frames stand close.
func (sp *Springing) finely(usual int) int {
	return max(min(usual, usual*manyBays/(sp.Last-sp.First)), leastBay)
}

// held is Held with a given number of segments a bay; rough gives no error.
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

// sprung evaluates a state of rest.
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

// newtons turns a force computed with the section's modulus into the range for those
// that the wood may have; 0 where its modulus is not known.
func (sp *Springing) newtons(force float64) Range {
	e := sp.Section.Modulus / mpaInGPa
	return RangeOf(force*sp.Modulus.Low/e, force*sp.Modulus.High/e)
}

// in reports whether the strip lies in its place at a frame within a tolerance, mm.
func (f *SprungFrame) in(within float64) bool {
	const rounding = 1e-9
	return f.LiftOff <= within+rounding && math.Abs(f.Stray) <= within+rounding
}

// Reached reports whether the strip reaches the frame.
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

// SpringBack says how far a strip springs back when released.
type SpringBack string

// The kinds. No published figure is at hand for what remains of a bend: how far a strip
// creeps that is held bent dry, or how far one that was bent wet or hot, and held until
// dry, opens again. The Wood Handbook's chapter on bending says that it does, and gives
// no amount (from memory).
const (
	backWhole   SpringBack = "whole"   // to where it lies when free, except for its creep, which is not known
	backUnknown SpringBack = "unknown" // less than that; by how much is not known
)

// SpringBackOf gives the kind for how the strip was bent.
func SpringBackOf(how How) SpringBack {
	if how == Dry {
		return backWhole
	}
	return backUnknown
}
