package answer_test

import (
	"fmt"
	"os"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// An answer is made from a planking, and is the same for a reader and a program.
func Example() {
	var h hull.Hull
	for i, name := range []string{"A", "B", "C"} { // a flat side, 30 mm deep
		x := float64(100 * i)
		h.Frames = append(h.Frames, hull.Frame{Name: name, Points: []mgl64.Vec3{{x, 20, 30}, {x, 20, 15}, {x, 20, 0}}})
	}
	k, err := loft.Plank(hull.NewPlan("Flat side", h))
	if err != nil {
		fmt.Println(err)
		return
	}
	a := answer.GirthsOf(k)
	if err := a.Text(os.Stdout); err != nil {
		fmt.Println(err)
	}
	a.Frames = a.Frames[:1]
	if err := answer.WriteJSON(os.Stdout, a); err != nil {
		fmt.Println(err)
	}
	// Output:
	// frame       x  girth  band 1
	//   A        0.00  30.00   30.00
	//   B      100.00  30.00   30.00
	//   C      200.00  30.00   30.00
	// Lengths in mm; girth runs from the upper limit down.
	// {
	//   "frames": [
	//     {
	//       "frame": "A",
	//       "x": 0,
	//       "girth": 30,
	//       "bands": [
	//         30
	//       ]
	//     }
	//   ]
	// }
}
