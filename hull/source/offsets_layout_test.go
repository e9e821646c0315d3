package source

import (
	"bufio"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The same table in the layouts that it may have.
var yawlForms = map[string]string{
	"one column, each line with its kind": `unit,ft-in-8ths
scale,1:48
station,1,2,3
position,0,12-0-0,24-0-0
height of sheer,8-0-0,7-6-4,8-2-0
half breadth of sheer,3-0-0,5-0-0,4-0-0
waterline 6-0-0,2-9-4+,4-11-2,3-9-0
WL 4-0-0,2-2-0,4-6-0,3-2-0
half-breadth at 2-6-0,1-6-0,3-8-0,2-4-0
buttock 1-0-0,2-0-4,1-0-4,1-6-0
half-breadth rabbet,0-3-0,0-3-0,0-3-0
height rabbet,1-0-0,0-6-0,1-0-0
`,
	"headings above lines of a kind": `Table of offsets
Scale:,1:48
Stations,1,2,3
X,0-0-0,12-0-0,24-0-0
Heights above base
Sheer,8-0-0,7-6-4,8-2-0
Buttock 1-0-0,2-0-4,1-0-4,1-6-0
Rabbet,1-0-0,0-6-0,1-0-0

Half-breadths:
Sheer,3-0-0,5-0-0,4-0-0
6-0-0,2-9-4+,4-11-2,3-9-0
WL 4-0-0,2-2-0,4-6-0,3-2-0
2-6-0,1-6-0,3-8-0,2-4-0
Rabbet,0-3-0,0-3-0,0-3-0
`,
	"headings in a column of their own": `offsets
scale,1:48
station,,1,2,3
x,,0-0-0,12-0-0,24-0-0
heights
,sheer,8-0-0,7-6-4,8-2-0
,1-0-0,2-0-4,1-0-4,1-6-0
,rabbet,1-0-0,0-6-0,1-0-0
half-breadths
,sheer,3-0-0,5-0-0,4-0-0
,6-0-0,2-9-4+,4-11-2,3-9-0
,4-0-0,2-2-0,4-6-0,3-2-0
,2-6-0,1-6-0,3-8-0,2-4-0
,rabbet,0-3-0,0-3-0,0-3-0
`,
}

func TestOffsetsInEveryForm(t *testing.T) {
	want, err := ReadOffsets(strings.NewReader(yawl), "")
	require.NoError(t, err)
	for name, text := range yawlForms {
		got, err := ReadOffsets(strings.NewReader(text), "")
		if assert.NoError(t, err, name) {
			assert.Equal(t, want, got, name)
		}
		assert.Equal(t, Offsets, kindOf(bufio.NewReader(strings.NewReader(text))), name)
	}
}

// The unit is assumed only where every offset is in feet, inches and eighths.
func TestUnitOfOffsetsIsNotGuessed(t *testing.T) {
	form := yawlForms["headings above lines of a kind"]
	for _, spoilt := range []string{
		strings.Replace(form, "5-0-0", "5.0", 1),
		strings.Replace(form, "X,0-0-0", "X,1", 1),
	} {
		_, err := ReadOffsets(strings.NewReader(spoilt), "yawl.csv")
		assert.EqualError(t, err, `yawl.csv: there is no row "unit"; add one, such as unit,ft-in-8ths.`)
	}
}

func TestLineOfOffsetsWithoutItsKind(t *testing.T) {
	text := strings.Replace(yawlForms["one column, each line with its kind"], "WL 4-0-0", "4-0-0", 1)
	_, err := ReadOffsets(strings.NewReader(text), "yawl.csv")
	assert.ErrorContains(t, err, `yawl.csv, line 8: there is no row 4-0-0; begin it with half-breadth, height or diagonal`)
}

// A table of points is not one of offsets, whatever its first column is called.
func TestPointsAreNoOffsets(t *testing.T) {
	for _, head := range []string{"station,x_mm,y_mm,z_mm\n", "x,y,z\n", "frame,x_mm,y_mm,z_mm\n", "height,x_cm,y_cm,z_cm\n"} {
		assert.Contains(t, []Kind{Points, List}, kindOf(bufio.NewReader(strings.NewReader(head))), head)
	}
}

func TestHeadingsOfOffsets(t *testing.T) {
	for heading, want := range map[string][2]string{
		"Half-breadth":       {"half-breadth", ""},
		"WL 6-0-0":           {"half-breadth", "6-0-0"},
		"Height of the Wale": {"height", "wale"},
		"sheer half breadth": {"half-breadth", "sheer"},
		"Diagonal 12-0-0/45": {"diagonal", "12-0-0/45"},
		"knuckle 2 height":   {"height", "knuckle 2"},
		"Rabbet":             {"", "rabbet"},
		"":                   {"", ""},
	} {
		kind, place := offsetsLine(heading)
		assert.Equal(t, want, [2]string{kind, place}, heading)
	}
}
