package tracing

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// The window for tracing is gone through, and left, by keys: with a ring around what has
// them, and a question where something would be lost.
func TestTheTracingIsDrivenByKeys(t *testing.T) {
	ts, tr := newTracing(t)
	k, c := windowtest.Keyboard{Win: tr.Win}, tr.Win.Canvas()
	k.Press(fyne.KeyF6)
	first := c.Focused()
	require.NotNil(t, first)
	assert.NotNil(t, kit.Path(tr.left, first.(fyne.CanvasObject)), "the panel")
	assert.True(t, windowtest.Ringed(first.(fyne.CanvasObject)))
	k.Press(fyne.KeyF6)
	assert.Same(t, fyne.Focusable(tr.board), c.Focused())
	assert.True(t, windowtest.Ringed(tr.board))
	k.Press(fyne.KeyF6)
	assert.False(t, windowtest.Ringed(tr.board))
	assert.NotNil(t, kit.Path(tr.left, c.Focused().(fyne.CanvasObject)))
	tab := tr.panel.tabs.SelectedIndex()
	k.Press(fyne.KeyTab, fyne.KeyModifierControl)
	assert.NotEqual(t, tab, tr.panel.tabs.SelectedIndex())

	require.NoError(t, tr.t.AddFrame("A", 0))
	require.NoError(t, tr.t.Click(trace.Pt(3, 4), false))
	c.Focus(tr.board)
	tr.take(traceBase)
	k.Press(fyne.KeyEscape)
	assert.Equal(t, traceClicks, tr.tool, "first the tool")
	assert.Nil(t, c.Overlays().Top())
	k.Press(fyne.KeyEscape)
	require.NotNil(t, c.Overlays().Top(), "something would be lost")
	assert.Contains(t, windowtest.Labels(c.Overlays().Top()), "in no plan")
	k.Press(fyne.KeyEscape)
	assert.Nil(t, c.Overlays().Top())
	assert.NotNil(t, ts.open, "it is still there")
	tr.keptAt = tr.t.Changes()
	k.Press(fyne.KeyEscape)
	assert.Nil(t, ts.open, "nothing would be lost now")
}
