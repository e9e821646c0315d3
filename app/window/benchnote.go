package window

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"strakewright/hull"
	"strakewright/loft"
)

// done are what is done to a strake, in the order of the buttons.
var done = []hull.Doing{hull.Cutout, hull.Soaking, hull.Fitted, hull.Pinned, hull.Glued, hull.Removed}

var doneTips = map[hull.Doing]string{
	hull.Cutout:  "Notes that its pieces are cut and tapered: its widths stand from now on",
	hull.Soaking: "Notes that it was put in water",
	hull.Fitted:  "Notes that it was tried in its place",
	hull.Pinned:  "Notes that it is pinned in its place; tick “wet” if it is",
	hull.Glued:   "Notes that it is laid for good; tick “wet” if it was",
	hull.Removed: "Notes that it was taken off again",
}

// notePart is where what was done and measured is noted.
func (b *benchPanel) notePart() []fyne.CanvasObject {
	d := b.desk
	remark := widget.NewEntry()
	remark.SetPlaceHolder("a note, if you like")
	wet := widget.NewCheck("wet", func(on bool) { b.bench.wet = on })
	strake := ""
	b.always = append(b.always, func() {
		if s := d.strake(); s != nil && s.ID != strake {
			strake = s.ID
			b.bench.wet = false // the next strip is another
		}
	})
	b.keep(func() { wet.SetChecked(b.bench.wet) })
	var buttons []fyne.CanvasObject
	var list []fyne.Disableable
	for _, doing := range done {
		name := doingNames[doing]
		button := d.button(strings.ToUpper(name[:1])+name[1:], doneTips[doing], func() {
			if s := d.strake(); s != nil && b.bench.note(hull.Entry{Doing: doing, Strake: s.ID, Note: strings.TrimSpace(remark.Text)}) {
				remark.SetText("")
			}
		})
		if doing == hull.Glued {
			button.Importance = widget.HighImportance
		}
		buttons, list = append(buttons, button), append(list, button)
	}
	b.keep(func() { able(d.strake() != nil && b.bench.day == "", list...) })
	b.ask = b.measure(remark)
	return []fyne.CanvasObject{
		b.nextButton(),
		row("Noted under", b.dateEntry()), container.NewBorder(nil, nil, nil, wet, remark),
		container.NewGridWithColumns(3, buttons...),
		b.text(func() string { return b.strakeState() }),
		widget.NewSeparator(), b.ask.box, widget.NewSeparator(),
		b.nextPart(b.inSight), widget.NewSeparator(),
		b.text(func() string { return strings.Join(d.bench.notes(), "\n\n") }),
		caution("glues and solvents: air the room, wear gloves, read the maker's sheet. Makers' sheets and local rules come first."),
	}
}

// dateEntry is the day under which is noted.
func (b *benchPanel) dateEntry() fyne.CanvasObject {
	e := &numberEntry{}
	e.ExtendBaseWidget(e)
	take := func() {
		if text := strings.TrimSpace(e.Text); hull.ValidDate(text) {
			b.bench.date = text
		} else {
			b.desk.status(fmt.Sprintf("%q is no date: write it as 2026-03-01 or 2026-03-01T19:30.", text))
		}
		e.SetText(b.bench.date)
	}
	e.left, e.OnSubmitted = take, func(string) { take() }
	b.keep(func() {
		if c := fyne.CurrentApp().Driver().CanvasForObject(e); e.Text != b.bench.date && (c == nil || c.Focused() != fyne.Focusable(e)) {
			e.SetText(b.bench.date)
		}
	})
	step := func(name string, days int, tip string) fyne.CanvasObject {
		return b.desk.button(name, tip, func() {
			b.bench.date = dayBy(b.bench.date, days)
			e.SetText(b.bench.date)
		})
	}
	return container.NewBorder(nil, nil, nil, container.NewHBox(step("−", -1, "Notes under the day before"), step("+", 1, "Notes under the day after")), e)
}

// nextButton chooses what comes next. It keeps its height, so that what stands
// under it keeps its place from strake to strake.
func (b *benchPanel) nextButton() fyne.CanvasObject {
	button := b.desk.button("", "Chooses the strake that is laid next, and its side", b.chooseNext)
	b.keep(func() {
		if !b.inSight() || !b.bench.reckon() {
			return
		}
		name := "All is laid"
		t, _, _, ok := b.bench.k.Next(b.bench.on, loft.RuleOfThumb)
		if ok {
			name = "Next: " + t.ID + " to " + string(t.Side)
		}
		able(ok, button)
		if button.Text != name {
			button.SetText(name)
		}
	})
	return button
}

// nextPart is what comes next, in one sentence, with its caution.
func (b *benchPanel) nextPart(shown func() bool) fyne.CanvasObject {
	next := func(pick func(sentence, caution string) string) func() string {
		return func() string {
			if !shown() || !b.bench.reckon() {
				return b.failed()
			}
			_, text, warning, ok := b.bench.k.Next(b.bench.on, loft.RuleOfThumb)
			if !ok {
				return pick("All is laid.", "")
			}
			return pick(b.desk.inUnits(text), "Caution: "+warning)
		}
	}
	warning := b.text(next(func(_, c string) string { return c }))
	warning.SizeName, warning.Importance = theme.SizeNameCaptionText, widget.WarningImportance
	return container.NewVBox(b.text(next(func(s, _ string) string { return s })), warning)
}

// failed says why nothing can be told.
func (b *benchPanel) failed() string {
	if b.bench.err != nil {
		return "The record cannot be followed: " + sentence(b.bench.err)
	}
	return ""
}

func (b *benchPanel) chooseNext() {
	if !b.bench.reckon() {
		return
	}
	if t, _, _, ok := b.bench.k.Next(b.bench.on, loft.RuleOfThumb); ok {
		b.showStrake(t.Side, t.Layer-1, t.Strake)
	}
}

// strakeState tells what was last done to the chosen strake.
func (b *benchPanel) strakeState() string {
	s := b.desk.strake()
	if !b.inSight() || !b.bench.reckon() {
		return ""
	}
	if s == nil {
		return "Choose the strake that something was done to."
	}
	text := ""
	for _, e := range b.bench.record().Of(b.bench.side) {
		if e.Strake == s.ID && e.Layer == b.desk.choice.Layer+1 && !e.Doing.Measures() {
			text = doingNames[e.Doing] + " " + e.Day()
			if e.Wet {
				text += ", wet"
			}
		}
	}
	if text == "" {
		text = "nothing noted yet"
	}
	return fmt.Sprintf("%s to %s: %s.", s.ID, b.bench.side, text)
}

// measureAsked is a measurement being entered.
type measureAsked struct {
	b      *benchPanel
	box    fyne.CanvasObject
	what   *widget.Select
	number *number
	value  float64 // mm; NaN while nothing is entered
	of     string  // what it is a measurement of
}

var measured = []hull.Doing{hull.LeftOver, hull.AsLaid, hull.GapAbove}

// measure makes the part that notes a measurement.
func (b *benchPanel) measure(remark *widget.Entry) *measureAsked {
	d := b.desk
	m := &measureAsked{b: b, value: math.NaN()}
	kind := 0
	m.what = b.choice(m.names, func() int { return kind }, func(i int) {
		kind, m.value = i, math.NaN()
		b.update()
	})
	m.number = b.number(newLength(d.notices, &d.units, 0.1, func() float64 { return m.value }, func(mm float64) bool {
		m.value = mm
		b.update()
		return true
	}))
	m.number.less.OnTapped, m.number.more.OnTapped = func() { m.by(-0.1) }, func() { m.by(0.1) }
	note := d.button("Note it", "Notes the measurement at the chosen frame", func() {
		m.number.commit()
		if e, ok := m.entry(); ok {
			e.Note = strings.TrimSpace(remark.Text)
			if b.bench.note(e) {
				m.value = math.NaN()
				remark.SetText("")
				b.update()
			}
		}
	})
	note.Importance = widget.HighImportance
	unit := widget.NewLabel("")
	b.keep(func() {
		setText(unit, "Measured ("+d.units.Name()+")")
		if now := m.subject(); now != m.of {
			m.of, m.value = now, math.NaN()
			m.number.sync()
		}
		expected, hint := m.expected(), ""
		if !math.IsNaN(expected) {
			hint = "about " + d.units.Number(expected)
		}
		if m.number.entry.PlaceHolder != hint {
			m.number.entry.SetPlaceHolder(hint)
		}
		m.number.able(!math.IsNaN(expected) && b.bench.day == "")
		_, ok := m.entry()
		able((ok || m.number.typing()) && b.bench.day == "", note)
	})
	m.number.entry.OnChanged = func(s string) { able(strings.TrimSpace(s) != "" && b.bench.day == "", note) }
	m.box = container.NewVBox(row("What", m.what), container.New(&rowLayout{}, unit, m.number.box),
		b.text(m.tells), note)
	return m
}

// names are what may be measured, told of the chosen band and strake.
func (m *measureAsked) names() []string {
	id := "the strake"
	if s := m.b.desk.strake(); s != nil {
		id = s.ID
	}
	return []string{fmt.Sprintf("left of band %d", m.b.desk.band()+1), "width of " + id, "gap above " + id}
}

func (m *measureAsked) doing() hull.Doing { return measured[max(m.what.SelectedIndex(), 0)] }

// subject tells measurements apart.
func (m *measureAsked) subject() string {
	c := m.b.desk.choice
	return fmt.Sprint(m.what.SelectedIndex(), m.b.bench.side, c.Layer, m.b.desk.band(), c.Strake, c.Frame)
}

// expected is what the bench leads to expect there, mm, or NaN where nothing
// can be measured.
func (m *measureAsked) expected() float64 {
	d := m.b.desk
	f, s := d.choice.Frame, d.strake()
	state := m.b.bench.state()
	if !m.b.inSight() || state == nil || f < 0 {
		return math.NaN()
	}
	switch doing := m.doing(); {
	case doing == hull.LeftOver:
		return state.Left[f]
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
	m.b.update()
}

// entry is the measurement as it is noted; ok is false while it is not whole.
func (m *measureAsked) entry() (e hull.Entry, ok bool) {
	d := m.b.desk
	f := d.choice.Frame
	if math.IsNaN(m.value) || f < 0 {
		return e, false
	}
	e = hull.Entry{Doing: m.doing(), Frame: d.frameName(f), MM: m.value}
	if e.Doing.OfBand() {
		e.Band = d.band() + 1
		return e, true
	}
	if s := d.strake(); s != nil {
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
	if d.choice.Frame < 0 {
		return "Choose the frame at which it was measured."
	}
	state, f := m.b.bench.state(), d.choice.Frame
	if state == nil {
		return ""
	}
	text := fmt.Sprintf("Left of band %d at frame %s: %s, give or take %s", state.Band, d.frameName(f), d.units.Length(state.Left[f]), d.units.Number(state.LeftBound[f]))
	if len(state.Laid) == 0 {
		return text + " (nothing laid yet)."
	}
	return text + fmt.Sprintf("; against the plan: %s.", d.change(state.Straying[f]))
}
