package settings

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// rulesDialog sets the trade's rules of thumb that the plan is worked out by.
// What is entered is a draft until it is applied, as one step.
type rulesDialog struct {
	desk    *desk.Desk
	rules   []hull.TradeRule
	entries []*kit.Field // one a rule
	told    *widget.Label
	dialog  *dialog.CustomDialog
}

// SetRules opens the dialog of the trade's rules.
func SetRules(d *desk.Desk) *rulesDialog {
	r := &rulesDialog{desk: d, rules: hull.TradeRules(), told: widget.NewLabel("")}
	r.told.Wrapping = fyne.TextWrapWord
	content := r.content()
	r.show(d.Plan().Rules())
	r.dialog = d.NewDialog(tongue.T("Rules of thumb"), content)
	apply := kit.NewButtonWithIcon(tongue.T("Apply"), theme.ConfirmIcon(), r.apply)
	d.Explain(apply, tongue.T("Works the plan out by these figures, as one step"))
	apply.Importance = widget.HighImportance
	r.dialog.SetButtons([]fyne.CanvasObject{
		d.Button(tongue.T("Close"), tongue.T("Leaves the rules as they are"), func() { r.dialog.Hide() }),
		d.Button(tongue.T("The usual figures"), tongue.T("Writes the usual figures here; Apply sets them"), func() { r.show(d.Plan().Rules().AsUsual()) }),
		apply,
	})
	s := d.Win.Canvas().Size()
	r.dialog.Resize(fyne.NewSize(fyne.Min(720, s.Width*0.95), fyne.Min(640, s.Height*0.95)))
	r.dialog.Show()
	return r
}

// content is a row a rule: what it says with its usual figure, and the entry.
func (r *rulesDialog) content() fyne.CanvasObject {
	how := widget.NewLabel(tongue.T("The planking, the steps and the paper go by these figures. No published table stands behind the usual ones: try your wood on an offcut, and set what that shows."))
	how.Wrapping = fyne.TextWrapWord
	rows := container.NewVBox()
	for i := range r.rules {
		e := kit.NewField()
		e.OnSubmitted = func(string) { r.apply() }
		r.entries = append(r.entries, e)
		says := widget.NewLabel(r.says(&r.rules[i]))
		says.Wrapping = fyne.TextWrapWord
		width := e.MinSize().Width * 2
		tip := kit.SentenceStart(r.rules[i].Says) + ": " + r.within(&r.rules[i])
		rows.Add(kit.Tipped(container.NewBorder(nil, nil, nil, container.NewGridWrap(fyne.NewSize(width, e.MinSize().Height), e), says), tip))
	}
	return container.NewBorder(how, r.told, nil, nil, container.NewVScroll(rows))
}

// says is a rule in words, with its usual figure and where that comes from.
func (r *rulesDialog) says(rule *hull.TradeRule) string {
	usual := r.written(rule, rule.Usual)
	if rule.Unit != "" {
		usual += " " + r.desk.Units.Name()
	}
	return tongue.T("%s (usually %s: %s)", kit.SentenceStart(rule.Says), usual, rule.Source)
}

// written is a rule's figure as it is typed: a length in the units shown.
func (r *rulesDialog) written(rule *hull.TradeRule, v float64) string {
	if rule.Unit != "" {
		v = r.desk.Units.Of(v)
	}
	return tongue.Figure(strconv.FormatFloat(v, 'g', 4, 64))
}

// show fills the entries.
func (r *rulesDialog) show(t hull.Trade) {
	for i := range r.rules {
		r.entries[i].SetText(r.written(&r.rules[i], r.rules[i].Of(t)))
	}
}

// typed reads the entries. A figure that was left as it was shown stays what it
// was to the last digit.
func (r *rulesDialog) typed(t hull.Trade) (hull.Trade, error) {
	for i := range r.rules {
		rule := &r.rules[i]
		if r.entries[i].Text == r.written(rule, rule.Of(t)) {
			continue
		}
		if r.entries[i].Text == r.written(rule, rule.Usual) {
			if err := rule.Set(&t, rule.Usual); err != nil {
				return t, err
			}
			continue
		}
		v, err := kit.ParseNumber(r.entries[i].Text)
		if err != nil {
			return t, fmt.Errorf("%s: %w", rule.Says, err)
		}
		if rule.Unit != "" {
			v = r.desk.Units.ToMM(v)
		}
		if !rule.Within.Holds(v) {
			return t, tongue.Errorf("%s: give it %s", rule.Says, r.within(rule))
		}
		if err := rule.Set(&t, v); err != nil {
			return t, err
		}
	}
	return t, t.Check()
}

// within tells the figures that a rule may have.
func (r *rulesDialog) within(rule *hull.TradeRule) string {
	text := tongue.T("from %s to %s", r.written(rule, rule.Within.Low), r.written(rule, rule.Within.High))
	if rule.Unit != "" {
		text += " " + r.desk.Units.Name()
	}
	return text
}

// apply sets the rules, or says what is wrong with them.
func (r *rulesDialog) apply() {
	t, err := r.typed(r.desk.Plan().Rules())
	if err != nil {
		r.told.SetText(kit.Sentence(err))
		return
	}
	if t == r.desk.Plan().Rules() {
		r.dialog.Hide()
		return
	}
	if r.desk.Edit(tongue.T("set the rules of thumb"), edit.RulesSet(t)) {
		r.dialog.Hide()
	}
}
