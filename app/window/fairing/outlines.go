package fairing

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/outlining"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/source"
)

// outlinesDialog shows what was found in a drawing of the frames, and has the
// builder say which line is what, until a hull can be made of it.
type outlinesDialog struct {
	desk       *desk.Desk
	path       string
	drawing    *drawing.Drawing // as it was found
	use        outlining.Use
	chosen     int // index of a line
	filters    []outlineFilter
	listed     []int            // indices of the lines in the list
	result     *drawing.Drawing // what was read last
	wrong      []fault.Fault
	changes    int                // counts what is said, so that what was read too late is dropped
	unread     bool               // what was said last is not read, for the reading was stopped
	endReading context.CancelFunc // ends the reading that goes on
	readUse    func(*outlining.Use, context.Context) (*drawing.Drawing, []fault.Fault, error)

	v      views.Outlines
	plot   *kit.Plot
	list   *kit.List
	about  *widget.Label
	told   *widget.Label
	edit   outlineEditor
	scales outlineScales
	pieces outlinePieces
	lines  outlineLines
	filter *kit.Select
	undo   *kit.Button
	redo   *kit.Button
	accept *kit.Button
	dialog *dialog.CustomDialog
	busy   bool // widgets are being filled and report nothing
}

// outlineFilter is a choice of the lines that the list and the drawing show.
type outlineFilter struct {
	name  string
	shows func(o *drawing.Outline) bool
}

// outlineFilters are those for every drawing; one for each of its layers follows.
var outlineFilters = []outlineFilter{
	{tongue.Mark("all lines"), func(*drawing.Outline) bool { return true }},
	{tongue.Mark("frames and marks"), func(o *drawing.Outline) bool { return o.Mark != drawing.Unused }},
	{tongue.Mark("frames without an x"), func(o *drawing.Outline) bool { return o.Mark == "" && !o.Placed }},
	{tongue.Mark("not used"), func(o *drawing.Outline) bool { return o.Mark == drawing.Unused }},
}

// mostLayers is how many layers have a filter.
const mostLayers = 40

// filtersOf gives the filters for a drawing.
func filtersOf(lines []drawing.Outline) []outlineFilter {
	var out []outlineFilter
	for _, f := range outlineFilters {
		out = append(out, outlineFilter{tongue.T(f.name), f.shows})
	}
	var layers []string
	for i := range lines {
		if l := lines[i].Layer; l != "" && !slices.Contains(layers, l) && len(layers) < mostLayers {
			layers = append(layers, l)
		}
	}
	slices.Sort(layers)
	for _, layer := range layers {
		out = append(out, outlineFilter{tongue.T("layer %s", layer), func(o *drawing.Outline) bool { return o.Layer == layer }})
	}
	return out
}

// IsDrawing tells whether a file is a drawing of frames, read or not.
func IsDrawing(c *source.Checked) bool {
	return c.Kind == source.SVG || c.Kind == source.DXF || c.Kind == source.PDF
}

// OpenOutlines opens the dialog on a drawing. One in which no line was found is
// refused.
func OpenOutlines(d *desk.Desk, path string, c *source.Checked) *outlinesDialog {
	if c.Drawing == nil || len(c.Drawing.Outlines) == 0 {
		text := tongue.T("%s has no lines: draw the outlines of the frames as paths.", filepath.Base(path))
		if len(c.Faults) > 0 {
			text = kit.Sentence(c.Faults[0])
		}
		d.Say(text)
		return nil
	}
	o := &outlinesDialog{desk: d, path: path, drawing: c.Drawing, filters: filtersOf(c.Drawing.Outlines), use: outlining.UseOf(c), result: c.Drawing, wrong: c.Faults,
		endReading: func() {}, readUse: (*outlining.Use).Read}
	o.dialog = d.NewDialog(tongue.T("Outlines in %s", filepath.Base(path)), o.content())
	o.accept = kit.NewButtonWithIcon(tongue.T("Make the plan"), theme.ConfirmIcon(), o.take)
	o.accept.Importance = widget.HighImportance
	d.Explain(o.accept, tongue.T("Makes a plan of the lines as they are named here"))
	o.undo = kit.NewButtonWithIcon(tongue.T("Undo"), theme.ContentUndoIcon(), func() { o.step(o.use.Undo) })
	d.Explain(o.undo, tongue.T("Undoes the last step in this dialog"))
	o.redo = kit.NewButtonWithIcon(tongue.T("Redo"), theme.ContentRedoIcon(), func() { o.step(o.use.Redo) })
	d.Explain(o.redo, tongue.T("Redoes the step undone last"))
	o.dialog.SetButtons([]fyne.CanvasObject{o.undo, o.redo, d.Button(tongue.T("Cancel"), tongue.T("Leaves without a plan"), o.dialog.Hide), o.accept})
	o.dialog.SetOnClosed(func() {
		o.changes++
		o.endReading()
	})
	s := d.Win.Canvas().Size()
	o.dialog.Resize(fyne.NewSize(fyne.Min(1240, s.Width*0.97), fyne.Min(860, s.Height*0.97)))
	o.dialog.Show()
	o.show()
	o.pick(0)
	if o.use.How.Level != drawing.NoPieces {
		o.read() // as the window asks for what is not told yet
		return o
	}
	o.tell()
	return o
}

func (o *outlinesDialog) content() fyne.CanvasObject {
	o.plot = kit.NewPlot(o.desk.Notices, o.desk.Look, fyne.NewSize(320, 260), func(w, h float64) *draw.Drawing {
		if taken := o.pieces.taken(); taken != nil {
			o.v.Draw(taken, nil, -1, w, h)
			return &o.v.Drawing
		}
		o.v.Draw(o.use.Lines, o.shows, o.chosen, w, h)
		return &o.v.Drawing
	}, func(p draw.Point) {
		if o.pieces.taken() != nil {
			return
		}
		if i := o.v.At(p); i >= 0 {
			o.pick(i)
		}
	})
	o.list = kit.NewList(func() int { return len(o.listed) }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(i widget.ListItemID, l fyne.CanvasObject) {
		if i < len(o.listed) {
			kit.SetText(l.(*widget.Label), o.lineText(o.listed[i]))
		}
	})
	o.list.OnSelected = func(k widget.ListItemID) {
		if !o.busy && k < len(o.listed) {
			o.choose(o.listed[k])
		}
	}
	o.filter = kit.NewSelect(nil, func(string) {
		if o.busy {
			return
		}
		if o.show(); len(o.listed) > 0 && !slices.Contains(o.listed, o.chosen) {
			o.pick(o.listed[0])
		}
	})
	o.about = widget.NewLabel("")
	o.about.Wrapping = fyne.TextWrapWord
	o.told = widget.NewLabel("")
	o.told.Wrapping = fyne.TextWrapWord
	head := container.NewVBox(kit.NewLabel(o.foundText()), kit.TippedRow(tongue.T("Show"), tongue.T("Lists the lines of one layer; or says of all that are listed what they are"), container.NewBorder(nil, nil, nil, o.allAre(), o.filter)))
	foot := container.NewVBox(widget.NewSeparator(), o.about, o.edit.content(o), widget.NewSeparator(), o.pieces.content(o), o.scales.content(o))
	both := container.NewHSplit(container.NewBorder(head, foot, nil, nil, o.list), container.NewBorder(o.lines.content(o), kit.Tipped(o.pieces.show, tongue.T("Lays the frames over one another, as they will be taken, so that an odd one stands out")), nil, nil, o.plot))
	both.SetOffset(0.36)
	below := container.NewVScroll(o.told)
	below.SetMinSize(fyne.NewSize(200, 84))
	return container.NewBorder(nil, below, nil, nil, both)
}

// foundText tells what the drawing holds.
func (o *outlinesDialog) foundText() string {
	low, high := o.drawing.Outlines[0].Bounds()
	for i := range o.drawing.Outlines {
		a, b := o.drawing.Outlines[i].Bounds()
		for k := range low {
			low[k], high[k] = min(low[k], a[k]), max(high[k], b[k])
		}
	}
	unit := tongue.T("with no unit")
	if o.drawing.Unit != "" {
		unit = tongue.T("in %s", o.drawing.Unit)
	}
	units := o.desk.Units
	n := len(o.drawing.Outlines)
	return tongue.Count(n, "Found: %d line, drawn %s, %s x %s.", "Found: %d lines, drawn %s, %s x %s.", n, unit, strings.TrimSuffix(units.Long(high[0]-low[0]), " "+units.Name()), units.Long(high[1]-low[1]))
}

// shows tells whether a line is among those shown.
func (o *outlinesDialog) shows(i int) bool {
	return o.filters[max(o.filter.SelectedIndex(), 0)].shows(&o.use.Lines[i])
}

// show lists the lines again that are shown, and how many each filter shows.
func (o *outlinesDialog) show() {
	o.busy = true
	k := max(o.filter.SelectedIndex(), 0)
	var names []string
	for _, f := range o.filters {
		n := 0
		for i := range o.use.Lines {
			if f.shows(&o.use.Lines[i]) {
				n++
			}
		}
		names = append(names, fmt.Sprintf("%s (%d)", f.name, n))
	}
	o.filter.SetOptions(names)
	o.filter.SetSelectedIndex(k)
	o.listed = o.listed[:0]
	for i := range o.use.Lines {
		if o.shows(i) {
			o.listed = append(o.listed, i)
		}
	}
	o.list.UnselectAll()
	if at := slices.Index(o.listed, o.chosen); at >= 0 {
		o.list.Select(at)
	}
	o.busy = false
	o.list.Refresh()
	o.plot.Refresh()
}

// pick chooses a line, in the list as well; one that is not shown has all shown.
func (o *outlinesDialog) pick(i int) {
	at := slices.Index(o.listed, i)
	if at < 0 && len(o.use.Lines) > 0 {
		o.filter.SetSelectedIndex(0)
		at = slices.Index(o.listed, i)
	}
	if at >= 0 {
		o.list.Select(at)
		o.list.ScrollTo(at)
	}
	o.choose(i)
}

// choose shows a line in the editor. Numbers being typed are taken over first.
func (o *outlinesDialog) choose(i int) {
	if i < 0 || i >= len(o.use.Lines) {
		return
	}
	o.edit.commit()
	o.chosen = i
	o.use.Apart()
	o.fill()
	o.plot.Refresh()
}

// fill brings all that is set up to date.
func (o *outlinesDialog) fill() {
	o.busy = true
	defer func() { o.busy = false }()
	kit.SetText(o.about, o.aboutText(o.chosen))
	o.edit.fill()
	o.pieces.fill()
	o.scales.fill()
	o.lines.fill()
	kit.Able(o.use.CanUndo(), o.undo)
	kit.Able(o.use.CanRedo(), o.redo)
}

// mostAtOnce is how many lines are made frames at once: no hull has more.
const mostAtOnce = 1000

// allAre is where it is said at once what all lines shown are that are not used.
func (o *outlinesDialog) allAre() fyne.CanvasObject {
	all := kit.NewSelect([]string{tongue.T("frames"), tongue.T("waterlines"), tongue.T("buttocks")}, nil)
	all.PlaceHolder = tongue.T("All are…")
	all.OnChanged = func(string) {
		switch k := all.SelectedIndex(); k {
		case 0:
			o.allFrames()
		case 1, 2:
			o.allLines([]string{drawing.WaterlineMark, drawing.ButtockMark}[k-1])
		default:
			return
		}
		all.ClearSelected()
	}
	return all
}

// allFrames makes all lines shown that are not used outlines of frames, and
// chooses the first of which no x is known.
func (o *outlinesDialog) allFrames() {
	o.say("", func() {
		for _, i := range o.listed[:min(len(o.listed), mostAtOnce)] {
			if o.use.Lines[i].Mark == drawing.Unused {
				o.use.Frame(i)
			}
		}
	})
	if i := slices.IndexFunc(o.use.Lines, unplaced); i >= 0 {
		o.pick(i)
		o.desk.Win.Canvas().Focus(o.edit.x.Entry)
	}
}

// unplaced tells whether a line is the outline of a frame of which no x is known.
func unplaced(l drawing.Outline) bool { return l.Mark == "" && !l.Profile && !l.Placed }

// next chooses the next frame in the list of which no x is known, if there is one.
func (o *outlinesDialog) next() {
	at := slices.Index(o.listed, o.chosen)
	for k := range o.listed {
		i := o.listed[(at+1+k)%len(o.listed)]
		if unplaced(o.use.Lines[i]) {
			o.pick(i)
			return
		}
	}
}

// frames are the names of frames in use, each once.
func (o *outlinesDialog) frames() []string {
	var out []string
	for i := range o.use.Lines {
		if n := o.use.Lines[i].Frame; n != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// say makes a change as one step, and reads anew.
func (o *outlinesDialog) say(step string, f func()) {
	o.use.Change(step, f)
	o.changed()
}

// step undoes or does again.
func (o *outlinesDialog) step(f func() bool) {
	o.desk.Win.Canvas().Unfocus()
	if f() {
		o.changed()
	}
}

func (o *outlinesDialog) changed() {
	if o.chosen >= len(o.use.Lines) { // lines of another drawing were taken back
		o.chosen = 0
	}
	o.fill()
	o.show()
	o.read()
}

// read makes the hull anew, off the main goroutine. Another reading that still
// goes on is ended; one that the user stops is made up for when the plan is asked
// for.
func (o *outlinesDialog) read() { o.readThen(func() {}) }

// readThen is read, with what is done when all is read.
func (o *outlinesDialog) readThen(then func()) {
	o.changes++
	o.endReading()
	wanted, end := context.WithCancel(o.desk.Life)
	o.endReading, o.unread = end, false
	mine, use := o.changes, o.use
	use.Lines = slices.Clone(o.use.Lines)
	o.accept.Disable()
	var result *drawing.Drawing
	var wrong []fault.Fault
	o.desk.WorkUnless(tongue.T("Reading the outlines…"), func(ctx context.Context) (err error) {
		ctx, stop := context.WithCancel(ctx)
		defer stop()
		defer context.AfterFunc(wanted, stop)()
		result, wrong, err = o.readUse(&use, ctx)
		if wanted.Err() != nil {
			return nil // nobody asks for it any more
		}
		return err
	}, func() {
		if mine == o.changes {
			o.result, o.wrong = result, wrong
			o.tell()
			then()
		}
	}, func() {
		if mine == o.changes {
			o.unread = true
			o.told.SetText(tongue.T("Stopped: your last answer is not worked in yet. It is when you make the plan, or change anything else."))
			o.accept.Enable()
		}
	})
}

// lineText is a line's row.
func (o *outlinesDialog) lineText(i int) string {
	l := &o.use.Lines[i]
	text := fmt.Sprintf("%d  ", i+1)
	if l.Mark == drawing.Unused {
		name := nameOr(l.Called(), tongue.T("without a name"))
		if l.Layer != "" && l.Layer != l.Called() {
			name += " (" + l.Layer + ")"
		}
		return text + tongue.T("%s: not used", name)
	}
	if l.IsLine() {
		return text + o.placeText(l)
	}
	if l.Mark != "" {
		return text + markText(l)
	}
	text += titleOf(l)
	switch {
	case l.Placed:
		text += " " + tongue.T("at x %s", o.desk.Units.Long(l.X))
	case !l.Profile:
		text += tongue.T(", x not known")
	}
	if h, ok := o.halves(l.Frame); ok && !h.Even() {
		text += tongue.T(" · halves differ %s", o.desk.Units.Length(h.MM))
	}
	return text
}

// placeText tells where a waterline or buttock lies.
func (o *outlinesDialog) placeText(l *drawing.Outline) string {
	at := o.desk.Units.Long(l.X)
	if l.Mark == drawing.ButtockMark {
		switch {
		case o.lines.said().Buttocks.Every > 0:
			return tongue.T("buttock, evenly spaced")
		case l.Placed:
			return tongue.T("buttock at half-breadth %s", at)
		}
		return tongue.T("buttock, half-breadth not known")
	}
	switch {
	case o.lines.said().Waterlines.Every > 0:
		return tongue.T("waterline, evenly spaced")
	case l.Placed:
		return tongue.T("waterline at height %s", at)
	}
	return tongue.T("waterline, height not known")
}

// markText tells what a mark is, and of which frame.
func markText(l *drawing.Outline) string {
	kind := outlineKinds[kindOf(l)]
	if l.Frame == "" || kind.view != "" {
		return tongue.T(kind.name)
	}
	return tongue.T("%s of frame %s", tongue.T(kind.name), l.Frame)
}

// titleOf names the outline of a frame, or an end in the side view.
func titleOf(l *drawing.Outline) string {
	switch {
	case l.Profile && l.Frame == "stem":
		return tongue.T("stem, from the side")
	case l.Profile && l.Frame == "stern":
		return tongue.T("stern, from the side")
	}
	return l.Title()
}

// halves is how far the halves of a frame differ, if it was read and is whole.
func (o *outlinesDialog) halves(frame string) (drawing.Halves, bool) {
	for _, h := range o.result.Halves {
		if h.Frame == frame {
			return h, true
		}
	}
	return drawing.Halves{}, false
}

func nameOr(name, other string) string {
	if name == "" {
		return other
	}
	return name
}

// aboutText tells how a line is drawn.
func (o *outlinesDialog) aboutText(i int) string {
	l := &o.use.Lines[i]
	units := o.desk.Units
	text := tongue.T("Line %d, %s", i+1, nameOr(l.Called(), tongue.T("without a name")))
	if l.Layer != "" && l.Layer != l.Called() {
		text += tongue.T(", on layer %s", l.Layer)
	}
	low, high := l.Bounds()
	size := strings.TrimSuffix(units.Long(high[0]-low[0]), " "+units.Name()) + " x " + units.Long(high[1]-low[1])
	switch {
	case len(l.Points) == 1:
		text += tongue.T(": a point")
	case l.Closed:
		text += tongue.T(": closed, %s", size)
	default:
		text += tongue.T(": open, %s, %s long", size, units.Long(l.Length()))
	}
	n := len(l.Corners)
	if l.Closed && n > 1 && l.Corners[0] == 0 && l.Corners[n-1] == len(l.Points)-1 {
		n-- // where it closes is one corner
	}
	if n > 0 {
		text += tongue.T(", corners kept: %d (◆)", n)
	}
	if l.Line > 0 {
		text += tongue.T("; line %d of the file", l.Line)
	}
	text += "."
	if h, ok := o.halves(l.Frame); ok && l.Mark == "" {
		if h.Even() {
			return text + " " + tongue.T("Its halves agree.")
		}
		text += " " + tongue.T("Its halves differ by up to %s, at height %s and half-breadth %s.", units.Length(h.MM), units.Long(h.Z), units.Long(h.Y))
	}
	return text
}

// tell says what comes of it: what is wrong yet, or the hull, and how far the
// halves of its frames differ.
func (o *outlinesDialog) tell() {
	out := append(faultTexts(o.wrong), o.pieces.found...)
	if frames := o.result.Hull.Frames; len(o.wrong) == 0 && len(frames) > 0 {
		n := len(frames)
		out = append(out, tongue.T("%d frames, from %s at x %s to %s at x %s.", n,
			frames[0].Name, o.desk.Units.Long(frames[0].X()), frames[n-1].Name, o.desk.Units.Long(frames[n-1].X())))
		out = append(out, o.result.Notes...)
	}
	o.told.SetText(strings.Join(out, "\n"))
	kit.SetText(o.about, o.aboutText(o.chosen))
	o.list.Refresh()
	o.plot.Refresh()
	kit.Able(len(o.wrong) == 0, o.accept)
}

// faultTexts tells faults in a few sentences: those that differ in their frame
// alone together.
func faultTexts(faults []fault.Fault) []string {
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
			out = append(out, tongue.Count(len(kinds)-most, "And %d more fault of another kind.", "And %d more faults of other kinds.", len(kinds)-most))
			break
		}
		f := fault.Fault{What: k.what, Mend: k.mend}
		switch names := frames[k]; {
		case len(names) == 1:
			f.Frame = names[0]
		case len(names) > mostNames:
			f.What = tongue.T("frames %s and %d more: %s", strings.Join(names[:mostNames], ", "), len(names)-mostNames, f.What)
		default:
			f.What = tongue.T("frames %s: %s", strings.Join(names, ", "), f.What)
		}
		out = append(out, kit.Sentence(f))
	}
	if len(out) > 0 {
		out = append(out, tongue.T("Choose a line in the list or on the drawing, and say above what it is: names, x and marks given here count as if they were drawn."))
	}
	return out
}

// take opens a plan of the hull in place of the one at hand.
func (o *outlinesDialog) take() {
	o.edit.commit()
	o.pieces.commit()
	o.scales.commit()
	o.lines.commit()
	if o.unread {
		o.readThen(o.take)
		return
	}
	if len(o.wrong) > 0 || o.accept.Disabled() {
		return
	}
	title, h := keep.Title(o.path), o.result.Hull
	var s *app.Session
	o.desk.Work(tongue.T("Making the plan…"), func(ctx context.Context) (err error) {
		s, err = app.FromHull(ctx, title, h)
		return err
	}, func() {
		o.dialog.Hide()
		o.desk.Replace(s)
	})
}
