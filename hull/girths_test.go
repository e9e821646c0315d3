package hull

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// punted is a hull known only by its girths.
func punted() Hull {
	h := Hull{Bow: BowFirst, Limits: Limits{Upper: "sheer", Lower: "rabbet"}}
	h.SetGirths([]Girth{
		{Frame: "A", X: 0, Girth: 62.5, Turn: Degrees(40), Turned: true},
		{Frame: "B", X: 50, Girth: 90, Turn: Degrees(85), Turned: true},
		{Frame: "C", X: 100, Girth: 71},
	})
	return h
}

func TestArcsOfGirths(t *testing.T) {
	h := punted()
	for i, want := range []float64{62.5, 90, 71} {
		// A chord is shorter than an arc that turns by θ by θ²/24 of it, and each of
		// the 24 turns by 85/24 degrees: 1.6e-4 of the whole.
		assert.InEpsilon(t, want, outlineLength(h.Frames[i].Points), 2e-4)
	}
	// A quarter circle by its ends: chord 2·r·sin(θ/2), r = girth/θ.
	p := h.Frames[1].Points
	r := 90 / float64(Degrees(85))
	assert.InDelta(t, 2*r*math.Sin(float64(Degrees(42.5))), p[len(p)-1].Sub(p[0]).Len(), 1e-9)
	for _, q := range p {
		assert.GreaterOrEqual(t, q.Y(), 0.0)
	}
}

// A plan keeps the girths, not the frames that follow from them.
func TestPlanOfGirths(t *testing.T) {
	p := NewPlan("Punt", punted())
	text := written(t, p)
	assert.NotContains(t, text, `"frames"`)
	assert.Contains(t, text, `{"frame": "B", "x": 50, "girth": 90, "turn_deg": 85}`)
	assert.NoError(t, planSchema(t).Validate(decoded(t, text)))
	got, err := ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, p, got)

	text = strings.Replace(text, `"turn_deg": 85`, `"turn_deg": 85, "colour": "red"`, 1)
	got, err = ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, text, written(t, got))

	for _, c := range [][2]string{
		{strings.Replace(text, `"girth": 90`, `"girth": -1`, 1), `p, line 9: "girth" of girth 2 is -1; give it above 0 and at most 100000.`},
		{strings.Replace(text, `"girths"`, `"frames": [], "girths"`, 1), `p, line 7: the hull has frames and girths; keep one of them.`},
	} {
		_, err = ReadPlan(strings.NewReader(c[0]), "p")
		assert.EqualError(t, err, c[1])
		assert.Error(t, planSchema(t).Validate(decoded(t, c[0])))
	}
}

func TestGirthsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := &Hull{}
		var girths []Girth
		x := 0.0
		for i := range rapid.IntRange(3, 9).Draw(t, "frames") {
			x += rapid.Float64Range(20, 200).Draw(t, "step")
			g := Girth{Frame: string(rune('A' + i)), X: x, Girth: rapid.Float64Range(15, 400).Draw(t, "girth")}
			if g.Turned = rapid.Bool().Draw(t, "turned"); g.Turned {
				g.Turn = TurnOf(rapid.Float64Range(LeastTurn, MostTurn).Draw(t, "turn"))
			}
			girths = append(girths, g)
		}
		h.SetGirths(girths)
		require.Empty(t, h.Check())
		p := NewPlan("", *h)
		got, err := ReadPlan(strings.NewReader(written(t, p)), "")
		require.NoError(t, err)
		require.Equal(t, p, got)
	})
}
