package bodies

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Apple is a hull with an apple bow, full to the stem and rounded to the keel, and
// parallel aft of that: seen from above a quarter of a superellipse of the power Plan,
// its section one of the power Section. The stem stands at x = 0, the sheer is level
// and the keel lies at z = 0; mm.
type Apple struct {
	Bow, HalfBreadth, Depth float64
	Plan, Section           float64
}

// Apples are bows with the fineness of an ellipse and of fuller curves.
func Apples() []Apple {
	return []Apple{{95, 75, 80, 2, 2}, {95, 75, 80, 2.5, 2.5}, {60, 75, 80, 2.5, 2.5}, {70, 80, 85, 3, 2.5}}
}

// level is 1 on the hull, and grows outwards in proportion within the bow.
func (a *Apple) level(p mgl64.Vec3) float64 {
	s := math.Pow(math.Pow(math.Abs(p.Y())/a.HalfBreadth, a.Section)+math.Pow(math.Abs(a.Depth-p.Z())/a.Depth, a.Section), 1/a.Section)
	if p.X() >= a.Bow {
		return s
	}
	return math.Pow(math.Pow((a.Bow-p.X())/a.Bow, a.Plan)+math.Pow(s, a.Plan), 1/a.Plan)
}

// slope is the gradient of level.
func (a *Apple) slope(p mgl64.Vec3) (g mgl64.Vec3) {
	const h = 1e-4
	for i := range g {
		up, down := p, p
		up[i], down[i] = up[i]+h, down[i]-h
		g[i] = (a.level(up) - a.level(down)) / (2 * h)
	}
	return g
}

// Normal is the unit normal at a point, outwards.
func (a *Apple) Normal(p mgl64.Vec3) mgl64.Vec3 { return a.slope(p).Normalize() }

// Off is the distance of a point outside the hull, mm, to first order.
func (a *Apple) Off(p mgl64.Vec3) float64 { return (a.level(p) - 1) / a.slope(p).Len() }

// Frame is the section by an upright plane, with n points from the sheer to the keel or
// the stem, at even angles about the sheer's height amidships.
func (a *Apple) Frame(name string, plane hull.Plane, n int) hull.Frame {
	f := hull.Frame{Name: name}
	for _, angle := range Spaced(0, math.Pi/2, n) {
		y, z := math.Cos(angle), math.Sin(angle)
		if angle == math.Pi/2 {
			y = 0
		}
		at := func(r float64) mgl64.Vec3 { return mgl64.Vec3{plane.At(r*y, 0), r * y, a.Depth - r*z} }
		in, out := 0.0, 4*(a.HalfBreadth+a.Depth)
		for out-in > 1e-12*out {
			if r := (in + out) / 2; a.level(at(r)) < 1 {
				in = r
			} else {
				out = r
			}
		}
		f.Points = append(f.Points, at(in))
	}
	return f
}

// Stem is the profile of the stem from the sheer down to where it reaches x.
func (a *Apple) Stem(x float64, n int) hull.Frame {
	f := hull.Frame{Name: "stem"}
	down := math.Pow(1-math.Pow(1-x/a.Bow, a.Plan), 1/a.Plan)
	for _, d := range Spaced(0, down, n) {
		f.Points = append(f.Points, mgl64.Vec3{a.Bow * (1 - math.Pow(1-math.Pow(d, a.Plan), 1/a.Plan)), 0, a.Depth * (1 - d)})
	}
	return f
}
