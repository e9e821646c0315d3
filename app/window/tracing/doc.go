// Package tracing is the window in which the frames of a hull are traced off a
// picture: its scale, its centre and base line, and the clicks along each frame.
//
// trace.go is the window and what a click does, snap.go what it is drawn to, follow.go
// the line that is followed to the pointer; board.go shows the picture, with its mouse.go and draw.go; panel.go
// is what is set beside it. What is traced is a trace.Trace of app/trace, and how a
// picture lies on the screen a picture.View.
package tracing
