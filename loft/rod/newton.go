package rod

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

const (
	mostSteps  = 200
	mostRounds = 100  // of exchanging bounds in a step
	mostAtOnce = 4    // of these that exchange all wrong ones, from either guess
	reach      = 10   // from a degree of freedom to the farthest that shares an element with it
	settled    = 1e-7 // mm or rad: the step at which the strip is at rest
	touching   = 1e-9 // mm over its outline within which a point is on it
	slack      = 2    // times its first length: a strip that draws in that much is springing out from between its holds
)

// newton is the second-order model of a chain's energy at the chain.
type newton struct {
	axes        []mgl64.Mat3 // for every support: across, normal, and square to its plane
	bends       []float64    // of the outline at every support
	slope       []float64
	full, gauss *mat.SymBandDense // its second derivative, and the positive semidefinite part of it
	curve       *mat.SymBandDense // the second derivative in use
	share       float64           // of the remaining part in that
}

// model gives that model, with the second derivative to use not yet chosen; ok is false
// where the strip is folded.
func (r *rig) model(c *chain) (n *newton, ok bool) {
	size := 4 * len(c.x)
	band := func() *mat.SymBandDense { return mat.NewSymBandDense(size, reach, nil) }
	n = &newton{slope: make([]float64, size), full: band(), gauss: band(), curve: band()}
	for s, sup := range r.supports {
		p := sup.Outline(c.along[s])
		n.axes = append(n.axes, mgl64.Mat3FromCols(p.Tangent, p.Normal, p.Tangent.Cross(p.Normal)))
		n.bends = append(n.bends, p.Bend)
	}
	for i := 1; i < len(c.x)-1; i++ {
		if !r.add(n, c, i) {
			return nil, false
		}
	}
	return n, true
}

// take uses the positive semidefinite part of the second derivative plus that share of
// the rest; without any of the rest it is raised slightly, so that what nothing resists
// stays.
func (n *newton) take(share float64) {
	n.share = share
	to, full, gauss := n.curve.RawSymBand(), n.full.RawSymBand(), n.gauss.RawSymBand()
	for i := range to.Data {
		to.Data[i] = gauss.Data[i] + share*(full.Data[i]-gauss.Data[i])
	}
	if share > 0 {
		return
	}
	most := 0.0
	for i := range n.slope {
		most = max(most, to.Data[i*to.Stride])
	}
	for i := range n.slope {
		to.Data[i*to.Stride] += 1e-9*to.Data[i*to.Stride] + 1e-14*most
	}
}

// add adds the element about a point.
func (r *rig) add(n *newton, c *chain, point int) (ok bool) {
	a, k := r.element(c, point)
	var b bends
	if !a.read(&k, &b) {
		return false
	}
	var g [freedoms]float64
	var full, gauss [freedoms][freedoms]float64
	b.slope(&g)
	if !a.curvature(&k, &full, &gauss) {
		return false
	}
	by := r.freedomsOf(n, point)
	base := 4 * (point - 1)
	for i := range freedoms {
		for q := range by[i] {
			n.slope[base+q] += g[i] * by[i][q]
		}
	}
	addTo(n.full.RawSymBand(), base, &full, &by)
	addTo(n.gauss.RawSymBand(), base, &gauss, &by)
	return true
}

// freedomsOf are an element's degrees of freedom in terms of those of its three points.
func (r *rig) freedomsOf(n *newton, point int) (by [freedoms][reach + 1]float64) {
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
	return by
}

// rowsOf are, for every degree of freedom of an element's three points, those of the
// element that freedomsOf lets depend on it.
var rowsOf = [reach + 1][]int{
	{0, 1, 2}, {0, 1, 2}, {0, 1, 2}, {firstTurn},
	{0, 1, 2, 4, 5, 6}, {0, 1, 2, 4, 5, 6}, {0, 1, 2, 4, 5, 6}, {otherTurn},
	{4, 5, 6}, {4, 5, 6}, {4, 5, 6},
}

// addTo adds an element's second derivative to a band.
func addTo(raw blas64.SymmetricBand, base int, h *[freedoms][freedoms]float64, by *[freedoms][reach + 1]float64) {
	var hb [freedoms][reach + 1]float64
	for i := range freedoms {
		for q, rows := range rowsOf {
			for _, j := range rows {
				hb[i][q] += h[i][j] * by[j][q]
			}
		}
	}
	for p := range reach + 1 {
		for q := p; q < reach+1; q++ {
			sum := 0.0
			for _, i := range rowsOf[p] {
				sum += by[i][p] * hb[i][q]
			}
			raw.Data[(base+p)*raw.Stride+q-p] += sum
		}
	}
}

// bound says which bounds hold a support's point.
type bound struct {
	rests bool // on its outline
	stops int  // at the lower (−1) or upper (1) end of its play; it slips (0)
}

// bounds are those that hold the supports of a chain, by the slope there.
func (r *rig) bounds(n *newton, c *chain) []bound {
	held := make([]bound, len(r.supports))
	for s := range r.supports {
		sup, i := &r.supports[s], 4*r.point(s)
		held[s].rests = sup.Hold != Free || c.height[s] <= touching && n.slope[i+1] > 0
		if low, high := sup.bounds(); sup.slips() {
			switch {
			case c.along[s] <= low && n.slope[i] > 0:
				held[s].stops = -1
			case c.along[s] >= high && n.slope[i] < 0:
				held[s].stops = 1
			}
		}
	}
	return held
}

// step gives the move that minimises the model under the bounds of the supports,
// starting from a guess of which are active, and those that are; ok is false where the
// model has no minimum.
func (r *rig) step(n *newton, c *chain, guess []bound) (move []float64, held []bound, ok bool) {
	held = slices.Clone(guess)
	for round := range mostRounds {
		var pull []mgl64.Vec2
		if move, pull, ok = r.stepWith(n, c, held); !ok {
			return nil, nil, false
		}
		wrong := r.wrong(c, move, pull, held)
		if len(wrong) == 0 {
			break
		}
		// All at once, which is quick; where that cycles, from a better guess, and then only
		// the first, which terminates (Murty, Note on a Bard-type scheme for solving the
		// complementarity problem, Opsearch 11, 1974).
		switch {
		case round == mostAtOnce:
			held = r.interior(n, c, move, pull, held)
			continue
		case round > 2*mostAtOnce:
			wrong = wrong[:1]
		}
		for _, w := range wrong {
			held[w.support] = w.to
		}
	}
	return move, held, true
}

// exchange is what the bounds of a support are to become.
type exchange struct {
	support int
	to      bound
}

// wrong lists the supports with bounds that hold back a point which would leave them, or
// that the move would cross.
func (r *rig) wrong(c *chain, move []float64, pull []mgl64.Vec2, held []bound) (out []exchange) {
	for s := range r.supports {
		sup, i, to := &r.supports[s], 4*r.point(s), held[s]
		if sup.Hold == Free {
			if to.rests {
				to.rests = pull[s][1] >= 0
			} else {
				to.rests = c.height[s]+move[i+1] < -1e-12
			}
		}
		if low, high := sup.bounds(); sup.slips() {
			switch along := c.along[s] + move[i]; {
			case to.stops != 0:
				if pull[s][0]*float64(to.stops) > 0 {
					to.stops = 0
				}
			case along < low-1e-12:
				to.stops = -1
			case along > high+1e-12:
				to.stops = 1
			}
		}
		if to != held[s] {
			out = append(out, exchange{s, to})
		}
	}
	return out
}

// stepWith is the step under those bounds, and the resulting slope of the energy across
// and along the normal of each support.
func (r *rig) stepWith(n *newton, c *chain, held []bound) (move []float64, pull []mgl64.Vec2, ok bool) {
	raw, fixed, to := r.system(n, c, held)
	size := len(n.slope)
	rhs := make([]float64, size)
	for i, g := range n.slope {
		rhs[i] = -g
	}
	impose(raw, rhs, fixed, to)
	// Not mat.BandCholesky, which spends most of its time on the condition number.
	factor, ok := lapack64.Pbtrf(raw)
	if !ok {
		return nil, nil, false
	}
	lapack64.Pbtrs(factor, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: rhs})
	move = rhs
	for _, d := range move {
		if math.IsNaN(d) || math.IsInf(d, 0) {
			return nil, nil, false
		}
	}
	pull = make([]mgl64.Vec2, len(r.supports))
	for s := range r.supports {
		for a := range pull[s] {
			i := 4*r.point(s) + a
			pull[s][a] = n.slope[i]
			for j := max(i-reach, 0); j <= min(i+reach, size-1); j++ {
				pull[s][a] += n.curve.At(i, j) * move[j]
			}
		}
	}
	return move, pull, true
}

// system is the model's second derivative under those bounds, which degrees of freedom
// are fixed, and the moves of these.
func (r *rig) system(n *newton, c *chain, held []bound) (raw blas64.SymmetricBand, fixed []bool, to []float64) {
	size := len(n.slope)
	fixed, to = make([]bool, size), make([]float64, size)
	raw = n.curve.RawSymBand()
	raw.Data = slices.Clone(raw.Data)
	for s := range r.supports {
		sup, i := &r.supports[s], 4*r.point(s)
		fixed[i], fixed[i+2] = !sup.slips(), true
		if low, high := sup.bounds(); held[s].stops < 0 {
			fixed[i], to[i] = true, low-c.along[s]
		} else if held[s].stops > 0 {
			fixed[i], to[i] = true, high-c.along[s]
		}
		if held[s].rests {
			fixed[i+1], to[i+1] = true, -c.height[s]
			if !fixed[i] && c.height[s] <= touching {
				// Along the outline the point departs from its tangent by half the bend.
				raw.Data[i*raw.Stride] -= n.share * n.bends[s] * n.slope[i+1]
			}
		}
	}
	fixed[size-1] = true // there is no segment behind the last point
	return raw, fixed, to
}

// impose gives the fixed degrees of freedom their values in a system of equations.
func impose(raw blas64.SymmetricBand, rhs []float64, fixed []bool, to []float64) {
	size := len(rhs)
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
}

// settle releases a chain until it is at rest; its energy never rises. It finds no rest
// where the strip springs out into a loop. It looks at the context at every step.
func (r *rig) settle(ctx context.Context, c *chain) (at *chain, steps int, rests bool, err error) {
	energy, length := r.energy(c), c.length()
	var held []bound
	for steps = range mostSteps {
		if err := halt.Asked(ctx, tongue.T("letting the strip go")); err != nil {
			return nil, steps, false, err
		}
		next, moved, now, ok := r.stepped(c, energy, &held)
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

// stepped is the chain after one step that lowers its energy, and how far the full step
// would have gone. held are the bounds that were active after the previous step, and
// then those after this one.
func (r *rig) stepped(c *chain, energy float64, held *[]bound) (next *chain, moved, now float64, ok bool) {
	n, ok := r.model(c)
	if !ok {
		return nil, 0, 0, false
	}
	if *held == nil {
		*held = r.bounds(n, c)
	}
	for _, share := range []float64{1, 0.5, 0.2, 0} {
		n.take(share)
		move, after, ok := r.step(n, c, *held)
		if !ok {
			continue
		}
		if next, moved, now, ok = r.search(n, c, energy, move, after); ok {
			*held = after
			return next, moved, now, true
		}
	}
	return nil, 0, 0, false
}

// search goes along a step as far as the energy falls; ok is false where it does not
// fall.
func (r *rig) search(n *newton, c *chain, energy float64, move []float64, held []bound) (next *chain, moved, now float64, ok bool) {
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
		next = r.moved(c, n.axes, move, 1, arrived(c, held, 1))
		return next, moved, r.energy(next), true
	}
	if fall > 0 {
		return nil, 0, 0, false
	}
	for range 40 {
		next = r.moved(c, n.axes, move, share, arrived(c, held, share))
		if now = r.energy(next); now <= energy+1e-4*share*fall+1e-13*energy {
			return next, moved, now, true
		}
		share /= 2
	}
	return nil, 0, 0, false
}

// arrived are the supports on which the strip rests after that fraction of a step.
func arrived(c *chain, held []bound, share float64) []bool {
	out := make([]bool, len(held))
	for s := range out {
		out[s] = held[s].rests && (share == 1 || c.height[s] <= touching)
	}
	return out
}
