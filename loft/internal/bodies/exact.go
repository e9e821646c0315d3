package bodies

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Exact is a hull whose half-breadth is known everywhere; mm, x from -180 to 180.
type Exact struct {
	Name        string
	Half        func(x, z float64) float64
	Top, Bottom func(x float64) float64 // heights of the limits
}

// Stations of the exact hulls: even ones, those as set by builders, closer towards the
// ends, and those as a kit of a hull may have them.
var (
	EvenStations   = Spaced(-180, 180, 13)
	UnevenStations = []float64{-180, -162, -144, -108, -72, -36, 0, 36, 72, 108, 144, 162, 180}
	WildStations   = []float64{-180, -175, -160, -120, -110, -40, 0, 10, 90, 160, 180}
	FiveStations   = Spaced(-180, 180, 5)
)

// Exacts are Wigley's hull, one with elliptic sections, a cone, and one that narrows to
// a transom, all of 360 mm.
func Exacts() []Exact {
	level := func(z float64) func(float64) float64 { return func(float64) float64 { return z } }
	root := func(v float64) float64 { return math.Sqrt(max(v, 0)) }
	along := func(x float64) float64 { return (x + 180) / 360 }
	return []Exact{
		{"wigley", func(x, z float64) float64 { return HalfBreadth(360, x, z) }, level(0), level(-22.5)},
		{"elliptic", func(x, z float64) float64 { return 40 * (1 - 0.5*x*x/180/180) * root(1-z*z/900) }, level(0), level(-29.5)},
		{"cone", func(x, z float64) float64 { return root((60+x/4)*(60+x/4) - z*z) }, level(0), func(x float64) float64 { return -0.999 * (60 + x/4) }},
		{"transom", func(x, z float64) float64 {
			s := along(x)
			return 45 * math.Sin(math.Pi*(0.05+0.75*s)) * math.Pow(max(0, 1-z*z/1600), 1-s/2)
		}, func(x float64) float64 { return 20 + x*x/3000 }, func(x float64) float64 { return -38 + 25*math.Pow(along(x), 3) }},
	}
}

// Frames are the frames at rising x, with the given number of points, closer towards
// the bottom.
func (e *Exact) Frames(xs []float64, points int) []hull.Frame {
	var out []hull.Frame
	for i, x := range xs {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		top, bottom := e.Top(x), e.Bottom(x)
		for k := range points {
			z := top + (bottom-top)*math.Sin(math.Pi/2*float64(k)/float64(points-1))
			f.Points = append(f.Points, mgl64.Vec3{x, e.Half(x, z), z})
		}
		out = append(out, f)
	}
	return out
}

// Off is the distance of a point from the hull, mm, to first order: the difference of
// half-breadth over the slope there. Outside the limits, and within 0.3 mm of the lower
// one, where a section may run square into the middle line, it is 0.
func (e *Exact) Off(p mgl64.Vec3) float64 {
	x, z := p.X(), p.Z()
	if z > e.Top(x) || z < e.Bottom(x)+0.3 {
		return 0
	}
	const h = 1e-4
	yx := (e.Half(x+h, z) - e.Half(x-h, z)) / (2 * h)
	yz := (e.Half(x, z+h) - e.Half(x, z-h)) / (2 * h)
	return math.Abs(p.Y()-e.Half(x, z)) / math.Sqrt(1+yx*yx+yz*yz)
}

// Chined is a hull of 360 mm with flared sides and a bottom that is straight except for
// the same flare, which meet in a chine. It runs along chineAt(x), and there the
// outline turns by the given number of degrees.
func Chined(degrees func(x float64) float64) Exact {
	const top, depth = 22.0, 44.0
	half := func(x, z float64) float64 {
		b, q := 40*(1-0.5*x*x/180/180), (top-z)/depth
		return b * (1 - 0.25*q*q)
	}
	return Exact{"chined", func(x, z float64) float64 {
		c := chineAt(x)
		flare := 40 * (1 - 0.5*x*x/180/180) * 0.5 * (top - c) / depth / depth
		below := math.Tan(math.Atan(flare)+degrees(x)*math.Pi/180) - flare
		return half(x, z) - below*max(0, c-z)
	}, func(float64) float64 { return top }, func(float64) float64 { return top - depth }}
}

// chineAt is the height of the chine of Chined, mm.
func chineAt(x float64) float64 { return -4 + 6*x*x/180/180 }

// ChinedFrames are frames of Chined, with the given number of points above the chine,
// as many below, and one on it.
func ChinedFrames(e *Exact, xs []float64, points int) []hull.Frame {
	var out []hull.Frame
	for i, x := range xs {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for _, part := range [][2]float64{{e.Top(x), chineAt(x)}, {chineAt(x), e.Bottom(x)}} {
			for k, z := range Spaced(part[0], part[1], points+1) {
				if k > 0 || len(f.Points) == 0 {
					f.Points = append(f.Points, mgl64.Vec3{x, e.Half(x, z), z})
				}
			}
		}
		out = append(out, f)
	}
	return out
}
