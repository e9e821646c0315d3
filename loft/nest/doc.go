// Package nest lays flat pieces of wood on rectangular sheets, their length along
// the grain, so that the sheets cost as little as possible, and tells what any
// other laying must cost at the least by the area alone.
//
//	laid, err := nest.Lay(ctx, pieces, nil, []nest.Sheet{{Length: 900, Width: 100, Price: 4, Count: -1}}, nest.Rules{Clear: 0.5, Margin: 2})
//
// A piece is two edges over x and nothing more: the package knows of no ship, no
// plan and no other package of the program. [Lay] solves the two-dimensional
// irregular cutting stock problem, as far as that can be done in some hundred
// millions of steps: pieces are laid in many orders, each as low on its sheet as it
// goes, by the profiles of the pieces along x, and the orders are then varied. As
// profiles are taken over whole cells of a fine grid, the clearance is kept exactly,
// and is at places a little more.
//
// No library is used: of the packers in Go that were asked for on the module proxy,
// for rectangles, boxes and free shapes, none was served, and those for rectangles
// would not lay curved strakes in one another.
package nest
