package fairing

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
)

// outlinePieces is where it is said where frames stand, all at once, and how those that
// are drawn as pieces to be cut lie.
type outlinePieces struct {
	o       *outlinesDialog
	level   *kit.Select
	upright *kit.Check
	ways    *kit.Select
	from    *kit.Number
	every   *kit.Number
	list    *kit.Field
	spaced  fyne.CanvasObject // what is set for stations that are evenly spaced
	listed  fyne.CanvasObject // and for those of a list
	cut     fyne.CanvasObject // and for pieces to be cut
	show    *kit.Check        // the frames that are taken, and not what is drawn
	even    drawing.Stations
	found   []string // what was found of pieces
}

// levelChoices are what pieces can have at one height, in the order in which they can be
// chosen.
var levelChoices = []struct {
	name  string
	level drawing.Level
}{
	{tongue.Mark("no: these are not pieces to cut"), drawing.NoPieces},
	{tongue.Mark("choose what all have at one height"), drawing.LevelUntold},
	{tongue.Mark("the end of the slot from below"), drawing.SlotBelow},
	{tongue.Mark("the end of the slot from above"), drawing.SlotAbove},
	{tongue.Mark("the deck, at the sides"), drawing.DeckLevel},
	{tongue.Mark("the planking's lower ends"), drawing.FootLevel},
	{tongue.Mark("the whole, as drawn side by side"), drawing.DrawnLevel},
}

// The ways to set the stations of a drawing's frames.
const (
	eachStation = iota
	spacedStations
	listedStations
)

func (p *outlinePieces) content(o *outlinesDialog) fyne.CanvasObject {
	p.o = o
	var names []string
	for _, c := range levelChoices {
		names = append(names, tongue.T(c.name))
	}
	p.level = kit.NewSelect(names, nil)
	p.level.OnChanged = func(string) {
		if k := p.level.SelectedIndex(); !o.busy && k >= 0 {
			o.say("", func() { o.use.How.Level = levelChoices[k].level })
		}
	}
	p.upright = kit.NewCheck(tongue.T("All upright as drawn"), nil)
	p.upright.OnChanged = func(on bool) {
		if !o.busy {
			o.say("", func() { o.use.How.Upright = on })
		}
	}
	p.show = kit.NewCheck(tongue.T("Show the frames that are taken, one over the other"), func(bool) { o.plot.Refresh() })
	p.cut = container.NewVBox(kit.TippedRow(tongue.T("Pieces level at"), tongue.T("What all pieces have at one height"), p.level), kit.TippedRow("", tongue.T("Takes the pieces as upright as they are drawn, without levelling them"), p.upright))
	if closedLines(o.use.Lines) < 2 {
		p.cut.Hide()
	}
	if o.use.How.Level != drawing.NoPieces {
		p.found = slices.Clone(o.drawing.Notes)
	}
	return container.NewVBox(p.stations(), p.cut)
}

// closedLines counts the lines that are closed.
func closedLines(lines []drawing.Outline) int {
	n := 0
	for i := range lines {
		if lines[i].Closed {
			n++
		}
	}
	return n
}

// stations is where those of all frames are set.
func (p *outlinePieces) stations() fyne.CanvasObject {
	o, unit := p.o, p.o.desk.Units.Name()
	p.even = drawing.Stations{Every: math.NaN()}
	p.from = kit.NewLength(o.desk.Notices, &o.desk.Units, 1, func() float64 { return p.even.From }, func(mm float64) bool {
		p.even.From = mm
		return p.space()
	})
	p.every = kit.NewLength(o.desk.Notices, &o.desk.Units, 1, func() float64 { return p.even.Every }, func(mm float64) bool {
		p.even.Every = mm
		return p.space()
	})
	p.list = kit.NewField()
	p.list.SetPlaceHolder(tongue.T("0, 20, 40.5 and Return"))
	p.list.OnSubmitted = p.setList
	p.spaced = container.NewVBox(kit.TippedRow(tongue.T("First at x (%s)", unit), tongue.T("Where the first frame stands"), p.from.Box), kit.TippedRow(tongue.T("Then every (%s)", unit), tongue.T("How far apart the frames stand"), p.every.Box))
	p.listed = kit.TippedRow(tongue.T("In order, at x (%s)", unit), tongue.T("Where the frames stand, in order along the hull"), p.list)
	p.ways = kit.NewSelect([]string{tongue.T("each by itself"), tongue.T("evenly spaced"), tongue.T("a list")}, nil)
	show := func(k int) {
		kit.Show(p.spaced, k == spacedStations)
		kit.Show(p.listed, k == listedStations)
	}
	p.ways.SetSelectedIndex(eachStation)
	show(eachStation)
	p.ways.OnChanged = func(string) { show(p.ways.SelectedIndex()) }
	p.from.Sync()
	p.every.Sync()
	return container.NewVBox(kit.TippedRow(tongue.T("Stations of all"), tongue.T("How the places of all frames are given"), p.ways), p.spaced, p.listed)
}

// space puts the frames at even stations, as far as these are told.
func (p *outlinePieces) space() bool {
	return math.IsNaN(p.even.Every) || p.place(p.even)
}

// setList puts the frames at the stations of a list.
func (p *outlinePieces) setList(text string) {
	list, err := kit.ParseNumbers(text)
	if err != nil {
		p.o.told.SetText(tongue.T("Write the places of the stations as 0, 20, 40.5."))
		return
	}
	for i := range list {
		list[i] = p.o.desk.Units.ToMM(list[i])
	}
	p.place(drawing.Stations{List: list})
}

// place puts the frames at stations, in their order in the list.
func (p *outlinePieces) place(at drawing.Stations) bool {
	lines := slices.Clone(p.o.use.Lines)
	if why := drawing.Place(lines, at); why != "" {
		p.o.told.SetText(tongue.T("%s: give as many stations as there are frames in the list, some way apart.", kit.SentenceStart(why)))
		return false
	}
	p.o.say("", func() { p.o.use.Lines = lines })
	return true
}

// taken are the frames that were read last, where they are to be shown; else nil.
func (p *outlinePieces) taken() []drawing.Outline {
	if frames := p.o.result.Hull.Frames; p.show.Checked && len(p.o.wrong) == 0 && len(frames) > 0 {
		return outlinesOf(frames)
	}
	return nil
}

// fill shows what is said.
func (p *outlinePieces) fill() {
	how := &p.o.use.How
	for k, c := range levelChoices {
		if c.level == how.Level {
			p.level.SetSelectedIndex(k)
		}
	}
	p.upright.SetChecked(how.Upright)
	kit.Able(how.Level != drawing.NoPieces, p.upright)
}

// commit takes over what is being typed.
func (p *outlinePieces) commit() {
	if p.ways.SelectedIndex() == spacedStations {
		p.from.Commit()
		p.every.Commit()
	}
}
