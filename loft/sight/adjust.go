package sight

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"
)

// observed is a known place of the ship and the mark at which it is seen.
type observed struct {
	at    mgl64.Vec2
	cov   mgl64.Mat2 // px²
	place mgl64.Vec3
	along mgl64.Vec3 // mm: one standard error of the place's own position, as a vector
	frame int        // that stands off its place as a whole; −1 for none
}

// adjustment finds the camera, and how far each frame stands off its place, from the
// observations: the least squares of all misfits, each in its standard error (Hartley
// and Zisserman, Multiple View Geometry, sections 5.2 and 7.2), with the usual
// properties of cameras and frames included as observations.
type adjustment struct {
	pic    Picture
	seen   []observed
	stands float64     // mm: how far a frame stands off its place, each way, as a standard error
	frames map[int]int // for the frames seen, their index among the shifts
}

func newAdjustment(pic Picture, seen []observed, stands float64) *adjustment {
	a := &adjustment{pic: pic, seen: seen, stands: stands, frames: map[int]int{}}
	for _, o := range seen {
		if _, ok := a.frames[o.frame]; !ok && o.frame >= 0 && stands > 0 {
			a.frames[o.frame] = len(a.frames)
		}
	}
	return a
}

// solution is a camera with the shifts of the frames, and how well these are known.
type solution struct {
	*camera
	shifts []mgl64.Vec3  // mm, of each frame seen; nil while they are not sought
	cov    *mat.SymDense // of all free parameters of the camera, and of the shifts
	misfit float64       // the sum of the squares of all misfits, in standard errors
}

// rounds is the greatest number of improvements of a solution; from a fair start it takes
// fewer than fairRounds.
const (
	rounds     = 60
	fairRounds = 10
)

// startDamp is the damping of the first step: less of it marks steps that are hardly
// shortened any more.
const startDamp = 1e-3

// from improves a start until nothing more is gained, by Levenberg-Marquardt steps
// (Press et al., Numerical Recipes, section 15.5, from memory). With shifting the
// frames are moved too; otherwise their displacement counts as an independent error of
// each place. After as many rounds as a fair start takes, one is given up that would not
// come below a misfit even if every round left won as much as the last. ok is false then, and where the places do not come
// to lie in front of the camera.
func (a *adjustment) from(start *camera, shifting bool, below float64) (s *solution, ok bool) {
	s = &solution{camera: start}
	if shifting {
		s.shifts = make([]mgl64.Vec3, len(a.frames))
	}
	views, ok := a.views(s)
	if !ok {
		return nil, false
	}
	rows, ok := a.rows(s, views, views)
	if !ok {
		return nil, false
	}
	damp := startDamp
	for left := rounds; left > 0; left-- {
		n, g := rows.normal()
		step, ok := solved(n, g, damp)
		if !ok {
			return nil, false
		}
		next := s.stepped(step)
		var won float64 = -1
		nextViews, ok := a.views(next)
		if ok {
			if tried, ok := a.rows(next, nextViews, views); ok {
				won = rows.sum() - tried.sum()
			}
		}
		if !(won >= 0) {
			if damp *= 8; damp > 1e9 {
				break
			}
			continue
		}
		damp = max(damp/8, 1e-12)
		s, views = next, nextViews
		if rows, ok = a.rows(s, views, views); !ok {
			return nil, false
		}
		if won < 1e-7 {
			break
		}
		if sum := rows.sum(); left < rounds-fairRounds && damp < startDamp && sum-float64(left)*won > below {
			return nil, false
		}
	}
	n, _ := rows.normal()
	var chol mat.Cholesky
	if !chol.Factorize(n) {
		return nil, false
	}
	s.cov = mat.NewSymDense(n.SymmetricDim(), nil)
	if chol.InverseTo(s.cov) != nil {
		return nil, false
	}
	s.misfit = rows.sum()
	return s, finite(s.misfit)
}

// stepped is the solution after a step.
func (s *solution) stepped(step []float64) *solution {
	next := &solution{camera: s.moved(step), shifts: make([]mgl64.Vec3, len(s.shifts))}
	if s.shifts == nil {
		next.shifts = nil
	}
	for i := range s.shifts {
		j := degrees + 3*i
		next.shifts[i] = s.shifts[i].Add(mgl64.Vec3{step[j], step[j+1], step[j+2]})
	}
	return next
}

// misfits are rows of equations: misfits in standard errors, and their derivatives by
// the free parameters.
type misfits struct {
	free int
	r    []float64
	j    [][]float64
	room []float64 // for the derivatives to come
}

// newMisfits are none yet, with room for so many.
func newMisfits(free, room int) *misfits {
	return &misfits{free: free, r: make([]float64, 0, room), j: make([][]float64, 0, room), room: make([]float64, room*free)}
}

// add appends a misfit, and gives its derivatives, all 0, to be filled in.
func (m *misfits) add(r float64) []float64 {
	row := m.room[:m.free:m.free]
	m.room = m.room[m.free:]
	m.r, m.j = append(m.r, r), append(m.j, row)
	return row
}

func (m *misfits) sum() float64 {
	v := 0.0
	for _, r := range m.r {
		v += r * r
	}
	return v
}

// normal are the normal equations.
func (m *misfits) normal() (*mat.SymDense, []float64) {
	n, g := mat.NewSymDense(m.free, nil), make([]float64, m.free)
	raw := n.RawSymmetric().Data
	for k, row := range m.j {
		for i, v := range row {
			if v == 0 {
				continue
			}
			g[i] -= v * m.r[k]
			to := raw[i*m.free : (i+1)*m.free]
			for j := i; j < m.free; j++ {
				to[j] += v * row[j]
			}
		}
	}
	return n, g
}

// solved is the damped step.
func solved(n *mat.SymDense, g []float64, damp float64) ([]float64, bool) {
	d := mat.NewSymDense(len(g), nil)
	d.CopySym(n)
	for i := range g {
		d.SetSym(i, i, n.At(i, i)*(1+damp)+1e-12)
	}
	var chol mat.Cholesky
	var step mat.VecDense
	if !chol.Factorize(d) || chol.SolveVecTo(&step, mat.NewVecDense(len(g), g)) != nil {
		return nil, false
	}
	return step.RawVector().Data, finite(step.RawVector().Data...)
}

// stood gives where an observation's place stands by a solution, and which of its
// parameters is the first that moves it with its frame; −1 for none.
func (a *adjustment) stood(s *solution, o *observed) (place mgl64.Vec3, shift int) {
	if k, ok := a.frames[o.frame]; ok && s.shifts != nil {
		return o.place.Add(s.shifts[k]), degrees + 3*k
	}
	return o.place, -1
}

// views are the observed places as the camera of a solution sees them; ok is false
// where one does not lie in front of it.
func (a *adjustment) views(s *solution) (out []sight, ok bool) {
	out = make([]sight, len(a.seen))
	for i := range a.seen {
		place, _ := a.stood(s, &a.seen[i])
		if out[i], ok = s.see(place); !ok {
			return nil, false
		}
	}
	return out, true
}

// rows are the equations of a solution with its views, by the weights that follow from
// the views of another close to it.
func (a *adjustment) rows(s *solution, views, weigh []sight) (*misfits, bool) {
	misfit, by := s.likely()
	m := newMisfits(degrees+3*len(s.shifts), 2*len(a.seen)+len(misfit)+3*len(s.shifts))
	for i := range a.seen {
		o, v := &a.seen[i], &views[i]
		_, shift := a.stood(s, o)
		white, ok := whitening(a.spread(o, &weigh[i], shift < 0))
		if !ok {
			return nil, false
		}
		off := white.Mul2x1(v.at.Sub(o.at))
		place := white.Mul2x3(v.byPlace)
		for axis := range 2 {
			row := m.add(off[axis])
			for k, d := range v.byLook {
				row[k] = white.At(axis, 0)*d[0] + white.At(axis, 1)*d[1]
			}
			for k := range 3 {
				if shift >= 0 {
					row[shift+k] = place.At(axis, k)
				}
			}
		}
	}
	for i := range misfit {
		copy(m.add(misfit[i]), by[i][:])
	}
	for i, d := range s.shifts {
		for k := range 3 {
			m.add(d[k] / a.stands)[degrees+3*i+k] = 1 / a.stands
		}
	}
	return m, true
}

// spread is the possible error of a mark about the place where the camera sees it, px²;
// alone includes the independent displacement of the place.
func (a *adjustment) spread(o *observed, v *sight, alone bool) mgl64.Mat2 {
	cov := o.cov
	if o.along != (mgl64.Vec3{}) {
		d := v.byPlace.Mul3x1(o.along)
		cov = cov.Add(d.OuterProd2(d))
	}
	if alone && o.frame >= 0 {
		cov = cov.Add(v.byPlace.Mul3x2(v.byPlace.Transpose()).Mul(a.stands * a.stands))
	}
	return cov
}

// whitening turns misfits of a covariance into standard errors: the inverse of its
// lower Cholesky factor.
func whitening(c mgl64.Mat2) (mgl64.Mat2, bool) {
	a := math.Sqrt(c.At(0, 0))
	b := c.At(1, 0) / a
	d := math.Sqrt(c.At(1, 1) - b*b)
	if !(a > 0) || !(d > 0) {
		return c, false
	}
	return mgl64.Mat2{1 / a, -b / (a * d), 0, 1 / d}, true
}

// found is the best solution from any start. Once all fit as well as they should, no
// further start is tried.
func (a *adjustment) found() (*solution, bool) {
	var best *solution
	least := math.Inf(1)
	for _, c := range starts(a.pic, a.seen) {
		if s, ok := a.from(c, false, least); ok && s.misfit < least {
			best, least = s, s.misfit
		}
		if best != nil && best.misfit < reachOf(wideChance, a.over()) {
			break
		}
	}
	if best == nil || len(a.frames) == 0 {
		return best, best != nil
	}
	return a.from(best.camera, true, math.Inf(1))
}
