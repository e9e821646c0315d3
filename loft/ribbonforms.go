package loft

import "math"

// ribbonForms are the terms that give the bending of a course v(u) at a point of a
// surface, each a polynomial in v′ by its coefficients:
//
//	speed:   |c′|²
//	face:    κn·|c′|²
//	twist:   τg·|c′|²
//	side:    κg·|c′|³ − area·v″
//
// with area √(EG−F²), all as in strainsOf.
type ribbonForms struct {
	speed, face, twist [3]float64
	side               [4]float64
	area               float64
}

// ribbonForms computes them.
func (j *Jet) ribbonForms() ribbonForms {
	normal := j.Pu.Cross(j.Pv)
	w := max(normal.Len(), 1e-12)
	normal = normal.Mul(1 / w)
	e, f, g := j.Pu.Dot(j.Pu), j.Pu.Dot(j.Pv), j.Pv.Dot(j.Pv)
	l, m, n := j.Puu.Dot(normal), j.Puv.Dot(normal), j.Pvv.Dot(normal)
	u, v := normal.Cross(j.Pu), normal.Cross(j.Pv)
	return ribbonForms{
		speed: [3]float64{e, 2 * f, g},
		face:  [3]float64{l, 2 * m, n},
		twist: [3]float64{-(f*l - e*m) / w, -(g*l - e*n) / w, -(g*m - f*n) / w},
		side:  [4]float64{j.Puu.Dot(u), 2*j.Puv.Dot(u) + j.Puu.Dot(v), j.Pvv.Dot(u) + 2*j.Puv.Dot(v), j.Pvv.Dot(v)},
		area:  w,
	}
}

// addTimes adds a multiple of other forms.
func (f *ribbonForms) addTimes(x float64, o *ribbonForms) {
	for i := range f.speed {
		f.speed[i] += x * o.speed[i]
		f.face[i] += x * o.face[i]
		f.twist[i] += x * o.twist[i]
	}
	for i := range f.side {
		f.side[i] += x * o.side[i]
	}
	f.area += x * o.area
}

// sideways is κg·|c′|³.
func (f *ribbonForms) sideways(v1, v2 float64) float64 { return atPowers(f.side[:], v1) + f.area*v2 }

// atPowers is a polynomial at x.
func atPowers(c []float64, x float64) float64 {
	y := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		y = y*x + c[i]
	}
	return y
}

// slopeAt is its derivative, bendAt its second.
func slopeAt(c []float64, x float64) float64 {
	y := 0.0
	for i := len(c) - 1; i >= 1; i-- {
		y = y*x + float64(i)*c[i]
	}
	return y
}

func bendAt(c []float64, x float64) float64 {
	y := 0.0
	for i := len(c) - 1; i >= 2; i-- {
		y = y*x + float64(i*(i-1))*c[i]
	}
	return y
}

// density is twice the energy per unit of u, over the rigidity in edge-set: (B₁·κn² +
// C·τg²)·|c′| + B₂·κg²·|c′| = [B₁(κn|c′|²)² + C(τg|c′|²)²]·(|c′|²)^(−3/2) +
// B₂(κg|c′|³)²·(|c′|²)^(−5/2).
func (f *ribbonForms) density(r rigidity, v1, v2 float64) float64 {
	s := 1 / atPowers(f.speed[:], v1)
	k, t, a := atPowers(f.face[:], v1), atPowers(f.twist[:], v1), f.sideways(v1, v2)
	return (r.face*k*k + r.twist*t*t + r.edge*a*a*s) * s * math.Sqrt(s)
}

// grown is a value at a point of a course with its gradient with respect to v, v′ and
// v″, and its Hessian.
type grown struct {
	y  float64
	d  [3]float64
	dd [3][3]float64
}

// grownOf is a polynomial in v′ whose coefficients have the given first and second
// derivatives with respect to v.
func grownOf(c, cv, cvv []float64, v1 float64) grown {
	mixed := slopeAt(cv, v1)
	return grown{atPowers(c, v1), [3]float64{atPowers(cv, v1), slopeAt(c, v1), 0},
		[3][3]float64{{atPowers(cvv, v1), mixed, 0}, {mixed, bendAt(c, v1), 0}, {}}}
}

// times is the product of two.
func (a *grown) times(b *grown) (out grown) {
	out.y = a.y * b.y
	for i := range 3 {
		out.d[i] = a.y*b.d[i] + b.y*a.d[i]
		for k := i; k < 3; k++ {
			out.dd[i][k] = a.y*b.dd[i][k] + b.y*a.dd[i][k] + a.d[i]*b.d[k] + a.d[k]*b.d[i]
			out.dd[k][i] = out.dd[i][k]
		}
	}
	return out
}

// oddPower is a value raised to −n/2.
func (a *grown) oddPower(n int) (out grown) {
	over := 1 / a.y
	out.y = math.Sqrt(over)
	for range n / 2 {
		out.y *= over
	}
	p := -float64(n) / 2
	f1 := p * out.y * over
	f2 := (p - 1) * f1 * over
	for i := range 3 {
		out.d[i] = f1 * a.d[i]
		for k := i; k < 3; k++ {
			out.dd[i][k] = f1*a.dd[i][k] + f2*a.d[i]*a.d[k]
			out.dd[k][i] = out.dd[i][k]
		}
	}
	return out
}

// plusTimes adds x times another value.
func (a *grown) plusTimes(x float64, b *grown) {
	a.y += x * b.y
	for i := range 3 {
		a.d[i] += x * b.d[i]
		for k := range 3 {
			a.dd[i][k] += x * b.dd[i][k]
		}
	}
}
