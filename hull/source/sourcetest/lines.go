package sourcetest

import "math"

// Form is a hull whose half-breadth is known everywhere; mm.
type Form struct {
	From, To      float64 // its ends along the keel
	Breadth       func(x, z float64) float64
	Rabbet, Sheer func(x float64) float64 // heights
	Siding        float64                 // half-breadth of the rabbet
}

// WigleyForm is Wigley's hull, up to its waterline.
func WigleyForm() Form {
	return Form{From: -300, To: 300, Rabbet: func(float64) float64 { return 0 }, Sheer: func(float64) float64 { return 37.5 },
		Breadth: func(x, z float64) float64 {
			y, _ := Wigley(x, z/37.5)
			return y
		}}
}

// Pinnace is an invented hull: upright stem, rising sheer and rabbet, sections that
// are quarters of ellipses, and a transom.
func Pinnace() Form {
	f := Form{To: 240, Siding: 1.5,
		Rabbet: func(x float64) float64 { return 4 + 6*x*x/240/240 },
		Sheer:  func(x float64) float64 { return 40 + 10*(x-140)*(x-140)/140/140 }}
	f.Breadth = func(x, z float64) float64 {
		t := 1 - (z-f.Rabbet(x))/(f.Sheer(x)-f.Rabbet(x))
		return f.Siding + 34*math.Sin(0.8*math.Pi*x/240)*math.Sqrt(max(1-t*t, 0))
	}
	return f
}

// along is a curve over the part of the hull where is holds, through n points that are
// close together at its ends.
func (f Form) along(n int, is func(x float64) bool, at func(x float64) float64) [][2]float64 {
	const steps = 500
	from, to := math.NaN(), math.NaN()
	edge := func(in, out float64) float64 {
		for range 45 {
			if mid := (in + out) / 2; is(mid) {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	for k := range steps + 1 {
		x := f.From + (f.To-f.From)*float64(k)/steps
		before := x - (f.To-f.From)/steps
		switch in := is(x); {
		case in && math.IsNaN(from):
			if from = x; k > 0 {
				from = edge(x, before)
			}
			to = x
		case in:
			to = x
		case k > 0 && to == f.From+(f.To-f.From)*float64(k-1)/steps:
			to = edge(before, x)
		}
	}
	var out [][2]float64
	for k := range n {
		x := from + (to-from)*(1-math.Cos(math.Pi*float64(k)/float64(n-1)))/2
		out = append(out, [2]float64{x, at(x)})
	}
	return out
}

// Waterline is n points (x, half-breadth) at a height.
func (f Form) Waterline(z float64, n int) [][2]float64 {
	return f.along(n, func(x float64) bool { return z >= f.Rabbet(x) && z <= f.Sheer(x) }, func(x float64) float64 { return f.Breadth(x, z) })
}

// Buttock is n points (x, height) at a half-breadth.
func (f Form) Buttock(y float64, n int) [][2]float64 {
	return f.along(n, func(x float64) bool { return y <= f.Breadth(x, f.Sheer(x)) && y >= f.Siding }, func(x float64) float64 { return f.Height(x, y) })
}

// Height is the height of the section at a half-breadth.
func (f Form) Height(x, y float64) float64 {
	low, high := f.Rabbet(x), f.Sheer(x)
	for range 45 {
		if mid := (low + high) / 2; f.Breadth(x, mid) < y {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Limit is n points (x, value) along the whole hull.
func (f Form) Limit(n int, at func(x float64) float64) [][2]float64 {
	return f.along(n, func(float64) bool { return true }, at)
}
