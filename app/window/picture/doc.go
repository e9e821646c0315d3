// Package picture shows a scan or a photo that is worked on: moved and zoomed, with a
// crosshair and a magnifier, and what its window draws over it.
//
// A window's board is a widget of its own that embeds a [View] and hands it itself as
// the [Host]. The view takes mouse and keys (hand.go), moves and zooms by them, and has
// the board do what belongs to its points, as its [Hand].
package picture
