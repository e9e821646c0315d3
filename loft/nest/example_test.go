package nest_test

import (
	"context"
	"fmt"

	"github.com/strakewright/strakewright/loft/nest"
)

// Six strakes that taper from 12 to 4 mm in 280 mm are laid, head to tail, on sheets
// of 300 × 60 mm.
func Example() {
	strake := nest.Piece{
		Upper:    []nest.Point{{X: 0, Y: 12}, {X: 280, Y: 8}},
		Lower:    []nest.Point{{X: 0, Y: 0}, {X: 280, Y: 4}},
		TurnOver: true,
	}
	pieces := []nest.Piece{strake, strake, strake, strake, strake, strake}
	shop := []nest.Sheet{{Length: 300, Width: 60, Price: 2.40, Count: -1}} // as many as are wanted
	laid, err := nest.Lay(context.Background(), pieces, nil, shop, nest.Rules{Clear: 0.5, Margin: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range laid.Sheets {
		fmt.Printf("%d pieces on %g × %g mm, %.0f %% wasted\n", len(s.Pieces), s.Length, s.Width, 100*s.Waste/(s.Length*s.Width))
	}
	fmt.Printf("%.2f in all, by the area at least %.2f\n", laid.Cost, laid.Bound)
	// Output:
	// 6 pieces on 300 × 60 mm, 25 % wasted
	// 2.40 in all, by the area at least 2.40
}
