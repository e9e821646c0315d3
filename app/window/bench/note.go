package bench

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/record"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

// done are what is done to a strake, in the order of the buttons.
var done = []hull.EntryKind{hull.Cutout, hull.Soaking, hull.Fitted, hull.Pinned, hull.Glued, hull.Removed}

var doneTips = map[hull.EntryKind]string{
	hull.Cutout:  tongue.Mark("Notes that its pieces are cut and tapered: its widths stand from now on"),
	hull.Soaking: tongue.Mark("Notes that it was put in water"),
	hull.Fitted:  tongue.Mark("Notes that it was tried in its place"),
	hull.Pinned:  tongue.Mark("Notes that it is pinned in its place; tick “wet” if it is"),
	hull.Glued:   tongue.Mark("Notes that it is laid for good; tick “wet” if it was"),
	hull.Removed: tongue.Mark("Notes that it was taken off again"),
}

// notePart is where what was done and measured is noted.
func (b *Panel) notePart() []fyne.CanvasObject {
	d := b.desk
	remark := kit.NewField()
	remark.SetPlaceHolder(tongue.T("a note, if you like"))
	wet := kit.NewCheck(tongue.T("wet"), func(on bool) { b.bench.Wet = on })
	strake := ""
	b.Always = append(b.Always, func() {
		if s := d.Strake(); s != nil && s.ID != strake {
			strake = s.ID
			b.bench.Wet = false // the next strip is another
		}
	})
	b.Keep(func() { wet.SetChecked(b.bench.Wet) })
	var buttons []fyne.CanvasObject
	var list []fyne.Disableable
	for _, doing := range done {
		name := record.EntryKindName(doing)
		button := d.Button(kit.SentenceStart(name), tongue.T(doneTips[doing]), func() {
			if s := d.Strake(); s != nil && b.bench.Note(hull.Entry{EntryKind: doing, Strake: s.ID, Note: strings.TrimSpace(remark.Text)}) {
				remark.SetText("")
			}
		})
		if doing == hull.Glued {
			button.Importance = widget.HighImportance
		}
		buttons, list = append(buttons, button), append(list, button)
	}
	b.Keep(func() { kit.Able(d.Strake() != nil && b.bench.Day == "", list...) })
	b.ask = b.measure(remark)
	return []fyne.CanvasObject{
		b.nextButton(),
		kit.TippedRow(tongue.T("Date"), tongue.T("The date of what you note, with the time if you like"), b.dateEntry()), container.NewBorder(nil, nil, nil, kit.Tipped(wet, tongue.T("The strip is still wet: its width waits to be measured dry")), kit.Tipped(remark, tongue.T("A remark, kept with what is noted next"))),
		container.NewGridWithColumns(3, buttons...),
		widget.NewSeparator(), b.ask.box, widget.NewSeparator(),
		b.Text(func() string { return b.strakeState() }),
		b.nextPart(b.inSight), widget.NewSeparator(),
		b.Text(func() string { return strings.Join(d.Bench.Notes(), "\n\n") }),
		kit.Caution(tongue.T("glues and solvents: air the room, wear gloves, read the maker's sheet. Makers' sheets and local rules come first.")),
	}
}

// dateEntry is the day under which is noted.
func (b *Panel) dateEntry() fyne.CanvasObject {
	e := &kit.NumberEntry{}
	e.ExtendBaseWidget(e)
	take := func() {
		if date := tongue.ReadDay(strings.TrimSpace(e.Text)); hull.ValidDate(date) {
			b.bench.Date = date
		} else {
			b.desk.Status(tongue.T("%q is not a date: write it as %s or %s.", date, tongue.Day("2026-03-01"), tongue.Day("2026-03-01T19:30")))
		}
		e.SetText(tongue.Day(b.bench.Date))
	}
	e.Left, e.OnSubmitted = take, func(string) { take() }
	b.Keep(func() {
		if c := fyne.CurrentApp().Driver().CanvasForObject(e); e.Text != tongue.Day(b.bench.Date) && (c == nil || c.Focused() != fyne.Focusable(e)) {
			e.SetText(tongue.Day(b.bench.Date))
		}
	})
	step := func(name string, days int, tip string) fyne.CanvasObject {
		return b.desk.Button(name, tip, func() {
			b.bench.Date = dayBy(b.bench.Date, days)
			e.SetText(tongue.Day(b.bench.Date))
		})
	}
	return container.NewBorder(nil, nil, nil, container.NewHBox(step("−", -1, tongue.T("Goes to the day before")), step("+", 1, tongue.T("Goes to the day after"))), e)
}

// nextButton chooses what comes next. It keeps its height, so that what stands
// under it keeps its place from strake to strake.
func (b *Panel) nextButton() fyne.CanvasObject {
	button := b.desk.Button("", tongue.T("Chooses the strake that is laid next, and its side"), b.chooseNext)
	b.Keep(func() {
		if !b.inSight() || !b.bench.Reckon() {
			return
		}
		name := tongue.T("All is laid")
		t, ok := progress.NextTurn(b.bench.K)
		if ok {
			name = tongue.T("Next: %s %s", t.ID, desk.ToSide(t.Side))
		}
		kit.Able(ok, button)
		if button.Text != name {
			button.SetText(name)
		}
	})
	return button
}

// nextPart is what comes next, in one sentence, with its caution.
func (b *Panel) nextPart(shown func() bool) fyne.CanvasObject {
	next := func(pick func(sentence, caution string) string) func() string {
		return func() string {
			if !shown() || !b.bench.Reckon() {
				return b.failed()
			}
			_, job, ok := progress.Next(b.bench.K, b.bench.On)
			if !ok {
				return pick(tongue.T("All is laid."), "")
			}
			return pick(answer.NextText(job, b.desk.Units), tongue.T("Caution: %s", answer.CautionText(job.Caution())))
		}
	}
	warning := b.Text(next(func(_, c string) string { return c }))
	warning.SizeName, warning.Importance = theme.SizeNameCaptionText, widget.WarningImportance
	return container.NewVBox(b.Text(next(func(s, _ string) string { return s })), warning)
}

// failed says why nothing can be told.
func (b *Panel) failed() string {
	if b.bench.Err != nil {
		return tongue.T("The record cannot be followed: %s", kit.Sentence(b.bench.Err))
	}
	return ""
}

func (b *Panel) chooseNext() {
	if !b.bench.Reckon() {
		return
	}
	if t, ok := progress.NextTurn(b.bench.K); ok {
		b.showStrake(t.Side, t.Layer-1, t.Strake)
	}
}

// strakeState tells what was last done to the chosen strake.
func (b *Panel) strakeState() string {
	s := b.desk.Strake()
	if !b.inSight() || !b.bench.Reckon() {
		return ""
	}
	if s == nil {
		return tongue.T("Choose the strake you worked on.")
	}
	text := ""
	for _, e := range b.bench.Record().Of(b.bench.Side) {
		if e.Strake == s.ID && e.Layer == b.desk.Choice.Layer+1 && !e.EntryKind.Measures() {
			text = record.EntryKindName(e.EntryKind) + " " + tongue.Day(e.Day())
			if e.Wet {
				text += tongue.T(", wet")
			}
		}
	}
	if text == "" {
		text = tongue.T("nothing noted yet")
	}
	return s.ID + " " + desk.ToSide(b.bench.Side) + ": " + text + "."
}

// measureAsked is a measurement being entered.
type measureAsked struct {
	b      *Panel
	box    fyne.CanvasObject
	what   *kit.Select
	number *kit.Number
	value  float64 // mm; NaN while nothing is entered
	to     float64 // mm: how finely it is read; 0 as the rule in use
	of     string  // what it is a measurement of

	byFrame *frameTable
}

// measured are the kinds of measurements, in the order in which they are offered: that
// which is taken all through the planking first, that taken before it last.
var measured = []hull.EntryKind{hull.LeftOver, hull.AsLaid, hull.GapAbove, hull.BareGirth}

// measure makes the part that notes a measurement.
func (b *Panel) measure(remark *kit.Field) *measureAsked {
	d := b.desk
	m := &measureAsked{b: b, value: math.NaN()}
	kind := 0
	m.what = b.Choice(m.names, func() int { return kind }, func(i int) {
		kind, m.value = i, math.NaN()
		b.Update()
	})
	m.number = b.Number(kit.NewLength(d.Notices, &d.Units, 0.1, func() float64 { return m.value }, func(mm float64) bool {
		m.value = mm
		b.Update()
		return true
	}))
	m.number.Less.OnTapped, m.number.More.OnTapped = func() { m.by(-0.1) }, func() { m.by(0.1) }
	note := d.Button(tongue.T("Note it"), tongue.T("Notes the measurement at the chosen frame"), func() {
		m.number.Commit()
		if e, ok := m.entry(); ok {
			e.Note = strings.TrimSpace(remark.Text)
			if b.bench.Note(e) {
				m.value = math.NaN()
				remark.SetText("")
				b.Update()
			}
		}
	})
	note.Importance = widget.HighImportance
	m.byFrame = m.frames(remark)
	unit := widget.NewLabel("")
	b.Keep(func() {
		kit.SetText(unit, tongue.T("Measured (%s)", d.Units.Name()))
		if now := m.subject(); now != m.of {
			m.of, m.value = now, math.NaN()
			m.number.Sync()
		}
		expected, hint := m.expected(), ""
		if !math.IsNaN(expected) {
			hint = tongue.T("about %s", d.Units.Number(expected))
		}
		if m.number.Entry.PlaceHolder != hint {
			m.number.Entry.SetPlaceHolder(hint)
		}
		m.number.Able(!math.IsNaN(expected) && b.bench.Day == "")
		_, ok := m.entry()
		kit.Able((ok || m.number.Typing()) && b.bench.Day == "", note)
	})
	m.number.Entry.OnChanged = func(s string) { kit.Able(strings.TrimSpace(s) != "" && b.bench.Day == "", note) }
	photo := d.Button(tongue.T("From a photograph…"), tongue.T("Reads what is left of the band off a photo, at all frames that are seen"), func() { d.Photo() })
	b.Keep(func() { kit.Able(b.bench.Day == "" && !d.Shapeless() && m.doing() == hull.LeftOver, photo) })
	m.box = container.NewVBox(kit.TippedRow(tongue.T("What"), tongue.T("What you measured"), m.what), kit.Tipped(container.New(&kit.RowLayout{}, unit, m.number.Box), tongue.T("What you read off the rule at the chosen frame")), kit.TippedRow(tongue.T("Read to"), tongue.T("How finely you read the rule; the bounds of the answer follow"), m.finenesses()),
		container.NewBorder(nil, nil, nil, note, photo), b.Text(m.tells), m.byFrame.object())
	return m
}

// names are what may be measured, told of the chosen band and strake.
func (m *measureAsked) names() []string {
	width, gap := tongue.T("width of the strake"), tongue.T("gap above the strake")
	if s := m.b.desk.Strake(); s != nil {
		width, gap = tongue.T("width of %s", s.ID), tongue.T("gap above %s", s.ID)
	}
	return []string{tongue.T("left of band %d", m.b.desk.Band()+1), width, gap, tongue.T("girth of the bare frame")}
}

func (m *measureAsked) doing() hull.EntryKind { return measured[max(m.what.SelectedIndex(), 0)] }

// subject tells measurements apart.
func (m *measureAsked) subject() string {
	c := m.b.desk.Choice
	return fmt.Sprint(m.what.SelectedIndex(), m.b.bench.Side, c.Layer, m.b.desk.Band(), c.Strake, c.Frame)
}

// expected is what the bench leads to expect at the chosen frame, as expectedAt.
func (m *measureAsked) expected() float64 {
	if f := m.b.desk.Choice.Frame; m.b.inSight() && f >= 0 {
		return m.expectedAt(f)
	}
	return math.NaN()
}

// expectedAt is what the bench leads to expect at a frame, mm, or NaN where nothing can be
// measured.
func (m *measureAsked) expectedAt(f int) float64 {
	s, state := m.b.desk.Strake(), m.b.bench.State()
	switch doing := m.doing(); {
	case state == nil:
		return math.NaN()
	case doing == hull.LeftOver:
		return state.Left[f]
	case doing == hull.BareGirth:
		return m.bareGirth(f)
	case s == nil || !s.At[f].Laid:
		return math.NaN()
	case doing == hull.GapAbove:
		return 0
	default:
		seams := state.Seams
		n := s.Number
		return seams[n][f] - seams[n-1][f]
	}
}

// noted are the latest measurements of what is asked for, by their frames.
func (m *measureAsked) noted() map[string]hull.Entry {
	out := map[string]hull.Entry{}
	want, ok := m.entryAt(0, 0)
	if !ok {
		return out
	}
	for _, e := range m.b.bench.Record().Of(m.b.bench.Side) {
		if e.EntryKind == want.EntryKind && e.Layer == m.b.desk.Choice.Layer+1 && e.Band == want.Band && e.Strake == want.Strake {
			out[e.Frame] = e
		}
	}
	return out
}

// bareGirth is that of the layer's ground at a frame, as drawn; NaN where it is not
// planked.
func (m *measureAsked) bareGirth(f int) float64 {
	l := m.b.desk.Layer()
	if !l.Surface.Planks(f) {
		return math.NaN()
	}
	sum := 0.0
	for _, band := range l.Bands {
		sum += band.Girths[f]
	}
	return sum
}

// by steps the measurement from what was entered, or from what is expected.
func (m *measureAsked) by(mm float64) {
	v := m.value
	if math.IsNaN(v) {
		v = math.Round(m.expected()*10)/10 - mm // the first step shows what is expected
	}
	if math.IsNaN(v) {
		return
	}
	m.value = math.Max(math.Round((v+mm)*1e6)/1e6, 0)
	m.b.Update()
}

// entry is the measurement as it is noted; ok is false while it is not whole.
func (m *measureAsked) entry() (e hull.Entry, ok bool) {
	f := m.b.desk.Choice.Frame
	if math.IsNaN(m.value) || f < 0 {
		return e, false
	}
	return m.entryAt(f, m.value)
}

// entryAt is a measurement of so many mm at a frame as it is noted; ok is false where no
// strake is chosen, of which it would be.
func (m *measureAsked) entryAt(f int, mm float64) (e hull.Entry, ok bool) {
	d := m.b.desk
	e = hull.Entry{EntryKind: m.doing(), Frame: d.FrameName(f), MM: mm, To: m.to}
	switch {
	case e.EntryKind == hull.BareGirth:
		return e, true
	case e.EntryKind.OfBand():
		e.Band = d.Band() + 1
		return e, true
	}
	if s := d.Strake(); s != nil {
		e.Strake = s.ID
		return e, true
	}
	return e, false
}

// tells says what is expected there.
func (m *measureAsked) tells() string {
	d := m.b.desk
	if !m.b.inSight() {
		return ""
	}
	if d.Choice.Frame < 0 {
		return tongue.T("Choose the frame at which it was measured.")
	}
	state, f := m.b.bench.State(), d.Choice.Frame
	if state == nil {
		return ""
	}
	if m.doing() == hull.BareGirth {
		return m.tellsGirth(f)
	}
	text := tongue.T("Left of band %d at frame %s: %s (%s)", state.Band, d.FrameName(f), answer.LeftBetween(state.Left[f], state.LeftBound[f], d.Units), tongue.T(answer.Sure))
	if len(state.Laid) == 0 {
		return text + " " + tongue.T("(nothing laid yet).")
	}
	return text + "; " + tongue.T("against the plan: %s.", record.Change(d.Units, state.Straying[f]))
}

// tellsGirth says what the drawing has there, and from where to where it is measured.
func (m *measureAsked) tellsGirth(f int) string {
	d := m.b.desk
	drawn := m.bareGirth(f)
	if math.IsNaN(drawn) {
		return tongue.T("Frame %s is not planked.", d.FrameName(f))
	}
	return tongue.T("Along bare frame %s, from the %s down to the rabbet, before this layer is begun: %s as drawn.", d.FrameName(f), d.UpperName(), d.Units.Length(drawn))
}
