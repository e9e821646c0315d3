// Package photo is the window in which what is left of a band is read off a photo of
// the hull on the bench: known places are marked, then the edges of what is left, and
// the readings are noted after a look.
//
// photo.go is the window and what a click does; rows.go is what can be marked, in the
// order in which it is offered; board.go shows the picture under mouse and keys;
// panel.go is what is set beside it. What the marks tell is reckoned by loft/sight.
package photo
