package settings

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/loft"
)

// TestAProblemIsShownWhereItLies: problems of a kind are folded, and a click, or Return
// while it has the keys, chooses the strake and the frame in all views.
func TestAProblemIsShownWhereItLies(t *testing.T) {
	d := windowtest.NewDesk(t)
	l := d.Planking().Layers[0]
	l.Notes, l.Drops, l.Wedges = nil, nil, nil
	for n := range 6 {
		l.Wedges = append(l.Wedges, loft.Wedge{Below: l.Strakes[n].ID, From: 2, To: 4, Length: 50, Width: 2})
	}
	l.Notes = append(l.Notes, loft.RunsOut{Line: 1, Upper: true, Frames: []int{3}, At: 3, By: 1.5})
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	part := container.NewVBox(set.ProblemsPart()...)
	test.NewTempWindow(t, part)
	set.Update()
	picks := func() (out []*kit.Pick) {
		windowtest.Walk(part, func(o fyne.CanvasObject) {
			if p, ok := o.(*kit.Pick); ok {
				out = append(out, p)
			}
		})
		return out
	}
	require.Len(t, picks(), 3, "the line, and two of six wedges")
	assert.Equal(t, "Problems (1)", ProblemsName(d), "wedges are no fault")
	assert.Contains(t, picks()[0].Text(), "runs out", "the gravest first")

	test.Tap(picks()[0])
	assert.Equal(t, []int{0, 3}, []int{d.Choice.Line, d.Choice.Frame})
	picks()[2].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	assert.Equal(t, []int{1, 4}, []int{d.Choice.Strake, d.Choice.Frame})

	for _, name := range []string{"▸ Wedges: 4 more", "▾ Wedges: fewer"} {
		test.Tap(windowtest.ButtonNamed(t, part, name))
	}
	require.Len(t, picks(), 3)
	l.Wedges, l.Notes = nil, nil
	set.Update()
	assert.Empty(t, picks())
	assert.Contains(t, windowtest.Labels(part), "No problems", fmt.Sprint(windowtest.Labels(part)))
}
