// Package cutstock cuts pieces from strips so that the strips cost as little as
// possible, and proves how much less any other cutting might cost.
//
//	cut, err := cutstock.Cut(ctx, []float64{640, 410, 410}, nil, []cutstock.Strip{{Length: 1000, Price: 0.9, Count: -1}}, 0.5)
//
// Pieces and strips are lengths in mm and nothing more: the package knows nothing of
// ships or plans and imports no other package of the program. [Cut] solves the
// one-dimensional cutting stock problem with several lengths of strip; [StripsFor] only
// counts strips, in n·log n, for use at every step of a search.
package cutstock
