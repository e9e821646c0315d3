package views

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// hatchStrokes are the strokes of the hatching in a drawing.
func hatchStrokes(d *draw.Drawing) (out []draw.Stroke) {
	for _, it := range d.Items {
		if s, ok := it.(draw.Stroke); ok && s.Pen.Width == hatchPen.Width {
			out = append(out, s)
		}
	}
	return out
}

// legendWords are the words of the legend in a drawing.
func legendWords(d *draw.Drawing) (out []string) {
	for _, it := range d.Items {
		if l, ok := it.(draw.Label); ok && (l.Text == "sprung" || l.Text == "cut from sheet" || l.Text == "carved") {
			out = append(out, l.Text)
		}
	}
	return out
}

// TestModesAreHatched: of four strakes the second is cut from sheet, the third
// carved; each stroke lies within its strake, slanted forwards on the one and both
// ways on the other, and the legend says so.
func TestModesAreHatched(t *testing.T) {
	p := girthsAlone(t).Plan.Clone()
	p.Layers[0].Bands[0].Modes = []hull.Mode{hull.Sprung, hull.Spiled, hull.Block, hull.Sprung}
	p.Layers[0].Bands[1].Modes = []hull.Mode{hull.Sprung, hull.Sprung, hull.Sprung, hull.Sprung}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	var v Expanded
	v.X, v.Top = FitExpanded(k, l, 1000, 300)
	v.Draw(k, Nothing, 1000, 300)
	slants := map[int]map[bool]int{}
	for _, s := range hatchStrokes(&v.Drawing) {
		require.Len(t, s.Points, 2)
		a, b := s.Points[0], s.Points[1]
		if a.Y > 280 {
			continue // the legend's
		}
		n := v.StrakeAt(draw.Pt((a.X+b.X)/2, (a.Y+b.Y)/2))
		require.True(t, n == 1 || n == 2, "a stroke lies in strake %d", n)
		if slants[n] == nil {
			slants[n] = map[bool]int{}
		}
		slants[n][b.X > a.X]++
	}
	assert.Len(t, slants[1], 1)
	assert.Greater(t, slants[1][true], 15)
	assert.Greater(t, slants[2][true], 15)
	assert.Greater(t, slants[2][false], 15)
	assert.Equal(t, []string{"sprung", "cut from sheet", "carved"}, legendWords(&v.Drawing))

	p.Layers[0].Bands[0].Modes = p.Layers[0].Bands[1].Modes
	k, err = loft.Plank(p)
	require.NoError(t, err)
	v.Draw(k, Nothing, 1000, 300)
	assert.Empty(t, hatchStrokes(&v.Drawing))
	assert.Empty(t, legendWords(&v.Drawing))
}
