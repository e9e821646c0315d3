// Package hull holds what the builder has and decides: the frames, the limits
// of the planking, the stock, the bench record, and the plan file that holds them.
// Nothing in it is computed from them; that is the work of package loft.
//
// A hull comes from a file by way of package hull/source, or is made up, and a plan is
// made of it:
//
//	p := hull.NewPlan("Skiff", h) // one band, one layer, stock 5 x 2 mm
//
// The plan is changed by setting its fields, and saved whole or not at all:
//
//	q := p.Clone()                // an undo keeps p
//	q.Layers[0].Stock.Width = 4
//	err = hull.SaveFile("skiff.strakeplan", q)
//	q, err = hull.OpenFile("skiff.strakeplan")
//
// [CheckPlan] gives every fault of a plan file and not only the first; [Hull.Check]
// and [Plan.Check] those of what is in memory. A plan at fault is not written, so
// that every file written can be read.
//
// Lengths are in mm, angles in radians (type [Angle]), curvatures in 1/mm
// (type [Curvature]); in files angles are in degrees. x runs along the keel, y
// is the half-breadth and z the height.
package hull
