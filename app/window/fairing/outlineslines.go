package fairing

import (
	"context"
	"math"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/outlining"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source"
)

// outlineLines is what is said of a drawing of waterlines and buttocks as a whole: where
// frames are taken, and where its lines lie if they are evenly spaced. It stands there
// only while the drawing has such lines.
type outlineLines struct {
	o        *outlinesDialog
	box      *fyne.Container
	stations *kit.Select
	bow      *kit.Select
	spaced   fyne.CanvasObject
	waters   fyne.CanvasObject // how the waterlines are spaced
	butts    fyne.CanvasObject
	list     *kit.Field
	listTip  *kit.Tip
	fields   []*kit.Number
	chosen   int // of the ways to set stations
}

// lineBowEnds are where the bow can lie, in the order in which it can be chosen.
var lineBowEnds = []hull.BowEnd{"", hull.BowFirst, hull.BowLast}

func (l *outlineLines) content(o *outlinesDialog) fyne.CanvasObject {
	l.o = o
	unit := o.desk.Units.Name()
	l.stations = kit.NewSelect([]string{tongue.T("at marks, or twenty"), tongue.T("evenly spaced"), tongue.T("at a list of x")}, func(string) {
		if k := l.stations.SelectedIndex(); !o.busy && k >= 0 && k != l.chosen {
			l.chosen = k
			l.setStations()
		}
	})
	every := l.length(func() float64 { return l.at().Every }, func(mm float64) bool {
		if mm <= 0 {
			o.told.SetText(tongue.T("Stations must be some way apart: give more than 0."))
			return false
		}
		l.say("stations every", func() { o.use.Stand(drawing.Stations{From: l.at().From, Every: mm}) })
		return true
	})
	from := l.length(func() float64 { return l.at().From }, func(mm float64) bool {
		l.say("stations from", func() { o.use.Stand(drawing.Stations{From: mm, Every: l.at().Every}) })
		return true
	})
	l.list = kit.NewField()
	l.list.SetPlaceHolder(tongue.T("0, 20, 40.5 and Return"))
	l.list.OnSubmitted = l.setList
	l.listTip = kit.Tipped(l.list, tongue.T("Where the frames stand, in order along the hull"))
	l.bow = kit.NewSelect([]string{tongue.T("as named"), tongue.T("at the least x"), tongue.T("at the greatest x")}, func(string) {
		if k := l.bow.SelectedIndex(); !o.busy && k >= 0 {
			l.say("", func() { o.use.SetLines(func(how *drawing.Lines) { how.Bow = lineBowEnds[k] }) })
		}
	})
	l.spaced = pair(tongue.T("Every (%s)", unit), every.Box, tongue.T("from x (%s)", unit), from.Box)
	l.waters = pair(tongue.T("Waterlines from z (%s)", unit), l.evenFrom(waterEven).Box, tongue.T("every (%s)", unit), l.evenEvery(waterEven).Box)
	l.butts = pair(tongue.T("Buttocks from y (%s)", unit), l.evenFrom(buttEven).Box, tongue.T("every (%s)", unit), l.evenEvery(buttEven).Box)
	l.box = container.NewVBox(container.NewBorder(nil, nil, nil, l.o.desk.Button(tongue.T("Add the other plan…"), tongue.T("Takes the waterlines or buttocks of a second drawing as well"), l.askOther), pair(tongue.T("Frames"), l.stations, tongue.T("Bow"), l.bow)), l.spaced, l.listTip, l.waters, l.butts)
	l.box.Hide()
	return l.box
}

// pair is two rows side by side.
func pair(one string, first fyne.CanvasObject, two string, second fyne.CanvasObject) fyne.CanvasObject {
	return kit.Tipped(container.NewGridWithColumns(2, kit.Row(one, first), kit.Row(two, second)), tongue.T("Where lines and frames stand, and which way the bow points"))
}

func waterEven(l *drawing.Lines) *drawing.Even { return &l.Waterlines }
func buttEven(l *drawing.Lines) *drawing.Even  { return &l.Buttocks }

func (l *outlineLines) length(get func() float64, set func(mm float64) bool) *kit.Number {
	n := kit.NewLength(l.o.desk.Notices, &l.o.desk.Units, 1, get, set)
	l.fields = append(l.fields, n)
	return n
}

// evenFrom and evenEvery are where an even spacing of lines is set; every 0 takes the
// places that their names tell.
func (l *outlineLines) evenFrom(of func(*drawing.Lines) *drawing.Even) *kit.Number {
	return l.length(func() float64 { return of(l.said()).From }, func(mm float64) bool {
		if mm < 0 {
			l.o.told.SetText(tongue.T("Heights and half-breadths are 0 or more."))
			return false
		}
		l.say("lines from", func() { l.o.use.SetLines(func(how *drawing.Lines) { of(how).From = mm }) })
		return true
	})
}

func (l *outlineLines) evenEvery(of func(*drawing.Lines) *drawing.Even) *kit.Number {
	n := l.length(func() float64 {
		if v := of(l.said()).Every; v > 0 {
			return v
		}
		return math.NaN()
	}, func(mm float64) bool {
		if mm < 0 {
			l.o.told.SetText(tongue.T("Lines must be some way apart: give more than 0, or 0 to go by their names."))
			return false
		}
		l.say("lines every", func() { l.o.use.SetLines(func(how *drawing.Lines) { of(how).Every = mm }) })
		return true
	})
	n.Entry.SetPlaceHolder(tongue.T("as named"))
	return n
}

// said is what is said of the lines.
func (l *outlineLines) said() *drawing.Lines {
	if how := l.o.use.How.Lines; how != nil {
		return how
	}
	return &drawing.Lines{}
}

// at are the stations that are set.
func (l *outlineLines) at() drawing.Stations {
	if s := l.o.use.How.Stations; s != nil {
		return *s
	}
	return drawing.Stations{}
}

func (l *outlineLines) say(step string, f func()) { l.o.say(step, f) }

// setStations goes over to another way to set stations, from those that there are.
func (l *outlineLines) setStations() {
	frames := l.o.result.Hull.Frames
	var at drawing.Stations
	switch l.chosen {
	case stationsSpaced:
		if at.Every = 20; len(frames) > 1 {
			at.Every = max(math.Round((frames[len(frames)-1].X()-frames[0].X())/float64(len(frames)-1)), 1)
		}
	case stationsListed:
		for _, f := range frames {
			if !f.IsEnd() {
				at.List = append(at.List, math.Round(f.X()*100)/100)
			}
		}
		if len(at.List) == 0 {
			l.fill()
			return // till a list is typed
		}
	}
	l.say("", func() { l.o.use.Stand(at) })
}

// setList takes over a list of stations.
func (l *outlineLines) setList(text string) {
	list, err := kit.ParseNumbers(text)
	if err != nil || len(list) == 0 {
		l.o.told.SetText(tongue.T("Write the places of the stations as 0, 20, 40.5."))
		return
	}
	for i := range list {
		list[i] = l.o.desk.Units.ToMM(list[i])
	}
	l.say("", func() { l.o.use.Stand(drawing.Stations{List: list}) })
}

// fill shows what is said.
func (l *outlineLines) fill() {
	has := func(mark string) bool {
		return slices.ContainsFunc(l.o.use.Lines, func(o drawing.Outline) bool { return o.Mark == mark })
	}
	waters, butts := has(drawing.WaterlineMark), has(drawing.ButtockMark)
	kit.Show(l.box, waters || butts)
	kit.Show(l.waters, waters)
	kit.Show(l.butts, butts)
	l.bow.SetSelectedIndex(slices.Index(lineBowEnds, l.said().Bow))
	at := l.at()
	switch {
	case len(at.List) > 0:
		l.chosen = stationsListed
	case at.Every > 0:
		l.chosen = stationsSpaced
	case l.chosen != stationsListed:
		l.chosen = stationsEven
	}
	l.stations.SetSelectedIndex(l.chosen)
	kit.Show(l.spaced, l.chosen == stationsSpaced)
	kit.Show(l.listTip, l.chosen == stationsListed)
	if len(at.List) > 0 {
		l.list.SetText(placesText(at.List, l.o.desk.Units))
	}
	for _, n := range l.fields {
		n.Sync()
	}
}

// commit takes over what is being typed.
func (l *outlineLines) commit() {
	for _, n := range l.fields {
		n.Commit()
	}
}

// askOther asks for the drawing of the other plan.
func (l *outlineLines) askOther() {
	d := l.o.desk
	d.AskFile(d.Folder(), kit.Extensions(".svg", ".svgz", ".dxf", ".pdf"), l.addOther)
}

// addOther adds the lines of another drawing, of the other plan.
func (l *outlineLines) addOther(path string) {
	o := l.o
	var found source.Checked
	o.desk.Work(tongue.T("Opening %s…", filepath.Base(path)), func(ctx context.Context) error {
		found = source.CheckContext(ctx, path, drawing.Options{})
		return ctx.Err()
	}, func() {
		switch {
		case found.Drawing != nil && found.Drawing.Whole:
			o.say("", func() { o.use.Lines = append(slices.Clone(o.use.Lines), outlining.UseOf(&found).Lines...) })
		case len(found.Faults) > 0:
			o.told.SetText(kit.Sentence(found.Faults[0]))
		default:
			kit.SetText(o.told, tongue.T("%s is not a drawing: choose that of the other plan.", filepath.Base(path)))
		}
	})
}

// allLines makes all lines shown that are not used waterlines or buttocks.
func (o *outlinesDialog) allLines(mark string) {
	o.say("", func() {
		for _, i := range o.listed[:min(len(o.listed), mostAtOnce)] {
			if l := &o.use.Lines[i]; l.Mark == drawing.Unused && len(l.Points) > 1 {
				l.Mark, l.Frame, l.Profile, l.X, l.Placed = mark, "", false, 0, false
			}
		}
	})
}
