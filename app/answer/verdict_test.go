package answer_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

func frameD(int) string { return "D" }

func TestVerdictText(t *testing.T) {
	for want, v := range map[string]loft.Verdict{
		"cut to shape: 0.52 % edge-set at frame D (limit 0.30 %)":            {Kind: loft.NeedsSheet, Cause: loft.ByEdge, Figure: 0.0052, Limit: 0.003},
		"cut to shape: 1.25 times as wide as its strip at frame D":           {Kind: loft.NeedsSheet, Cause: loft.ByWidth, Figure: 1.25, Limit: 1},
		"soak: 1.20 % face strain at frame D (dry limit 0.82 %)":             {Kind: loft.NeedsSoaking, Cause: loft.ByBend, Figure: 0.012, Limit: 0.0082},
		"soak and heat: 1.90 % face strain at frame D (soaked limit 1.64 %)": {Kind: loft.NeedsHeat, Cause: loft.ByBend, Figure: 0.019, Limit: 0.0164},
		"carve: 5.00 % face strain at frame D (heated limit 3.30 %)":         {Kind: loft.NeedsBlock, Cause: loft.ByBend, Figure: 0.05, Limit: 0.033},
		"carve: 7.00 % twist at frame D (limit 6.00 %)":                      {Kind: loft.NeedsBlock, Cause: loft.ByTwist, Figure: 0.07, Limit: 0.06},
		"springs dry: 0.21 % edge-set at frame D (limit 0.30 %)":             {Kind: loft.SpringsDry, Cause: loft.ByEdge, Figure: 0.0021, Limit: 0.003},
		"lies by itself: 0.01 % edge-set (limit 0.30 %)":                     {Kind: loft.LiesByItself, Cause: loft.ByEdge, Figure: 0.0001, Limit: 0.003},
		"not known: this needs the hull's shape":                             {},
	} {
		assert.Equal(t, want, answer.VerdictText(v, frameD))
		m := loft.Making{Mode: hull.Block, Reason: loft.ByChoice, Verdict: v}
		assert.Equal(t, "carved from a block, as you chose; the rules say "+want, answer.MakingText(m, frameD))
	}
	marks, words := map[string]bool{}, map[string]bool{}
	for _, kind := range []loft.VerdictKind{"", loft.LiesByItself, loft.SpringsDry, loft.NeedsSoaking, loft.NeedsHeat, loft.NeedsSheet, loft.NeedsBlock} {
		marks[answer.VerdictMark(kind)], words[answer.VerdictWord(kind)] = true, true
	}
	assert.Len(t, marks, 7, "each kind is told by its shape alone")
	assert.Len(t, words, 7)
}

func TestFormText(t *testing.T) {
	for want, diameter := range map[string]float64{
		"": 0, "round a 57 mm tin": 57.2, "round an 8 mm rod": 8.1, "round an 18 mm rod": 18, "round a 145 mm tin": 143,
		"round an 88 mm tin": 88, "round a 340 mm form": 338, "round a 1 mm rod": 0.2,
	} {
		assert.Equal(t, want, answer.FormText(diameter, answer.MM{}))
	}
	assert.Empty(t, answer.FormText(1500, answer.MM{}), "nobody makes a form for that")
	assert.Equal(t, "round a 2.250 in tin", answer.FormText(57.2, inches{}), "to an eighth of an inch")
}

// TestOneVerdictInEveryAnswer: table, steps and comparison say the same of the
// coaster's strakes, sprung, spiled and carved.
func TestOneVerdictInEveryAnswer(t *testing.T) {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "demo")
	require.NoError(t, err)
	k := plank(t, p)
	a := answer.StrakesOf(k)
	told := text(t, a)
	made := map[string]int{}
	n := 0
	for _, l := range k.Layers {
		for _, st := range l.Strakes {
			s := a.Strakes[n]
			n++
			made[s.Mode]++
			assert.Equal(t, string(st.Making.Mode), s.Mode)
			assert.Equal(t, answer.VerdictText(st.Making.Verdict, l.Surface.FrameName), s.Verdict.Says)
			if s.Mode != "sprung" {
				assert.Contains(t, told, "- "+s.ID+": "+s.Verdict.Says)
			}
			j, err := progress.Procedure(k, hull.Port, st.ID, nil)
			require.NoError(t, err)
			first := j.Steps[0]
			switch st.Making.Mode {
			case hull.Spiled:
				assert.Equal(t, "Cut it from sheet", first.Name)
				assert.Contains(t, answer.TaskText(j, first, answer.MM{}), "from sheet")
			case hull.Block:
				assert.Equal(t, "Carve it", first.Name)
				assert.Empty(t, j.Wet, "a carved strake is not bent")
			default:
				assert.Contains(t, []string{"lies", "springs", "soak", "heat"}, s.Verdict.Kind)
			}
		}
	}
	assert.Len(t, made, 3, "she has strakes of every mode: %v", made)
	assert.Contains(t, told, "American basswood: bent dry up to 0.59 % of strain in its faces (from the figures for this wood)")
	assert.Contains(t, told, "Hot water, steam and irons burn")
	rules := text(t, answer.RulesOf(k.Plan))
	assert.Contains(t, rules, "- black walnut: typical figures, no source")
}
