package progress

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Outlook is what to expect of the last strake of a band, if the rest is cut and laid
// as advised, and nothing more is measured.
type Outlook struct {
	Last      string    // its ID; empty if none is left to lay
	Room      []float64 // mm at every frame: expected room for it; 0 where it is not laid
	Within    []float64 // mm at every frame: in 95 % of cases the room is within this of Room
	Tolerance float64   // mm
	Fits      float64   // probability, 0 to 1, that it comes within the tolerance of closing at every frame
	Tells     []Tell    // the frames that are worth measuring, the most informative first
}

// Tell is the expected benefit of measuring what is left at a frame.
type Tell struct {
	Frame int
	Fits  float64 // probability expected once it is read and the rest shared afresh
}

// Outlook predicts the last strake by simulating the rest of the band from what is
// known on the bench: draws of the frames' errors, of creep and of the knife, as far as
// the record leaves them open. The draws are the same for the same record. A
// measurement is taken to be as fine as those of the record. It stops when the context
// ends, with an error that wraps the context's.
func (s *BandState) Outlook(ctx context.Context) (Outlook, error) {
	f, ok := s.foresee()
	out := Outlook{Tolerance: loft.UsualClosing, Room: make([]float64, len(s.Left)), Within: make([]float64, len(s.Left))}
	if !ok {
		return out, nil
	}
	out.Last = s.Remaining[f.last]
	f.spread(&out)
	out.Fits = f.fits(out.Tolerance, nil)
	for i := range f.frames {
		if err := halt.Asked(ctx, tongue.T("the outlook of the last strake")); err != nil {
			return out, err
		}
		if gain := f.gain(i); gain > 0 {
			out.Tells = append(out.Tells, Tell{f.frames[i], max(f.fits(out.Tolerance, &i), out.Fits)})
		}
	}
	gains := map[int]float64{}
	for i, frame := range f.frames {
		gains[frame] = f.gain(i)
	}
	slices.SortStableFunc(out.Tells, func(a, b Tell) int {
		switch d := gains[a.Frame] - gains[b.Frame]; {
		case d > 0:
			return -1
		case d < 0:
			return 1
		}
		return 0
	})
	return out, nil
}

// foresight is the distribution of the last strake's misfit at every frame where it is
// laid, mm: with mean 0 and, under every belief, a covariance.
type foresight struct {
	s      *BandState
	last   int       // among those remaining
	frames []int     // where it is laid
	gap    []float64 // mm at each: by how much its strip is too narrow
	room   []float64 // mm at each
	under  []foreseen
}

// foreseen is the distribution under one belief.
type foreseen struct {
	weight float64
	miss   *mat.SymDense // covariance of the misses, mm²
	told   *mat.Dense    // of the misses and of what is left at each frame, mm²
	read   []float64     // variance of a reading of what is left at each, mm²
}

// foresee works out the foresight; ok is false where no strake is left to lay.
func (s *BandState) foresee() (f *foresight, ok bool) {
	f = &foresight{s: s, last: s.lastToGo()}
	if f.last < 0 {
		return nil, false
	}
	b := s.g.s
	all := map[int]bool{}
	for n := range b.b.Weights {
		all[n] = true
	}
	last := s.layer().StrakeNamed(s.Remaining[f.last]) - b.b.First
	var misses, left []stray
	for i := range s.Left {
		w := b.widths[last][i]
		if w == 0 || !b.l.Surface.Planks(i) {
			continue
		}
		gap := w - b.wood(last, i)
		if s.Remedy == hull.Wedged {
			gap = 0
		}
		f.frames, f.gap, f.room = append(f.frames, i), append(f.gap, gap), append(f.room, w+s.CreepAt[i])
		miss := b.there(all, i)
		miss.frames = true
		misses, left = append(misses, miss), append(left, b.leftAt(i))
	}
	if len(f.frames) == 0 {
		return nil, false
	}
	division := b.finest()
	for i := range s.g.terms {
		c := &s.g.terms[i]
		u := foreseen{weight: c.weight, miss: mat.NewSymDense(len(misses), nil), told: mat.NewDense(len(misses), len(left), nil)}
		joint := c.posterior(&b.habit, b.wild, slices.Concat(misses, left))
		for i := range misses {
			for j := range misses {
				if j >= i {
					u.miss.SetSym(i, j, joint.At(i, j))
				}
				u.told.Set(i, j, joint.At(i, len(misses)+j))
			}
			u.read = append(u.read, joint.At(len(misses)+i, len(misses)+i)+noise(division, c.spreads[hand]))
		}
		f.under = append(f.under, u)
	}
	return f, true
}

// lastToGo is the index of the remaining strake that is laid last, or −1.
func (s *BandState) lastToGo() int {
	l := s.layer()
	last := -1
	for _, n := range l.LayingOrder(s.plan.Cutting()) {
		if at := slices.Index(s.Remaining, l.Strakes[n].ID); at >= 0 {
			last = at
		}
	}
	return last
}

// finest is the finest division at which the band was read, mm.
func (s *benchBand) finest() float64 {
	out := math.Inf(1)
	for i := range s.readings {
		out = min(out, s.readings[i].division)
	}
	switch {
	case s.division > 0:
		return s.division
	case math.IsInf(out, 1):
		return halves
	}
	return out
}

// posterior is the covariance of sums given the readings, mm².
func (c *conditioned) posterior(h *Habit, wild map[int]float64, of []stray) *mat.SymDense {
	n := len(of)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, h.covariance(&c.spreads, &of[i], &of[j], wild))
		}
	}
	if len(c.readings) == 0 {
		return out
	}
	k := mat.NewDense(len(c.readings), n, nil)
	for i := range c.readings {
		for j := range n {
			k.Set(i, j, h.covariance(&c.spreads, &c.readings[i].stray, &of[j], wild))
		}
	}
	var w mat.Dense
	if c.chol.SolveTo(&w, k) != nil {
		return out
	}
	var taken mat.Dense
	taken.Mul(k.T(), &w)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, out.At(i, j)-taken.At(i, j))
		}
	}
	return out
}

// spread gives the room for the last strake, and its bounds.
func (f *foresight) spread(out *Outlook) {
	for i, frame := range f.frames {
		v := 0.0
		for _, u := range f.under {
			v += u.weight * u.miss.At(i, i)
		}
		out.Room[frame], out.Within[frame] = f.room[i], certain*math.Sqrt(max(v, 0))
	}
}

// gain is the reduction, by a reading of what is left at a frame, of the variances of
// all misfits, mm².
func (f *foresight) gain(at int) float64 {
	out := 0.0
	for _, u := range f.under {
		for i := range f.frames {
			out += u.weight * u.told.At(i, at) * u.told.At(i, at) / u.read[at]
		}
	}
	return out
}

// fits is the probability that all misfits lie within a tolerance, mm: as it stands, or
// once what is left at a frame was read.
func (f *foresight) fits(tolerance float64, read *int) float64 {
	const draws = 2000
	rng := rand.New(rand.NewPCG(draws, uint64(len(f.frames))))
	n := len(f.frames)
	z := make([]float64, n)
	within := 0.0
	for _, u := range f.under {
		root := u.root(read)
		count, good := max(int(math.Round(u.weight*draws)), 8), 0
		for range count {
			for i := range z {
				z[i] = rng.NormFloat64()
			}
			if f.closes(root, z, tolerance) {
				good++
			}
		}
		within += u.weight * float64(good) / float64(count)
	}
	return within
}

// closes reports whether a draw comes within the tolerance at every frame.
func (f *foresight) closes(root *mat.TriDense, z []float64, tolerance float64) bool {
	for i := range z {
		miss := f.gap[i]
		for j := 0; j <= i; j++ {
			miss += root.At(i, j) * z[j]
		}
		if math.Abs(miss) > tolerance {
			return false
		}
	}
	return true
}

// root is a triangular square root of the misfits' covariance: as it stands, or once
// what is left at a frame was read.
func (u *foreseen) root(read *int) *mat.TriDense {
	const least = 1e-8 // mm²: keeps the variance of what is known for certain from being zero
	n := u.miss.SymmetricDim()
	k := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := u.miss.At(i, j)
			if read != nil {
				v -= u.told.At(i, *read) * u.told.At(j, *read) / u.read[*read]
			}
			if i == j {
				v += least
			}
			k.SetSym(i, j, v)
		}
	}
	var chol mat.Cholesky
	out := mat.NewTriDense(n, mat.Lower, nil)
	if chol.Factorize(k) {
		chol.LTo(out)
		return out
	}
	for i := range n { // never in practice: then the frames are taken one by one
		out.SetTri(i, i, math.Sqrt(max(k.At(i, i), 0)))
	}
	return out
}
