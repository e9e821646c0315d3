// Package hull holds what the builder has and decides: the frames, the limits of the
// planking, the stock, the bench record, and the plan file that holds them. Nothing in
// it is computed from them; that is the work of package loft.
//
// A hull is read from a file by package hull/source, or built in memory, and a plan is
// made from it:
//
//	p := hull.NewPlan("Skiff", h) // one band, one layer, stock 5 x 2 mm
//
// The plan is changed by setting its fields, and is saved whole or not at all:
//
//	q := p.Clone()                // an undo keeps p
//	q.Layers[0].Stock.Width = 4
//	err = hull.SaveFile("skiff.strakeplan", q)
//	q, err = hull.OpenFile("skiff.strakeplan")
//
// [CheckPlan] gives every fault of a plan file, not only the first; [Hull.Check] and
// [Plan.Check] give those of a hull and a plan in memory. A plan with a fault is not
// written, so that every file written can be read again.
//
// Lengths are in mm, angles in radians (type [Angle]), curvatures in 1/mm (type
// [Curvature]); in files angles are in degrees. x runs along the keel, y is the
// half-breadth and z the height.
package hull
