package window

import (
	"errors"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// entered is a figure of the table that can be entered: of a strake at a frame.
type entered struct {
	stands float64 // mm; not a number where nothing is to be told
	asks   string  // what is asked for
	take   func(mm float64) error
}

// enter has a figure entered in a cell, or says why none can be.
func (t *strakeTable) enter(id widget.TableCellID, cell fyne.CanvasObject, first string) {
	l := t.desk.Layer()
	frame, _ := t.columnOf(id.Col)
	strake := t.strakeAt(id.Row)
	if strake < 0 || strake >= len(l.Strakes) {
		return
	}
	if frame < 0 {
		t.desk.Status(tongue.T("Figures are entered in the columns of the frames: this one follows from them."))
		return
	}
	e, why := t.enterable(l.Strakes[strake], frame)
	if why != "" {
		t.desk.Status(why)
		return
	}
	stands := ""
	if !math.IsNaN(e.stands) {
		stands = t.desk.Units.Number(e.stands)
	}
	t.desk.EnterOver(cell, stands, first, tongue.T("%s (%s). Return enters it, Escape cancels.", e.asks, t.desk.Units.Name()), func(text string) error {
		if text == stands {
			return nil
		}
		v, err := kit.ParseNumber(text)
		if err != nil {
			return err
		}
		return e.take(t.desk.Units.ToMM(v))
	})
}

// enterable is what can be entered of a strake at a frame by what the table tells, or why
// nothing can.
func (t *strakeTable) enterable(s *loft.Strake, frame int) (e entered, why string) {
	c := s.At[frame]
	at := tongue.T("%s at frame %s", s.ID, t.desk.FrameName(frame))
	switch {
	case !c.Laid:
		return e, tongue.T("Strake %s is not laid at frame %s.", s.ID, t.desk.FrameName(frame))
	case t.figure == widthToCut:
		return entered{c.WidthCut, tongue.T("Width to cut of %s", at), t.setWidth(s, frame, func(c loft.Crossing) float64 { return c.WidthCut })}, ""
	case t.figure == widthOnFrame:
		return entered{c.WidthFrame, tongue.T("Width on the frame of %s", at), t.setWidth(s, frame, func(c loft.Crossing) float64 { return c.WidthFrame })}, ""
	case t.figure == upperEdge && s.Number > 1:
		return e, tongue.T("This edge follows from how the band is shared: enter a width, or the upper edge of the first strake of a band.")
	case t.figure == upperEdge && s.Band == 1:
		return e, tongue.T("This edge is the %s: set it under Limits.", t.desk.UpperName())
	case t.figure == upperEdge:
		return entered{c.Upper, tongue.T("Where band line %d crosses frame %s, below the %s", s.Band-1, t.desk.FrameName(frame), t.desk.UpperName()), t.setEdge(s, frame)}, ""
	case t.figure == benchWidth || t.figure == benchChange:
		if t.desk.Bench.Day != "" {
			return e, tongue.T("The record is shown as of %s: go back to now, under History, to note anything.", tongue.Day(t.desk.Bench.Day))
		}
		return entered{math.NaN(), tongue.T("Width measured of %s, %s", at, desk.ToSide(t.desk.Bench.Side)), t.noteWidth(s, frame)}, ""
	}
	return e, tongue.T("Bevels follow from the hull's shape and are not entered.")
}

// setWidth gives what makes a strake so wide at a frame.
func (t *strakeTable) setWidth(s *loft.Strake, frame int, width func(loft.Crossing) float64) func(mm float64) error {
	return func(mm float64) error {
		d := t.desk
		name := tongue.T("make strake %s %s wide at frame %s", s.ID, d.Units.Length(mm), d.FrameName(frame))
		err := d.TryEdit(name, edit.SetWidth(d.Planking(), d.Choice.Layer, s.ID, frame, mm, width))
		var beyond edit.WidthBeyond
		if errors.As(err, &beyond) {
			return tongue.Errorf("strake %s can be %s to %s wide there, by its share of the band; for more or less, move the band lines",
				s.ID, d.Units.Length(beyond.Least), d.Units.Length(beyond.Most))
		}
		if err == nil {
			d.Status(tongue.T("Strake %s is %s wide at frame %s now, by a share of %.2f; its width changed at the other frames too.", s.ID, d.Units.Length(mm), d.FrameName(frame), shareOf(t, s)))
		}
		return err
	}
}

// shareOf is a strake's share as the plan has it.
func shareOf(t *strakeTable, s *loft.Strake) float64 {
	return t.desk.PlanLayer().Bands[s.Band-1].Weight(s.Number - 1)
}

// setEdge gives what moves the band line along a strake's upper edge.
func (t *strakeTable) setEdge(s *loft.Strake, frame int) func(mm float64) error {
	return func(mm float64) error {
		d, line := t.desk, s.Band-2
		if girth := d.Layer().Girths[frame]; !(mm >= 0 && mm <= girth) {
			return tongue.Errorf("frame %s has a girth of %s: enter 0 to that", d.FrameName(frame), d.Units.Length(girth))
		}
		return d.TryEdit(tongue.T("move line %d at frame %s", line+1, d.FrameName(frame)), edit.MoveHandle(d.Choice.Layer, line, frame, mm))
	}
}

// noteWidth gives what notes how wide a strake was measured at a frame.
func (t *strakeTable) noteWidth(s *loft.Strake, frame int) func(mm float64) error {
	return func(mm float64) error {
		return t.desk.Bench.TryNote(hull.Entry{EntryKind: hull.AsLaid, Strake: s.ID, Frame: t.desk.FrameName(frame), MM: mm})
	}
}
