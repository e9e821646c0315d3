package outlining

import (
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/source"
)

// Use is what the builder says that the lines of a drawing are. It is
// never changed but through Change, so that every step can be undone.
type Use struct {
	Lines []drawing.Outline // as they are meant
	How   drawing.Options

	steps history.Steps[said]
	last  string // what the step before changed: more of it is the same step
}

// said is what can be undone.
type said struct {
	lines []drawing.Outline
	how   drawing.Options
}

// UseOf is what the drawing itself says. What it does not name is not used.
func UseOf(c *source.Checked) Use {
	u := Use{Lines: slices.Clone(c.Drawing.Outlines), How: c.Drawing.Told}
	for i := range u.Lines {
		if o := &u.Lines[i]; o.Frame == "" && o.Mark == "" {
			o.Mark = drawing.Unused
		}
	}
	return u
}

// Change makes a change as one step; steps one after another of the same name,
// which is not empty, are one.
func (u *Use) Change(step string, f func()) {
	if step == "" || step != u.last {
		u.steps.Made(step, said{slices.Clone(u.Lines), u.How})
	}
	u.last = step
	f()
}

// Apart has what is changed next count as a step of its own.
func (u *Use) Apart() { u.last = "" }

// Undo takes the last step back. It gives false where there is none.
func (u *Use) Undo() bool { return u.walk(history.Back) }

// Redo makes again the step last taken back. It gives false where there is none.
func (u *Use) Redo() bool { return u.walk(history.Forward) }

func (u *Use) walk(d history.Direction) bool {
	_, ok := u.steps.Walk(d, func(to said) said {
		was := said{u.Lines, u.How}
		u.Lines, u.How, u.last = to.lines, to.how, ""
		return was
	})
	return ok
}

// CanUndo tells whether there is a step to take back.
func (u *Use) CanUndo() bool {
	_, ok := u.steps.Can(history.Back)
	return ok
}

// CanRedo tells whether there is a step to make again.
func (u *Use) CanRedo() bool {
	_, ok := u.steps.Can(history.Forward)
	return ok
}

// Place tells where the frame of a line stands: all outlines of it.
func (u *Use) Place(i int, x float64) {
	l := &u.Lines[i]
	for k := range u.Lines {
		if o := &u.Lines[k]; k == i || (o.Mark == "" && o.Frame == l.Frame && o.Frame != "") {
			o.X, o.Placed = x, true
		}
	}
}

// Rename tells which frame a line is of; it then stands where that does, if that
// is known.
func (u *Use) Rename(i int, frame string) {
	l := &u.Lines[i]
	l.Frame = frame
	for k := range u.Lines {
		if o := &u.Lines[k]; k != i && l.Mark == "" && o.Mark == "" && o.Frame == frame && o.Placed && frame != "" {
			l.X, l.Placed = o.X, true
			return
		}
	}
}

// Frame makes a line the outline of a frame, under its own name if that is free.
func (u *Use) Frame(i int) {
	l := &u.Lines[i]
	l.Mark, l.Profile = "", false
	name := l.Called()
	if l.Frame != "" || name == "" || slices.ContainsFunc(u.Lines, func(o drawing.Outline) bool { return o.Frame == name }) {
		return
	}
	l.Frame = name
}

// SetLines changes what is said of the waterlines and buttocks of a drawing.
func (u *Use) SetLines(change func(*drawing.Lines)) {
	said := drawing.Lines{}
	if u.How.Lines != nil {
		said = *u.How.Lines
	}
	change(&said)
	u.How.Lines = &said // what was said before is kept, to be undone to
}

// Stand tells at which stations frames are taken; none leaves it to the drawing.
func (u *Use) Stand(at drawing.Stations) {
	if u.How.Stations = &at; len(at.List) == 0 && at.Every == 0 {
		u.How.Stations = nil
	}
}

// unsaid is the first line that does not tell enough to be used, and what it
// lacks; -1 where none is.
func (u *Use) unsaid() (i int, lacks string) {
	for i := range u.Lines {
		o := &u.Lines[i]
		switch {
		case o.Mark == drawing.StationMark && o.Frame == "":
			return i, tongue.T("name of the frame that stands there")
		case o.Mark != "" || o.Profile:
		case o.Frame == "":
			return i, tongue.T("name of its frame")
		case !o.Placed || math.IsNaN(o.X):
			return i, "x"
		}
	}
	return -1, ""
}

// Read makes the hull of the lines as they are meant. The error is that of the
// context.
func (u *Use) Read(ctx context.Context) (*drawing.Drawing, []fault.Fault, error) {
	if i, lacks := u.unsaid(); i >= 0 {
		mend := tongue.T("choose it in the list and type it, or set it to \"not used\"")
		if u.How.Level != drawing.NoPieces {
			mend = tongue.T("set the stations of all, or choose it in the list and type it, or set it to \"not used\"")
		}
		return &drawing.Drawing{}, []fault.Fault{{Frame: u.Lines[i].Frame, What: tongue.T("line %d has no %s", i+1, lacks), Mend: mend}}, nil
	}
	if !slices.ContainsFunc(u.Lines, func(o drawing.Outline) bool { return o.Mark == "" || o.IsLine() }) {
		return &drawing.Drawing{}, []fault.Fault{{What: tongue.T("no outline belongs to a frame yet"), Mend: tongue.T("choose each in the list, or on the drawing, and type its frame and x")}}, nil
	}
	d, faults, err := drawing.HullOf(ctx, u.Lines, u.How)
	for i := range faults {
		faults[i].Line = 0 // the list tells it better
		if u.How.Level == drawing.LevelUntold && faults[i].Frame == "" {
			faults[i].Mend = tongue.T("choose what all have at one height")
		}
	}
	return d, faults, err
}
