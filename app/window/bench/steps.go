package bench

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

// stepList is the step by step of the chosen strake.
type stepList struct {
	b     *Panel
	shown func() bool
	box   *fyne.Container
	edit  bool // the steps themselves are changed
	last  string
}

// stepsPart is the step by step, and what changes the steps.
func (b *Panel) stepsPart(shown func() bool) []fyne.CanvasObject {
	l := &stepList{b: b, shown: shown, box: container.NewVBox()}
	b.Keep(l.sync)
	edit := kit.NewCheck(tongue.T("change the steps"), func(on bool) {
		l.edit = on
		b.Update()
	})
	editTip := kit.Tipped(edit, tongue.T("Lets you rename, move, add and leave out steps"))
	more := container.NewGridWithColumns(2,
		b.desk.Button(tongue.T("Add a step"), tongue.T("Adds a step of your own at the end"), func() { l.ask("", func(name string) { l.set(append(l.steps(), hull.Step{Name: name})) }) }),
		b.desk.Button(tongue.T("Usual steps"), tongue.T("Takes back the usual steps, in their usual order"), func() { l.set(nil) }))
	b.Keep(func() { kit.Show(more, l.edit && b.bench.Day == "") })
	return []fyne.CanvasObject{
		b.Text(func() string {
			if s := b.desk.Strake(); s != nil {
				return tongue.T("Strake %s %s, step by step", s.ID, desk.ToSide(b.bench.Side))
			}
			return tongue.T("No strake is chosen: these are the steps of the one that is next.")
		}),
		b.nextButton(),
		editTip, more, l.box,
	}
}

// steps are those of the plan, or the usual ones.
func (l *stepList) steps() []hull.Step {
	if s := l.b.desk.Plan().Record.Steps; len(s) > 0 {
		return slices.Clone(s)
	}
	return progress.UsualSteps()
}

// set changes the steps, as one step to undo.
func (l *stepList) set(steps []hull.Step) {
	if err := l.b.desk.Session.SetSteps(steps); err != nil {
		l.b.desk.Say(kit.Sentence(err))
	}
}

// sync lists the steps of the chosen strake, or of the one that is next.
func (l *stepList) sync() {
	b := l.b
	if !l.shown() || !b.bench.Reckon() {
		return
	}
	steps, told := l.told()
	sign := fmt.Sprint(told, b.desk.Units, l.edit, b.bench.Day, steps)
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
	side := b.bench.Side
	var id string
	if s := b.desk.Strake(); s != nil {
		id = s.ID
	} else if t, ok := progress.NextTurn(b.bench.K); ok {
		side, id = t.Side, t.ID
	} else {
		return nil, tongue.T("All is laid.")
	}
	job, err := progress.Procedure(b.bench.K, side, id, b.bench.On[side])
	if err != nil {
		return nil, kit.Sentence(err)
	}
	pins, pegs := 0, 0
	for _, t := range job.Steps {
		pins, pegs = pins+t.Pins, pegs+t.Treenails
		steps = append(steps, step{t, answer.TaskText(job, t, b.desk.Units), answer.CautionText(t.Caution)})
	}
	told = tongue.T("%s %s: %d pins and %d treenails in all.", id, desk.ToSide(side), pins, pegs)
	return steps, told
}

// card is one step with its figure and its caution.
func (l *stepList) card(i int, t step) fyne.CanvasObject {
	name := fmt.Sprintf("%d. %s", i+1, t.Name)
	if t.Skip {
		name += " – " + tongue.T("nothing to do")
	}
	head := broken(name)
	head.TextStyle.Bold = true
	box := container.NewVBox(head)
	if l.edit && l.b.bench.Day == "" {
		box.Add(l.buttons(i))
	}
	if t.text != "" {
		box.Add(broken(t.text))
	}
	if t.caution != "" && !t.Skip {
		box.Add(kit.Caution(t.caution))
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
	up, down := d.Button("↑", tongue.T("Moves it one step earlier"), move(-1)), d.Button("↓", tongue.T("Moves it one step later"), move(1))
	kit.Able(i > 0, up)
	kit.Able(i < n-1, down)
	out := d.Button(tongue.T("Leave out"), tongue.T("Leaves the step out; “Usual steps” brings it back"), func() { l.set(slices.Delete(l.steps(), i, i+1)) })
	kit.Able(n > 1, out)
	return container.NewHBox(up, down,
		d.Button(tongue.T("Rename…"), tongue.T("Gives the step another name"), func() {
			l.ask(l.steps()[i].Name, func(name string) {
				s := l.steps()
				s[i].Name = name
				l.set(s)
			})
		}), out)
}

// ask asks for a step's name.
func (l *stepList) ask(name string, then func(string)) {
	entry := kit.NewField()
	entry.SetText(name)
	shown := l.b.desk.Ask(tongue.T("The step's name"), tongue.T("Take it"), entry, func() {
		if text := strings.TrimSpace(entry.Text); text != "" {
			then(text)
		}
	})
	entry.OnSubmitted = func(string) { shown.Confirm() }
	shown.Resize(fyne.NewSize(320, 130))
	shown.Show()
}

// broken is a label that breaks its lines.
func broken(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}
