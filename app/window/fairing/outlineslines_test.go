package fairing

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// wigleyLines draws waterlines of Wigley's hull, evenly from 7.5 mm, x 0 at 350.
func wigleyLines(t *testing.T, name func(k int) string) string {
	var b strings.Builder
	b.WriteString(`<path id="middle" d="M0 200H700"/>`)
	for k := 1; k <= 5; k++ {
		y, _ := sourcetest.Wigley(0, float64(k)/5)
		fmt.Fprintf(&b, `<path %s d="M50 200Q350 %.9g 650 200"/>`, name(k), 200-2*y)
	}
	path := filepath.Join(t.TempDir(), "lines.svg")
	require.NoError(t, os.WriteFile(path, []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400">`+b.String()+"</svg>"), 0o600))
	return path
}

// Lines without names become waterlines, are spaced, and frames are taken off them.
func TestWaterlinesAreTold(t *testing.T) {
	d := windowtest.NewDesk(t)
	old := d.Session
	o := drawingOpened(t, d, wigleyLines(t, func(int) string { return "" }))
	assert.True(t, o.accept.Disabled())
	assert.False(t, o.lines.box.Visible())
	o.allLines(drawing.WaterlineMark)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "he height of") })
	assert.True(t, o.lines.box.Visible())
	assert.False(t, o.lines.butts.Visible())
	o.use.SetLines(func(how *drawing.Lines) { how.Waterlines = drawing.Even{From: 7.5, Every: 7.5} })
	o.changed()
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "22 frames")
	o.lines.stations.SetSelectedIndex(stationsListed)
	windowtest.Until(t, func() bool { return o.use.How.Stations != nil && !o.accept.Disabled() })
	o.lines.list.OnSubmitted("100, 200, 350, 500")
	o.settled(t, true)
	windowtest.Until(t, func() bool { return len(o.result.Hull.Frames) == 6 })
	for _, p := range o.result.Hull.Frames[2].Points {
		y, _ := sourcetest.Wigley(-150, p.Z()/37.5)
		assert.InDelta(t, y, p.Y(), 0.002, "on the hull")
	}
	require.True(t, o.use.Undo())
	assert.Len(t, o.use.How.Stations.List, 20, "what was said before")
	require.True(t, o.use.Redo())
	o.take()
	windowtest.Until(t, func() bool { return d.Session != old })
	assert.Len(t, d.Plan().Hull.Frames, 6)
}

// Each named line is listed with its height, and can be told another.
func TestNamedWaterlinesAreListed(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, wigleyLines(t, func(k int) string { return fmt.Sprintf(`id="WL %g"`, 7.5*float64(k)) }))
	i := 2
	assert.Contains(t, o.lineText(i), "waterline at height")
	o.pick(i)
	assert.Contains(t, o.edit.atX.Text, "At height z")
	o.edit.x.Entry.SetText("23")
	o.edit.x.Commit()
	assert.Equal(t, 23.0, o.use.Lines[i].X)
	o.edit.kind.SetSelected("buttock, of a sheer plan")
	assert.Equal(t, drawing.ButtockMark, o.use.Lines[i].Mark)
	assert.True(t, o.lines.butts.Visible())
	assert.NotNil(t, o.plot.Paint(500, 400))
}

// The other plan, of another drawing, is added, and taken back.
func TestOtherPlanIsAdded(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, wigleyLines(t, func(k int) string { return fmt.Sprintf(`id="WL %g"`, 7.5*float64(k)) }))
	lines := len(o.use.Lines)
	side := filepath.Join(t.TempDir(), "side.svg")
	require.NoError(t, os.WriteFile(side, []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400"><path id="base" d="M0 90H700"/><path id="rabbet-height" d="M40 90H660"/></svg>`), 0o600))
	o.edit.kind.SetSelected("waterline, of a half-breadth plan")
	o.lines.addOther(side)
	windowtest.Until(t, func() bool { return len(o.use.Lines) == lines+2 })
	o.pick(lineOf(t, o, "middle"))
	o.edit.kind.SetSelected("mark of the centre line")
	o.settled(t, true)
	f := o.result.Hull.Frames[5]
	assert.InDelta(t, 0, f.Points[len(f.Points)-1].Z(), 1e-6, "down to the rabbet")
	o.pick(len(o.use.Lines) - 1)
	for o.use.CanUndo() {
		o.step(o.use.Undo)
	}
	assert.Len(t, o.use.Lines, lines)
}
