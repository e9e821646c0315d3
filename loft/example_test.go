package loft_test

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// A barge of five frames is planked with strips of 5 × 1 mm. How wide is each strake
// amidships, and how long is it?
func Example() {
	var barge hull.Hull
	for i, half := range []float64{30, 38, 40, 38, 30} { // mm at the sheer
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 6 {
			down := float64(j) / 5
			f.Points = append(f.Points, mgl64.Vec3{60 * float64(i), half * (1 - 0.3*down*down), 20 * (1 - down)})
		}
		barge.Frames = append(barge.Frames, f)
	}
	plan := hull.NewPlan("Barge", barge)
	plan.Layers[0].Stock = hull.Stock{Width: 5, Thickness: 1, Length: 1000}

	planking, err := loft.Plank(plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	layer := planking.Layers[0]
	amidships := layer.Greatest()
	fmt.Printf("girth %.1f mm at frame %s\n", layer.Girths[amidships], layer.Surface.FrameName(amidships))
	for _, strake := range layer.Strakes {
		c := strake.At[amidships]
		fmt.Printf("strake %s: %.2f mm wide, %.0f mm long\n", strake.ID, c.WidthCut, strake.Length)
	}
	// Output:
	// girth 24.1 mm at frame C
	// strake 1.01: 4.72 mm wide, 241 mm long
	// strake 1.02: 4.77 mm wide, 241 mm long
	// strake 1.03: 4.83 mm wide, 241 mm long
	// strake 1.04: 4.88 mm wide, 241 mm long
	// strake 1.05: 4.22 mm wide, 241 mm long
}

// The garboard of a hull with a V bottom of 20 degrees deadrise is bevelled by 20
// degrees along the keel, stands at 70 degrees to the centre plane, and needs no bevel
// under the wale.
func ExampleLayer_HoodEnds() {
	var h hull.Hull
	for i := range 4 {
		f := hull.Frame{Name: string(rune('A' + i))}
		for _, y := range []float64{40, 30, 20, 10, 0} {
			f.Points = append(f.Points, mgl64.Vec3{60 * float64(i), y, y * math.Tan(math.Pi/9)})
		}
		h.Frames = append(h.Frames, f)
	}
	k, err := loft.Plank(hull.NewPlan("V bottom", h))
	if err != nil {
		fmt.Println(err)
		return
	}
	l := k.Layers[0]
	end := l.HoodEnds()[0]
	fmt.Printf("rabbet %.0f, wale %.0f, strake %s stands at %.0f degrees to the centre plane\n",
		l.Strakes[len(l.Strakes)-1].At[1].BevelLower.Degrees(), math.Abs(l.Strakes[0].At[1].BevelUpper.Degrees()), end.Strake, end.ToCentre.Degrees())
	// Output: rabbet 20, wale 0, strake 1.01 stands at 70 degrees to the centre plane
}
