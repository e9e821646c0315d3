package paper

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/windowtest"
)

// Tab goes to everything in the dialog that can be set or pressed, with a ring around it
// and in sight; a page is turned, a section left out and the dialog left by keys.
func TestPaperIsDrivenByKeys(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { d.DialogKey(e) }) // as the window has it
	p := openPaper(t, d)
	k, c := windowtest.Keyboard{Win: d.Win}, d.Win.Canvas()
	top := c.Overlays().Top()
	require.NotNil(t, top)
	want := map[fyne.Focusable]bool{}
	var look func(o fyne.CanvasObject)
	look = func(o fyne.CanvasObject) {
		if !o.Visible() {
			return
		}
		if f, ok := o.(fyne.Focusable); ok {
			if d, can := o.(fyne.Disableable); !can || !d.Disabled() {
				want[f] = true
			}
			return
		}
		switch o := o.(type) {
		case *fyne.Container:
			for _, in := range o.Objects {
				look(in)
			}
		case fyne.Widget:
			for _, in := range test.WidgetRenderer(o).Objects() {
				look(in)
			}
		}
	}
	look(top)
	require.Greater(t, len(want), 8)
	reached := map[fyne.Focusable]bool{}
	for range 2 * len(want) {
		k.Press(fyne.KeyTab)
		f := c.Focused()
		require.NotNil(t, f)
		o := f.(fyne.CanvasObject)
		if !reached[f] {
			assert.True(t, windowtest.Ringed(o), "%T", f)
			assert.True(t, windowtest.InSight(d.Win, o), "%T", f)
		}
		reached[f] = true
	}
	for f := range want {
		assert.True(t, reached[f], "%T is not reached", f)
	}
	chosen := len(p.sections.Selected)
	for range 2 * len(want) {
		k.Press(fyne.KeyTab)
		if o, ok := c.Focused().(fyne.CanvasObject); ok && inCheckGroup(p, o) {
			break
		}
	}
	k.Press(fyne.KeySpace)
	if r, ok := c.Focused().(interface{ TypedRune(rune) }); ok {
		r.TypedRune(' ')
	}
	assert.NotEqual(t, chosen, len(p.sections.Selected), "a section is left out")
	k.Press(fyne.KeyEscape)
	assert.Nil(t, c.Overlays().Top())
}

func inCheckGroup(p *paperDialog, o fyne.CanvasObject) bool {
	found := false
	windowtest.Walk(p.sections.Box, func(in fyne.CanvasObject) { found = found || in == o })
	return found
}
