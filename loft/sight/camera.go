package sight

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"
)

// Pixel is a place in a picture: x to the right, y down.
type Pixel struct{ X, Y float64 }

// Picture is the size of a picture, in pixels.
type Picture struct {
	Width, Height float64
	Cropped       bool // its middle is not that of the picture as taken
}

// diagonal is the diagonal of the picture.
func (p Picture) diagonal() float64 { return math.Hypot(p.Width, p.Height) }

// camera is a pinhole with square pixels and no skew (Hartley and Zisserman, Multiple
// View Geometry, 2nd edition, section 6.1, from memory), with the first term of radial
// distortion (section 7.4). It is set up about the middle of the known places of the
// ship, so that no figure becomes large for a distant camera with a long lens: for a
// place X
//
//	y = R·(X − middle)/size
//	e = (M·(y₁, y₂) + b − c)/(1 + q·y₃)
//	pixel = c + e·(1 + k·|e|²/(d/2)²)
//
// with d the picture's diagonal, M/q the focal length in pixels and size/q the depth of
// the middle. q is 0 for a camera at infinity.
type camera struct {
	pic    Picture
	middle mgl64.Vec3
	size   float64 // mm

	scale float64    // M, px
	q     float64    // strength of the perspective
	b     mgl64.Vec2 // px, where the middle is seen
	c     mgl64.Vec2 // px, the principal point
	r     mgl64.Mat3 // turns the ship's axes into the camera's: right, down, away
	k     float64    // distortion at a corner of the picture, as a share
}

// The free parameters of a camera, in this order.
const (
	ofScale = iota // of ln M
	ofStrength
	ofBX
	ofBY
	ofTurnX
	ofTurnY
	ofTurnZ
	ofCX
	ofCY
	ofBarrel
	degrees
)

// nearest is the least value of 1 + q·y₃ at which a place still lies in front of the
// camera.
const nearest = 0.05

// sight is a place as the camera sees it, with its derivatives.
type sight struct {
	at      mgl64.Vec2
	byPlace mgl64.Mat2x3        // px per mm
	byLook  [degrees][2]float64 // px per unit of the camera's free parameters
	toward  mgl64.Vec3          // in the ship's axes: from the camera to the place
}

// see gives a place as it is seen; ok is false for one that does not lie in front of
// the camera.
func (c *camera) see(p mgl64.Vec3) (s sight, ok bool) {
	y := c.r.Mul3x1(p.Sub(c.middle)).Mul(1 / c.size)
	w := 1 + c.q*y[2]
	if !(w > nearest) {
		return s, false
	}
	off := c.b.Sub(c.c)
	e := mgl64.Vec2{c.scale*y[0] + off[0], c.scale*y[1] + off[1]}.Mul(1 / w)
	half := c.pic.diagonal() / 2
	rho := e.Dot(e) / half / half
	s.at = c.c.Add(e.Mul(1 + c.k*rho))
	// warp is the derivative of the distorted place by the undistorted one
	warp := mgl64.Ident2().Mul(1 + c.k*rho).Add(e.OuterProd2(e).Mul(2 * c.k / half / half))
	byY := warp.Mul2x3(mgl64.Mat2x3{c.scale / w, 0, 0, c.scale / w, -c.q * e[0] / w, -c.q * e[1] / w})
	s.byPlace = byY.Mul3(c.r).Mul(1 / c.size)
	put := func(k int, v mgl64.Vec2) { s.byLook[k] = v }
	put(ofScale, warp.Mul2x1(mgl64.Vec2{c.scale * y[0] / w, c.scale * y[1] / w}))
	put(ofStrength, warp.Mul2x1(e.Mul(-y[2]/w)))
	put(ofBX, warp.Mul2x1(mgl64.Vec2{1 / w, 0}))
	put(ofBY, warp.Mul2x1(mgl64.Vec2{0, 1 / w}))
	for axis := range 3 {
		put(ofTurnX+axis, byY.Mul3x1(mgl64.Ident3().Col(axis).Cross(y)))
	}
	put(ofCX, mgl64.Vec2{1, 0}.Sub(warp.Mul2x1(mgl64.Vec2{1 / w, 0})))
	put(ofCY, mgl64.Vec2{0, 1}.Sub(warp.Mul2x1(mgl64.Vec2{0, 1 / w})))
	put(ofBarrel, e.Mul(rho))
	s.toward = c.r.Transpose().Mul3x1(mgl64.Vec3{c.q * (y[0] + off[0]/c.scale), c.q * (y[1] + off[1]/c.scale), w}).Normalize()
	return s, true
}

// moved is the camera after a step in all free parameters.
func (c *camera) moved(step []float64) *camera {
	out := *c
	out.scale *= math.Exp(min(max(step[ofScale], -1), 1))
	out.q += step[ofStrength]
	out.b = out.b.Add(mgl64.Vec2{step[ofBX], step[ofBY]})
	out.c = out.c.Add(mgl64.Vec2{step[ofCX], step[ofCY]})
	turn := mgl64.Vec3{step[ofTurnX], step[ofTurnY], step[ofTurnZ]}
	if a := turn.Len(); a > 0 {
		out.r = mgl64.HomogRotate3D(min(a, 1), turn.Mul(1/a)).Mat3().Mul3(out.r)
	}
	out.k += step[ofBarrel]
	return &out
}

// The likely properties of a camera before anything is marked. Common practice, no
// source: lenses from a wide 22 mm to a long 120 mm on a picture of 36 × 24 mm have a
// diagonal of 0.36 to 2 focal lengths; a telephone's picture is centred to within a
// hundredth of its diagonal, and corrected for distortion to within a hundredth at its
// corners.
const (
	usualOpening  = 0.9 // diagonals to a focal length
	openingSpread = 0.6
	centring      = 0.01 // of the diagonal
	cropping      = 0.15 // of a cropped picture
	barrelSpread  = 0.01
)

// likely are the misfits of a camera against these likely properties, in standard
// errors, with their derivatives by the free parameters.
func (c *camera) likely() (misfit []float64, by [][degrees]float64) {
	d := c.pic.diagonal()
	centre := centring * d
	if c.pic.Cropped {
		centre = cropping * d
	}
	add := func(v float64, set func(*[degrees]float64)) {
		var row [degrees]float64
		set(&row)
		misfit, by = append(misfit, v), append(by, row)
	}
	opening := d * c.q / c.scale
	add((opening-usualOpening)/openingSpread, func(r *[degrees]float64) {
		r[ofScale], r[ofStrength] = -opening/openingSpread, d/c.scale/openingSpread
	})
	add((c.c[0]-c.pic.Width/2)/centre, func(r *[degrees]float64) { r[ofCX] = 1 / centre })
	add((c.c[1]-c.pic.Height/2)/centre, func(r *[degrees]float64) { r[ofCY] = 1 / centre })
	add(c.k/barrelSpread, func(r *[degrees]float64) { r[ofBarrel] = 1 / barrelSpread })
	return misfit, by
}

// orthogonal is the rotation nearest to a matrix, by its singular values (Golub and Van
// Loan, Matrix Computations, section 12.4, from memory); ok is false where the matrix
// does not have two independent directions.
func orthogonal(m mgl64.Mat3) (mgl64.Mat3, bool) {
	var svd mat.SVD
	a := mat.NewDense(3, 3, nil)
	for i := range 3 {
		for j := range 3 {
			a.Set(i, j, m.At(i, j))
		}
	}
	if !finite(m[:]...) || !svd.Factorize(a, mat.SVDFull) {
		return m, false
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	if mat.Det(&u)*mat.Det(&v) < 0 {
		for i := range 3 {
			u.Set(i, 2, -u.At(i, 2))
		}
	}
	r.Mul(&u, v.T())
	var out mgl64.Mat3
	for i := range 3 {
		for j := range 3 {
			out.Set(i, j, r.At(i, j))
		}
	}
	s := svd.Values(nil)
	return out, s[1] > 1e-9*s[0]
}

func finite(list ...float64) bool {
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
