package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Jet is a point of a surface with its first and second partial derivatives:
// P in mm; u and v are the surface parameters.
type Jet struct {
	P, Pu, Pv, Puu, Puv, Pvv mgl64.Vec3
}

// Normal is the unit normal, outwards. Where the surface has no tangent plane
// it gives the direction athwartships.
func (j *Jet) Normal() mgl64.Vec3 {
	n := j.Pu.Cross(j.Pv)
	l := n.Len()
	if !(l > 1e-12) {
		return mgl64.Vec3{0, 1, 0}
	}
	return n.Mul(1 / l)
}

// square is the unit vector in the tangent plane square to the frame, towards rising x;
// down is the unit vector along the frame, downwards.
func (j *Jet) square() (square, down mgl64.Vec3) {
	down = j.Pv.Mul(1 / j.Pv.Len())
	return down.Cross(j.Normal()), down
}

// direction gives (du, dv) of the unit tangent at a heading from square.
func (j *Jet) direction(heading hull.Angle) (du, dv float64) {
	e, d := j.square()
	t := e.Mul(math.Cos(float64(heading))).Add(d.Mul(math.Sin(float64(heading))))
	return j.components(t)
}

// components gives (a, b) with a·Pu + b·Pv = t, for a tangent vector t.
func (j *Jet) components(t mgl64.Vec3) (a, b float64) {
	e, f, g := j.Pu.Dot(j.Pu), j.Pu.Dot(j.Pv), j.Pv.Dot(j.Pv)
	tu, tv := t.Dot(j.Pu), t.Dot(j.Pv)
	det := e*g - f*f
	return (tu*g - tv*f) / det, (tv*e - tu*f) / det
}

// heading is the angle of a tangent vector from square to the frame, positive
// downwards.
func (j *Jet) heading(t mgl64.Vec3) hull.Angle {
	e, d := j.square()
	return hull.Angle(math.Atan2(t.Dot(d), t.Dot(e)))
}

// geodesicAcceleration gives (u″, v″) of the geodesic through the point with velocity
// (du, dv): the acceleration a·Pu + b·Pv + Q has no component in the tangent plane,
// where Q = Puu·du² + 2·Puv·du·dv + Pvv·dv² (do Carmo, Differential Geometry of Curves
// and Surfaces, 4-4).
func (j *Jet) geodesicAcceleration(du, dv float64) (ddu, ddv float64) {
	a, b := j.components(j.bend(du, dv))
	return -a, -b
}

// bend is the second derivative along (du, dv) at constant velocity.
func (j *Jet) bend(du, dv float64) mgl64.Vec3 {
	a, b, c := du*du, 2*du*dv, dv*dv
	var q mgl64.Vec3
	for i := range q {
		q[i] = j.Puu[i]*a + j.Puv[i]*b + j.Pvv[i]*c
	}
	return q
}

// strains are the curvatures of a curve on a surface (Struik,
// Lectures on Classical Differential Geometry, 4-1, 2-7).
type strains struct {
	speed      float64 // mm per unit of the curve's parameter
	tangent    mgl64.Vec3
	edge, face hull.Curvature // geodesic and normal curvature
	twist      hull.Curvature // geodesic torsion, rad/mm
}

// strainsOf gives the strains of the curve with velocity (du, dv) and
// acceleration (ddu, ddv) in the parameter plane. With T the unit tangent, n
// the outward normal and U = n × T: edge = T′·U, face = T′·n, twist = −n′·U.
// The twist is from the fundamental forms, −[(FL−EM)du² + (GL−EN)du·dv +
// (GM−FN)dv²]/√(EG−F²) over the squared speed (Struik, 2-7, 4-1).
func (j *Jet) strainsOf(du, dv, ddu, ddv float64) strains {
	n := j.Pu.Cross(j.Pv)
	w := n.Len() // √(EG−F²)
	if !(w > 1e-12) {
		n, w = mgl64.Vec3{0, 1, 0}, 1e-12
	} else {
		n = n.Mul(1 / w)
	}
	var c1, c2 mgl64.Vec3
	aa, ab, bb := du*du, du*dv, dv*dv
	var e, f, g, l, m, k float64 // the first and second fundamental forms
	for i := range c1 {
		pu, pv := j.Pu[i], j.Pv[i]
		c1[i] = pu*du + pv*dv
		c2[i] = j.Puu[i]*aa + 2*j.Puv[i]*ab + j.Pvv[i]*bb
		e, f, g = e+pu*pu, f+pu*pv, g+pv*pv
		l, m, k = l+j.Puu[i]*n[i], m+j.Puv[i]*n[i], k+j.Pvv[i]*n[i]
	}
	s2 := c1.Dot(c1)
	speed := math.Sqrt(s2)
	side := n.Cross(c1)
	over := 1 / s2
	// (n × T)·(ddu·Pu + ddv·Pv) = √(EG−F²)·(du·ddv − dv·ddu)/speed.
	return strains{
		speed: speed, tangent: c1.Mul(1 / speed),
		edge:  hull.Curvature((c2.Dot(side) + w*(du*ddv-dv*ddu)) * over / speed),
		face:  hull.Curvature((l*aa + 2*m*ab + k*bb) * over),
		twist: hull.Curvature(-((f*l-e*m)*aa + (g*l-e*k)*ab + (g*m-f*k)*bb) * over / w),
	}
}

// strainsAlong is strainsOf for a curve v(u), of velocity (1, v1) and acceleration (0,
// v2), in a shorter form, since a planking needs thousands. With C = c′, a = Puu +
// v1·Puv, b = Puv + v1·Pvv, c″ less its part in Pv = a + v1·b and N = Pu × Pv, the
// formulas of strainsOf become
//
//	edge  = [(c″·Pv)(Pu·C) − (c″·Pu)(Pv·C) + |N|²·v2] / (|N|·|C|³),
//	face  = c″·N / (|N|·|C|²),
//	twist = −[(a·N)(Pv·C) − (b·N)(Pu·C)] / (|N|²·|C|²),
//
// the first since N × C = Pv(Pu·C) − Pu(Pv·C).
func (j *Jet) strainsAlong(v1, v2 float64) strains {
	n := j.Pu.Cross(j.Pv)
	w2 := n.Dot(n)
	if !(w2 > 1e-24) {
		return j.strainsOf(1, v1, 0, v2)
	}
	var c1 mgl64.Vec3
	var pun, pvn, cu, cv, s2, an, bn float64
	for i := range c1 {
		pu, pv := j.Pu[i], j.Pv[i]
		a, b := j.Puu[i]+v1*j.Puv[i], j.Puv[i]+v1*j.Pvv[i]
		c, d := pu+v1*pv, a+v1*b
		c1[i] = c
		s2 += c * c
		pun, pvn = pun+pu*c, pvn+pv*c
		cu, cv = cu+pu*d, cv+pv*d
		an, bn = an+a*n[i], bn+b*n[i]
	}
	w, speed := math.Sqrt(w2), math.Sqrt(s2)
	over := 1 / (w * s2)
	return strains{
		speed: speed, tangent: c1.Mul(1 / speed),
		edge:  hull.Curvature((cv*pun - cu*pvn + w2*v2) * over / speed),
		face:  hull.Curvature((an + v1*bn) * over),
		twist: hull.Curvature((bn*pun - an*pvn) * over / w),
	}
}

// faceless is the sine of the angle between the two parameter lines below which the
// curvatures of the surface are noise, as at a corner of 180 degrees: twice what
// endFace leaves.
const faceless = 2 * leastCorner

// hollowest is the greatest principal curvature towards the outside, 1/mm: positive
// where the surface is hollow. NaN where it has no tangent plane.
func (j *Jet) hollowest() float64 {
	if j.Pu.Cross(j.Pv).Len() < faceless*j.Pu.Len()*j.Pv.Len() {
		return math.NaN()
	}
	mean, gauss := j.meanAndGauss()
	return mean + math.Sqrt(max(mean*mean-gauss, 0))
}

// meanAndGauss gives the mean curvature, 1/mm, positive where the surface is
// hollow, and the Gaussian curvature, 1/mm²; NaN where there is no tangent plane
// (do Carmo, Differential Geometry of Curves and Surfaces, 3-3).
func (j *Jet) meanAndGauss() (mean, gauss float64) {
	n := j.Normal()
	e, f, g := j.Pu.Dot(j.Pu), j.Pu.Dot(j.Pv), j.Pv.Dot(j.Pv)
	l, m, k := j.Puu.Dot(n), j.Puv.Dot(n), j.Pvv.Dot(n)
	det := e*g - f*f
	return (e*k - 2*f*m + g*l) / (2 * det), (l*k - m*m) / det
}
