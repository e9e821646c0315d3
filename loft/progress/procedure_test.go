package progress

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func TestTurns(t *testing.T) {
	p := bench45(t).Plan.Clone()
	order := func(laying hull.Laying) string {
		start := p.Cutting.Start
		p.Cutting = hull.NewCutting()
		p.Cutting.Laying, p.Cutting.Start = laying, start
		k, err := loft.Plank(p)
		require.NoError(t, err)
		var out []string
		for i, turn := range Turns(k) {
			assert.Equal(t, i+1, turn.Order)
			out = append(out, turn.ID[2:]+string(turn.Side)[:1])
		}
		require.Len(t, out, 18)
		return strings.Join(out[:6], " ")
	}
	assert.Equal(t, "01s 01p 09s 09p 02s 02p", order(hull.Meeting))
	assert.Equal(t, "01s 01p 02s 02p 03s 03p", order(hull.Downward))
	assert.Equal(t, "09s 09p 08s 08p 07s 07p", order(hull.Upward))
	p.Cutting.Start = "1.05"
	assert.Equal(t, "05s 05p 04s 04p 06s 06p", order(hull.Outward))
}

func byKey(tasks []Task) map[string]Task {
	out := map[string]Task{}
	for _, t := range tasks {
		out[t.Key] = t
	}
	return out
}

// On the flat side of six frames: nothing to soak or bevel; pins at A, C, E and
// F, two each; glued on all six.
func TestProcedureOfAFlatStrake(t *testing.T) {
	k := onBench(t, append(glued("1.01", "1.02", "1.03"), measuredAll(28.5)...)...)
	states, err := BothSides(k, 0, &k.Plan.Record, UsualHabit())
	require.NoError(t, err)
	j, err := Procedure(k, hull.Starboard, "1.04", states[hull.Starboard])
	require.NoError(t, err)
	require.Len(t, j.Steps, 11)
	by := byKey(j.Steps)
	assert.Equal(t, j.Frames, j.Tapers)
	assert.Equal(t, 5.0, j.Strake.Strip)
	assert.InDelta(t, 4.3, j.On[0].WidthCut, 0.05, "as shared afresh")
	assert.True(t, by[StepSoak].Skip)
	assert.True(t, by[StepBevel].Skip)
	assert.True(t, by[StepTreenail].Skip)
	assert.Equal(t, 4*2, by[StepPin].Pins)
	assert.Equal(t, []int{0, 2, 4, 5}, j.PinnedAt)
	assert.Equal(t, 15.0, j.Overhang)
	assert.Equal(t, 6*2, by[StepGlue].Pins)
	require.NotNil(t, j.Next)
	assert.Equal(t, "1.04 port", j.Next.ID+" "+string(j.Next.Side))
	for _, task := range j.Steps {
		assert.NotEmpty(t, task.Name)
	}
	j, err = Procedure(k, hull.Port, "1.04", nil)
	require.NoError(t, err)
	assert.True(t, byKey(j.Steps)[StepTaper].Skip, "as planned it stays whole")
	_, err = Procedure(k, hull.Port, "9.04", nil)
	assert.ErrorContains(t, err, "no strake 9.04")
}

// A strake cut from sheet or carved is no strip to taper; one that is carved is not
// soaked.
func TestProcedureGoesByTheMode(t *testing.T) {
	for mode, name := range map[hull.Mode]string{hull.Sprung: "Taper in a set", hull.Spiled: "Cut it from sheet", hull.Block: "Carve it"} {
		p := bench45(t).Plan.Clone()
		p.Layers[0].Bands[0].Modes = slices.Repeat([]hull.Mode{mode}, 9)
		k, err := loft.Plank(p)
		require.NoError(t, err)
		for _, own := range [][]hull.Step{nil, UsualSteps(), {{Key: StepTaper, Name: "My way"}, {Key: StepSoak}}} {
			k.Plan.Record.Steps = own
			j, err := Procedure(k, hull.Port, "1.04", nil)
			require.NoError(t, err)
			by := byKey(j.Steps)
			if len(own) == 2 {
				name = "My way"
			}
			assert.Equal(t, name, by[StepTaper].Name)
			if mode != hull.Sprung {
				assert.False(t, by[StepTaper].Skip)
				assert.Equal(t, MindBlades, by[StepTaper].Caution)
				assert.Empty(t, j.Tapers)
				assert.Zero(t, j.Gap)
			}
			if mode == hull.Block {
				assert.True(t, by[StepSoak].Skip)
				assert.Empty(t, j.Wet)
			}
		}
	}
}

// Steps are renamed, put in another order and left out, and the builder's own are
// added.
func TestProcedureAfterTheBuildersOwnSteps(t *testing.T) {
	p := bench45(t).Plan.Clone()
	p.Record.Steps = []hull.Step{{Key: StepGlue, Name: "Stick it"}, {Name: "Tea"}, {Key: StepTaper}}
	p.Cutting = hull.NewCutting()
	p.Cutting.Treenails = 1
	k, err := loft.Plank(p)
	require.NoError(t, err)
	j, err := Procedure(k, hull.Port, "1.02", nil)
	require.NoError(t, err)
	tasks := j.Steps
	require.Len(t, tasks, 3)
	assert.Equal(t, "Stick it", tasks[0].Name)
	assert.Equal(t, 12, tasks[0].Pins)
	assert.Equal(t, Task{Name: "Tea"}, tasks[1])
	assert.Equal(t, "Taper in a set", tasks[2].Name)
	p.Record.Steps = nil
	k, err = loft.Plank(p)
	require.NoError(t, err)
	j, err = Procedure(k, hull.Port, "1.02", nil)
	require.NoError(t, err)
	assert.Equal(t, 6, byKey(j.Steps)[StepTreenail].Treenails)
}

func TestNext(t *testing.T) {
	k, states := bothSides(t, glued("1.01"), nil)
	turn, j, ok := Next(k, states)
	require.True(t, ok)
	assert.Equal(t, "1.01", turn.ID)
	assert.Equal(t, hull.Port, turn.Side)
	assert.Empty(t, j.Tapers)
	assert.Empty(t, j.Bevels)
	assert.Zero(t, j.Bend.Radius)
	assert.Equal(t, MindPins, j.Caution())

	all := glued("1.01", "1.02", "1.03", "1.04", "1.05", "1.06", "1.07", "1.08", "1.09")
	k, states = bothSides(t, all, all)
	_, _, ok = Next(k, states)
	assert.False(t, ok)
	k, states = bothSides(t, all, all[:8])
	_, j, ok = Next(k, states)
	assert.True(t, ok)
	assert.True(t, j.Strake.Garboard)
	assert.Equal(t, "1.09 port", j.Strake.ID+" "+string(j.Side))
}
