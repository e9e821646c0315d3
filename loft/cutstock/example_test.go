package cutstock_test

import (
	"context"
	"fmt"

	"github.com/strakewright/strakewright/loft/cutstock"
)

// Three pieces of 640 mm and four of 310 mm are cut from strips of a metre at 0.90
// each and of half a metre at 0.50, half a millimetre lost to the saw at each cut.
func Example() {
	pieces := []float64{640, 310, 640, 310, 640, 310, 310}
	shop := []cutstock.Strip{
		{Length: 1000, Price: 0.90, Count: -1}, // unlimited
		{Length: 500, Price: 0.50, Count: -1},
	}
	cut, err := cutstock.Cut(context.Background(), pieces, nil, shop, 0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range cut.Strips {
		fmt.Printf("from %g mm:", s.Length)
		for _, p := range s.Pieces {
			fmt.Printf(" %g", pieces[p])
		}
		fmt.Printf(", %g left\n", s.Left)
	}
	fmt.Printf("%.2f in all, and proven least: %t\n", cut.Cost, cut.Optimal())
	// Output:
	// from 1000 mm: 640 310, 49.5 left
	// from 1000 mm: 640 310, 49.5 left
	// from 1000 mm: 640 310, 49.5 left
	// from 500 mm: 310, 190 left
	// 3.20 in all, and proven least: true
}
