package fair

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// leastMove is the move of a point, mm, under which it is left where it is:
// less than can be drawn or filed.
const leastMove = 0.01

// Move is one point that a fair hull has elsewhere.
type Move struct {
	Frame, Point int     // indices
	Out          float64 // mm along the section's normal, outwards positive
	AtLimit      bool    // it would go further, but for the tolerance
}

// Faired is a fair hull beside the one it was made from.
type Faired struct {
	Frames []hull.Frame // as those given, but for the points moved
	Moves  []Move       // by frame and point
	// RoughBefore and RoughAfter measure how unfair the hulls are: the root
	// mean square of the third differences of the points along the length and
	// down the girth, mm (the spring of a batten from point to point), the
	// stiffer direction at the stiffness that suits this hull.
	RoughBefore, RoughAfter float64
}

// Fair offers a fair hull within tolerance, mm: each point moves at most so
// far from where it is, along the section's normal in its plane. The first and
// the last frame, the ends of every frame and its knuckles are held. Points
// that Misfits suspects follow the smooth run of the others; the rest keep
// near to where they are, as far as their noise bears it out. The result is
// never rougher than the hull given.
//
// It is the least, within those bounds, of the sum of squared moves and the
// squared third differences along and down. The error says that the tolerance
// is none, or what of the hull cannot be faired, or wraps the context's where
// that ends before.
func Fair(ctx context.Context, frames []hull.Frame, tolerance float64) (Faired, error) {
	if err := hull.FairWithin.Refuse("how far a point may move", tolerance, " mm"); err != nil {
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
	g.floor = leastMove / 2
	f, _, err := g.suit(v.f.stiff, v.f.trusted, (*smoothed).surprise)
	if err != nil {
		return Faired{}, err
	}
	v.f = f
	rough := g.roughness(v.f.stiff)
	moves, err := g.leastMoves(rough, v.f.trusted, tolerance)
	if err != nil {
		return Faired{}, err
	}
	out := Faired{RoughBefore: g.roughOf(rough, v.f.stiff, nil)}
	for i, f := range frames {
		f.Points, f.Knuckles = slices.Clone(f.Points), slices.Clone(f.Knuckles)
		for j := range f.Points {
			k := g.first[i] + j
			if math.Abs(moves[k]) < leastMove {
				moves[k] = 0
				continue
			}
			moves[k] = g.thisSide(k, moves[k])
			f.Points[j] = f.Points[j].Add(mgl64.Vec3{0, moves[k] * g.normal[k][0], moves[k] * g.normal[k][1]})
			out.Moves = append(out.Moves, Move{Frame: i, Point: j, Out: moves[k], AtLimit: math.Abs(moves[k]) >= tolerance})
		}
		out.Frames = append(out.Frames, f)
	}
	out.RoughAfter = g.roughOf(rough, v.f.stiff, moves)
	if out.RoughAfter > out.RoughBefore { // by the moves too small to make
		return Faired{Frames: cloned(frames), RoughBefore: out.RoughBefore, RoughAfter: out.RoughBefore}, nil
	}
	return out, nil
}

// cloned frames share no points with those given.
func cloned(frames []hull.Frame) []hull.Frame {
	return (&hull.Hull{Frames: frames}).Clone().Frames
}

// thisSide shortens the move of point k where it would go over the middle
// line.
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

// holds tells which points may not move.
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

// leastMoves gives the outward moves, mm, that are least in roughness and in
// squared moves (those of suspects do not count), none beyond the tolerance:
// the primal-dual active set method (Hintermüller, Ito and Kunisch, SIAM
// Journal on Optimization 13, 2003), and where it does not come to rest,
// projected relaxation point by point from there.
func (g *grid) leastMoves(rough *bandMatrix, trusted []bool, tolerance float64) ([]float64, error) {
	a, slope := g.moveSystem(rough, trusted)
	held := g.holds()
	moves := make([]float64, len(g.at))
	bound := make([]float64, len(g.at)) // 0 free, else the sign of the bound a point is at
	for range 30 {
		if err := halt.Asked(g.ctx, fairing); err != nil {
			return nil, err
		}
		next := solveBounded(a, slope, held, bound, tolerance)
		if next == nil {
			break
		}
		moves = next
		if !activate(a, slope, held, bound, moves, tolerance) {
			return moves, nil
		}
	}
	for i := range moves {
		moves[i] = min(max(moves[i], -tolerance), tolerance)
	}
	relax(g.ctx, a, slope, held, moves, tolerance)
	return moves, halt.Asked(g.ctx, fairing)
}

// moveSystem gives the matrix and the slope at no move of the sum to be made
// least: ½·mᵀ·a·m + slopeᵀ·m.
func (g *grid) moveSystem(rough *bandMatrix, trusted []bool) (a *bandMatrix, slope []float64) {
	a = newBandMatrix(rough.n, rough.width)
	for i := range rough.n {
		from, to := rough.row(i), a.row(i)
		for j := max(0, i-rough.width); j <= i; j++ {
			to[j-i+rough.width] = from[j-i+rough.width] * g.normal[i].Dot(g.normal[j])
		}
		if trusted[i] {
			a.add(i, i, 1)
		} else {
			a.add(i, i, 1e-6)
		}
	}
	slope = make([]float64, rough.n)
	for axis := range 2 {
		x := make([]float64, len(g.at))
		for i, p := range g.at {
			x[i] = p[axis]
		}
		for i, r := range rough.times(x) {
			slope[i] += r * g.normal[i][axis]
		}
	}
	return a, slope
}

// solveBounded gives the moves that are least with the bounded points at their
// bounds and the held ones at 0; nil where there are none.
func solveBounded(a *bandMatrix, slope []float64, held []bool, bound []float64, tolerance float64) []float64 {
	fixed := make([]float64, a.n)
	for i, b := range bound {
		fixed[i] = b * tolerance
	}
	push := a.times(fixed)
	m := newBandMatrix(a.n, a.width)
	rhs := make([]float64, a.n)
	still := func(i int) bool { return held[i] || bound[i] != 0 }
	for i := range a.n {
		if still(i) {
			m.add(i, i, 1)
			rhs[i] = fixed[i]
			continue
		}
		rhs[i] = -slope[i] - push[i]
		from, to := a.row(i), m.row(i)
		for j := max(0, i-a.width); j <= i; j++ {
			if !still(j) {
				to[j-i+a.width] = from[j-i+a.width]
			}
		}
	}
	l, ok := m.factor()
	if !ok {
		return nil
	}
	return l.solve(rhs)
}

// activate puts to their bound the points that are beyond it and frees those
// that it does not hold back; it tells whether any changed.
func activate(a *bandMatrix, slope []float64, held []bool, bound, moves []float64, tolerance float64) bool {
	changed := false
	pull := a.times(moves)
	for i, m := range moves {
		if held[i] {
			continue
		}
		was := bound[i]
		switch {
		case was == 0 && m > tolerance:
			bound[i] = 1
		case was == 0 && m < -tolerance:
			bound[i] = -1
		case was != 0 && was*(pull[i]+slope[i]) > 0:
			bound[i] = 0
		}
		changed = changed || bound[i] != was
	}
	return changed
}

// relax moves each point in turn to where the sum is least, within the
// tolerance, until none moves by more than a thousandth of leastMove.
func relax(ctx context.Context, a *bandMatrix, slope []float64, held []bool, moves []float64, tolerance float64) {
	for round := 0; round < 2000 && ctx.Err() == nil; round++ {
		most := 0.0
		for i := range moves {
			if held[i] {
				continue
			}
			s := slope[i]
			for j := max(0, i-a.width); j <= min(i+a.width, a.n-1); j++ {
				if j != i {
					s += a.at(i, j) * moves[j]
				}
			}
			next := min(max(-s/a.at(i, i), -tolerance), tolerance)
			most = max(most, math.Abs(next-moves[i]))
			moves[i] = next
		}
		if most < leastMove/1000 {
			return
		}
	}
}
