package rod

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Section is the strip's section and the wood's moduli along the grain.
type Section struct {
	Width, Thickness float64 // mm
	Modulus, Shear   float64 // N/mm²: Young's, and the shear modulus of twisting
}

// flatwise is the stiffness against bending about the face, N·mm²: E·w·t³/12.
func (s Section) flatwise() float64 {
	return s.Modulus * s.Width * s.Thickness * s.Thickness * s.Thickness / 12
}

// edgewise is the stiffness against bending in the strip's own plane, N·mm²: E·t·w³/12.
func (s Section) edgewise() float64 {
	return s.Modulus * s.Thickness * s.Width * s.Width * s.Width / 12
}

// twisting is the stiffness against twist, N·mm² a radian in each mm.
func (s Section) twisting() float64 { return s.Shear * Torsion(s.Width, s.Thickness) }

// Torsion is Saint-Venant's constant J of a rectangle a by b, mm⁴, whichever is the
// longer; with b the shorter
//
//	J = a·b³/3·(1 − 192/π⁵·b/a·Σ tanh(nπa/2b)/n⁵), n odd
//
// (Timoshenko and Goodier, Theory of Elasticity, article 109, the number from memory).
// The series is truncated where its terms are below 1e-9 of the sum.
func Torsion(a, b float64) float64 {
	a, b = max(a, b), min(a, b)
	sum := 0.0
	for n := 1.0; n < 60; n += 2 {
		sum += math.Tanh(n*math.Pi*a/(2*b)) / math.Pow(n, 5)
	}
	return a * b * b * b / 3 * (1 - 192/math.Pow(math.Pi, 5)*b/a*sum)
}

// check says what is wrong with a section.
func (s Section) check() error {
	for _, f := range []struct {
		name, unit string
		figure     float64
	}{{"width", " mm", s.Width}, {"thickness", " mm", s.Thickness}, {tongue.T("modulus of elasticity"), " N/mm²", s.Modulus}, {tongue.T("shear modulus"), " N/mm²", s.Shear}} {
		if !(f.figure > 0) || math.IsInf(f.figure, 0) {
			return tongue.Errorf("a strip with a %s of %g%s cannot be bent: give one above 0", f.name, f.figure, f.unit)
		}
	}
	return nil
}
