// Package drawing takes a hull off a drawing of its frames, or of its waterlines and buttocks, SVG or DXF: it finds the
// outlines in the drawing, and makes the hull of those that are frames.
//
//	d, faults := drawing.Check(file, "body.svg", drawing.Options{Drawn: 48, Model: 96})
//	d.Outlines // each line, its pieces joined, and the frame or mark it is by its name
//	d.Hull     // made of them
//	d, faults, err = drawing.HullOf(ctx, d.Outlines, drawing.Options{}) // again, after some were told otherwise
//
// Where the outlines are waterlines and buttocks, frames are taken where these cross the
// stations of the options.
//
// A reader of a format gives strokes; what they are is found out in one place for
// all formats, by their names or the table beside the drawing. Lengths are in mm;
// what is drawn has y upwards.
package drawing
