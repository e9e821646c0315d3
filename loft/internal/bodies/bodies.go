// Package bodies holds test hulls whose shape is known exactly: bodies of revolution,
// Wigley's hull, troughs and barges.
package bodies

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Revolved gives half a body of revolution about the x axis: frames of n
// points from the top (y = 0) round to the bottom.
func Revolved(xs []float64, n int, radius func(x float64) float64) []hull.Frame {
	var out []hull.Frame
	for i, x := range xs {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for k := range n {
			a := math.Pi * float64(k) / float64(n-1)
			y := radius(x) * math.Sin(a)
			if k == 0 || k == n-1 {
				y = 0
			}
			f.Points = append(f.Points, mgl64.Vec3{x, y, radius(x) * math.Cos(a)})
		}
		out = append(out, f)
	}
	return out
}

// Spaced gives n values at equal distances from one to another.
func Spaced(from, to float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n-1)
	}
	return out
}

// Wigley gives frames of Wigley's hull (C. Wigley, Trans. INA 76, 1934) of the given
// length in the classic proportions, n frames of m points.
func Wigley(length float64, n, m int) []hull.Frame {
	d := length / 16
	var out []hull.Frame
	for i, x := range Spaced(-length/2, length/2, n) {
		f := hull.Frame{Name: fmt.Sprintf("W%d", i)}
		for _, z := range Spaced(0, -d, m) {
			f.Points = append(f.Points, mgl64.Vec3{x, HalfBreadth(length, x, z), z})
		}
		out = append(out, f)
	}
	return out
}

// HalfBreadth is the half-breadth of Wigley's hull.
func HalfBreadth(length, x, z float64) float64 {
	b, d := length/10, length/16
	return b / 2 * (1 - 4*x*x/length/length) * (1 - z*z/d/d)
}

// Boxy gives frames with an upright side and a flat bottom, the chine higher
// from frame to frame.
func Boxy(n int) []hull.Frame {
	var out []hull.Frame
	for i, x := range Spaced(0, 200, n) {
		chine := 10 + float64(i)
		out = append(out, hull.Frame{Name: string(rune('A' + i)), Knuckles: []int{2}, Points: []mgl64.Vec3{
			{x, 40, 50}, {x, 40, 30}, {x, 40, chine}, {x, 20, chine}, {x, 2, chine},
		}})
	}
	return out
}

// Trough gives a hull of constant section: n frames of the given outline in (y, z),
// spaced by dx.
func Trough(n int, dx float64, outline func(x float64) [][2]float64) []hull.Frame {
	var out []hull.Frame
	for i := range n {
		f := hull.Frame{Name: string(rune('A' + i))}
		for _, p := range outline(float64(i) * dx) {
			f.Points = append(f.Points, mgl64.Vec3{float64(i) * dx, p[0], p[1]})
		}
		out = append(out, f)
	}
	return out
}

// Flat is an upright side of the given height.
func Flat(height float64) [][2]float64 {
	var out [][2]float64
	for _, z := range Spaced(height, 0, 5) {
		out = append(out, [2]float64{30, z})
	}
	return out
}

// Arc is an outline of the given girth that turns by theta from upright.
func Arc(girth, theta float64) [][2]float64 {
	r := girth / theta
	var out [][2]float64
	for _, a := range Spaced(0, theta, 25) {
		out = append(out, [2]float64{r * math.Cos(a), -r * math.Sin(a)})
	}
	return out
}

// FiveByTwo is planking stock of 5 x 2 mm.
var FiveByTwo = hull.Stock{Width: 5, Thickness: 2, Length: 1000}

// LongBarge is a hull of many frames with many strakes on it, in many layers: its sides
// widen slightly towards the middle.
func LongBarge(frames, layers int, width float64) *hull.Plan {
	var h hull.Hull
	for i := range frames {
		x := float64(i) / float64(frames-1)
		f := hull.Frame{Name: "F" + string(rune('0'+i%10)) + string(rune('a'+i/10))}
		for j := range 6 {
			f.Points = append(f.Points, mgl64.Vec3{1000 * x, 200 + 40*x*(1-x), 100 - 20*float64(j)})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("Long barge", h)
	p.Layers[0].Stock.Width, p.Layers[0].Stock.Length = width, 400
	p.Layers[0].Stock.Thickness = 0.5
	for len(p.Layers) < layers {
		l := p.Layers[0]
		l.Bands = append([]hull.Band{}, l.Bands...)
		p.Layers = append(p.Layers, l)
	}
	return p
}

// ConeHull is half a cone, r = 20 + x/4, with eight frames.
func ConeHull() hull.Hull {
	return hull.Hull{Frames: Revolved(Spaced(0, 280, 8), 31, func(x float64) float64 { return 20 + x/4 })}
}

// Tucked is an invented bluff hull of seven frames with a deadwood of 3 mm moulded
// breadth: a straight side, a round bilge of 12 mm, a bottom rising at 20 degrees, and
// a hollow where it turns into the deadwood, tightest at the stem: hollow gives its
// radius, mm, over the x of a frame.
func Tucked(hollow func(x float64) float64) []hull.Frame {
	half := []float64{16, 26, 33, 36, 36, 31, 22}
	var out []hull.Frame
	for i, b := range half {
		x := 35 * float64(i)
		out = append(out, hull.Frame{Name: string(rune('A' + i)), Points: tuckedSection(x, b, hollow(x))})
	}
	return out
}

// tuckedSection goes from the sheer down.
func tuckedSection(x, half, r float64) []mgl64.Vec3 {
	const top, bilge, rise, deadwood = 60, 12, 20 * math.Pi / 180, 1.5
	var out []mgl64.Vec3
	add := func(y, z float64) { out = append(out, mgl64.Vec3{x, y, z}) }
	for k := range 6 {
		add(half, top-float64(k)*5) // to 35 mm
	}
	for k := 1; k <= 10; k++ {
		a := (math.Pi/2 - rise) * float64(k) / 10
		add(half-bilge*(1-math.Cos(a)), 35-bilge*math.Sin(a))
	}
	y0, z0 := out[len(out)-1].Y(), out[len(out)-1].Z()
	// The hollow touches the deadwood and the bottom: it turns by 90 degrees less
	// the rise, and begins r·(1 − sin rise) outside the deadwood.
	y1 := deadwood + r*(1-math.Sin(rise))
	z1 := z0 - (y0-y1)*math.Tan(rise)
	for k := 1; k <= 5; k++ {
		f := float64(k) / 5
		add(y0+(y1-y0)*f, z0+(z1-z0)*f)
	}
	cy, cz := deadwood+r, z1-r*math.Cos(rise)
	for k := 1; k <= 10; k++ {
		a := math.Pi/2 + rise + (math.Pi/2-rise)*float64(k)/10
		add(cy+r*math.Cos(a), cz+r*math.Sin(a))
	}
	for k := 1; k <= 3; k++ {
		add(deadwood, cz-2*float64(k))
	}
	return out
}
