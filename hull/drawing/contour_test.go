package drawing

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// contourCase is a piece whose planking is known.
type contourCase struct {
	right  []xy // its right half, from the centre line below, round to it above
	foot   xy   // where the planking ends below
	deck   xy   // and above
	girth  float64
	turned bool // its shape shows which way up it is
}

// contourCases are pieces of many kinds. Lengths of straight sides are exact.
func contourCases() map[string]contourCase {
	var round []xy // upwards from the keel
	for _, p := range sourcetest.Launch()[2].Points(101) {
		round = append([]xy{{p[0], p[1]}}, round...)
	}
	girth := girthTo(sourcetest.Launch()[2], 0)
	atTwo := 44 * (1 - math.Sqrt(1-2*2/42.0/42)) // height of the round bottom at a half-breadth of 2
	on := func(pts ...xy) []xy { return append(append([]xy{}, round...), pts...) }
	chine := []xy{{0, 0}, {30, 10}, {36, 30}}
	l := func(pts ...xy) float64 { c := chain{pts: vecs(pts)}; return c.length() }
	// A chine log 4 mm deep is let in on both sides of the chine.
	logIn := []xy{{0, 0}, {26, 26.0 / 3}, {26, 14}, {31.2, 14}, {36, 30}, {0, 31}}
	return map[string]contourCase{
		"flat deck":            {right: on(xy{0, 44}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"deck that sinks":      {right: on(xy{0, 40}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"bulwark timber":       {right: on(xy{38, 44}, xy{38, 34}, xy{0, 36}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"rib":                  {right: on(xy{36, 44}, xy{30, 20}, xy{15, 9}, xy{0, 6}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"hatch":                {right: on(xy{25, 45}, xy{25, 38}, xy{0, 38}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"tab":                  {right: append([]xy{{0, -6}, {2, -6}, {2, atTwo}}, on(xy{0, 45})[4:]...), foot: xy{2, atTwo}, deck: xy{42, 44}, girth: girthTo(sourcetest.Launch()[2], 2), turned: true},
		"chine":                {right: append(chine[:3:3], xy{0, 31}), foot: xy{0, 0}, deck: xy{36, 30}, girth: l(chine...)},
		"chine, V":             {right: []xy{{0, 0}, {20, 25}, {24, 40}, {0, 40}}, foot: xy{0, 0}, deck: xy{24, 40}, girth: l(xy{0, 0}, xy{20, 25}, xy{24, 40}), turned: true},
		"chine log let in":     {right: logIn, foot: xy{0, 0}, deck: xy{36, 30}, girth: l(chine...)},
		"notch in the bottom":  {right: []xy{{0, 0}, {10, 0}, {10, 3}, {14, 3}, {14, 0}, {22, 0}, {30, 30}, {0, 30}}, foot: xy{0, 0}, deck: xy{30, 30}, girth: l(xy{0, 0}, xy{22, 0}, xy{30, 30})},
		"tab on a flat bottom": {right: []xy{{0, -3}, {2, -3}, {2, 0}, {22, 0}, {30, 30}, {0, 30}}, foot: xy{2, 0}, deck: xy{30, 30}, girth: l(xy{2, 0}, xy{22, 0}, xy{30, 30})},
		"wide slot":            {right: []xy{{0, 12}, {6, 12}, {6, 8}, {8, 20}, {10, 40}, {0, 40}}, foot: xy{6, 8}, deck: xy{10, 40}, girth: l(xy{6, 8}, xy{8, 20}, xy{10, 40})},
		"notch in the deck":    {right: on(xy{30, 45}, xy{30, 42}, xy{24, 42}, xy{24, 46}, xy{0, 48}), foot: xy{0, 0}, deck: xy{42, 44}, girth: girth, turned: true},
		"flat bottom":          {right: []xy{{0, 0}, {22, 0}, {30, 30}, {0, 30}}, foot: xy{0, 0}, deck: xy{30, 30}, girth: l(xy{0, 0}, xy{22, 0}, xy{30, 30})},
		"tumblehome, chine":    {right: []xy{{0, 0}, {32, 6}, {24, 40}, {0, 40}}, foot: xy{0, 0}, deck: xy{24, 40}, girth: l(xy{0, 0}, xy{32, 6}, xy{24, 40})},
		"box":                  {right: []xy{{0, 0}, {30, 0}, {30, 30}, {0, 30}}, foot: xy{0, 0}, deck: xy{30, 30}, girth: 60},
	}
}

// However it lies on its sheet, every piece is either read correctly or refused. The exception is one
// that is wider below and might be standing on its head: there the assumption is reported. Where the
// reader says that it stands upright, it is always read. Straight sides are read to 1e-6 mm; the round
// ones are chords of the true curve, and their lengths agree to 0.01 mm.
func TestPiecesOfManyShapes(t *testing.T) {
	for name, c := range contourCases() {
		whole := append([]xy{}, c.right...)
		for k := len(c.right) - 2; k > 0; k-- {
			whole = append(whole, xy{-c.right[k][0], c.right[k][1]})
		}
		for q := range 4 {
			k, why := readPiece(whole, q, false)
			c.check(t, fmt.Sprintf("%s, turned %d times", name, q), k, why, q)
			if c.turned {
				assert.Empty(t, why.what, "%s, turned %d times", name, q)
			}
			if q%2 == 0 {
				k, why = readPiece(c.right, q, false)
				c.check(t, fmt.Sprintf("half, %s, turned %d times", name, q), k, why, q)
			}
		}
		k, why := readPiece(whole, 0, true)
		assert.Empty(t, why.what, name)
		c.check(t, name+", told to be upright", k, why, 0)
	}
}

// readPiece reads a contour that has been turned by the given quarters.
func readPiece(pts []xy, quarters int, upright bool) (contour, lack) {
	s := stroke{pts: vecs(laid(append(slices.Clip(pts), pts[0]), quarters, xy{70, -30})), closed: true}
	for i := range s.pts {
		s.joint(i)
	}
	piece, left := s.chain(), mostClose
	return piece.read(upright, LevelUntold, &left)
}

// check compares what was read of a piece, if anything, with the truth.
func (c *contourCase) check(t *testing.T, what string, k contour, why lack, turned int) {
	t.Helper()
	if why.what != "" {
		assert.NotEmpty(t, why.mend, what)
		return
	}
	if k.wider && c.deck[0] < 30 && k.quarters != (4-turned)%4 {
		return // the assumption is reported
	}
	assert.Equal(t, (4-turned)%4, k.quarters, what)
	for _, side := range []*chain{k.right, k.left} {
		if side == nil {
			continue
		}
		first, last := side.pts[0], side.pts[len(side.pts)-1]
		assert.InDelta(t, c.deck[0], first[0], 0.01, what)
		assert.InDelta(t, c.foot[0], last[0], 0.01, what)
		assert.InDelta(t, c.deck[1]-c.foot[1], first[1]-last[1], 0.01, what)
		assert.InDelta(t, c.girth, side.length(), 0.01, what)
	}
}
