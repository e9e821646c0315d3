package bench

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/record"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// restPart is what follows from the record for the rest of the chosen band, and
// for the other side.
func (b *Panel) restPart(shown func() bool) []fyne.CanvasObject {
	d := b.desk
	when := func(f func() string) *widget.Label {
		return b.Text(func() string {
			if !shown() || !b.bench.Reckon() {
				return b.failed()
			}
			return f()
		})
	}
	o := &optionList{b: b, shown: shown, box: container.NewVBox(), told: widget.NewLabel(""), find: progress.Options}
	b.options = o
	o.told.Wrapping = fyne.TextWrapWord
	b.Always = append(b.Always, o.rest)
	b.Keep(o.sync)
	tolerance := b.Number(kit.NewLength(d.Notices, &d.Units, 0.1, func() float64 {
		if t := d.Plan().Record.Tolerance; t > 0 {
			return t
		}
		return loft.UsualTolerance
	}, func(mm float64) bool {
		if err := d.Session.SetTolerance(mm); err != nil {
			d.Say(kit.Sentence(err))
			return false
		}
		return true
	}))
	unit := widget.NewLabel("")
	b.Keep(func() { kit.SetText(unit, tongue.T("Tolerance (%s)", d.Units.Name())) })
	return []fyne.CanvasObject{
		when(b.summary), b.outlookPart(shown), widget.NewSeparator(), when(b.strakes),
		d.Button(tongue.T("Show the change in the table"), tongue.T("The table then shows, strake by strake, how far the bench departs from the plan"), d.ShowChange),
		widget.NewSeparator(), kit.Heading(tongue.T("Ways to make the rest fit")), o.told, o.box,
		widget.NewSeparator(), kit.Heading(tongue.T("The two sides")), when(b.sides), b.mirror(shown), kit.Tipped(container.New(&kit.RowLayout{}, unit, tolerance.Box), tongue.T("How far the two sides may differ before it counts as a problem")), kit.TippedRow(tongue.T("Rule read to"), tongue.T("How finely your rule is read"), b.ruleChoice()),
		widget.NewSeparator(), kit.Heading(tongue.T("Wet strips")), b.wetList(shown),
		widget.NewSeparator(), b.learnPart(shown),
	}
}

// summary tells the creep, what is left, and whether it divides.
func (b *Panel) summary() string {
	d, s := b.desk, b.bench.State()
	if s == nil {
		return ""
	}
	var out []string
	out = append(out, tongue.T("Band %d %s: %d laid, %d to go.", s.Band, desk.ToSide(b.bench.Side), len(s.Laid), len(s.Remaining)))
	switch {
	case s.Measured:
		out = append(out, tongue.T("Your build-up here: %s per strip over the plan (%s).", answer.Between(s.Creep, s.CreepBound, d.Units), tongue.T(answer.Sure)))
	case s.Known:
		out = append(out, tongue.T("Nothing measured here yet; from what the other side, another band or other builds taught: %s of build-up per strip (%s).", answer.Between(s.Creep, s.CreepBound, d.Units), tongue.T(answer.Sure)))
	default:
		out = append(out, tongue.T("Nothing measured yet: the build-up may be off the plan's by up to %s per strip (%s).", d.Units.Length(s.CreepBound), tongue.T(answer.Sure)))
	}
	if f := d.Choice.Frame; f >= 0 {
		out = append(out, tongue.T("Left at frame %s: %s (%s); against the plan: %s.", d.FrameName(f), answer.LeftBetween(s.Left[f], s.LeftBound[f], d.Units), tongue.T(answer.Sure), record.Change(d.Units, s.Straying[f])))
	}
	if s.Remedy != "" {
		out = append(out, tongue.T("Chosen for the rest: %s.", record.RemedyName(s.Remedy)))
	}
	for _, q := range s.Queries {
		e := b.bench.Record().Of(b.bench.Side)[q.Entry]
		out = append(out, "! "+answer.QueryText(tongue.T("%s: %s. This reading", tongue.Day(e.Day()), record.Entry(d.Units, e)), answer.DoubtText(q, d.Units), q.Kept)+".")
	}
	if n := len(s.Wet); n > 0 {
		out = append(out, "! "+tongue.T("%d measured wet: left out of account until measured dry.", n))
	}
	return strings.Join(out, "\n")
}

// strakes lists the strakes still to go, with the change at the chosen frame
// and the greatest.
func (b *Panel) strakes() string {
	d, s := b.desk, b.bench.State()
	if s == nil {
		return ""
	}
	out := []string{tongue.T("To go, with the greatest change against the plan, and the width to cut at the chosen frame:")}
	for _, st := range s.Rest() {
		most, at := 0.0, 0
		for f, c := range st.Change {
			if c > most || -c > most {
				most, at = max(c, -c), f
			}
		}
		text := st.ID + ": " + record.Change(d.Units, st.Change[at])
		if most >= 0.005 {
			text += " (" + d.FrameName(at) + ")"
		}
		if f := d.Choice.Frame; f >= 0 && st.On[f].Laid {
			text += tongue.T(", %s at %s", d.Units.Length(st.On[f].WidthCut), d.FrameName(f))
		}
		if st.Cut {
			text += tongue.T(", cut")
		}
		out = append(out, text)
	}
	if len(out) == 1 {
		return tongue.T("All strakes of the band are laid.")
	}
	return strings.Join(out, "\n")
}

// optionList lists the ways to make the rest fit, each with its consequence.
type optionList struct {
	b      *Panel
	shown  func() bool
	told   *widget.Label
	box    *fyne.Container
	list   []progress.Option
	of     string         // what they are of
	k      *loft.Planking // as it was then
	latest kit.Latest     // the search for them
	find   func(ctx context.Context, k *loft.Planking, side hull.Side, layer, band int, habit progress.Habit) ([]progress.Option, error)
}

// rest ends the search that goes on for what is out of sight.
func (o *optionList) rest() {
	if !o.shown() && o.latest.End() {
		o.of = "" // so that they are looked for again when they are in sight
	}
}

// sync finds the options anew where what they are of has changed.
func (o *optionList) sync() {
	b := o.b
	if !o.shown() {
		return
	}
	if !b.bench.Reckon() {
		if o.latest.End() {
			o.of = ""
		}
		return
	}
	if b.bench.Day != "" {
		o.latest.End()
		o.of, o.list = "", nil
		o.fill(tongue.T("Ways can be found only for the record as it stands now."))
		return
	}
	of := fmt.Sprint(b.bench.Side, b.desk.Choice.Layer, b.desk.Band(), b.desk.Units)
	if of == o.of && o.k == b.bench.K {
		return
	}
	o.of, o.k, o.list = of, b.bench.K, nil
	o.fill(tongue.T("Reckoning…"))
	k, side, layer, band := o.k, b.bench.Side, b.desk.Choice.Layer, b.desk.Band()
	o.latest.Start(b.desk.Background, func(ctx context.Context) func() {
		list, err := o.find(ctx, k, side, layer, band, progress.UsualHabit())
		return func() { o.found(list, err) }
	})
}

// found shows the options.
func (o *optionList) found(list []progress.Option, err error) {
	o.list = list
	s := o.b.bench.State()
	switch {
	case err != nil:
		o.fill(kit.Sentence(err))
	case len(list) == 0:
		o.fill(tongue.T("Nothing is left to choose: every strake of the band is laid or cut on one side or the other."))
	case s != nil && !divides(s):
		o.fill("! " + tongue.T("The rest no longer divides as planned. Each way changes the strakes not yet cut, and is taken back by one Undo."))
	default:
		o.fill(tongue.T("The rest divides as it is. Each way changes the strakes not yet cut, and is taken back by one Undo."))
	}
}

func divides(s *progress.BandState) bool {
	t := s.Tally()
	return t.Divides()
}

// fill puts a card for each option under what is told.
func (o *optionList) fill(told string) {
	o.told.SetText(told)
	o.box.RemoveAll()
	for i := range o.list {
		o.box.Add(o.card(&o.list[i]))
	}
}

// card is one option: what is done, what follows, and the button to take it.
func (o *optionList) card(w *progress.Option) fyne.CanvasObject {
	d := o.b.desk
	head := broken(answer.OptionText(w, d.Units))
	head.TextStyle.Bold = true
	sign := tongue.T("✗ does not fit")
	if w.Fits {
		sign = tongue.T("✓ fits")
	}
	if w.Chosen {
		sign += " · " + tongue.T("chosen")
	}
	take := d.Button(tongue.T("Take it"), tongue.T("Makes the rest fit in this way; one Undo takes it back"), func() { o.take(w) })
	text := broken(answer.OptionOutcome(w, d.Units))
	bar := container.NewHBox(widget.NewLabel(sign), layout.NewSpacer(), take)
	return container.NewVBox(head, text, bar, widget.NewSeparator())
}

func (o *optionList) take(w *progress.Option) {
	d := o.b.desk
	d.Settle()
	if o.k != d.Planking() {
		d.Status(tongue.T("The plan has changed since: the ways are searched for again."))
		return
	}
	if err := d.Session.Choose(w, o.b.bench.Date); err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	d.Status(tongue.T("Taken: %s. Undo takes it back.", answer.OptionText(w, d.Units)))
}

// sides tells what one side has taught the other, and where they differ.
func (b *Panel) sides() string {
	d := b.desk
	var out []string
	for _, side := range hull.Sides() {
		s := record.StateOf(b.bench.On[side], d.Choice.Layer, d.Band())
		if s == nil {
			continue
		}
		how := tongue.T("nothing measured")
		switch {
		case s.Measured:
			how = tongue.T("measured")
		case s.Known:
			how = tongue.T("mirrored from the other side")
		}
		out = append(out, tongue.T("%s: %d laid; build-up %s per strip (%s).", desk.SideName(side), len(s.Laid), answer.Between(s.Creep, s.CreepBound, d.Units), how))
	}
	differ := b.bench.Differences(d.Units, d.Choice.Layer)
	if len(differ) == 0 {
		differ = []string{tongue.T("Where both sides are laid their seams agree within the tolerance.")}
	}
	return strings.Join(append(out, differ...), "\n")
}

// mirror takes the way chosen for the band on the other side to this one.
func (b *Panel) mirror(shown func() bool) fyne.CanvasObject {
	way := func() (hull.Entry, bool) {
		var found hull.Entry
		if !shown() || !b.bench.Reckon() || b.bench.Day != "" {
			return found, false
		}
		for _, e := range b.bench.Record().Of(other(b.bench.Side)) {
			if e.EntryKind == hull.Chosen && e.Layer == b.desk.Choice.Layer+1 && e.Band == b.desk.Band()+1 {
				found = e
			}
		}
		s := b.bench.State()
		return found, found.Remedy != "" && s != nil && s.Remedy != found.Remedy && len(s.Remaining) > 0
	}
	button := b.desk.Button("", tongue.T("Makes the rest of the band fit here in the way chosen on the other side"), func() {
		if e, ok := way(); ok {
			b.bench.Note(hull.Entry{EntryKind: hull.Chosen, Band: e.Band, Remedy: e.Remedy, MM: e.MM})
		}
	})
	b.Keep(func() {
		e, ok := way()
		kit.Show(button, ok)
		if ok {
			button.SetText(tongue.T("Here too: %s", record.RemedyName(e.Remedy)))
		}
	})
	return button
}

func other(side hull.Side) hull.Side {
	if side == hull.Port {
		return hull.Starboard
	}
	return hull.Port
}

// wetList lists the strakes of the layer that went on wet, and asks for the dry
// measurement.
func (b *Panel) wetList(shown func() bool) fyne.CanvasObject {
	box, last := container.NewVBox(), "-"
	b.Keep(func() {
		if !shown() || !b.bench.Reckon() {
			return
		}
		type item struct {
			side hull.Side
			w    progress.WetStrake
		}
		var list []item
		text := ""
		for _, side := range hull.Sides() {
			for _, w := range b.bench.WetStrakes(side, b.desk.Choice.Layer) {
				list = append(list, item{side, w})
				text += b.bench.WetText(b.desk.Units, side, w) + "\n"
			}
		}
		if text == last {
			return
		}
		last = text
		box.RemoveAll()
		if len(list) == 0 {
			box.Add(broken(tongue.T("None was pinned or glued wet.")))
		}
		for _, i := range list {
			box.Add(broken(b.bench.WetText(b.desk.Units, i.side, i.w)))
			if i.w.Awaits {
				box.Add(b.desk.Button(tongue.T("Measure %s dry", i.w.ID), tongue.T("Goes to the note of its width"), func() { b.measureDry(i.side, i.w.ID) }))
			}
		}
	})
	return box
}

// measureDry goes to the note of a strake's width.
func (b *Panel) measureDry(side hull.Side, id string) {
	for n, s := range b.desk.Layer().Strakes {
		if s.ID == id {
			b.showStrake(side, b.desk.Choice.Layer, n)
		}
	}
	b.askFor(hull.AsLaid)
}
