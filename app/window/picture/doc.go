// Package picture shows a scan or a photo that is worked on: moved and zoomed, with a
// crosshair and a magnifier, and what its window draws over it.
//
// A window's board is a widget of its own that embeds a [View] and hands it itself as
// the [Host]; mouse and keys are the board's business, and the view helps with moving
// and zooming.
package picture
