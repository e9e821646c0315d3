// Package boards holds the drawings of the planking on the screen, and what the
// mouse and the keys do on them: profile or expanded planking, gauge strip, body
// plan and lofted hull.
//
// How it is split: board.go is the widget that a view draws on, with its mouse.go,
// keys.go, render.go (what is drawn before a frame) and behind.go (what takes
// longer than one); profile.go, expanded.go, gauge.go, body.go and hullview.go are
// the views; strip.go is the strip laid over the frames of the last one, with how it
// moves (stripplay.go), its buttons (stripbar.go) and what is written at it
// (stripnotes.go); drawings.go puts them together.
package boards
