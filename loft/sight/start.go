package sight

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"
)

// starts are the cameras that may have seen the observations, approximately: the least
// squares continue from each of them.
func starts(pic Picture, seen []observed) []*camera {
	base := camera{pic: pic, c: mgl64.Vec2{pic.Width / 2, pic.Height / 2}}
	var axes mgl64.Mat3
	base.middle, base.size, axes = spreadOf(seen)
	var out []*camera
	if c, ok := affine(base, seen); ok {
		out = append(out, c)
	}
	if c, ok := inSpace(base, seen); ok {
		out = append(out, c)
	}
	return append(out, onPlane(base, seen, axes)...)
}

// spreadOf gives the middle of the places, their root mean square distance from it, and
// the axes along which they spread most, second and least.
func spreadOf(seen []observed) (middle mgl64.Vec3, size float64, axes mgl64.Mat3) {
	n := float64(len(seen))
	for _, o := range seen {
		middle = middle.Add(o.place.Mul(1 / n))
	}
	m := mat.NewSymDense(3, nil)
	for _, o := range seen {
		d := o.place.Sub(middle)
		size += d.Dot(d) / n
		m.SymRankOne(m, 1, mat.NewVecDense(3, d[:]))
	}
	size = max(math.Sqrt(size), 1e-6)
	axes = mgl64.Ident3()
	var e mat.EigenSym
	if !e.Factorize(m, true) {
		return middle, size, axes
	}
	var v mat.Dense
	e.VectorsTo(&v) // least first
	for i := range 3 {
		axes.SetCol(i, mgl64.Vec3{v.At(0, 2-i), v.At(1, 2-i), v.At(2, 2-i)})
	}
	axes.SetCol(2, axes.Col(0).Cross(axes.Col(1)))
	return middle, size, axes
}

// local is a place in the camera's scaled coordinates, before rotation.
func (c *camera) local(p mgl64.Vec3) mgl64.Vec3 { return p.Sub(c.middle).Mul(1 / c.size) }

// affine is the camera that sees the places in parallel projection, given the usual
// opening afterwards: pixel = A·y + b by least squares.
func affine(base camera, seen []observed) (*camera, bool) {
	a, to := mat.NewDense(len(seen), 4, nil), mat.NewDense(len(seen), 2, nil)
	for i, o := range seen {
		y := base.local(o.place)
		a.SetRow(i, []float64{y[0], y[1], y[2], 1})
		to.SetRow(i, o.at[:])
	}
	var x mat.Dense
	if err := x.Solve(a, to); err != nil {
		return nil, false
	}
	rows := [2]mgl64.Vec3{{x.At(0, 0), x.At(1, 0), x.At(2, 0)}, {x.At(0, 1), x.At(1, 1), x.At(2, 1)}}
	m := (rows[0].Len() + rows[1].Len()) / 2
	third := rows[0].Cross(rows[1])
	r, ok := orthogonal(mgl64.Mat3FromRows(rows[0].Mul(1/m), rows[1].Mul(1/m), third.Mul(1/max(third.Len(), 1e-30))))
	c := base
	c.r, c.scale, c.b = r, m, mgl64.Vec2{x.At(3, 0), x.At(3, 1)}
	c.q = usualOpening * m / c.pic.diagonal()
	return &c, ok && c.sound()
}

// projective is the map of homogeneous places to pixels that fits best in the algebraic
// sense: the direct linear transformation with the pixels scaled to unit size (Hartley
// and Zisserman, algorithms 4.2 and 7.1). The places must be of about unit size
// themselves. It gives the rows of the map, or false where this is not determined.
func projective(from [][]float64, to []mgl64.Vec2) ([][]float64, bool) {
	d := len(from[0])
	middle, mean := mgl64.Vec2{}, 0.0
	for _, p := range to {
		middle = middle.Add(p.Mul(1 / float64(len(to))))
	}
	for _, p := range to {
		mean += p.Sub(middle).Len() / float64(len(to))
	}
	scale := math.Sqrt2 / max(mean, 1e-9)
	a := mat.NewDense(max(2*len(from), 3*d), 3*d, nil)
	for i, x := range from {
		p := to[i].Sub(middle).Mul(scale)
		for k, v := range x {
			a.Set(2*i, k, v)
			a.Set(2*i, 2*d+k, -p[0]*v)
			a.Set(2*i+1, d+k, v)
			a.Set(2*i+1, 2*d+k, -p[1]*v)
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return nil, false
	}
	s := svd.Values(nil)
	if !(s[3*d-2] > 1e-9*s[0]) {
		return nil, false
	}
	var v mat.Dense
	svd.VTo(&v)
	out := make([][]float64, 3)
	for i := range out {
		out[i] = make([]float64, d)
		for k := range d {
			out[i][k] = v.At(i*d+k, 3*d-1)
		}
	}
	for i := range 2 {
		for k := range d {
			out[i][k] = out[i][k]/scale + middle[i]*out[2][k]
		}
	}
	return out, true
}

// about moves the pixels' origin to the principal point.
func about(p [][]float64, c mgl64.Vec2) [][]float64 {
	for i := range 2 {
		for k := range p[i] {
			p[i][k] -= c[i] * p[2][k]
		}
	}
	return p
}

// inSpace is the camera of six or more places, not all in one plane.
func inSpace(base camera, seen []observed) (*camera, bool) {
	if len(seen) < 6 {
		return nil, false
	}
	var from [][]float64
	var to []mgl64.Vec2
	for _, o := range seen {
		y := base.local(o.place)
		from, to = append(from, []float64{y[0], y[1], y[2], 1}), append(to, o.at)
	}
	p, ok := projective(from, to)
	if !ok {
		return nil, false
	}
	p = about(p, base.c)
	row := func(i int) mgl64.Vec3 { return mgl64.Vec3{p[i][0], p[i][1], p[i][2]} }
	size := row(2).Len() // the third row is of unit length, and the middle lies in front of the camera
	if p[2][3] < 0 {
		size = -size
	}
	away := row(2).Mul(1 / size)
	right, down := row(0).Mul(1/size), row(1).Mul(1/size)
	right, down = right.Sub(away.Mul(right.Dot(away))), down.Sub(away.Mul(down.Dot(away)))
	f := (right.Len() + down.Len()) / 2
	c := base
	r, ok := orthogonal(mgl64.Mat3FromRows(right.Mul(1/f), down.Mul(1/f), away))
	c.place(r, f, mgl64.Vec3{p[0][3] / size / f, p[1][3] / size / f, p[2][3] / size})
	return &c, ok && c.sound()
}

// place sets a camera by its rotation, its focal length and where the middle lies in
// front of it, in sizes.
func (c *camera) place(r mgl64.Mat3, f float64, t mgl64.Vec3) {
	c.r, c.q, c.scale = r, 1/t[2], f/t[2]
	c.b = c.c.Add(mgl64.Vec2{f * t[0] / t[2], f * t[1] / t[2]})
}

// sound reports whether a camera can see at all.
func (c *camera) sound() bool { return c.q > 0 && c.scale > 0 && finite(c.q, c.scale, c.b[0], c.b[1]) }

// openings are the values tried where the picture of a plane does not determine it, in
// diagonals to a focal length.
var openings = []float64{0.4, 0.9, 1.6}

// onPlane are the cameras that may see the places if they lie in the plane of their
// first two axes: the plane's rotation follows from its homography and a focal length
// (Zhang, IEEE Transactions on Pattern Analysis 22, 2000, section 3, from memory). From
// far away a plane looks the same tilted the other way, so both are given.
func onPlane(base camera, seen []observed, axes mgl64.Mat3) []*camera {
	var from [][]float64
	var to []mgl64.Vec2
	for _, o := range seen {
		y := axes.Transpose().Mul3x1(base.local(o.place))
		from, to = append(from, []float64{y[0], y[1], 1}), append(to, o.at)
	}
	h, ok := projective(from, to)
	if !ok {
		return nil
	}
	h = about(h, base.c)
	var out []*camera
	for _, f := range append(focalLengths(h), base.pic.diagonal()/openings[0], base.pic.diagonal()/openings[1], base.pic.diagonal()/openings[2]) {
		col := func(k int) mgl64.Vec3 { return mgl64.Vec3{h[0][k] / f, h[1][k] / f, h[2][k]} }
		size := (col(0).Len() + col(1).Len()) / 2
		if h[2][2] < 0 {
			size = -size
		}
		a, b, t := col(0).Mul(1/size), col(1).Mul(1/size), col(2).Mul(1/size)
		for _, lean := range []float64{1, -1} {
			a, b := a, b
			a[2], b[2] = lean*a[2], lean*b[2]
			r, ok := orthogonal(mgl64.Mat3FromCols(a, b, a.Cross(b)))
			c := base
			c.place(r.Mul3(axes.Transpose()), f, t)
			if ok && c.sound() {
				out = append(out, &c)
			}
		}
	}
	return out
}

// focalLengths are the focal lengths for which the two axes of a plane are seen square
// to each other, and equally long; none where the plane is seen face on.
func focalLengths(h [][]float64) []float64 {
	var out []float64
	add := func(top, bottom float64) {
		if v := -top / bottom; v > 0 && finite(v) {
			out = append(out, math.Sqrt(v))
		}
	}
	add(h[0][0]*h[0][1]+h[1][0]*h[1][1], h[2][0]*h[2][1])
	add(h[0][0]*h[0][0]+h[1][0]*h[1][0]-h[0][1]*h[0][1]-h[1][1]*h[1][1], h[2][0]*h[2][0]-h[2][1]*h[2][1])
	return out
}
