package hull_test

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// punt is a square box of five frames, 100 mm apart, 40 mm wide and 30 deep.
func punt() hull.Hull {
	var h hull.Hull
	for i, name := range []string{"A", "B", "C", "D", "E"} {
		x := float64(100 * i)
		h.Frames = append(h.Frames, hull.Frame{
			Name:     name,
			Points:   []mgl64.Vec3{{x, 20, 30}, {x, 20, 15}, {x, 20, 0}, {x, 0, 0}}, // from the sheer down to the keel
			Knuckles: []int{2},                                                      // the chine stays sharp
		})
	}
	return h
}

// A plan is made from a hull and changed by its fields; a copy shares nothing with
// it.
func ExampleNewPlan() {
	p := hull.NewPlan("Punt", punt())
	q := p.Clone()
	q.Layers[0].Stock.Width = 4

	fmt.Println(p.Title, p.Layers[0].Stock.Width, q.Layers[0].Stock.Width)
	fmt.Println(len(p.Hull.Frames), "frames; the bow is", p.Hull.Bow)
	// Output:
	// Punt 5 4
	// 5 frames; the bow is first
}

// What is wrong with a hull is said in sentences: what, where, and how to mend it.
func ExampleHull_Check() {
	h := punt()
	h.Frames[2].Name = "B"
	for _, fault := range h.Check() {
		fmt.Println(fault)
	}
	// Output:
	// frame B: an earlier frame has this name; keep the points of a frame together, or rename the second frame.
}
