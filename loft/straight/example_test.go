package straight_test

import (
	"fmt"

	"github.com/strakewright/strakewright/loft/straight"
)

// A strip of 5 mm is to stay whole at its first two frames, and to narrow to 3.4 mm in
// a slight bow.
func Example() {
	var places []straight.Place
	for i, width := range []float64{5, 5, 4.63, 4.29, 3.88, 3.4} {
		places = append(places, straight.Place{At: 40 * float64(i), Width: width, Corner: true, Whole: i < 2})
	}
	cuts, err := straight.Cut(places, straight.Rule{Strip: 5, Within: 0.15, Step: 0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range cuts.Corners {
		fmt.Printf("%.1f at %g mm\n", c.Width, places[c.Place].At)
	}
	fmt.Printf("%d cut, nowhere more than %.2f mm off\n", cuts.Count, cuts.Strays)
	// Output:
	// 5.0 at 0 mm
	// 5.0 at 40 mm
	// 3.4 at 200 mm
	// 1 cut, nowhere more than 0.09 mm off
}
