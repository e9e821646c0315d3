package hull

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestRulesAreAsUsual(t *testing.T) {
	assert.Equal(t, NewTrade(), new(Plan).Rules())
	require.NoError(t, NewTrade().Check())
	seen := map[string]bool{}
	for _, r := range TradeRules() {
		assert.False(t, seen[r.Key], "%s appears twice", r.Key)
		seen[r.Key] = true
		assert.NotEmpty(t, r.Source, r.Key)
		assert.Equal(t, r.Usual, r.Of(NewTrade()))
	}
}

// TestEveryRuleIsKept sets each rule on its own: the file holds only that one, and
// gives it back.
func TestEveryRuleIsKept(t *testing.T) {
	for _, r := range TradeRules() {
		t.Run(r.Key, func(t *testing.T) {
			p := NewPlan("", readLugger(t))
			p.Trade = p.Rules()
			require.NoError(t, r.Set(&p.Trade, (r.Usual+r.Within.High)/2))
			if r.Key == "bend_dry" || r.Key == "bend_soaked" {
				p.Trade.BendSoaked, p.Trade.BendHot = 0.2, 0.2
			}
			var b bytes.Buffer
			require.NoError(t, p.Write(&b))
			again, err := ReadPlan(&b, "p")
			require.NoError(t, err)
			assert.Equal(t, p.Trade, again.Rules())
			assert.NotEqual(t, NewTrade(), again.Rules())
		})
	}
}

func TestUsualRulesAreNotWritten(t *testing.T) {
	p := NewPlan("", readLugger(t))
	p.Trade = NewTrade()
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	assert.NotContains(t, b.String(), `"trade"`)
}

func TestRulesOfAFile(t *testing.T) {
	p := NewPlan("", readLugger(t))
	p.Trade = NewTrade()
	p.Trade.Fit = 0.125
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	text := b.String()
	require.Contains(t, text, `"fit": 0.125`)
	for of, want := range map[string]string{
		`"fit": 0`:         `"fit" of the trade's rules is 0; give it from 0.001 to 1.`,
		`"fit": "close"`:   `"fit" of the trade's rules is "close", not a number; give a number.`,
		`"bend_dry": 0.1`:  `"bend_dry" of the trade's rules is more than "bend_soaked"; make the second at least as great.`,
		`"bend_hot": 0.01`: `"bend_soaked" of the trade's rules is more than "bend_hot"; make the second at least as great.`,
	} {
		_, err := ReadPlan(strings.NewReader(strings.Replace(text, `"fit": 0.125`, of, 1)), "p")
		require.ErrorContains(t, err, want)
	}
	old, err := ReadPlan(strings.NewReader(strings.Replace(text, `"fit": 0.125`, `"bend_soaked": 0.1`, 1)), "p")
	require.NoError(t, err, "older than bend_hot")
	assert.Equal(t, 0.1, old.Rules().BendHot)
	strange := strings.Replace(text, `"fit": 0.125`, `"fit": 0.125, "moon": "full"`, 1)
	again, err := ReadPlan(strings.NewReader(strange), "p")
	require.NoError(t, err)
	b.Reset()
	require.NoError(t, again.Write(&b))
	assert.Contains(t, b.String(), `"moon": "full"`, "a key that is not known is kept")
}

func TestRuleNamed(t *testing.T) {
	r, err := TradeRuleNamed("least-width")
	require.NoError(t, err)
	assert.Equal(t, "least_width", r.Key)
	_, err = TradeRuleNamed("luck")
	require.ErrorContains(t, err, `there is no rule "luck": they are least_width, most_width`)

	tr := NewTrade()
	require.EqualError(t, r.Set(&tr, 3), "least_width is 3: give it from 0.05 to 1")
	tr.BendDry = 0.03
	require.EqualError(t, tr.Check(), "a soaked strip bends no less than a dry one: bend_soaked is 0.02 and bend_dry is 0.03")
}
