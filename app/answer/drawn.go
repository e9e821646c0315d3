package answer

import "io"

// Drawn is the answer of the command picture: the file it wrote and its size in
// pixels.
type Drawn struct {
	Written string `json:"written"`
	Width   int    `json:"width_px"`
	Height  int    `json:"height_px"`
}

// Text says so.
func (a Drawn) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("A picture of the window, %d x %d pixels, written to %s.", a.Width, a.Height, a.Written)
	return p.err
}
