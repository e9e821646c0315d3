package answer_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/loft"
)

// TestStripBesideInWords: the frame where a strip lies farthest off is named with how
// far, what is as near as a mark is drawn is called on it, and what is not told says why.
func TestStripBesideInWords(t *testing.T) {
	k := plank(t, wigley(2))
	l := k.Layers[0]
	b := l.StripBeside(1)
	require.NotNil(t, b)
	nan := math.NaN()
	say := func(off ...float64) (verdict, whole string) {
		b.Off = append(off, make([]float64, len(b.Off)-len(off))...)
		return answer.StripVerdict(b, l.Surface.FrameName, answer.MM{}), answer.StripText(b, 1, l.Surface.FrameName, answer.MM{})
	}
	name := l.Surface.FrameName
	verdict, whole := say(0.1, -loft.LiesOnLine, nan)
	assert.Equal(t, "left to itself, this strip settles along the line", verdict)
	assert.Contains(t, whole, "Left to itself, this strip settles along the line (5.00 x 1.00 mm, held at frames D, E, F); at frame "+name(1)+" it lies 0.25 mm above the line.")
	verdict, whole = say(0.1, 0.004, -0.8, nan, 0.7)
	assert.Equal(t, "left to itself, this strip settles 0.80 mm higher at frame "+name(2), verdict)
	assert.Contains(t, whole, "; at frame "+name(1)+" it lies on the line.")
	_, whole = say(0.3, nan)
	assert.NotContains(t, whole, name(1)+" ")

	gone := *b.Lie
	gone.Untold = loft.OverKnuckle
	b.Lie = &gone
	verdict, whole = say(nan, nan)
	assert.Equal(t, "where this strip would settle cannot be worked out: it would lie over a knuckle", verdict)
	assert.Contains(t, whole, "W"+verdict[1:]+" (5.00 x 1.00 mm, held at frames D, E, F). Move the handles.")
}
