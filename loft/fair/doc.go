// Package fair finds the points of a hull that do not lie in the smooth run of the
// others, and offers a fair hull close to the one given.
//
//	misfits, err := fair.Misfits(ctx, plan.Hull.Frames)
//	...
//	faired, err := fair.Fair(ctx, plan.Hull.Frames, 0.3) // no point moves by more than 0.3 mm
//
// Both judge by a smoothing spline through the points of all frames: see [Misfit] and
// [Faired] for their results. Lengths are in mm.
package fair
