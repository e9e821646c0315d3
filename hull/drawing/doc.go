// Package drawing takes a hull off a drawing, SVG or DXF, of its frames or of its waterlines and
// buttocks: it finds the outlines in the drawing, and makes the hull from those that are frames.
//
//	d, faults := drawing.Check(file, "body.svg", drawing.Options{Drawn: 48, Model: 96})
//	d.Outlines // each line, its pieces joined, with the frame or mark its name says it is
//	d.Hull     // made from them
//	d, faults, err = drawing.HullOf(ctx, d.Outlines, drawing.Options{}) // again, after some were reassigned
//
// Where the outlines are waterlines and buttocks, frames are taken where these cross the stations of
// the options.
//
// A reader of a format supplies strokes; what they are is decided in one place for all formats, by
// their names or the table beside the drawing. Lengths are in mm; in what is drawn y points upwards.
package drawing
