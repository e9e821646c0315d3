package rod_test

import (
	"context"
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft/rod"
)

// A strip is sprung over a block that stands 6 mm proud between two others 200 mm
// apart, and is held down at those two.
func ExampleSolve() {
	level := func(x, y float64) rod.Outline {
		return func(along float64) rod.Place {
			return rod.Place{P: mgl64.Vec3{x, y, along}, Tangent: mgl64.Vec3{0, 0, 1}, Normal: mgl64.Vec3{0, 1, 0}}
		}
	}
	rest, err := rod.Solve(context.Background(), rod.Problem{
		Section: rod.Section{Width: 5, Thickness: 1.5, Modulus: 10000, Shear: 700},
		Supports: []rod.Support{
			{Outline: level(0, 0), Hold: rod.Clamped},
			{Outline: level(60, 0)},
			{Outline: level(100, 6)},
			{Outline: level(200, 0), Hold: rod.Clamped},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, at := range rest.At {
		fmt.Printf("%.1f mm off, %.2f N\n", at.Off, at.Force)
	}
	// Output:
	// 0.0 mm off, -0.25 N
	// 4.8 mm off, 0.00 N
	// 0.0 mm off, 0.50 N
	// 0.0 mm off, -0.25 N
}
