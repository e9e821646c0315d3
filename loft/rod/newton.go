package rod

import (
	"context"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/loft/internal/halt"
)

const (
	mostSteps = 200
	reach     = 10   // of a freedom to the farthest that shares an element with it
	settled   = 1e-7 // mm or rad: the step at which the strip is at rest
	slack     = 2    // times its first length: a strip that draws in as much springs out from between its holds
)

// newton is the second-order model of a chain's energy at the chain.
type newton struct {
	axes  []mgl64.Mat3 // of every support: across, normal, and square to its plane
	bends []float64    // of the outline at every support; 0 in a model that is to be positive
	slope []float64
	curve *mat.SymBandDense
}

// model gives it; only a positive one where asked. ok is false where the strip is
// folded.
func (r *rig) model(c *chain, positive bool) (n *newton, ok bool) {
	size := 4 * len(c.x)
	n = &newton{slope: make([]float64, size), curve: mat.NewSymBandDense(size, reach, nil)}
	for s, sup := range r.supports {
		p := sup.Outline(c.along[s])
		n.axes = append(n.axes, mgl64.Mat3FromCols(p.Tangent, p.Normal, p.Tangent.Cross(p.Normal)))
		if positive {
			p.Bend = 0
		}
		n.bends = append(n.bends, p.Bend)
	}
	for i := 1; i < len(c.x)-1; i++ {
		if !r.add(n, c, i, positive) {
			return nil, false
		}
	}
	return n, true
}

// add adds the element about a point.
func (r *rig) add(n *newton, c *chain, point int, positive bool) (ok bool) {
	a, k := r.element(c, point)
	var b bends
	if !a.read(&k, &b) {
		return false
	}
	var g [freedoms]float64
	var h [freedoms][freedoms]float64
	b.slope(&g)
	if !a.curvature(&k, positive, &h) {
		return false
	}
	// The element's freedoms by those of its three points.
	var by [freedoms][reach + 1]float64
	for p := range 3 {
		axes := mgl64.Ident3()
		if s := r.support(point - 1 + p); s >= 0 {
			axes = n.axes[s]
		}
		for row := range 3 {
			for col := range 3 {
				v := axes.At(row, col)
				switch p {
				case 0:
					by[first+row][col] = -v
				case 1:
					by[first+row][4+col], by[other+row][4+col] = v, -v
				case 2:
					by[other+row][8+col] = v
				}
			}
		}
	}
	by[firstTurn][3], by[otherTurn][7] = 1, 1
	base := 4 * (point - 1)
	var hb [freedoms][reach + 1]float64
	for i := range freedoms {
		for q := range by[i] {
			n.slope[base+q] += g[i] * by[i][q]
			for j := range freedoms {
				hb[i][q] += h[i][j] * by[j][q]
			}
		}
	}
	raw := n.curve.RawSymBand()
	for p := range reach + 1 {
		for q := p; q < reach+1; q++ {
			sum := 0.0
			for i := range freedoms {
				sum += by[i][p] * hb[i][q]
			}
			raw.Data[(base+p)*raw.Stride+q-p] += sum
		}
	}
	return true
}

// step gives the move that makes the model least under the bounds, with the
// supports that rest after it; ok is false where the model has no least.
func (r *rig) step(n *newton, c *chain) (move []float64, resting []bool, ok bool) {
	resting = make([]bool, len(r.supports))
	for s, sup := range r.supports {
		resting[s] = sup.Hold != Free || c.height[s] <= 1e-9 && n.slope[4*r.point(s)+1] > 0
	}
	for range 4 * (len(r.supports) + 2) {
		var force []float64
		if move, force, ok = r.stepWith(n, c, resting); !ok {
			return nil, nil, false
		}
		same := true
		for s, sup := range r.supports {
			i := 4*r.point(s) + 1
			switch {
			case sup.Hold != Free:
			case resting[s] && force[s] < 0:
				resting[s], same = false, false
			case !resting[s] && c.height[s]+move[i] < -1e-12:
				resting[s], same = true, false
			}
		}
		if same {
			break
		}
	}
	return move, resting, true
}

// stepWith is the step with those supports resting, and the force along the normal
// of each after it.
func (r *rig) stepWith(n *newton, c *chain, resting []bool) (move, force []float64, ok bool) {
	size := len(n.slope)
	fixed, to := make([]bool, size), make([]float64, size)
	h := mat.NewSymBandDense(size, reach, append([]float64(nil), n.curve.RawSymBand().Data...))
	raw := h.RawSymBand()
	for s, sup := range r.supports {
		i := 4 * r.point(s)
		fixed[i+2] = true
		fixed[i] = sup.Hold >= Pinned
		if resting[s] {
			fixed[i+1], to[i+1] = true, -c.height[s]
			if !fixed[i] && c.height[s] <= 1e-9 {
				// Along the outline the point leaves its tangent by half the bend.
				raw.Data[i*raw.Stride] -= n.bends[s] * n.slope[i+1]
			}
		}
	}
	fixed[size-1] = true // there is no segment behind the last point
	rhs := make([]float64, size)
	for i, g := range n.slope {
		rhs[i] = -g
	}
	entry := func(i, j int) *float64 { return &raw.Data[min(i, j)*raw.Stride+max(i, j)-min(i, j)] }
	for i := range size {
		if !fixed[i] {
			continue
		}
		for j := max(i-reach, 0); j <= min(i+reach, size-1); j++ {
			if j != i {
				rhs[j] -= *entry(i, j) * to[i]
				*entry(i, j) = 0
			}
		}
		*entry(i, i) = 1
	}
	for i := range size {
		if fixed[i] {
			rhs[i] = to[i]
		}
	}
	var chol mat.BandCholesky
	if !chol.Factorize(h) {
		return nil, nil, false
	}
	var out mat.VecDense
	if err := chol.SolveVecTo(&out, mat.NewVecDense(size, rhs)); err != nil {
		if _, bad := err.(mat.Condition); !bad {
			return nil, nil, false
		}
	}
	move, force = make([]float64, size), make([]float64, len(r.supports))
	for i := range move {
		if move[i] = out.AtVec(i); math.IsNaN(move[i]) || math.IsInf(move[i], 0) {
			return nil, nil, false
		}
	}
	for s := range r.supports {
		i := 4*r.point(s) + 1
		force[s] = n.slope[i]
		for j := max(i-reach, 0); j <= min(i+reach, size-1); j++ {
			force[s] += n.curve.At(i, j) * move[j]
		}
	}
	return move, force, true
}

// settle lets a chain go until it is at rest; its energy never rises. It does not
// come to rest where it springs out into a loop. It looks at the context at every
// step.
func (r *rig) settle(ctx context.Context, c *chain) (at *chain, steps int, rests bool, err error) {
	energy, length := r.energy(c), c.length()
	for steps = range mostSteps {
		if err := halt.Asked(ctx, "letting the strip go"); err != nil {
			return nil, steps, false, err
		}
		next, moved, now, ok := r.stepped(c, energy, false)
		if !ok {
			next, moved, now, ok = r.stepped(c, energy, true)
		}
		if !ok {
			return c, steps, false, nil
		}
		c, energy = next, now
		if moved < settled {
			return c, steps + 1, true, nil
		}
		if c.length() > slack*length {
			return c, steps + 1, false, nil
		}
	}
	return c, mostSteps, false, nil
}

// stepped is the chain after one step that makes its energy less, and how far the
// step would have gone; a positive model always gives one.
func (r *rig) stepped(c *chain, energy float64, positive bool) (next *chain, moved, now float64, ok bool) {
	n, ok := r.model(c, positive)
	if !ok {
		return nil, 0, 0, false
	}
	if positive {
		n.brace(r.bent.flat)
	}
	move, resting, ok := r.step(n, c)
	if !ok {
		return nil, 0, 0, false
	}
	fall := 0.0
	for i := range move {
		fall += n.slope[i] * move[i]
		if i%4 == 3 {
			moved = max(moved, math.Abs(move[i]))
		}
	}
	share := 1.0
	for j := 1; j < len(c.x); j++ {
		turn := 0.0
		for a := range 3 {
			turn = max(turn, math.Abs(move[4*j+a]-move[4*j-4+a]))
			moved = max(moved, math.Abs(move[4*j+a]))
		}
		share = min(share, 0.5*c.x[j].Sub(c.x[j-1]).Len()/max(turn, 1e-300))
	}
	if moved < settled {
		next = r.moved(c, n.axes, move, 1, resting)
		return next, moved, r.energy(next), true
	}
	if fall > 0 {
		return nil, 0, 0, false
	}
	for range 40 {
		next = r.moved(c, n.axes, move, share, r.arrived(c, resting, share))
		if now = r.energy(next); now <= energy+1e-4*share*fall+1e-13*energy {
			return next, moved, now, true
		}
		share /= 2
	}
	return nil, 0, 0, false
}

// arrived are the supports that rest after so large a share of a step.
func (r *rig) arrived(c *chain, resting []bool, share float64) []bool {
	out := make([]bool, len(resting))
	for s := range out {
		out[s] = resting[s] && (share == 1 || c.height[s] <= 1e-9)
	}
	return out
}

// brace lifts every freedom a little, so that what nothing resists stays.
func (n *newton) brace(scale float64) {
	raw := n.curve.RawSymBand()
	for i := range n.slope {
		raw.Data[i*raw.Stride] *= 1 + 1e-9
		raw.Data[i*raw.Stride] += 1e-12 * scale
	}
}
