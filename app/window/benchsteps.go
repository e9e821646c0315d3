package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/answer"
	"strakewright/hull"
	"strakewright/loft"
	"strakewright/loft/progress"
)

// stepList is the step by step of the chosen strake.
type stepList struct {
	b     *benchPanel
	shown func() bool
	box   *fyne.Container
	edit  bool // the steps themselves are changed
	last  string
}

// stepsPart is the step by step, and what changes the steps.
func (b *benchPanel) stepsPart(shown func() bool) []fyne.CanvasObject {
	l := &stepList{b: b, shown: shown, box: container.NewVBox()}
	b.keep(l.sync)
	edit := widget.NewCheck("change the steps", func(on bool) {
		l.edit = on
		b.update()
	})
	more := container.NewGridWithColumns(2,
		b.desk.button("Add a step", "Adds a step of your own at the end", func() { l.ask("", func(name string) { l.set(append(l.steps(), hull.Step{Name: name})) }) }),
		b.desk.button("Usual steps", "Takes back the usual steps, in their usual order", func() { l.set(nil) }))
	b.keep(func() { show(more, l.edit && b.bench.day == "") })
	return []fyne.CanvasObject{
		b.text(func() string {
			if s := b.desk.strake(); s != nil {
				return "Strake " + s.ID + " to " + string(b.bench.side) + ", step by step"
			}
			return "No strake is chosen: these are the steps of the one that is next."
		}),
		b.nextButton(),
		edit, more, l.box,
	}
}

// steps are those of the plan, or the usual ones.
func (l *stepList) steps() []hull.Step {
	if s := l.b.desk.plan().Record.Steps; len(s) > 0 {
		return slices.Clone(s)
	}
	return progress.UsualSteps()
}

// set changes the steps, as one step to undo.
func (l *stepList) set(steps []hull.Step) {
	if err := l.b.desk.s.SetSteps(steps); err != nil {
		l.b.desk.say(sentence(err))
	}
}

// sync lists the steps of the chosen strake, or of the one that is next.
func (l *stepList) sync() {
	b := l.b
	if !l.shown() || !b.bench.reckon() {
		return
	}
	steps, told := l.told()
	sign := fmt.Sprint(told, b.desk.units, l.edit, b.bench.day, steps)
	if sign == l.last {
		return
	}
	l.last = sign
	l.box.RemoveAll()
	if told != "" {
		l.box.Add(broken(told))
	}
	for i, t := range steps {
		l.box.Add(l.card(i, t))
	}
}

// step is a step as it is told.
type step struct {
	progress.Task
	text, caution string
}

// told gives the steps of a strake in words, and what they take in all.
func (l *stepList) told() (steps []step, told string) {
	b := l.b
	side := b.bench.side
	var id string
	if s := b.desk.strake(); s != nil {
		id = s.ID
	} else if t, ok := progress.NextTurn(b.bench.k); ok {
		side, id = t.Side, t.ID
	} else {
		return nil, "All is laid."
	}
	job, err := progress.Procedure(b.bench.k, side, id, b.bench.on[side], loft.RuleOfThumb())
	if err != nil {
		return nil, sentence(err)
	}
	pins, pegs := 0, 0
	for _, t := range job.Steps {
		pins, pegs = pins+t.Pins, pegs+t.Pegs
		steps = append(steps, step{t, answer.TaskText(job, t, b.desk.units), answer.CautionText(t.Caution)})
	}
	told = fmt.Sprintf("%s to %s: %d pins and %d pegs in all.", id, side, pins, pegs)
	return steps, told
}

// card is one step with its figure and its caution.
func (l *stepList) card(i int, t step) fyne.CanvasObject {
	name := fmt.Sprintf("%d. %s", i+1, t.Name)
	if t.Skip {
		name += " – nothing to do"
	}
	head := broken(name)
	head.TextStyle.Bold = true
	box := container.NewVBox(head)
	if l.edit && l.b.bench.day == "" {
		box.Add(l.buttons(i))
	}
	if t.text != "" {
		box.Add(broken(t.text))
	}
	if t.caution != "" && !t.Skip {
		box.Add(caution(t.caution))
	}
	return box
}

// buttons move, rename or leave out a step.
func (l *stepList) buttons(i int) fyne.CanvasObject {
	d, n := l.b.desk, len(l.steps())
	move := func(by int) func() {
		return func() {
			s := l.steps()
			s[i], s[i+by] = s[i+by], s[i]
			l.set(s)
		}
	}
	up, down := d.button("↑", "Does it one step earlier", move(-1)), d.button("↓", "Does it one step later", move(1))
	able(i > 0, up)
	able(i < n-1, down)
	out := d.button("Leave out", "Leaves the step out; “Usual steps” brings it back", func() { l.set(slices.Delete(l.steps(), i, i+1)) })
	able(n > 1, out)
	return container.NewHBox(up, down,
		d.button("Rename…", "Gives the step another name", func() {
			l.ask(l.steps()[i].Name, func(name string) {
				s := l.steps()
				s[i].Name = name
				l.set(s)
			})
		}), out)
}

// ask asks for a step's name.
func (l *stepList) ask(name string, then func(string)) {
	entry := widget.NewEntry()
	entry.SetText(name)
	shown := dialog.NewCustomConfirm("The step's name", "Take it", "Cancel", entry, func(yes bool) {
		if text := strings.TrimSpace(entry.Text); yes && text != "" {
			then(text)
		}
	}, l.b.desk.win)
	shown.Resize(fyne.NewSize(320, 130))
	shown.Show()
}

// broken is a label that breaks its lines.
func broken(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}
