package settings

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// entryOf gives the place of a rule in the dialog.
func entryOf(key string) int {
	for i, r := range hull.TradeRules() {
		if r.Key == key {
			return i
		}
	}
	return -1
}

func TestRulesAreSetAsOneStep(t *testing.T) {
	d := windowtest.NewDesk(t)
	before := d.Plan()
	r := SetRules(d)
	r.entries[entryOf("least_width")].SetText("0.35")
	r.entries[entryOf("fit")].SetText("0.2")
	assert.Same(t, before, d.Plan(), "a draft changes nothing")
	r.apply()
	assert.Equal(t, 0.35, d.Plan().Rules().LeastWidth)
	assert.Equal(t, 0.2, d.Plan().Rules().Fit)
	assert.Equal(t, 0.2, d.Layer().Rules.Fit, "the planking goes by them")
	what, _ := d.Session.CanUndo()
	assert.Equal(t, "set the rules of thumb", what)
	d.Undo()
	assert.Equal(t, before, d.Plan())
}

func TestRulesThatCannotBe(t *testing.T) {
	d := windowtest.NewDesk(t)
	before := d.Plan()
	for _, c := range []struct{ key, typed, told string }{
		{"least_width", "3", "Least width of a strake, as a share of its strip: give it from 0.05 to 1."},
		{"bend_soaked", "0.001", "A soaked strip bends no less than a dry one: bend_soaked is 0.001 and bend_dry is 0.01."},
	} {
		r := SetRules(d)
		r.entries[entryOf(c.key)].SetText(c.typed)
		r.apply()
		assert.Equal(t, c.told, r.told.Text)
		r.dialog.Hide()
	}
	r := SetRules(d)
	r.entries[0].SetText("wide")
	r.apply()
	assert.Contains(t, r.told.Text, "Least width of a strake")
	assert.Same(t, before, d.Plan())
}

// TestRulesInInches: a length is shown and typed in the units of the window, and
// one that is not touched stays what it was.
func TestRulesInInches(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.SwitchUnits()
	r := SetRules(d)
	assert.Equal(t, "0.001969", r.entries[entryOf("fit")].Text)
	r.entries[entryOf("least_wedge")].SetText("0.03")
	r.apply()
	assert.Equal(t, 0.05, d.Plan().Rules().Fit)
	assert.InDelta(t, 0.762, d.Plan().Rules().LeastWedge, 1e-9)
}

func TestUsualRulesAgain(t *testing.T) {
	d := windowtest.NewDesk(t)
	r := SetRules(d)
	r.entries[entryOf("stub")].SetText("0.4")
	r.apply()
	assert.Equal(t, 0.4, d.Plan().Rules().Stub)
	r = SetRules(d)
	r.show(d.Plan().Rules().AsUsual())
	r.apply()
	assert.Equal(t, hull.NewTrade(), d.Plan().Rules())
}
