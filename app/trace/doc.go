// Package trace takes the frames of a hull off a picture: a scan of a drawing or a
// photo, including one of frames already cut. It shows nothing and reads only the
// files it is told to.
//
//	p, err := trace.Open(ctx, "body plan.png", 1)
//	t := trace.New()
//	t.AddPicture(p)
//	c, err := trace.ByTwo(left, right, 100, trace.Level) // two points 100 mm apart
//	t.Calibrate(c)
//	t.SetCentre(keel)
//	t.SetBase(keel)
//	t.AddFrame("A", -120)
//	t.Click(at, false) // from the upper limit down to the rabbet
//	what, ok := t.Undo()
//	h, faults := t.Hull()
//
// A place in a picture is a Point in pixels, x to the right and y down, with the
// middle of the upper left pixel at (0.5, 0.5). A place on the paper, or in the
// plane of the frame, is in mm at model size, y up.
package trace
