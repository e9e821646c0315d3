package photo

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// The window for a photo is gone through by keys, with a ring around what has them.
func TestThePhotoIsDrivenByKeys(t *testing.T) {
	ps, p := reading(t)
	k, c := windowtest.Keyboard{Win: p.Win}, p.Win.Canvas()
	k.Press(fyne.KeyF6)
	require.NotNil(t, c.Focused())
	assert.NotNil(t, kit.Path(p.left, c.Focused().(fyne.CanvasObject)))
	k.Press(fyne.KeyF6)
	assert.Same(t, fyne.Focusable(p.board), c.Focused())
	assert.True(t, windowtest.Ringed(p.board))
	k.Press(fyne.KeyF6)
	assert.False(t, windowtest.Ringed(p.board))
	was := p.group
	k.Press(fyne.KeyTab, fyne.KeyModifierControl)
	assert.Equal(t, (was+1)%groups, p.group)
	k.Press(fyne.KeyEscape)
	assert.Nil(t, ps.open, "left, with nothing lost")
}
