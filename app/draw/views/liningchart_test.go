package views

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
)

// TestLiningChart: less wood lost lies further left, less edge-set further down; a
// point near a mark selects its way, the uppermost where two coincide.
func TestLiningChart(t *testing.T) {
	v := &LiningChart{}
	v.Draw(nil, -1, 300, 200)
	assert.Empty(t, v.Drawing.Items)
	assert.Equal(t, -1, v.WayAt(draw.Pt(100, 100)))

	marks := []LiningMark{{"1", 2000, 1, 3}, {"2", 1000, 4, 0}, {"3", 2000, 1, 9}, {"now", 6000, 2, 1}}
	v.Draw(marks, 1, 500, 300)
	at := map[string]draw.Point{}
	for _, item := range v.Drawing.Items {
		if l, ok := item.(draw.Label); ok {
			at[l.Text] = l.At
		}
	}
	assert.Less(t, at["2"].X, at["1"].X)
	assert.Less(t, at["1"].X, at["now"].X)
	assert.Less(t, at["2"].Y, at["now"].Y)
	assert.Less(t, at["now"].Y, at["1"].Y)
	for i, m := range marks {
		p := v.at[len(marks)-1-i]
		if i == 2 {
			i = 0 // it lies under the first
		}
		assert.Equal(t, i, v.WayAt(p), m.Name)
	}
	assert.Equal(t, -1, v.WayAt(draw.Pt(480, 290)))

	v.Shapeless = true
	v.Draw(marks[:1], 0, 500, 300) // a single one has a scale too
	assert.Equal(t, 0, v.WayAt(v.at[0]))
}
