package fairing

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/drawing"
)

// roundBulkheads are half circles under a level deck, in two rows, each with a slot 4 mm
// wide whose closed end lies 10 mm below the deck, and a hole.
func roundBulkheads(t *testing.T) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="200mm" viewBox="0 0 400 200">`)
	for i, r := range []float64{24, 30, 32, 28} {
		x, y := 50+100*float64(i%3), 20+80*float64(i/3)
		foot := math.Sqrt(r*r - 4)
		fmt.Fprintf(&b, `<path d="M%g %gA%g %g 0 0 0 %g %gV%gH%gV%gA%g %g 0 0 0 %g %gz"/><circle cx="%g" cy="%g" r="2"/>`,
			x-r, y, r, r, x-2, y+foot, y+10, x+2, y+foot, r, r, x+r, y, x+10, y+8)
	}
	b.WriteString("</svg>")
	path := filepath.Join(t.TempDir(), "bulkheads.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	return path
}

func TestPiecesToCutBecomeAPlan(t *testing.T) {
	d := windowtest.NewDesk(t)
	old := d.Session
	o := drawingOpened(t, d, roundBulkheads(t))
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "set the stations of all") })
	assert.Contains(t, o.told.Text, "count as 4 frames, named by their place: row by row from the top, each from left to right, 1 to 3, 4")
	assert.Contains(t, o.told.Text, "4 holes")
	assert.Equal(t, "choose what all have at one height", o.pieces.level.Selected)
	assert.True(t, o.accept.Disabled())

	o.pieces.ways.SetSelected("a list")
	assert.True(t, o.pieces.listed.Visible())
	o.pieces.list.OnSubmitted("0, 30")
	assert.Contains(t, o.told.Text, "You gave 2 stations, but the drawing has 4 frames")
	o.pieces.list.OnSubmitted("nought")
	assert.Contains(t, o.told.Text, "Write the places")
	o.pieces.ways.SetSelected("evenly spaced")
	o.pieces.from.Entry.SetText("12")
	o.pieces.from.Commit()
	o.pieces.every.Entry.SetText("30")
	o.pieces.every.Commit()
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "does not give the height of its frame") })
	assert.Contains(t, o.told.Text, "choose what all have at one height")
	assert.Nil(t, o.pieces.taken())

	o.pieces.level.SetSelected("the end of the slot from below")
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "4 frames, from 1 at x 12.0 mm to 4 at x 102.0 mm")
	assert.Contains(t, o.told.Text, "The planking ends below at the edges of the slot")
	o.pieces.show.SetChecked(true)
	assert.Len(t, o.pieces.taken(), 6, "the frames and both limits")
	o.step(o.use.Undo)
	o.settled(t, false)
	assert.Equal(t, drawing.LevelUntold, o.use.How.Level)
	assert.Equal(t, "choose what all have at one height", o.pieces.level.Selected)
	o.step(o.use.Redo)
	o.settled(t, true)
	o.take()
	windowtest.Until(t, func() bool { return d.Session != old })
	isRound(t, d)
}

// isRound checks the plan: each frame goes down to the edge of its slot, and all decks lie
// at one height.
func isRound(t *testing.T, d *desk.Desk) {
	t.Helper()
	frames := d.Plan().Hull.Frames
	require.Len(t, frames, 4)
	for i, r := range []float64{24, 30, 32, 28} {
		f := frames[i]
		assert.InDelta(t, 12+30*float64(i), f.X(), 1e-9)
		assert.InDelta(t, r, f.Points[0].Y(), 0.01)
		assert.InDelta(t, 2, f.Points[len(f.Points)-1].Y(), 0.01)
		assert.InDelta(t, math.Sqrt(32*32-4), f.Points[0].Z(), 0.01, "the deepest frame stands on the base line")
	}
}

func TestAllPiecesStandUprightWhereThatIsTold(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, roundBulkheads(t))
	assert.False(t, o.pieces.upright.Disabled())
	o.pieces.upright.SetChecked(true)
	assert.True(t, o.use.How.Upright)
	o.pieces.level.SetSelected("no: these are not pieces to cut")
	assert.True(t, o.pieces.upright.Disabled())
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "has no x") })
	plain := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	assert.False(t, plain.pieces.cut.Visible(), "it has no closed lines")
}
