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
)

// demoSprung is a strip along a strake of the demo hull.
func demoSprung(t *testing.T, id string, modulus loft.Range) (*loft.Planking, *loft.Springing) {
	t.Helper()
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "demo")
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	st := l.Strakes[l.StrakeNamed(id)]
	first, last := st.LaidBetween()
	sp, err := l.Spring(st.Centre, first, last, 5, 1.5, modulus)
	require.NoError(t, err)
	return k, sp
}

func TestHoldTold(t *testing.T) {
	k, sp := demoSprung(t, "1.05", loft.Range{Low: 8, High: 10})
	s, err := sp.Held(t.Context(), sp.Order())
	require.NoError(t, err)
	inBothUnits(t, "a strip that is held", func(u answer.Units) string {
		text := ""
		for i, sentence := range answer.HoldText(k.Layers[0], sp, s, 0.1, u) {
			if i != 2 { // forces, which have no unit of length
				text += sentence + "\n"
			}
		}
		return text
	})
	assert.Regexp(t, `The greatest force to press it on is at \w+: \d+\.\d to \d+\.\d N; the greatest sideways is at \w+: \d+\.\d to \d+\.\d N (up|down)wards\.`, answer.HoldText(k.Layers[0], sp, s, 0.1, answer.MM{})[2])
	assert.Regexp(t, `^Cut to shape: \d+\.\d\d % edge-set at frame \w+ \(limit 0\.30 %\); \d+\.\d\d % face strain at frame \w+\.$`, answer.HoldText(k.Layers[0], sp, s, 0.1, answer.MM{})[0])
	springs := *s
	springs.Converged = false
	assert.Contains(t, answer.HoldText(k.Layers[0], sp, &springs, 0.1, answer.MM{})[1], "it does not stay")
}

// Of a wood that is in no table the course is told, and no force.
func TestHoldOfUnknownWood(t *testing.T) {
	k, sp := demoSprung(t, "1.05", loft.Range{})
	a, err := answer.HoldOf(t.Context(), k, 0, sp, nil, answer.HoldAsked{Strake: "1.05", Within: 1}, nil)
	require.NoError(t, err)
	assert.Nil(t, a.Modulus)
	assert.Nil(t, a.Lies.Energy)
	assert.NotNil(t, a.Lies.At[0].LiftOff)
	for _, at := range a.Lies.At {
		assert.Nil(t, at.Press)
		assert.Nil(t, at.Bears)
		assert.Nil(t, at.Side)
	}
	var text bytes.Buffer
	require.NoError(t, a.Text(&text))
	assert.Contains(t, text.String(), "its wood is not known")
	assert.Contains(t, text.String(), "The force is not known")
}

// A strake that the plan cuts from sheet is told of as what a straight strip would take.
func TestHoldOfASpiledStrake(t *testing.T) {
	k, sp := demoSprung(t, "2.11", loft.Range{Low: 10, High: 10})
	a, err := answer.HoldOf(t.Context(), k, 0, sp, nil, answer.HoldAsked{Strake: "2.11", Within: 1}, nil)
	require.NoError(t, err)
	require.NotEqual(t, hull.Sprung, k.Layers[0].Strakes[k.Layers[0].StrakeNamed("2.11")].Making.Mode)
	assert.Contains(t, a.Told[0], "Strake 2.11 is not sprung from a straight strip in the plan")
}
