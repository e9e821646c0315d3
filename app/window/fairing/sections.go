package fairing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
)

// sectionsDialog has the builder say where and how a mesh is sliced, and shows what
// comes of it, until a plan is made.
type sectionsDialog struct {
	desk   *desk.Desk
	path   string
	how    mesh.Options
	found  source.Checked
	lines  []drawing.Outline // the frames and limits, to be drawn
	latest kit.Latest
	every  *kit.Number
	from   *kit.Number
	fields []*kit.Number // these and the scale
	check  func(context.Context, string, mesh.Options) source.Checked

	v        views.Outlines
	plot     *kit.Plot
	told     *widget.Label
	bar      *widget.ProgressBar
	bow      *kit.Select
	stations *kit.Select
	list     *kit.Field
	spaced   fyne.CanvasObject // what is set for stations that are evenly spaced
	listed   fyne.CanvasObject // and for those of a list
	accept   *kit.Button
	dialog   *dialog.CustomDialog
	content  fyne.CanvasObject
}

// choice is a word that can be chosen, with what it sets.
type choice struct {
	name string
	set  func(*mesh.Options)
}

func axisChoices(free string, set func(*mesh.Options, mesh.Axis), axes ...mesh.Axis) []choice {
	out := []choice{{free, func(o *mesh.Options) { set(o, "") }}}
	for _, a := range axes {
		out = append(out, choice{tongue.T("its %s", string(a)), func(o *mesh.Options) { set(o, a) }})
	}
	return out
}

func lengthChoices() []choice {
	return axisChoices(tongue.T("the longest"), func(o *mesh.Options, a mesh.Axis) { o.Length = a }, "x", "y", "z")
}

func upChoices() []choice {
	return axisChoices(tongue.T("by its shape"), func(o *mesh.Options, a mesh.Axis) { o.Up = a }, "x", "y", "z", "-x", "-y", "-z")
}

func bowChoices() []choice {
	return []choice{
		{tongue.T("at the least of its length"), func(o *mesh.Options) { o.Bow = "" }},
		{tongue.T("at the greatest"), func(o *mesh.Options) { o.Bow = hull.BowLast }},
	}
}

func halfChoices() []choice {
	return []choice{
		{tongue.T("the mean of both"), func(o *mesh.Options) { o.Half = mesh.BothHalves }},
		{tongue.T("the right one"), func(o *mesh.Options) { o.Half = mesh.RightHalf }},
		{tongue.T("the left one"), func(o *mesh.Options) { o.Half = mesh.LeftHalf }},
	}
}

// unitChoices are the units, from the smallest up.
func unitChoices() []choice {
	out := []choice{{tongue.T("as it says, or mm"), func(o *mesh.Options) { o.Unit = 0 }}}
	for _, name := range []string{"mm", "cm", "in", "ft", "m"} {
		out = append(out, choice{name, func(o *mesh.Options) { o.Unit = mesh.Units[name] }})
	}
	return out
}

// The ways to set stations, in the order in which they can be chosen.
const (
	stationsEven = iota
	stationsSpaced
	stationsListed
)

// OpenSections opens the dialog on a mesh; c is what was found in it with nothing told,
// or nil where it is yet to be read.
func OpenSections(d *desk.Desk, path string, c *source.Checked) *sectionsDialog {
	return openSections(d, path, c, source.CheckMesh)
}

func openSections(d *desk.Desk, path string, c *source.Checked, check func(context.Context, string, mesh.Options) source.Checked) *sectionsDialog {
	o := &sectionsDialog{desk: d, path: path, check: check}
	o.accept = kit.NewButtonWithIcon(tongue.T("Make the plan"), theme.ConfirmIcon(), o.take)
	o.accept.Importance = widget.HighImportance
	o.content = o.build()
	o.dialog = d.NewDialog(tongue.T("Sections of %s", filepath.Base(path)), o.content)
	d.Explain(o.accept, tongue.T("Makes a plan of these sections"))
	o.dialog.SetButtons([]fyne.CanvasObject{d.Button(tongue.T("Cancel"), tongue.T("Leaves without a plan"), o.dialog.Hide), o.accept})
	o.dialog.SetOnClosed(func() { o.latest.End() })
	s := d.Win.Canvas().Size()
	o.dialog.Resize(fyne.NewSize(fyne.Min(1240, s.Width*0.97), fyne.Min(860, s.Height*0.97)))
	o.dialog.Show()
	if c == nil {
		o.read()
		return o
	}
	o.found = *c
	o.tell()
	return o
}

func (o *sectionsDialog) build() fyne.CanvasObject {
	o.plot = kit.NewPlot(o.desk.Notices, o.desk.Look, fyne.NewSize(320, 260), func(w, h float64) *draw.Drawing {
		o.v.Draw(o.lines, nil, -1, w, h)
		return &o.v.Drawing
	}, func(draw.Point) {})
	o.told = kit.Wrapped("")
	o.bar = widget.NewProgressBar()
	unit := o.desk.Units.Name()
	scale := kit.NewNumber(o.desk.Notices, 1, fault.Figure, func() float64 { return max(o.how.Scale, 1) }, func(v float64) bool {
		if err := hull.DrawingScale.Refuse(tongue.T("the scale"), v, ""); err != nil {
			o.told.SetText(kit.Sentence(err))
			return false
		}
		return o.say(func(how *mesh.Options) { how.Scale = v })
	})
	o.every = kit.NewLength(o.desk.Notices, &o.desk.Units, 1, func() float64 { return o.how.Every }, func(mm float64) bool {
		if mm <= 0 {
			o.told.SetText(tongue.T("Stations must be some way apart: give more than 0."))
			return false
		}
		return o.say(func(how *mesh.Options) { how.Every = mm })
	})
	o.from = kit.NewLength(o.desk.Notices, &o.desk.Units, 1, func() float64 {
		if o.how.From == nil {
			return math.NaN()
		}
		return *o.how.From
	}, func(mm float64) bool { return o.say(func(how *mesh.Options) { how.From = &mm }) })
	o.from.Entry.SetPlaceHolder(tongue.T("multiples of that"))
	o.fields = []*kit.Number{scale, o.every, o.from}
	o.list = kit.NewField()
	o.list.SetPlaceHolder(tongue.T("0, 20, 40.5 and Return"))
	o.list.OnSubmitted = o.setList
	o.spaced = container.NewVBox(kit.TippedRow(tongue.T("Every (%s)", unit), tongue.T("How far apart the sections lie"), o.every.Box), kit.TippedRow(tongue.T("From (%s)", unit), tongue.T("Where the first section lies"), o.from.Box))
	o.listed = kit.TippedRow(tongue.T("At (%s)", unit), tongue.T("Where the sections lie"), o.list)
	o.bow, o.stations = o.choose(bowChoices()), o.stationsChoice()
	set := container.NewVBox(
		kit.TippedRow(tongue.T("Along the keel"), tongue.T("Which axis of the mesh runs along the keel"), o.choose(lengthChoices())), kit.TippedRow(tongue.T("Up"), tongue.T("Which axis of the mesh points up"), o.choose(upChoices())), kit.TippedRow(tongue.T("The bow"), tongue.T("At which end the bow lies"), o.bow),
		widget.NewSeparator(),
		kit.TippedRow(tongue.T("Unit"), tongue.T("What unit the mesh is drawn in"), o.choose(unitChoices())), kit.TippedRow(tongue.T("Model scale 1:"), tongue.T("The scale of the model"), scale.Box), kit.TippedRow(tongue.T("Half"), tongue.T("Which half of the hull is taken"), o.choose(halfChoices())),
		widget.NewSeparator(),
		kit.TippedRow(tongue.T("Stations"), tongue.T("How the places of the sections are given"), o.stations), o.spaced, o.listed,
		widget.NewSeparator(), o.bar)
	both := container.NewHSplit(container.NewVScroll(set), o.plot)
	both.SetOffset(0.36)
	below := container.NewVScroll(o.told)
	below.SetMinSize(fyne.NewSize(200, 190))
	o.syncFields()
	return container.NewBorder(nil, below, nil, nil, both)
}

// choose is where one of some words is chosen; the first stands there.
func (o *sectionsDialog) choose(list []choice) *kit.Select {
	var names []string
	for _, c := range list {
		names = append(names, c.name)
	}
	s := kit.NewSelect(names, nil)
	s.SetSelectedIndex(0)
	s.OnChanged = func(string) {
		if k := s.SelectedIndex(); k >= 0 {
			o.say(list[k].set)
		}
	}
	return s
}

// stationsChoice is where it is chosen how the stations are told.
func (o *sectionsDialog) stationsChoice() *kit.Select {
	s := kit.NewSelect([]string{tongue.T("twenty, evenly spaced"), tongue.T("evenly spaced"), tongue.T("a list")}, nil)
	show := func(k int) {
		kit.Show(o.spaced, k == stationsSpaced)
		kit.Show(o.listed, k == stationsListed)
	}
	s.SetSelectedIndex(stationsEven)
	show(stationsEven)
	s.OnChanged = func(string) {
		k := s.SelectedIndex()
		show(k)
		o.how.Every, o.how.From, o.how.Stations = 0, nil, nil
		switch k {
		case stationsSpaced:
			o.how.Every = o.spacing()
		case stationsListed:
			o.list.SetText(o.stationsText())
			o.setList(o.list.Text)
			return
		}
		o.say(func(*mesh.Options) {})
	}
	return s
}

// spacing is about that of the frames as they are, in whole mm.
func (o *sectionsDialog) spacing() float64 {
	if f := o.frames(); len(f) > 1 {
		return max(math.Round((f[len(f)-1].X()-f[0].X())/float64(len(f)-1)), 1)
	}
	return 20
}

// stationsText lists the frames as they are.
func (o *sectionsDialog) stationsText() string {
	var out []float64
	for _, f := range o.frames() {
		out = append(out, f.X())
	}
	return placesText(out, o.desk.Units)
}

// placesText lists places along the hull, mm, as they are typed: with semicolons where
// the language has a decimal comma.
func placesText(xs []float64, u views.Units) string {
	var out []string
	for _, x := range xs {
		out = append(out, u.Number(x))
	}
	if tongue.Figure(".") != "." {
		return strings.Join(out, "; ")
	}
	return strings.Join(out, ", ")
}

func (o *sectionsDialog) frames() []hull.Frame {
	if o.found.Hull == nil {
		return nil
	}
	return o.found.Hull.Frames
}

// setList takes over a list of stations.
func (o *sectionsDialog) setList(text string) {
	list, err := kit.ParseNumbers(text)
	if err != nil {
		o.told.SetText(tongue.T("Write the places of the stations as 0, 20, 40.5."))
		return
	}
	for i := range list {
		list[i] = o.desk.Units.ToMM(list[i])
	}
	o.say(func(how *mesh.Options) { how.Stations = list })
}

// say changes what is told of the mesh, and reads it anew.
func (o *sectionsDialog) say(change func(*mesh.Options)) bool {
	change(&o.how)
	o.read()
	return true
}

func (o *sectionsDialog) syncFields() {
	for _, n := range o.fields {
		n.Sync()
	}
}

// read slices the mesh off the main goroutine, with its progress shown; what is said
// meanwhile, or that the dialog is closed, ends it.
func (o *sectionsDialog) read() {
	o.syncFields()
	o.accept.Disable()
	o.bar.SetValue(0)
	o.bar.Show()
	how := o.how
	how.Stations = slices.Clone(how.Stations)
	o.latest.Start(o.desk.Background, func(ctx context.Context) func() {
		how.Progress = func(share float64) {
			o.desk.OnMain(func() {
				if ctx.Err() == nil {
					o.bar.SetValue(share)
				}
			})
		}
		found := o.check(ctx, o.path, how)
		return func() {
			o.found = found
			o.tell()
		}
	})
}

// tell shows what came of it.
func (o *sectionsDialog) tell() {
	o.bar.Hide()
	o.lines = nil
	var out []string
	for _, f := range o.found.Faults {
		f.File = "" // the dialog is about it
		out = append(out, kit.Sentence(f))
	}
	if len(out) == 0 {
		o.lines = outlinesOf(o.frames())
		out = o.found.Notes
	}
	o.told.SetText(strings.Join(out, "\n"))
	kit.Able(len(o.found.Faults) == 0, o.accept)
	o.plot.Refresh()
}

// outlinesOf are frames as lines to draw, with the limits.
func outlinesOf(frames []hull.Frame) []drawing.Outline {
	var out []drawing.Outline
	upper, lower := drawing.Outline{Mark: drawing.UpperMark}, drawing.Outline{Mark: drawing.RabbetMark}
	for _, f := range frames {
		l := drawing.Outline{Frame: f.Name, X: f.X(), Placed: true}
		for _, p := range f.Points {
			l.Points = append(l.Points, mgl64.Vec2{p.Y(), p.Z()})
		}
		n := len(l.Points)
		upper.Points, lower.Points = append(upper.Points, l.Points[0]), append(lower.Points, l.Points[n-1])
		out = append(out, l)
	}
	return append(out, upper, lower)
}

// take opens a plan of the hull in place of the one at hand.
func (o *sectionsDialog) take() {
	for _, n := range o.fields {
		n.Commit()
	}
	if o.accept.Disabled() {
		return
	}
	title, h := keep.Title(o.path), o.found.Hull.Clone()
	var s *app.Session
	o.desk.Work(tongue.T("Making the plan…"), func(ctx context.Context) (err error) {
		if s, err = app.FromHull(ctx, title, h); err != nil && !errors.Is(err, context.Canceled) {
			err = fmt.Errorf("%s: %w", filepath.Base(o.path), err)
		}
		return err
	}, func() {
		o.dialog.Hide()
		o.desk.Replace(s)
	})
}
