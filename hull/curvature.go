package hull

import "math"

// Curvature is a signed curvature in 1/mm.
type Curvature float64

// PerMetre gives the curvature in 1/m, the unit in which edge-set is stated.
func (c Curvature) PerMetre() float64 { return float64(c) * 1000 }

// flattest is the least curvature whose radius is worth stating: on any model a
// bend of a kilometre is flat.
const flattest = 1e-6

// Radius gives the bend radius 1/|c| in mm; ok is false where it is flat, that
// is, for a radius of more than a kilometre.
func (c Curvature) Radius() (mm float64, ok bool) {
	a := math.Abs(float64(c))
	if !(a > flattest) {
		return 0, false
	}
	return 1 / a, true
}
