package settings

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestAModeIsOneStep: the menu of the chosen strake makes it another way, the panel
// says so with what the rules find, and one undo takes it back.
func TestAModeIsOneStep(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Choose(d.Choice.WithStrake(2))
	before := d.Layer().Strakes[2].Making
	made := BoardMenu(d).Items[0]
	require.Equal(t, "Strake "+d.Layer().Strakes[2].ID+" is made", made.Label)
	item := func(label string) *fyne.MenuItem {
		for _, it := range BoardMenu(d).Items[0].ChildMenu.Items {
			if it.Label == label {
				return it
			}
		}
		t.Fatalf("no item %q", label)
		return nil
	}
	assert.True(t, item("by the rules").Checked)
	item("carved from a block").Action()
	m := d.Layer().Strakes[2].Making
	assert.Equal(t, hull.Block, m.Mode)
	assert.Equal(t, loft.ByChoice, m.Reason)
	assert.Equal(t, before.Verdict, m.Verdict)
	assert.True(t, item("carved from a block").Checked)
	mark, says, figure := strakeVerdict(d, d.Layer().Strakes[2])
	assert.Equal(t, answer.VerdictMark(m.Verdict.Kind), mark)
	assert.Equal(t, "Strake "+d.Layer().Strakes[2].ID+": carved from a block, as you chose", says)
	assert.Equal(t, "The rules say "+answer.VerdictText(m.Verdict, d.FrameName)+".", figure)
	d.Undo()
	assert.Equal(t, before, d.Layer().Strakes[2].Making)
	assert.True(t, item("by the rules").Checked)
}
