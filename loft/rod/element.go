package rod

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// stiffness is the stiffness of an element: the section's three, and those that keep
// points evenly spaced and a clamped face flat.
type stiffness struct {
	flat, edge, twist float64 // N·mm²
	spacing           float64 // N/mm
	roll              float64 // N·mm
}

// element is the strip about one of its points: the segments before and behind,
// each with the outward normal of its face.
type element struct {
	e0, e1 mgl64.Vec3 // mm
	n0, n1 mgl64.Vec3
	across mgl64.Vec3 // the outline's tangent, for the roll
	before float64    // the share of the segment before in the roll; the rest belongs to the one behind
}

// Degrees of freedom of an element: the two segments' ends, and their turns about
// themselves.
const freedoms = 8

const (
	first     = 0 // of e0
	firstTurn = 3
	other     = 4 // of e1
	otherTurn = 7
)

// bends are the residuals of an element, with their derivatives; its energies are half
// their squares.
type bends struct {
	of    [5]float64 // flatwise, edgewise, twist, spacing, roll
	by    [5][freedoms]float64
	width float64 // mm, the length that the first three represent
	t     [2]mgl64.Vec3
}

// least is the least value of 1 + cos of the turn between two segments: 120 degrees.
const least = 0.5

// read gives the residuals of an element by Bergou's formulas: with the curvature
// binormal κb = 2·t₀×t₁/(1 + t₀·t₁) the bends are half its components along the sums of
// the two segments' transverse directions and normals, and the twist is the angle from
// the first normal, after parallel transport, to the second; ok is false where the
// strip is folded. The derivatives are those for normals under parallel transport.
func (a *element) read(k *stiffness, b *bends) (ok bool) {
	l0, l1 := a.e0.Len(), a.e1.Len()
	if !(l0 > 0 && l1 > 0) {
		return false
	}
	t0, t1 := a.e0.Mul(1/l0), a.e1.Mul(1/l1)
	chi := 1 + t0.Dot(t1)
	if !(chi > least) {
		return false
	}
	b0, b1 := t0.Cross(a.n0), t1.Cross(a.n1)
	cross := t0.Cross(t1)
	kb := cross.Mul(2 / chi)
	flat, edge := b0.Add(b1).Dot(kb)/2, -a.n0.Add(a.n1).Dot(kb)/2
	carried := carry(a.n0, cross, chi-1)
	twist := math.Atan2(carried.Cross(a.n1).Dot(t1), carried.Dot(a.n1))

	tt, bt, nt := t0.Add(t1).Mul(1/chi), b0.Add(b1).Mul(1/chi), a.n0.Add(a.n1).Mul(1/chi)
	b.t, b.width = [2]mgl64.Vec3{t0, t1}, (l0+l1)/2
	set := func(i int, scale, of float64, by0, by1 mgl64.Vec3, turn0, turn1 float64) {
		b.of[i] = scale * of
		for j := range 3 {
			b.by[i][first+j], b.by[i][other+j] = scale*by0[j], scale*by1[j]
		}
		b.by[i][firstTurn], b.by[i][otherTurn] = scale*turn0, scale*turn1
	}
	per := 1 / math.Sqrt(b.width)
	set(0, math.Sqrt(k.flat)*per, flat, t1.Cross(bt).Sub(tt.Mul(flat)).Mul(1/l0), t0.Cross(bt).Add(tt.Mul(flat)).Mul(-1/l1), -kb.Dot(a.n0)/2, -kb.Dot(a.n1)/2)
	set(1, math.Sqrt(k.edge)*per, edge, t1.Cross(nt).Add(tt.Mul(edge)).Mul(-1/l0), t0.Cross(nt).Sub(tt.Mul(edge)).Mul(1/l1), -kb.Dot(b0)/2, -kb.Dot(b1)/2)
	set(2, math.Sqrt(k.twist)*per, twist, kb.Mul(1/(2*l0)), kb.Mul(1/(2*l1)), -1, 1)
	set(3, math.Sqrt(k.spacing), l0-l1, t0, t1.Mul(-1), 0, 0)
	d, p, q := a.across, a.before, 1-a.before
	set(4, math.Sqrt(k.roll), p*a.n0.Dot(d)+q*a.n1.Dot(d), a.n0.Mul(-p*t0.Dot(d)/l0), a.n1.Mul(-q*t1.Dot(d)/l1), p*b0.Dot(d), q*b1.Dot(d))
	return true
}

// energy is half the sum of the squares, N·mm.
func (b *bends) energy() float64 {
	sum := 0.0
	for _, r := range b.of {
		sum += r * r
	}
	return sum / 2
}

// slope is the derivative of the energy; the length of the element counts too.
func (b *bends) slope(g *[freedoms]float64) {
	*g = [freedoms]float64{}
	for i := range b.of {
		for j := range g {
			g[j] += b.of[i] * b.by[i][j]
		}
	}
	bent := (b.of[0]*b.of[0] + b.of[1]*b.of[1] + b.of[2]*b.of[2]) / (4 * b.width)
	for j := range 3 {
		g[first+j] -= bent * b.t[0][j]
		g[other+j] -= bent * b.t[1][j]
	}
}

// curvature is the second derivative of an element's energy, by differences of its
// slope, and its positive semidefinite part (Gauss-Newton).
func (a *element) curvature(k *stiffness, full, gauss *[freedoms][freedoms]float64) (ok bool) {
	var b bends
	if !a.read(k, &b) {
		return false
	}
	const turn = 1e-7 // rad; the slopes are accurate to 1e-15, the differences then to 1e-7
	var at, moved [freedoms]float64
	b.slope(&at)
	for j := range freedoms {
		d := turn
		if j != firstTurn && j != otherTurn {
			d *= a.e0.Len()
		}
		if !a.slopeMoved(k, j, d, &moved) {
			return false
		}
		for i := range full {
			full[i][j] = (moved[i] - at[i]) / d
			gauss[i][j] = 0
			for r := range b.of {
				gauss[i][j] += b.by[r][i] * b.by[r][j]
			}
		}
	}
	for i := range full {
		for j := range i {
			full[i][j] = (full[i][j] + full[j][i]) / 2
			full[j][i] = full[i][j]
		}
	}
	return true
}

// slopeMoved is the slope of the energy with one degree of freedom changed.
func (a *element) slopeMoved(k *stiffness, freedom int, by float64, g *[freedoms]float64) (ok bool) {
	var b bends
	m := a.moved(freedom, by)
	if !m.read(k, &b) {
		return false
	}
	b.slope(g)
	return true
}

// moved is the element with one degree of freedom changed.
func (a *element) moved(freedom int, by float64) element {
	m := *a
	switch {
	case freedom == firstTurn:
		m.n0 = turned(a.n0, a.e0.Normalize(), by)
	case freedom == otherTurn:
		m.n1 = turned(a.n1, a.e1.Normalize(), by)
	case freedom < firstTurn:
		m.e0[freedom-first] += by
		m.n0 = along(a.n0, a.e0, m.e0)
	default:
		m.e1[freedom-other] += by
		m.n1 = along(a.n1, a.e1, m.e1)
	}
	return m
}

// carry turns a vector by the smallest rotation that takes one unit vector to another,
// given their cross product and cosine.
func carry(v, cross mgl64.Vec3, cos float64) mgl64.Vec3 {
	return v.Mul(cos).Add(cross.Cross(v)).Add(cross.Mul(cross.Dot(v) / (1 + cos)))
}

// along carries a normal of a segment to the segment's new direction, keeping it square
// to that.
func along(n, was, is mgl64.Vec3) mgl64.Vec3 {
	t0, t1 := was.Normalize(), is.Normalize()
	v := carry(n, t0.Cross(t1), t0.Dot(t1))
	return v.Sub(t1.Mul(v.Dot(t1))).Normalize()
}

// turned turns a normal about its segment's direction.
func turned(n, t mgl64.Vec3, by float64) mgl64.Vec3 {
	return n.Mul(math.Cos(by)).Add(t.Cross(n).Mul(math.Sin(by)))
}
