package kit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A text of 30 in a cell of 60 with a margin of 8, of which there is less and less to be
// seen from either side.
func TestContentStaysWhereItIsSeenWhole(t *testing.T) {
	for _, c := range []struct {
		seen, at span
		fits     bool
	}{
		{span{0, 60}, span{0, 60}, true},
		{span{5, 60}, span{0, 60}, true},
		{span{20, 60}, span{12, 60}, true},
		{span{28, 60}, span{20, 66}, true}, // it takes the margin at the right
		{span{31, 60}, span{0, 60}, false},
		{span{0, 55}, span{0, 60}, true},
		{span{0, 40}, span{0, 48}, true},
		{span{0, 32}, span{-6, 40}, true},
		{span{0, 29}, span{0, 60}, false},
		{span{20, 50}, span{12, 58}, true}, // a cell wider than its table
	} {
		at, fits := room(c.seen, 60, 30, 8)
		assert.Equal(t, c.fits, fits, "%v", c.seen)
		assert.Equal(t, c.at, at, "%v", c.seen)
		if fits {
			assert.GreaterOrEqual(t, at.high-at.low, float32(30+2*8))
		}
	}
}
