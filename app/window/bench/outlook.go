package bench

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// outlook tells whether the strake of the chosen band that goes on last will fit, and
// which measurement would tell most. It is reckoned off the main goroutine.
type outlook struct {
	b       *Panel
	shown   func() bool
	told    *widget.Label
	measure *kit.Button
	of      string            // what it is of
	k       *loft.Planking    // as it was then
	ahead   *progress.Outlook // nil while it is reckoned, and where that failed
	latest  kit.Latest
	find    func(context.Context, *progress.BandState) (progress.Outlook, error)
}

// outlookPart is that with the way to the measurement it asks for.
func (b *Panel) outlookPart(shown func() bool) fyne.CanvasObject {
	o := &outlook{b: b, shown: shown, told: broken("")}
	o.find = func(ctx context.Context, s *progress.BandState) (progress.Outlook, error) { return s.Outlook(ctx) }
	o.measure = b.desk.Button("", tongue.T("Goes to the note of what is left, at the frame where a reading is worth most"), o.goMeasure)
	o.measure.Hide()
	b.outlook = o
	b.Always = append(b.Always, o.rest)
	b.Keep(o.sync)
	return container.NewVBox(kit.Heading(tongue.T("Will the last strake fit?")), o.told, o.measure)
}

// rest ends what goes on for what is out of sight.
func (o *outlook) rest() {
	if !o.shown() && o.latest.End() {
		o.of = "" // so that it is reckoned again when it is in sight
	}
}

// sync reckons it anew where what it is of has changed.
func (o *outlook) sync() {
	b := o.b
	if !o.shown() {
		return
	}
	s := b.bench.State()
	if s == nil {
		if o.latest.End() {
			o.of = ""
		}
		return
	}
	of := fmt.Sprint(b.bench.Side, b.desk.Choice.Layer, b.desk.Band())
	if of == o.of && o.k == b.bench.K {
		o.tell() // the units may be others
		return
	}
	o.of, o.k, o.ahead = of, b.bench.K, nil
	kit.SetText(o.told, tongue.T("Reckoning…"))
	o.tell()
	o.latest.Start(b.desk.Background, func(ctx context.Context) func() {
		ahead, err := o.find(ctx, s)
		return func() { o.found(ahead, err) }
	})
}

func (o *outlook) found(ahead progress.Outlook, err error) {
	if err != nil {
		kit.SetText(o.told, kit.Sentence(err))
		return
	}
	o.ahead = &ahead
	o.tell()
}

// tell shows what was found.
func (o *outlook) tell() {
	d := o.b.desk
	if o.ahead == nil {
		kit.Show(o.measure, false)
		return
	}
	text := answer.OutlookText(o.k, *o.ahead, d.Units)
	if text == "" {
		text = tongue.T("All strakes of the band are laid.")
	}
	kit.SetText(o.told, text)
	most, ok := answer.MostTelling(*o.ahead)
	kit.Show(o.measure, ok)
	if ok {
		name := tongue.T("Measure at frame %s", d.FrameName(most.Frame))
		if o.measure.Text != name {
			o.measure.SetText(name)
		}
	}
}

// goMeasure goes to the note of what is left at the frame that tells most.
func (o *outlook) goMeasure() {
	if o.ahead == nil {
		return
	}
	if most, ok := answer.MostTelling(*o.ahead); ok {
		o.b.desk.Choose(o.b.desk.Choice.WithFrame(most.Frame))
		o.b.askFor(hull.LeftOver)
	}
}

// askFor goes to the note of a measurement.
func (b *Panel) askFor(doing hull.EntryKind) {
	b.tabs.Select(b.note)
	for i, m := range measured {
		if m == doing {
			b.ask.what.SetSelectedIndex(i)
		}
	}
}
