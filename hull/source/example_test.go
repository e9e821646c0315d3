package source_test

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// A hull is taken off a table of points, and a plan made from it.
func ExampleReadPoints() {
	table := `frame,x_mm,y_mm,z_mm
A,0,8,60
A,0,7,40
A,0,5,20
A,0,2,5
B,100,25,50
B,100,24,30
B,100,20,12
B,100,2,4
C,200,12,56
C,200,10,36
C,200,6,16
C,200,2,4
`
	h, err := source.ReadPoints(strings.NewReader(table), "skiff.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	p := hull.NewPlan("Skiff", *h)
	fmt.Println(p.Title, "has", len(p.Hull.Frames), "frames, from", h.Limits.Upper, "to", h.Limits.Lower)

	_, err = source.ReadPoints(strings.NewReader(strings.Replace(table, "24,30", "-24,30", 1)), "skiff.csv")
	fmt.Println(err)
	// Output:
	// Skiff has 3 frames, from sheer to rabbet
	// skiff.csv, line 7, frame B: the half-breadth y of point 2 is -24 mm, below zero; give the half-breadths of one side, 0 or more.
}

// For a hull of which only the frames are on the bench, the girths are enough.
func ExampleReadGirths() {
	table := `frame,x_mm,girth_mm
1,0,62.5
2,50,90
3,100,71
`
	h, err := source.ReadGirths(strings.NewReader(table), "punt.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range h.Girths {
		fmt.Printf("frame %s at %g: %g mm\n", g.Frame, g.X, g.Girth)
	}
	// Output:
	// frame 1 at 0: 62.5 mm
	// frame 2 at 50: 90 mm
	// frame 3 at 100: 71 mm
}
