package answer_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/loft"
)

func TestStripTold(t *testing.T) {
	k, sp := demoSprung(t, "1.05", loft.Range{Low: 8, High: 10})
	l := k.Layers[0]
	s, err := sp.Held(t.Context(), sp.Amidships())
	require.NoError(t, err)
	text := strings.Join(answer.StripTold(l, sp, s, answer.MM{}), " ")
	assert.Regexp(t, `^⌒ Springs dry: 0\.\d\d % edge-set at frame \w \(limit 0\.30 %\); 0\.\d\d % face strain at frame \w\. Held at frames K to M\. It lifts off most at \w+: \d+\.\d\d mm.*\. It needs the hardest press at \w: \d\.\d to \d\.\d N`, text)
	inBothUnits(t, "a strip that is shown", func(u answer.Units) string { return answer.StripTold(l, sp, s, u)[2] })

	at := func(f loft.SprungFrame) string { return answer.StripOver(l, sp, &f, answer.MM{}) }
	frame := sp.First
	name := "Frame " + l.Surface.FrameName(frame)
	assert.Equal(t, name+": the strip does not reach so far", at(loft.SprungFrame{Frame: frame, LiftOff: math.NaN()}))
	assert.Equal(t, name+": let go, and 2.50 mm off it, 0.40 mm above its line", at(loft.SprungFrame{Frame: frame, LiftOff: 2.5, Stray: -0.4}))
	assert.Equal(t, name+": let go, and lying on it, borne with 1.0 to 2.0 N", at(loft.SprungFrame{Frame: frame, Bears: loft.Range{Low: 1, High: 2}}))
	assert.Equal(t, name+": held, pressed on with 3.0 N, kept from slipping with 1.0 to 2.0 N upwards",
		at(loft.SprungFrame{Frame: frame, Held: true, Press: loft.Range{Low: 3, High: 3}, Side: loft.Range{Low: -2, High: -1}}))

	springs := *s
	springs.Converged = false
	assert.Contains(t, answer.StripTold(l, sp, &springs, answer.MM{})[1], "does not stay")
	k, sp = demoSprung(t, "1.05", loft.Range{})
	assert.Contains(t, strings.Join(answer.StripTold(k.Layers[0], sp, s, answer.MM{}), " "), "force is not known")
}
