package loft

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"strakewright/hull"
)

// revolved gives half a body of revolution about the x axis: frames of n
// points from the top (y = 0) round to the bottom.
func revolved(xs []float64, n int, radius func(x float64) float64) []hull.Frame {
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

func spaced(from, to float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n-1)
	}
	return out
}
