package fair

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// leastMove is the move of a point, mm, below which it is left where it is: less than
// can be drawn or filed.
const leastMove = 0.005

// With fewer frames than fewFrames the shape between them is not known to better than
// fewMove, mm: a smaller deviation may be the hull's own shape.
const (
	few     = 7
	fewMove = 0.05
)

// leastMove is the least move that is made, mm.
func (g *grid) leastMove() float64 {
	if len(g.frames) < few {
		return fewMove
	}
	return leastMove
}

// Move is one point that a fair hull has moved.
type Move struct {
	Frame, Point int     // indices
	Out          float64 // mm along the section's normal, outwards positive
	AtLimit      bool    // it would move farther but for the tolerance
}

// Faired is a fair hull made from another.
type Faired struct {
	Frames []hull.Frame // as those given, except for the points moved
	Moves  []Move       // by frame and point
	// RoughBefore and RoughAfter measure how unfair the hulls are: the root mean square of
	// the third differences of the points along the length and down the girth, mm (the
	// spring of a batten from point to point), the stiffer direction with the stiffness
	// that suits this hull.
	RoughBefore, RoughAfter float64
}

// Fair offers a fair hull within tolerance, mm: each point moves onto a nearby smooth
// surface, or towards it by at most the tolerance, along the section's normal in its
// plane. The first and the last frame, the ends of every frame and its knuckles are
// held. Points that Misfits suspects are left out of the surface, and it keeps as close
// to the others as their noise justifies: where the table is rounded, to an eighth of
// an inch say, no farther than the rounding accounts for. The result is never rougher
// than the hull given.
//
// The error says that the tolerance is invalid, or why the hull cannot be faired, or
// wraps the context's if that ends first.
func Fair(ctx context.Context, frames []hull.Frame, tolerance float64) (Faired, error) {
	if err := hull.FairWithin.Refuse(tongue.T("how far a point may move"), tolerance, " mm"); err != nil {
		return Faired{}, err
	}
	g, err := newGrid(ctx, frames)
	if err != nil {
		return Faired{}, err
	}
	v, err := g.judge()
	if err != nil {
		return Faired{}, err
	}
	stiff := v.f.stiff
	rough := g.roughness(stiff, nil)
	off, err := g.fairest(v)
	if err != nil {
		return Faired{}, err
	}
	moves := g.movesTo(off, tolerance)
	out := Faired{RoughBefore: g.roughOf(rough, stiff, nil)}
	for i, f := range frames {
		f.Points, f.Knuckles = slices.Clone(f.Points), slices.Clone(f.Knuckles)
		for j := range f.Points {
			k := g.first[i] + j
			if math.Abs(moves[k]) < g.leastMove() {
				moves[k] = 0
				continue
			}
			moves[k] = g.thisSide(k, moves[k])
			f.Points[j] = f.Points[j].Add(mgl64.Vec3{0, moves[k] * g.normal[k][0], moves[k] * g.normal[k][1]})
			out.Moves = append(out.Moves, Move{Frame: i, Point: j, Out: moves[k], AtLimit: math.Abs(moves[k]) >= tolerance})
		}
		out.Frames = append(out.Frames, f)
	}
	out.RoughAfter = g.roughOf(rough, stiff, moves)
	if out.RoughAfter > out.RoughBefore { // because of moves too small to make
		return Faired{Frames: cloned(frames), RoughBefore: out.RoughBefore, RoughAfter: out.RoughBefore}, nil
	}
	return out, nil
}

// cloned frames share no points with those given.
func cloned(frames []hull.Frame) []hull.Frame {
	return (&hull.Hull{Frames: frames}).Clone().Frames
}

// movesTo moves every point that is not held to the surface, from which it lies
// outwards by the given distances, or as far towards it as the tolerance allows; mm,
// outwards positive.
func (g *grid) movesTo(off []float64, tolerance float64) []float64 {
	moves := make([]float64, len(g.at))
	for k, held := range g.holds() {
		if !held {
			moves[k] = min(max(-off[k], -tolerance), tolerance)
		}
	}
	return moves
}

// thisSide shortens the move of point k where it would cross the middle line.
func (g *grid) thisSide(k int, by float64) float64 {
	y, n := g.at[k][0], g.normal[k][0]
	if y >= 0 && y+by*n < 0 {
		return -y / n
	}
	return by
}

// roughOf is the root mean square of the differences with the points moved, mm.
func (g *grid) roughOf(rough *bandMatrix, stiff [2]float64, moves []float64) float64 {
	sum := 0.0
	for axis := range 2 {
		x := make([]float64, len(g.at))
		for i, p := range g.at {
			x[i] = p[axis]
			if moves != nil {
				x[i] += moves[i] * g.normal[i][axis]
			}
		}
		for i, r := range rough.times(x) {
			sum += x[i] * r
		}
	}
	return math.Sqrt(max(sum, 0) / max(stiff[0], stiff[1]) / float64(len(g.at)))
}

// holds reports which points may not move.
func (g *grid) holds() []bool {
	held := make([]bool, len(g.at))
	for i, f := range g.frames {
		end := f.IsEnd() || i == 0 || i == len(g.frames)-1
		for j := range f.Points {
			held[g.first[i]+j] = end || j == 0 || j == len(f.Points)-1 || slices.Contains(f.Knuckles, j)
		}
	}
	return held
}
