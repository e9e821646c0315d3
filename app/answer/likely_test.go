package answer_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

func TestBoundsStandBehindTheFigure(t *testing.T) {
	for want, of := range map[string][2]float64{
		"23.2 ± 0.3 mm":   {23.2, 0.31},
		"23.20 ± 0.04 mm": {23.2, 0.04},
		"about 23.20 mm":  {23.2, 0.004},
		"0.01 ± 0.06 mm":  {0.01, 0.06},
		"−0.01 ± 0.01 mm": {-0.012, 0.01},
	} {
		assert.Equal(t, want, answer.Between(of[0], of[1], answer.MM{}))
	}
	assert.Equal(t, "0.913 ± 0.012 in", answer.Between(23.2, 0.31, inches{}))
	assert.Equal(t, "0.4 ± 0.4 mm", answer.LeftBetween(0.3, 0.5, answer.MM{}), "never less than nothing")
}

func TestLikelihoods(t *testing.T) {
	k := plank(t, wigley(1))
	for want, ps := range map[string][]float64{
		"almost certainly": {1, 0.95}, "very likely": {0.94, 0.8}, "likely": {0.79, 0.55}, "as likely as not": {0.5, 0.446},
		"unlikely": {0.44, 0.2}, "very unlikely": {0.19, 0.05}, "almost certainly not": {0.04, 0},
	} {
		for _, p := range ps {
			told := answer.OutlookText(k, progress.Outlook{Last: "1.05", Fits: p}, answer.MM{})
			word, _, found := strings.Cut(told, " (")
			require.True(t, found)
			assert.Equal(t, want, strings.ToLower(word), "%g", p)
		}
	}
}

func TestOutlookInBothUnits(t *testing.T) {
	k := plank(t, wigley(1))
	o := progress.Outlook{
		Last: "1.05", Tolerance: 0.3, Fits: 0.61, Room: []float64{0, 4.5, 4.6}, Within: []float64{9, 0.3, 0.4},
		Tells: []progress.Tell{{Frame: 2, Fits: 0.83}, {Frame: 1, Fits: 0.7}},
	}
	told := answer.OutlookText(k, o, answer.MM{})
	assert.Equal(t, "Likely (61 %), if you cut every strake as planned and measure no more: 1.05 goes on last, and must close to within 0.3 mm at every frame. "+
		"Frame C is the least certain: 4.6 ± 0.4 mm will be left for it there (with 95 % certainty). "+
		"Next measure what is left at frame C, the most useful reading (from 61 % to 83 %).", told)
	inBothUnits(t, "outlook", func(u answer.Units) string { return answer.OutlookText(k, o, u) })

	o.Fits, o.Tells[0].Fits = 0.0001, 0.0002
	told = answer.OutlookText(k, o, answer.MM{})
	assert.True(t, strings.HasSuffix(told, "Next measure what is left at frame C, the most useful reading."), "one alone will not do, and is still the first to take: %s", told)
	o.Fits, o.Tells[0].Fits = 0.9999, 1
	told = answer.OutlookText(k, o, answer.MM{})
	assert.True(t, strings.HasPrefix(told, "Almost certainly (over 99 %), "), told)
	assert.NotContains(t, told, "Measure", "nothing is to be gained")
	o.Last = ""
	assert.Empty(t, answer.OutlookText(k, o, answer.MM{}), "all is laid")
}

func TestSpreadsInBothUnits(t *testing.T) {
	s := hull.Spread{Species: "pear", Width: 4, Thickness: 1, Creep: 0.03, CreepSD: 0.05, Shape: 0.15, Frame: 0.2, Knife: 0.06, Along: 0.02, Strake: 0.05, Reading: 0.1, Sure: 0.4, Builds: 1, Readings: 60}
	assert.Equal(t, "With pear, 4 mm by 1 mm: a strip builds up by 0.03 ± 0.10 mm; the hull is off the drawing by up to 0.29 mm, a frame alone by 0.39 mm, the knife by 0.12 mm, "+
		"the build-up along the hull by 0.04 mm, a strake besides by 0.10 mm, a reading by 0.20 mm (each with 95 % certainty); from 1 build and 60 readings.", answer.SpreadText(s, answer.MM{}))
	inBothUnits(t, "spread", func(u answer.Units) string { return answer.SpreadText(s, u) })
}

func TestRulesAreToldAsTheyAreMarked(t *testing.T) {
	for want, mm := range map[string]float64{"1/64 in": 25.4 / 64, "1/2 in": 12.7, "0.039 in": 1} {
		assert.Equal(t, want, answer.RuleText(mm, inches{}))
	}
	assert.Equal(t, "0.5 mm", answer.RuleText(0.5, answer.MM{}))
	assert.Equal(t, "0.396875 mm", answer.RuleText(25.4/64, answer.MM{}))
}

func TestQueriesSayWhetherTheyAreBelieved(t *testing.T) {
	why := answer.DoubtText(progress.Query{Doubt: progress.OffDrawn, Frame: "G", MM: 48, Other: 2}, answer.MM{})
	assert.Equal(t, "48.0 mm of girth at bare frame G is 2.0 mm more than the drawing gives", why)
	assert.Equal(t, "48.0 mm of girth at bare frame G is 2.0 mm less than the drawing gives", answer.DoubtText(progress.Query{Doubt: progress.OffDrawn, Frame: "G", MM: 48, Other: -2}, answer.MM{}))
	assert.Contains(t, answer.QueryText("it", why, true), "but kept")
	assert.NotContains(t, answer.QueryText("it", why, true), "left out")
	assert.Contains(t, answer.QueryText("it", why, false), "and left out")
}
