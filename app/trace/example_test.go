package trace_test

import (
	"fmt"

	"github.com/strakewright/strakewright/app/trace"
)

// Two points at a known distance give the scale and the level of a scan: 400
// pixels are 100 mm here, and y points upwards.
func ExampleByTwo() {
	c, err := trace.ByTwo(trace.Pt(100, 500), trace.Pt(500, 500), 100, trace.Level)
	if err != nil {
		fmt.Println(err)
		return
	}
	at, ok := c.ToMM.Apply(trace.Pt(300, 300))
	fmt.Printf("%.2f mm right, %.2f mm up, %v\n", at.X, at.Y, ok)
	// Output:
	// 50.00 mm right, 50.00 mm up, true
}
