package fairing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
)

// outlineKind is what a line can be.
type outlineKind struct {
	name    string
	mark    string
	profile string // "stem" or "stern", seen from the side
	view    string // the plan of waterlines or buttocks in which it lies
}

// outlineKinds are those that can be chosen.
var outlineKinds = []outlineKind{
	{tongue.Mark("outline of a frame"), "", "", ""},
	{tongue.Mark("stem, seen from the side"), "", "stem", ""},
	{tongue.Mark("stern, seen from the side"), "", "stern", ""},
	{tongue.Mark("waterline, of a half-breadth plan"), drawing.WaterlineMark, "", ""},
	{tongue.Mark("buttock, of a sheer plan"), drawing.ButtockMark, "", ""},
	{tongue.Mark("sheer, its half-breadths along the hull"), drawing.UpperMark, "", drawing.BreadthView},
	{tongue.Mark("sheer, its heights along the hull"), drawing.UpperMark, "", drawing.HeightView},
	{tongue.Mark("rabbet, its half-breadths along the hull"), drawing.RabbetMark, "", drawing.BreadthView},
	{tongue.Mark("rabbet, its heights along the hull"), drawing.RabbetMark, "", drawing.HeightView},
	{tongue.Mark("mark of x 0 in waterlines and buttocks"), drawing.OriginMark, "", ""},
	{tongue.Mark("mark of the centre line"), drawing.CentreMark, "", ""},
	{tongue.Mark("mark of the base line"), drawing.BaseMark, "", ""},
	{tongue.Mark("mark of the upper limit"), drawing.UpperMark, "", ""},
	{tongue.Mark("mark of the rabbet"), drawing.RabbetMark, "", ""},
	{tongue.Mark("mark of a station in the side view"), drawing.StationMark, "", ""},
	{tongue.Mark("not used"), drawing.Unused, "", ""},
}

// kindOf gives what a line is.
func kindOf(l *drawing.Outline) int {
	for k, is := range outlineKinds {
		if is.mark == l.Mark && (is.view == "" || is.view == l.Frame) && (is.profile != "") == l.Profile && (!l.Profile || is.profile == l.Frame) {
			return k
		}
	}
	return len(outlineKinds) - 1
}

// become makes a line what was chosen.
func (k outlineKind) become(l *drawing.Outline) {
	was := outlineKinds[kindOf(l)]
	switch line := k.mark == drawing.WaterlineMark || k.mark == drawing.ButtockMark; {
	case k.profile != "":
		l.Frame = k.profile
	case k.view != "":
		l.Frame = k.view
	case l.Profile || was.view != "" || line != l.IsLine():
		l.Frame, l.X, l.Placed = "", 0, false
	}
	l.Mark, l.Profile = k.mark, k.profile != ""
}

// outlineEditor is where it is said what the chosen line is.
type outlineEditor struct {
	o      *outlinesDialog
	kind   *kit.Select
	frame  *kit.FieldOfChoice
	x      *kit.Number
	siding *kit.Number
	atX    *widget.Label
	only   fyne.CanvasObject // what stands there for a profile alone
}

func (e *outlineEditor) line() *drawing.Outline { return &e.o.use.Lines[e.o.chosen] }

func (e *outlineEditor) content(o *outlinesDialog) fyne.CanvasObject {
	e.o = o
	var names []string
	for _, k := range outlineKinds {
		names = append(names, tongue.T(k.name))
	}
	e.kind = kit.NewSelect(names, nil)
	e.kind.OnChanged = func(string) {
		if k := e.kind.SelectedIndex(); !o.busy && k >= 0 {
			o.say("", func() {
				if outlineKinds[k].become(e.line()); k == 0 {
					o.use.Frame(o.chosen)
				}
			})
		}
	}
	e.frame = kit.NewFieldOfChoice()
	e.frame.OnChanged = func(name string) {
		if !o.busy {
			o.say(fmt.Sprint("frame ", o.chosen), func() { o.use.Rename(o.chosen, strings.TrimSpace(name)) })
		}
	}
	e.x = kit.NewLength(o.desk.Notices, &o.desk.Units, 1, func() float64 {
		if l := e.line(); l.Placed {
			return l.X
		}
		return math.NaN()
	}, e.setX)
	e.x.Entry.OnSubmitted = func(string) {
		if e.x.Commit(); e.line().Placed {
			o.next()
		}
	}
	e.siding = kit.NewLength(o.desk.Notices, &o.desk.Units, 0.5, func() float64 { return e.line().Siding }, func(mm float64) bool {
		if mm < 0 {
			o.told.SetText(tongue.T("The half-siding is the half-breadth all along the stem or stern: give 0 or more."))
			return false
		}
		o.say("", func() { e.line().Siding = mm })
		return true
	})
	e.atX = widget.NewLabel("")
	e.only = kit.TippedRow(tongue.T("Half-siding (%s)", o.desk.Units.Name()), tongue.T("Half the thickness of stem or stern, where it is drawn"), e.siding.Box)
	at := kit.Tipped(container.New(&kit.RowLayout{}, e.atX, e.x.Box), tongue.T("Where the frame stands along the keel, at the model's size"))
	return container.NewVBox(kit.TippedRow(tongue.T("It is"), tongue.T("What the chosen line is"), e.kind), kit.TippedRow(tongue.T("Of frame"), tongue.T("Which frame the line belongs to"), e.frame), at, e.only)
}

// setX tells where the frame of the chosen line stands.
func (e *outlineEditor) setX(mm float64) bool {
	if !e.line().IsLine() && e.line().Frame == "" {
		e.o.told.SetText(tongue.T("Type the name of the frame first, and then its x."))
		return false
	}
	e.o.say("", func() { e.o.use.Place(e.o.chosen, mm) })
	return true
}

// fill shows the chosen line.
func (e *outlineEditor) fill() {
	l, unit := e.line(), e.o.desk.Units.Name()
	e.kind.SetSelectedIndex(kindOf(l))
	e.frame.SetOptions(e.o.frames())
	if strings.TrimSpace(e.frame.Text) != l.Frame {
		e.frame.SetText(l.Frame)
	}
	switch l.Mark {
	case "", drawing.StationMark:
		e.frame.SetPlaceHolder(tongue.T("its name"))
	case drawing.Unused, drawing.WaterlineMark, drawing.ButtockMark:
		e.frame.SetPlaceHolder("")
	default:
		e.frame.SetPlaceHolder(tongue.T("of all frames"))
	}
	ofView := outlineKinds[kindOf(l)].view != ""
	kit.Able(!l.Profile && l.Mark != drawing.Unused && !l.IsLine() && !ofView, e.frame)
	e.atX.SetText(tongue.T("At x (%s)", unit))
	switch {
	case l.Profile:
		e.atX.SetText(tongue.T("Upper end at x (%s)", unit))
	case l.Mark == drawing.WaterlineMark:
		e.atX.SetText(tongue.T("At height z (%s)", unit))
	case l.Mark == drawing.ButtockMark:
		e.atX.SetText(tongue.T("At half-breadth y (%s)", unit))
	}
	kit.Show(e.only, l.Profile || (l.Mark == drawing.RabbetMark && l.Frame == drawing.HeightView))
	e.x.Able(l.Mark == "" || l.IsLine())
	e.x.Sync()
	e.siding.Sync()
}

// commit takes over numbers that are being typed.
func (e *outlineEditor) commit() {
	e.x.Commit()
	e.siding.Commit()
}

// outlineScales is what is said of the whole drawing.
type outlineScales struct {
	o                    *outlinesDialog
	halves               *kit.Select
	drawn, model, factor *kit.NumberEntry
}

// halfNames are what can be taken of whole frames, in the order of drawing.Half.
func halfNames() []string {
	return []string{tongue.T("both halves, their mean"), tongue.T("the right half alone"), tongue.T("the left half alone")}
}

func (s *outlineScales) content(o *outlinesDialog) fyne.CanvasObject {
	s.o = o
	s.halves = kit.NewSelect(halfNames(), nil)
	s.halves.OnChanged = func(string) {
		if k := s.halves.SelectedIndex(); !o.busy && k >= 0 {
			o.say("", func() { o.use.How.Half = drawing.Half(k) })
		}
	}
	s.drawn = s.entry(func() *float64 { return &o.use.How.Drawn })
	s.model = s.entry(func() *float64 { return &o.use.How.Model })
	s.factor = s.entry(func() *float64 { return &o.use.How.Factor })
	scales := container.NewGridWithColumns(3, s.labelled(tongue.T("Drawn at 1:"), s.drawn), s.labelled(tongue.T("model at 1:"), s.model), s.labelled(tongue.T("or times"), s.factor))
	return container.NewVBox(kit.TippedRow(tongue.T("For whole frames, take"), tongue.T("Which half of a whole frame is taken, or the mean of both"), s.halves), kit.Tipped(scales, tongue.T("At what scale it is drawn, and the model built; or by how much to multiply")))
}

func (s *outlineScales) labelled(text string, e *kit.NumberEntry) fyne.CanvasObject {
	return container.NewBorder(nil, nil, widget.NewLabel(text), nil, e)
}

// entry is for a scale; empty is none.
func (s *outlineScales) entry(of func() *float64) *kit.NumberEntry {
	e := &kit.NumberEntry{}
	e.ExtendBaseWidget(e)
	take := func() {
		if e.Text == scaleText(*of()) {
			return
		}
		v, err := 0.0, error(nil)
		if strings.TrimSpace(e.Text) != "" {
			v, err = kit.ParseNumber(strings.TrimPrefix(strings.TrimSpace(e.Text), "1:"))
		}
		if err == nil && v != 0 {
			err = hull.DrawingScale.Refuse(tongue.T("the scale"), v, "")
		}
		if err != nil {
			s.o.told.SetText(kit.Sentence(err))
			e.SetText(scaleText(*of()))
			return
		}
		s.o.say("", func() { *of() = v })
	}
	e.Left = take
	e.OnSubmitted = func(string) { take() }
	return e
}

func scaleText(v float64) string {
	if v == 0 {
		return ""
	}
	return tongue.Figure(strconv.FormatFloat(v, 'g', 6, 64))
}

// fill shows what is said of the whole drawing.
func (s *outlineScales) fill() {
	how := &s.o.use.How
	s.halves.SetSelectedIndex(int(how.Half))
	for e, v := range map[*kit.NumberEntry]float64{s.drawn: how.Drawn, s.model: how.Model, s.factor: how.Factor} {
		if e.Text != scaleText(v) {
			e.SetText(scaleText(v))
		}
	}
}

// commit takes over what is being typed.
func (s *outlineScales) commit() {
	for _, e := range []*kit.NumberEntry{s.drawn, s.model, s.factor} {
		e.Left()
	}
}
