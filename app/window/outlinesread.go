package window

import (
	"context"
	"fmt"
	"math"
	"slices"

	"strakewright/hull"
)

// outlineUse is what the builder says that the lines of a drawing are. It is
// never changed but through change, so that every step can be undone.
type outlineUse struct {
	lines []hull.Outline // as they are meant
	how   hull.Taking

	past, future []outlineState
	last         string // what the step before changed: more of it is the same step
}

// outlineState is what can be undone.
type outlineState struct {
	lines []hull.Outline
	how   hull.Taking
}

// useOf is what the drawing itself says. What it does not name is not used.
func useOf(c *hull.Checked) outlineUse {
	u := outlineUse{lines: slices.Clone(c.Drawing.Outlines), how: c.Drawing.Told}
	for i := range u.lines {
		if o := &u.lines[i]; o.Frame == "" && o.Mark == "" {
			o.Mark = hull.Unused
		}
	}
	return u
}

// change makes a change as one step; steps one after another of the same name,
// which is not empty, are one.
func (u *outlineUse) change(step string, f func()) {
	if step == "" || step != u.last {
		u.past = append(u.past, outlineState{slices.Clone(u.lines), u.how})
		u.future = nil
	}
	u.last = step
	f()
}

// undo takes the last step back; redo does it again. They give false where there
// is none.
func (u *outlineUse) undo() bool { return u.swap(&u.past, &u.future) }

func (u *outlineUse) redo() bool { return u.swap(&u.future, &u.past) }

func (u *outlineUse) swap(from, to *[]outlineState) bool {
	n := len(*from)
	if n == 0 {
		return false
	}
	*to = append(*to, outlineState{u.lines, u.how})
	u.lines, u.how = (*from)[n-1].lines, (*from)[n-1].how
	*from, u.last = (*from)[:n-1], ""
	return true
}

// place tells where the frame of a line stands: all outlines of it.
func (u *outlineUse) place(i int, x float64) {
	l := &u.lines[i]
	for k := range u.lines {
		if o := &u.lines[k]; k == i || (o.Mark == "" && o.Frame == l.Frame && o.Frame != "") {
			o.X, o.Placed = x, true
		}
	}
}

// rename tells which frame a line is of; it then stands where that does, if that
// is known.
func (u *outlineUse) rename(i int, frame string) {
	l := &u.lines[i]
	l.Frame = frame
	for k := range u.lines {
		if o := &u.lines[k]; k != i && l.Mark == "" && o.Mark == "" && o.Frame == frame && o.Placed && frame != "" {
			l.X, l.Placed = o.X, true
			return
		}
	}
}

// frame makes a line the outline of a frame, under its own name if that is free.
func (u *outlineUse) frame(i int) {
	l := &u.lines[i]
	l.Mark, l.Profile = "", false
	name := l.Called()
	if l.Frame != "" || name == "" || slices.ContainsFunc(u.lines, func(o hull.Outline) bool { return o.Frame == name }) {
		return
	}
	l.Frame = name
}

// unsaid is the first line that does not tell enough to be used, and what it
// lacks; -1 where none is.
func (u *outlineUse) unsaid() (i int, lacks string) {
	for i := range u.lines {
		o := &u.lines[i]
		switch {
		case o.Mark == hull.StationMark && o.Frame == "":
			return i, "name of the frame that stands there"
		case o.Mark != "" || o.Profile:
		case o.Frame == "":
			return i, "name of its frame"
		case !o.Placed || math.IsNaN(o.X):
			return i, "x"
		}
	}
	return -1, ""
}

// read makes the hull of the lines as they are meant. The error is that of the
// context.
func (u *outlineUse) read(ctx context.Context) (*hull.Drawing, []hull.Fault, error) {
	if i, lacks := u.unsaid(); i >= 0 {
		return &hull.Drawing{}, []hull.Fault{{Frame: u.lines[i].Frame, What: fmt.Sprintf("line %d has no %s", i+1, lacks), Mend: "choose it in the list and type it, or set it to \"not used\""}}, nil
	}
	if !slices.ContainsFunc(u.lines, func(o hull.Outline) bool { return o.Mark == "" }) {
		return &hull.Drawing{}, []hull.Fault{{What: "no outline is a frame's yet", Mend: "choose each in the list, or on the drawing, and type its frame and x"}}, nil
	}
	d, faults, err := hull.HullOfContext(ctx, u.lines, u.how)
	for i := range faults {
		faults[i].Line = 0 // the list tells it better
	}
	return d, faults, err
}
