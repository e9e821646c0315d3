package rod

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

const (
	mostInterior = 60    // steps of the interior point method; it usually takes some 20
	complete     = 1e-13 // share of the first mean of slack times force at which it ends
	shortOf      = 0.99  // share of the way to the first bound that a step goes
)

// oneSided is a bound of a degree of freedom: sign·(d − limit) ≥ 0. slack is the left
// side as the method has it, force what the bound presses with.
type oneSided struct {
	support, dof int
	sign, limit  float64
	slack, force float64
}

// sides lists the bounds of the supports that are not always active.
func (r *rig) sides(c *chain) (out []oneSided) {
	for s := range r.supports {
		sup, i := &r.supports[s], 4*r.point(s)
		if sup.Hold == Free {
			out = append(out, oneSided{support: s, dof: i + 1, sign: 1, limit: -c.height[s]})
		}
		if low, high := sup.bounds(); sup.slips() && !math.IsInf(low, 0) {
			out = append(out, oneSided{support: s, dof: i, sign: 1, limit: low - c.along[s]}, oneSided{support: s, dof: i, sign: -1, limit: high - c.along[s]})
		}
	}
	return out
}

// interior guesses which bounds are active at the minimum of the model. It approaches the
// minimum from within all bounds at once, by Mehrotra's predictor-corrector method (On the
// implementation of a primal-dual interior point method, SIAM J. Optimization 2, 1992),
// from a move and its slopes under any of them. Its steps hardly grow in number with the
// supports, which those of an exchange of bounds do: over frames that stand close, the
// strip touches many and leaves many between. It gives the bounds it was given where it
// fails.
func (r *rig) interior(n *newton, c *chain, move []float64, pull []mgl64.Vec2, held []bound) []bound {
	p := &inner{r: r, n: n, at: slices.Clone(move), sides: r.sides(c)}
	if len(p.sides) == 0 {
		return held
	}
	p.raw, p.fixed, p.to = r.system(n, c, r.always())
	copyFixed(p.at, p.fixed, p.to)
	p.begin(pull, held)
	first := p.mean()
	for range mostInterior {
		if !p.step() {
			return held
		}
		if p.mean() <= complete*first {
			break
		}
	}
	return p.active(held)
}

// always are the bounds that are active whatever the strip does.
func (r *rig) always() []bound {
	out := make([]bound, len(r.supports))
	for s := range out {
		out[s].rests = r.supports[s].Hold != Free
	}
	return out
}

// inner is the state of the method.
type inner struct {
	r     *rig
	n     *newton
	raw   blas64.SymmetricBand // the second derivative
	fixed []bool
	to    []float64
	at    []float64 // the move
	sides []oneSided
}

// copyFixed gives the fixed degrees of freedom their moves.
func copyFixed(at []float64, fixed []bool, to []float64) {
	for i, is := range fixed {
		if is {
			at[i] = to[i]
		}
	}
}

// begin gives slacks and forces above zero near those of the move.
func (p *inner) begin(pull []mgl64.Vec2, held []bound) {
	leastSlack, leastForce := 0.0, 0.0
	for k := range p.sides {
		b := &p.sides[k]
		b.slack = b.sign * (p.at[b.dof] - b.limit)
		switch axis := b.dof % 4; {
		case axis == 1 && held[b.support].rests, axis == 0 && float64(held[b.support].stops)*b.sign < 0:
			b.force = b.sign * pull[b.support][axis]
		}
		leastSlack, leastForce = min(leastSlack, b.slack), min(leastForce, b.force)
	}
	slacks, forces, both := 0.0, 0.0, 0.0
	for k := range p.sides {
		b := &p.sides[k]
		b.slack -= 1.5 * leastSlack
		b.force -= 1.5 * leastForce
		slacks, forces, both = slacks+b.slack, forces+b.force, both+b.slack*b.force
	}
	for k := range p.sides {
		b := &p.sides[k]
		b.slack += max(both/max(forces, 1e-300)/2, 1e-9)
		b.force += max(both/max(slacks, 1e-300)/2, 1e-9)
	}
}

// mean is the mean of slack times force.
func (p *inner) mean() float64 {
	sum := 0.0
	for _, b := range p.sides {
		sum += b.slack * b.force
	}
	return sum / float64(len(p.sides))
}

// step makes one step of the method; ok is false where the model has no minimum.
func (p *inner) step() (ok bool) {
	size := len(p.at)
	raw := p.raw
	raw.Data = slices.Clone(raw.Data)
	for _, b := range p.sides {
		raw.Data[b.dof*raw.Stride] += b.force / b.slack
	}
	impose(raw, make([]float64, size), p.fixed, make([]float64, size))
	factor, ok := lapack64.Pbtrf(raw)
	if !ok {
		return false
	}
	short := slices.Clone(p.n.slope) // of the slope that the forces balance
	blas64.Sbmv(1, p.raw, blas64.Vector{N: size, Inc: 1, Data: p.at}, 1, blas64.Vector{N: size, Inc: 1, Data: short})
	for _, b := range p.sides {
		short[b.dof] -= b.sign * b.force
	}
	// towards gives the step that is to leave slack times force at the targets.
	towards := func(target []float64) (d, slack, force []float64) {
		d = make([]float64, size)
		for i := range d {
			d[i] = -short[i]
		}
		for k, b := range p.sides {
			off := b.sign*(p.at[b.dof]-b.limit) - b.slack
			d[b.dof] += b.sign * (target[k]/b.slack - b.force - b.force/b.slack*off)
		}
		copyFixed(d, p.fixed, make([]float64, size))
		lapack64.Pbtrs(factor, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: d})
		slack, force = make([]float64, len(p.sides)), make([]float64, len(p.sides))
		for k, b := range p.sides {
			off := b.sign*(p.at[b.dof]-b.limit) - b.slack
			slack[k] = b.sign*d[b.dof] + off
			force[k] = target[k]/b.slack - b.force - b.force/b.slack*slack[k]
		}
		return d, slack, force
	}
	target := make([]float64, len(p.sides))
	_, slack, force := towards(target)
	toSlack, toForce := p.room(slack, force)
	after, mean := 0.0, p.mean()
	for k, b := range p.sides {
		after += (b.slack + toSlack*slack[k]) * (b.force + toForce*force[k])
	}
	centre := math.Pow(after/float64(len(p.sides))/mean, 3)
	for k := range target {
		target[k] = centre*mean - slack[k]*force[k]
	}
	d, slack, force := towards(target)
	toSlack, toForce = p.room(slack, force)
	share := min(1, shortOf*min(toSlack, toForce))
	for i := range d {
		if p.at[i] += share * d[i]; math.IsNaN(p.at[i]) {
			return false
		}
	}
	for k := range p.sides {
		p.sides[k].slack += share * slack[k]
		p.sides[k].force += share * force[k]
	}
	return true
}

// room is the share of a step at which the first slack, and the first force, would be
// zero; hardly more than 1 at most.
func (p *inner) room(slack, force []float64) (toSlack, toForce float64) {
	toSlack, toForce = 1/shortOf, 1/shortOf
	for k, b := range p.sides {
		if slack[k] < 0 {
			toSlack = min(toSlack, -b.slack/slack[k])
		}
		if force[k] < 0 {
			toForce = min(toForce, -b.force/force[k])
		}
	}
	return toSlack, toForce
}

// active reads which bounds are active: those whose force is large for its kind and
// whose slack is small.
func (p *inner) active(held []bound) []bound {
	slack, force := 0.0, 0.0
	for _, b := range p.sides {
		slack, force = max(slack, b.slack), max(force, b.force)
	}
	out := slices.Clone(held)
	for _, b := range p.sides {
		if p.r.supports[b.support].Hold == Free {
			out[b.support].rests = false
		} else {
			out[b.support].stops = 0
		}
	}
	for _, b := range p.sides {
		switch is := b.slack*force < b.force*slack; {
		case !is:
		case b.dof%4 == 1:
			out[b.support].rests = true
		default:
			out[b.support].stops = -int(b.sign)
		}
	}
	return out
}
