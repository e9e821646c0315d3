package views

// Choice is what the builder has chosen, the same in every view; -1 is nothing.
// A strake and a line are never chosen together.
type Choice struct {
	Layer  int // index of the layer shown
	Strake int // index of the strake in its layer
	Line   int // index of the band line in the plan's layer; its course is one further in the planking
	Frame  int
}

// Nothing is the choice of nothing but the first layer.
var Nothing = Choice{Strake: -1, Line: -1, Frame: -1}

// WithStrake chooses a strake in place of any line.
func (c Choice) WithStrake(k int) Choice {
	c.Strake, c.Line = k, -1
	return c
}

// WithLine chooses a band line in place of any strake.
func (c Choice) WithLine(k int) Choice {
	c.Strake, c.Line = -1, k
	return c
}

// WithFrame chooses a frame and keeps the rest.
func (c Choice) WithFrame(f int) Choice {
	c.Frame = f
	return c
}
