package drawing_test

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/hull/drawing"
)

// Three frames are taken off a body plan; the names of the lines say which frame
// each is and where it stands.
func ExampleCheck() {
	body := `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<path id="centre" d="M100 0V100"/>
<path id="A-x-0" d="M135 20A35 40 0 0 1 100 60"/>
<path id="B-x-60" d="M140 20A40 40 0 0 1 100 60"/>
<path id="C-x-120" d="M130 20A30 40 0 0 1 100 60"/>
</svg>`
	d, faults := drawing.Check(strings.NewReader(body), "body.svg", drawing.Options{Factor: 0.5})
	for _, f := range faults {
		fmt.Println(f)
	}
	for _, o := range d.Outlines {
		fmt.Println(o.Title())
	}
	for _, f := range d.Hull.Frames {
		fmt.Printf("%s stands at %g, %.1f mm wide on each side\n", f.Name, f.X(), f.Points[0].Y())
	}
	// Output:
	// frame A
	// frame B
	// frame C
	// centre
	// A stands at 0, 17.5 mm wide on each side
	// B stands at 60, 20.0 mm wide on each side
	// C stands at 120, 15.0 mm wide on each side
}
