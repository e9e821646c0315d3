package sheets

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestBevelSheetHoldsTheHoodEnds: with how they are measured, and no row for those that
// end off the centre plane.
func TestBevelSheetHoldsTheHoodEnds(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	pieces := hoodPieces(l, Usual())
	require.NotEmpty(t, pieces)
	text := words(bevelSheets(k, 1, Usual()))
	rows := 0
	for _, h := range l.HoodEnds() {
		centre, rake, bevel := answer.HoodWords(h)
		row := fmt.Sprintf("%s %s %.1f %s %s %s", short(h.Strake), l.Surface.FrameName(h.Frame), h.Breadth, centre, rake, bevel)
		if h.Lies == loft.HoodOff {
			assert.NotContains(t, text, row)
			continue
		}
		rows++
		assert.Contains(t, text, row)
	}
	assert.NotZero(t, rows)
	assert.Contains(t, text, "Ends off the centre plane: 1.01 to 2.03 at frame stern")
}

// TestSquareEdgesHaveNoRows: neither on the sheet of bevels nor under the strakes, but
// where the top strake meets the wale and the lowest the rabbet.
func TestSquareEdgesHaveNoRows(t *testing.T) {
	p := coaster(t).Plan.Clone()
	for i := range p.Layers {
		p.Layers[i].Edges = hull.Square
	}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	n := len(l.Strakes) - 1
	told := bevelled(l)
	require.Len(t, told, 2)
	assert.Equal(t, []string{l.Strakes[0].ID, l.Strakes[n].ID}, []string{told[0].ID, told[1].ID})
	assert.Contains(t, words(bevelSheets(k, 1, Usual())), "The edges of this layer stay square where strakes meet.")
	names := func(st *loft.Strake) (out []string) {
		for _, r := range bevelRows(l, st, "bevel up", "bevel low") {
			out = append(out, r.name)
		}
		return out
	}
	assert.Equal(t, []string{"bevel up"}, names(l.Strakes[0]))
	assert.Equal(t, []string{"bevel low"}, names(l.Strakes[n]))
	assert.Empty(t, names(l.Strakes[3]))
	row := bevelRow(l, l.Strakes[n], 12, 13, bevelUnits[0].write)
	assert.Empty(t, row[1], "its upper edge is square")
	assert.NotEmpty(t, row[2])
	for _, st := range l.Strakes[1:n] {
		for _, r := range strakeRows(l, st, func(int) float64 { return 0 }) {
			assert.NotContains(t, r.name, "bev")
		}
	}
}

// TestNoBevelsAtAll: flat sides with square edges have a sentence, and no table.
func TestNoBevelsAtAll(t *testing.T) {
	h := hull.Hull{}
	for i := range 5 {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i+1)}
		for j := range 5 {
			f.Points = append(f.Points, [3]float64{20 * float64(i), 30, 40 - 8*float64(j)})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("box", h)
	p.Layers[0].Edges = hull.Square
	k, err := loft.Plank(p)
	require.NoError(t, err)
	text := words(bevelSheets(k, 1, Usual()))
	assert.Contains(t, text, "The edges of this layer stay square.")
	assert.NotContains(t, text, "degrees off square")
	assert.NotContains(t, text, "to centre")
	assert.Contains(t, text, "Ends off the centre plane")
}

// TestMinusesStandClearOfTheRules: a column is as wide as its longest bevel and the room
// on both sides of it.
func TestMinusesStandClearOfTheRules(t *testing.T) {
	k, err := loft.Plank(coaster(t).Plan.Clone())
	require.NoError(t, err)
	l := k.Layers[0]
	c := &l.Strakes[1].At[3]
	require.True(t, c.Laid)
	c.BevelUpper = -hull.Angle(0.43) // 24.6 degrees, 4.59 in 10
	for frame := range l.Surface.Frames() {
		width := bevelWidth(l, l.Strakes, frame)
		if frame == 3 {
			assert.Greater(t, width, draw.TextWidth("−24.6", fine)+cellPad+clearOfRule-1e-9)
		}
		for _, unit := range bevelUnits {
			for _, st := range l.Strakes {
				for _, text := range bevelRow(l, st, frame, frame+1, unit.write)[1:] {
					assert.LessOrEqual(t, draw.TextWidth(strings.ReplaceAll(text, "-", "−"), fine)+cellPad+clearOfRule, width+1e-9, text)
				}
			}
		}
	}
}
