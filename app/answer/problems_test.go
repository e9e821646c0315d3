package answer_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestProblemsStandByWeight: what cannot be planked comes first, and each problem that
// has a place names it by its line, strake and frame.
func TestProblemsStandByWeight(t *testing.T) {
	k := plank(t, wigley(1))
	l := k.Layers[0]
	l.Drops = nil
	l.Notes = []loft.Note{
		loft.PartlyPlanked{First: 0, Last: 3, End: 5},
		loft.FollowsBatten{Line: 1},
		loft.TooWide{Band: 1, Frame: 4, Width: 9},
		loft.RunsOut{Line: 2, Upper: true, Frames: []int{1, 2}, At: 2, By: 3},
		loft.TooWide{Band: 2, Frame: 1, Width: 8},
		loft.LaidBetween{From: 1, To: 2}, // told with its remedy
	}
	l.Wedges = []loft.Wedge{{Below: l.Strakes[1].ID, From: 1, To: 3, Length: 80, Width: 2, Stealer: true}}
	got := answer.Problems(k, answer.MM{})
	require.Len(t, got, 6)
	var weights []answer.Weight
	var kinds []string
	for _, p := range got {
		weights, kinds = append(weights, p.Weight), append(kinds, p.Kind)
		assert.NotEmpty(t, p.Text)
	}
	assert.IsNonDecreasing(t, weights)
	assert.Equal(t, kinds[0], kinds[1], "those of a kind stand together")
	assert.Equal(t, answer.Place{Layer: 0, Line: -1, Strake: -1, Frame: 4}, got[0].At)
	assert.Equal(t, answer.Place{Layer: 0, Line: 1, Strake: -1, Frame: 2}, got[2].At)
	assert.Equal(t, answer.Place{Layer: 0, Line: -1, Strake: 1, Frame: 3}, got[5].At)
	assert.Contains(t, got[5].Text, "Stealer below strake "+l.Strakes[1].ID)
}

// TestEveryNoteIsAProblem: no note of a planking is lost, but those that are told with
// their remedies.
func TestEveryNoteIsAProblem(t *testing.T) {
	for _, p := range []*hull.Plan{wigley(1), wigley(3)} {
		k := plank(t, p)
		want := 0
		for _, l := range k.Layers {
			for _, n := range l.Notes {
				switch n.(type) {
				case loft.Folds, loft.MadeBlock, loft.LaidBetween:
				default:
					want++
				}
			}
			want += len(l.Wedges) + len(l.Drops)
		}
		assert.Len(t, answer.Problems(k, answer.MM{}), want)
	}
}

// TestEveryForcedLineIsAProblem: of two lines one lies by itself and one is forced, and
// the forced one is told whichever is looked at.
func TestEveryForcedLineIsAProblem(t *testing.T) {
	p := wigley(1)
	before := answer.Problems(plank(t, p), answer.MM{})
	require.NotContains(t, kindsOf(before), "Lines along which no strip lies")
	p.Layers[0].Bands = append(p.Layers[0].Bands, hull.Band{})
	bent := hull.BandLine{LineType: hull.Drawn, Aim: -1}
	for i := range p.Hull.Frames {
		bent.Handles = append(bent.Handles, hull.Handle{Down: 3 + 2*float64(i%2), Held: true})
	}
	p.Layers[0].Lines = append([]hull.BandLine{bent}, p.Layers[0].Lines...)
	k := plank(t, p)
	v := k.Layers[0].JudgeLine(k.Layers[0].Lines[1])
	require.Equal(t, loft.NeedsSheet, v.Kind)
	require.Equal(t, loft.LiesByItself, k.Layers[0].JudgeLine(k.Layers[0].Lines[2]).Kind)
	var told []answer.Problem
	for _, problem := range answer.Problems(k, answer.MM{}) {
		if problem.Kind == "Lines along which no strip lies" {
			told = append(told, problem)
		}
	}
	require.Len(t, told, 1)
	assert.Equal(t, answer.Place{Layer: 0, Line: 0, Strake: -1, Frame: v.Frame}, told[0].At)
	assert.Equal(t, "Line 1: "+answer.VerdictText(v, k.Layers[0].Surface.FrameName)+".", told[0].Text)
}

func kindsOf(all []answer.Problem) (out []string) {
	for _, p := range all {
		out = append(out, p.Kind)
	}
	return out
}
