package window

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
)

// outlinesDialog shows what was found in a drawing of the frames, and has the
// builder say which line is what, until a hull can be made of it.
type outlinesDialog struct {
	desk    *desk
	use     outlineUse
	chosen  int
	found   *hull.Drawing // what was read last
	wrong   []hull.Fault
	changes int // counts what is said, so that what was read too late is dropped

	v      views.Outlines
	plot   *plot
	list   *widget.List
	halves *widget.Select
	kind   *widget.Select
	frame  *widget.SelectEntry
	x      *number
	about  *widget.Label
	told   *widget.Label
	busy   bool // the editor is being filled and reports nothing
	accept *widget.Button
	dialog *dialog.CustomDialog
}

// What a line can be, in the order of the list.
var (
	outlineMarks = []string{"", "centre", "base", "upper", "rabbet", views.Unused}
	outlineNames = []string{"outline of a frame", "mark of the centre line", "mark of the base line", "mark of the upper limit", "mark of the rabbet", "not used"}
)

// isDrawing tells whether a file is a drawing of frames, read or not.
func isDrawing(c *hull.Checked) bool { return c.Kind == hull.SVG || c.Kind == hull.DXF }

// outlines opens the dialog on a drawing. One in which no line was found is
// refused.
func (d *desk) outlines(path string, c *hull.Checked) *outlinesDialog {
	if c.Drawing == nil || len(c.Drawing.Outlines) == 0 {
		text := fmt.Sprintf("%s has no lines: draw the outlines of the frames as paths.", filepath.Base(path))
		if len(c.Faults) > 0 {
			text = sentence(c.Faults[0])
		}
		d.say(text)
		return nil
	}
	o := &outlinesDialog{desk: d, use: useOf(path, c), wrong: c.Faults}
	o.found = &hull.Drawing{Outlines: c.Drawing.Outlines, Notes: c.Notes}
	if c.Hull != nil {
		o.found.Hull = *c.Hull
	}
	o.dialog = dialog.NewCustomWithoutButtons("Outlines in "+filepath.Base(path), o.content(), d.win)
	o.accept = widget.NewButtonWithIcon("Make the plan", theme.ConfirmIcon(), o.take)
	o.accept.Importance = widget.HighImportance
	o.dialog.SetButtons([]fyne.CanvasObject{widget.NewButton("Cancel", o.dialog.Hide), o.accept})
	o.dialog.SetOnClosed(func() { o.changes++ })
	s := d.win.Canvas().Size()
	o.dialog.Resize(fyne.NewSize(fyne.Min(1120, s.Width*0.95), fyne.Min(760, s.Height*0.95)))
	o.dialog.Show()
	o.list.Select(0)
	o.tell()
	return o
}

func (o *outlinesDialog) content() fyne.CanvasObject {
	o.plot = newPlot(o.desk, fyne.NewSize(320, 300), func(w, h float64) *draw.Drawing {
		o.v.Draw(o.use.lines, o.chosen, w, h)
		return &o.v.Drawing
	}, func(p draw.Point) {
		if i := o.v.At(p); i >= 0 {
			o.list.Select(i)
			o.list.ScrollTo(i)
		}
	})
	o.list = widget.NewList(func() int { return len(o.use.lines) }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(i widget.ListItemID, l fyne.CanvasObject) { l.(*widget.Label).SetText(o.lineText(i)) })
	o.list.OnSelected = o.choose
	o.told = widget.NewLabel("")
	o.told.Wrapping = fyne.TextWrapWord
	halves := widget.NewSelect([]string{"both halves, their mean", "the right half alone", "the left half alone"}, nil)
	halves.SetSelectedIndex(int(o.use.half))
	halves.OnChanged = func(string) {
		o.use.half = half(halves.SelectedIndex())
		o.read()
	}
	o.halves = halves
	left := container.NewBorder(container.NewVBox(row("Of whole frames take", halves), heading("What was found")), o.editor(), nil, nil, o.list)
	both := container.NewHSplit(left, o.plot)
	both.SetOffset(0.4)
	foot := container.NewVScroll(o.told)
	foot.SetMinSize(fyne.NewSize(200, 92))
	return container.NewBorder(nil, foot, nil, nil, both)
}

// editor is where it is said what the chosen line is.
func (o *outlinesDialog) editor() fyne.CanvasObject {
	d := o.desk
	o.about = widget.NewLabel("")
	o.about.Wrapping = fyne.TextWrapWord
	o.kind = widget.NewSelect(outlineNames, nil)
	o.kind.OnChanged = func(string) {
		if i := o.kind.SelectedIndex(); !o.busy && i >= 0 {
			o.say(func(l *hull.Outline) { l.Mark = outlineMarks[i] })
		}
	}
	o.frame = widget.NewSelectEntry(nil)
	o.frame.OnChanged = func(name string) {
		if !o.busy {
			o.say(func(l *hull.Outline) { l.Frame = strings.TrimSpace(name) })
		}
	}
	o.x = newLength(d, 1, func() float64 {
		l := &o.use.lines[o.chosen]
		if v, ok := o.use.x[l.Frame]; ok && l.Frame != "" {
			return v
		}
		return math.NaN()
	}, func(mm float64) bool {
		name := o.use.lines[o.chosen].Frame
		if name == "" {
			o.told.SetText("Type the name of the frame first, and then its x.")
			return false
		}
		o.use.x[name] = mm
		o.say(func(*hull.Outline) {})
		return true
	})
	return container.NewVBox(widget.NewSeparator(), o.about,
		row("It is", o.kind), row("Of frame", o.frame), row("At x ("+d.units.Name()+")", o.x.box))
}

// choose shows a line in the editor. A number being typed is taken over first.
func (o *outlinesDialog) choose(i int) {
	if i < 0 || i >= len(o.use.lines) {
		return
	}
	o.x.commit()
	o.chosen = i
	o.fill()
	o.plot.Refresh()
}

// fill brings the editor up to date.
func (o *outlinesDialog) fill() {
	o.busy = true
	defer func() { o.busy = false }()
	l := &o.use.lines[o.chosen]
	for k, m := range outlineMarks {
		if m == l.Mark {
			o.kind.SetSelectedIndex(k)
		}
	}
	o.frame.SetOptions(o.frames())
	if o.frame.Text != l.Frame {
		o.frame.SetText(l.Frame)
	}
	o.frame.SetPlaceHolder("its name")
	if l.Mark != "" {
		o.frame.SetPlaceHolder("of all frames")
	}
	o.x.able(l.Mark == "")
	o.x.sync()
	o.about.SetText(o.aboutText(o.chosen))
}

// frames are the names of frames in use, each once.
func (o *outlinesDialog) frames() []string {
	var out []string
	seen := map[string]bool{"": true}
	for i := range o.use.lines {
		if n := o.use.lines[i].Frame; !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

// say changes what the chosen line is, and reads anew.
func (o *outlinesDialog) say(f func(*hull.Outline)) {
	f(&o.use.lines[o.chosen])
	o.fill()
	o.list.Refresh()
	o.plot.Refresh()
	o.read()
}

// read makes the hull anew, off the main goroutine.
func (o *outlinesDialog) read() {
	o.changes++
	mine, use := o.changes, o.use
	use.lines = append([]hull.Outline{}, o.use.lines...)
	use.x = hull.Stations{}
	for n, x := range o.use.x {
		use.x[n] = x
	}
	o.accept.Disable()
	var found *hull.Drawing
	var wrong []hull.Fault
	o.desk.work("Reading the outlines…", func(context.Context) error {
		found, wrong = use.read()
		return nil
	}, func() {
		if mine == o.changes {
			o.found, o.wrong = found, wrong
			o.tell()
		}
	})
}

// lineText is a line's row.
func (o *outlinesDialog) lineText(i int) string {
	l := &o.use.lines[i]
	text := fmt.Sprintf("%d  ", i+1)
	switch l.Mark {
	case "":
		text += "frame " + nameOr(l.Frame, "?")
		if x, ok := o.use.x[l.Frame]; ok && l.Frame != "" {
			return text + " at x " + o.desk.units.Long(x)
		}
		return text + ", x not known"
	case views.Unused:
		return text + nameOr(l.Name, "without a name") + ": not used"
	}
	for k, m := range outlineMarks {
		if m == l.Mark {
			text += outlineNames[k]
		}
	}
	if l.Frame != "" {
		text += " of frame " + l.Frame
	}
	return text
}

func nameOr(name, other string) string {
	if name == "" {
		return other
	}
	return name
}

// aboutText tells how a line is drawn.
func (o *outlinesDialog) aboutText(i int) string {
	l := &o.use.lines[i]
	length := 0.0
	for k := 1; k < len(l.Points); k++ {
		length += l.Points[k].Sub(l.Points[k-1]).Len()
	}
	how := "open"
	if l.Closed {
		how = "closed"
	}
	text := fmt.Sprintf("Line %d, %s: %s, %s long", i+1, nameOr(l.Name, "without a name"), how, o.desk.units.Long(length))
	n := len(l.Corners)
	if l.Closed && n > 1 && l.Corners[0] == 0 && l.Corners[n-1] == len(l.Points)-1 {
		n-- // where it closes is one corner
	}
	if n > 0 {
		text += fmt.Sprintf(", corners kept: %d (◆)", n)
	}
	if l.Line > 0 {
		text += fmt.Sprintf("; line %d of the file", l.Line)
	}
	return text + "."
}

// tell says what comes of it: what is wrong yet, or the hull, and how far the
// halves of its frames differ.
func (o *outlinesDialog) tell() {
	out := faultTexts(o.wrong)
	if frames := o.found.Hull.Frames; len(o.wrong) == 0 && len(frames) > 0 {
		n := len(frames)
		out = append(out, fmt.Sprintf("%d frames, from %s at x %s to %s at x %s.", n,
			frames[0].Name, o.desk.units.Long(frames[0].X()), frames[n-1].Name, o.desk.units.Long(frames[n-1].X())))
		out = append(out, o.found.Notes...)
	}
	o.told.SetText(strings.Join(out, "\n"))
	if len(o.wrong) == 0 {
		o.accept.Enable()
	} else {
		o.accept.Disable()
	}
}

// faultTexts tells faults in a few sentences: those that differ in their frame
// alone together.
func faultTexts(faults []hull.Fault) []string {
	const most, mostNames = 3, 6
	type kind struct{ what, mend string }
	frames := map[kind][]string{}
	var kinds []kind
	for _, f := range faults {
		k := kind{f.What, f.Mend}
		if _, seen := frames[k]; !seen {
			kinds = append(kinds, k)
		}
		frames[k] = append(frames[k], f.Frame)
	}
	var out []string
	for i, k := range kinds {
		if i == most {
			out = append(out, fmt.Sprintf("And %d more faults of other kinds.", len(kinds)-most))
			break
		}
		f := hull.Fault{What: k.what, Mend: k.mend}
		switch names := frames[k]; {
		case len(names) == 1:
			f.Frame = names[0]
		case len(names) > mostNames:
			f.What = fmt.Sprintf("frames %s and %d more: %s", strings.Join(names[:mostNames], ", "), len(names)-mostNames, f.What)
		default:
			f.What = fmt.Sprintf("frames %s: %s", strings.Join(names, ", "), f.What)
		}
		out = append(out, sentence(f))
	}
	if len(out) > 0 {
		out = append(out, "Choose a line in the list or on the drawing, and say above what it is: names, x and marks given here count as if they were drawn.")
	}
	return out
}

// take opens a plan of the hull in place of the one at hand.
func (o *outlinesDialog) take() {
	o.x.commit()
	if len(o.wrong) > 0 || o.accept.Disabled() {
		return
	}
	name := filepath.Base(o.use.path)
	title, h := strings.TrimSuffix(name, filepath.Ext(name)), o.found.Hull
	var s *app.Session
	o.desk.work("Making the plan…", func(context.Context) (err error) {
		s, err = app.FromHull(title, h)
		return err
	}, func() {
		o.dialog.Hide()
		o.desk.replace(s)
	})
}
