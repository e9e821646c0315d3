package views

// Limit is one of the two edges of the planked region, or none.
type Limit uint8

// The limits.
const (
	NoLimit Limit = iota
	UpperLimit
	LowerLimit
)

// Choice is what the builder has chosen, the same in every view; -1 is nothing.
// At most one of a strake, a line and a limit is chosen at a time.
type Choice struct {
	Layer  int // index of the layer shown
	Strake int // index of the strake in its layer
	Line   int // index of the band line in the plan's layer; in the planking its course is the next index
	Frame  int
	Limit  Limit
}

// Nothing is the choice of the first layer and nothing else.
var Nothing = Choice{Strake: -1, Line: -1, Frame: -1}

// WithStrake chooses a strake in place of any line or limit.
func (c Choice) WithStrake(k int) Choice {
	c.Strake, c.Line, c.Limit = k, -1, NoLimit
	return c
}

// WithLine chooses a band line in place of any strake or limit.
func (c Choice) WithLine(k int) Choice {
	c.Strake, c.Line, c.Limit = -1, k, NoLimit
	return c
}

// WithLimit chooses a limit in place of any strake or line.
func (c Choice) WithLimit(l Limit) Choice {
	c.Strake, c.Line, c.Limit = -1, -1, l
	return c
}

// WithFrame chooses a frame and keeps the rest.
func (c Choice) WithFrame(f int) Choice {
	c.Frame = f
	return c
}
