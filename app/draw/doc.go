// Package draw holds drawings that are made once, and turns them into pixels for
// the window; the packages below it turn the same drawings into paper.
//
// A Drawing is an ordered list of items: strokes, fills, marks and labels. Their
// positions are in the drawing's own unit, view pixels or mm of paper, with x to
// the right and y downwards. A colour is named by its Role; a Palette says what
// the role looks like, so that the same drawing serves a light window, a dark
// one and black ink.
//
//	var d draw.Drawing
//	d.Line(draw.Seam, draw.Pen{Width: 1}, draw.Pt(0, 10), draw.Pt(100, 12))
//	d.Text(draw.Pt(4, 8), "frame K", draw.Ink, 11, draw.Left)
//	pixels, err := draw.NewPixels(fontBytes)
//	...
//	pixels.Render(img, &d, draw.Light, draw.View{Scale: 1})
package draw
