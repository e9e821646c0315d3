// Package tracing is the window in which the frames of a hull are traced off a
// picture: its scale, its centre and base line, and a click along each frame.
//
// trace.go is the window and what a click does; board.go shows the picture, with
// its mouse.go, draw.go and lens.go; panel.go is what is set beside it. What is
// traced is a trace.Trace of app/trace.
package tracing
