package fair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// exactHull is a hull whose shape is known exactly, of half-length 1, and of half-beam
// b and depth d relative to that.
type exactHull struct {
	name string
	// at is the y and z of a section at ξ, from -1 to 1, and a share s from 0 at
	// the upper limit to 1 at the keel, for half-beam and depth 1.
	at       func(xi, s float64) (y, z float64)
	knuckles []float64 // shares, rising
	b, d     float64
}

// exactHulls are hulls of published formulas and of our own.
var exactHulls = []exactHull{
	// Wigley, Trans. INA 76, 1934.
	{name: "wigley", b: 0.1, d: 0.125, at: func(xi, s float64) (float64, float64) { return (1 - xi*xi) * (1 - s*s), -s }},
	// Journée, Experiments and Calculations on 4 Wigley Hull Forms in Head Waves,
	// Delft University of Technology, report 909, 1992: hulls I and II.
	{name: "journee", b: 0.1, d: 0.125, at: func(xi, s float64) (float64, float64) {
		q := 1 - xi*xi
		return (1-s*s)*q*(1+0.2*xi*xi) + s*s*(1-math.Pow(s, 8))*math.Pow(q, 4), -s
	}},
	// A prolate spheroid, cut off at both ends: a cask with full ends.
	{name: "spheroid", b: 0.18, d: 0.18, at: func(xi, s float64) (float64, float64) {
		r := math.Sqrt(1 - 0.85*xi*xi)
		return r * math.Cos(s*math.Pi/2), -r * math.Sin(s*math.Pi/2)
	}},
	// Superelliptic sections with a tuck to a raised transom.
	{name: "transom", b: 0.2, d: 0.16, at: func(xi, s float64) (float64, float64) {
		beam := 1 - 0.16*(xi-0.25)*(xi-0.25) - 0.5*math.Pow((1-xi)/2, 3)
		deep := 1 - 0.35*math.Pow((1+xi)/2, 2) - 0.2*math.Pow((1-xi)/2, 4)
		t := s * math.Pi / 2
		c, n := math.Pow(math.Cos(t), 2.5)+math.Pow(math.Sin(t), 2.5), 1/2.5
		return beam * math.Cos(t) / math.Pow(c, n), 0.3*xi*xi - deep*math.Sin(t)/math.Pow(c, n)
	}},
	// A hull of straight panels above and below a chine.
	{name: "chine", b: 0.2, d: 0.15, knuckles: []float64{0.5}, at: func(xi, s float64) (float64, float64) {
		sheer := mgl64.Vec2{1 - 0.6*math.Pow(xi, 2), 0.25*xi*xi + 0.1*xi}
		chine := mgl64.Vec2{0.8 * (1 - 0.75*xi*xi), -0.7 + 0.3*xi*xi}
		keel := mgl64.Vec2{0.02, -1 + 0.2*xi*xi*xi*xi}
		p := sheer.Mul(1 - 2*s).Add(chine.Mul(2 * s))
		if s > 0.5 {
			p = chine.Mul(2 - 2*s).Add(keel.Mul(2*s - 1))
		}
		return p[0], p[1]
	}},
	// Full waterlines, of the fourth degree, over a flat floor.
	{name: "full", b: 0.14, d: 0.14, at: func(xi, s float64) (float64, float64) {
		return (1 - math.Pow(xi, 4)) * (1 - math.Pow(s, 4)), -s
	}},
	// A parallel middle body of three tenths, and ends of the third degree from
	// its shoulders.
	{name: "shoulder", b: 0.12, d: 0.12, at: func(xi, s float64) (float64, float64) {
		q, z := max(math.Abs(xi)-0.3, 0)/0.7, math.Sin(s*math.Pi/2)
		return (1 - 0.7*q*q*q) * math.Sqrt(max(1-z*z*z, 0)), -z
	}},
}

// spacings are where the frames stand, between -1 and 1.
var spacings = []struct {
	name string
	at   func(*rand.Rand) []float64
}{
	{"even", func(*rand.Rand) []float64 {
		var xi []float64
		for i := range 21 {
			xi = append(xi, -1+float64(i)/10)
		}
		return xi
	}},
	// Ten stations, with half spacing at the ends.
	{"halved", func(*rand.Rand) []float64 {
		return []float64{-1, -0.9, -0.8, -0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6, 0.8, 0.9, 1}
	}},
	// Spaced as by a builder: no two bays alike, one up to three times another.
	{"uneven", func(r *rand.Rand) []float64 {
		xi := []float64{0}
		for range 20 {
			xi = append(xi, xi[len(xi)-1]+1+2*r.Float64())
		}
		last := xi[len(xi)-1]
		for i := range xi {
			xi[i] = 2*xi[i]/last - 1
		}
		return xi
	}},
}

// frames are sections at those places of the hull, for a half-length in mm, with points
// at m even shares, and the outward normals in their planes. Proportions are within a
// tenth of the hull's.
func (e exactHull) frames(r *rand.Rand, half float64, xis []float64, m int) (out []hull.Frame, normals [][]mgl64.Vec2) {
	b, d := half*e.b*(0.9+0.2*r.Float64()), half*e.d*(0.9+0.2*r.Float64())
	at := func(xi, s float64) mgl64.Vec2 {
		y, z := e.at(xi, s)
		return mgl64.Vec2{b * y, d * z}
	}
	for i, xi := range xis {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		var n []mgl64.Vec2
		for j := range m {
			s := float64(j) / float64(m-1)
			p := at(xi, s)
			f.Points = append(f.Points, mgl64.Vec3{half * xi, p[0], p[1]})
			if slices.ContainsFunc(e.knuckles, func(k float64) bool { return math.Abs(k-s) < 1e-9 }) {
				f.Knuckles = append(f.Knuckles, j)
			}
			t := at(xi, min(s+1e-4, 1)).Sub(at(xi, max(s-1e-4, 0))).Normalize()
			n = append(n, mgl64.Vec2{-t[1], t[0]})
		}
		out = append(out, f)
		normals = append(normals, n)
	}
	return out, normals
}
