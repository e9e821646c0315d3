// Package hull holds what the builder has and decides: the frames, the limits
// of the planking, the stock and the plan, and the files they are read from.
// Nothing in it is computed from them; that is the work of package loft.
//
// A hull is read from a table of points, a shipyard's table of offsets, a drawing
// of its frames (SVG, DXF) or measured girths, whichever the file is by what
// stands in it, checked line by line, and a plan made of it:
//
//	h, err := hull.OpenSource("skiff.csv") // a hull.Fault: file, line, what, how to mend it
//	p := hull.NewPlan("Skiff", *h)         // one band, one layer, stock 5 x 2 mm
//
// The plan is changed by setting its fields, and saved whole or not at all:
//
//	q := p.Clone()                         // an undo keeps p
//	q.Layers[0].Stock.Width = 4
//	err = hull.SaveFile("skiff.strakeplan", q)
//	q, err = hull.OpenFile("skiff.strakeplan")
//
// [CheckPoints], [CheckPlan] and [CheckFile] give every fault of a file and not
// only the first; [Hull.Check] and [Plan.Check] those of what is in memory. A
// plan at fault is not written, so that every file written can be read.
//
// Lengths are in mm, angles in radians (type [Angle]), curvatures in 1/mm
// (type [Curvature]); in files angles are in degrees. x runs along the keel, y
// is the half-breadth and z the height.
package hull
