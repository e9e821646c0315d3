// Package nest lays flat pieces of wood on rectangular sheets, their length along the
// grain, so that the sheets cost as little as possible, and gives a lower bound, by
// area alone, on the cost of any other laying.
//
//	laid, err := nest.Lay(ctx, pieces, nil, []nest.Sheet{{Length: 900, Width: 100, Price: 4, Count: -1}}, nest.Rules{Clear: 0.5, Margin: 2})
//
// A piece is two edges over x and nothing more: the package knows nothing of ships or
// plans. [Lay] solves the two-dimensional irregular cutting stock problem, as far as
// that can be done in some hundred millions of steps: pieces are laid in many orders,
// each as low on its sheet as it will go, by the profiles of the pieces along x, and
// the orders are then varied. Since profiles are taken over whole cells of a fine grid,
// the clearance is never less than asked for, and in places a little more.
//
// No library is used: of the Go packers for rectangles, boxes and free shapes that were
// tried on the module proxy, none was served, and those for rectangles would not nest
// curved strakes.
package nest
