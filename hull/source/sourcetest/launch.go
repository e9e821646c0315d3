package sourcetest

import "math"

// Section is one frame of a hull of known shape: a quarter of an ellipse, from the
// sheer at its half-breadth down to the keel on the centre line; mm.
type Section struct {
	Name  string
	X     float64
	Half  float64
	Sheer float64 // height above the keel
}

// Launch is an invented hull of five frames, unevenly spaced.
func Launch() []Section {
	return []Section{{"A", 0, 24, 50}, {"B", 40, 36, 46}, {"C", 100, 42, 44}, {"D", 150, 38, 45}, {"E", 190, 30, 47}}
}

// at is the point at an angle, rad: 0 at the sheer, π/2 at the keel.
func (s Section) at(angle float64) [2]float64 {
	sin, cos := math.Sincos(angle)
	if angle == math.Pi/2 {
		cos = 0
	}
	return [2]float64{s.Half * cos, s.Sheer * (1 - sin)}
}

// Points are n points (half-breadth, height) from the sheer to the keel.
func (s Section) Points(n int) [][2]float64 {
	out := make([][2]float64, n)
	for i := range out {
		out[i] = s.at(math.Pi / 2 * float64(i) / float64(n-1))
	}
	return out
}

// Breadth is the half-breadth at a height.
func (s Section) Breadth(z float64) float64 {
	w := 1 - z/s.Sheer
	return s.Half * math.Sqrt(max(1-w*w, 0))
}

// Girth is the length of the section, mm, by Simpson's rule to 1e-9 of it.
func (s Section) Girth() float64 {
	const n = 400
	speed := func(i int) float64 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		return math.Hypot(s.Half*sin, s.Sheer*cos)
	}
	sum := speed(0) + speed(n)
	for i := 1; i < n; i++ {
		sum += speed(i) * float64(2+2*(i%2))
	}
	return sum * math.Pi / 2 / n / 3
}
