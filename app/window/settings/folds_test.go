package settings

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// TestAFoldIsSettledByAButton: each way out that the notes tell stands as a button
// below, settles the fold as one step, and is undone as one.
func TestAFoldIsSettledByAButton(t *testing.T) {
	d := windowtest.NewDesk(t)
	require.True(t, d.Edit("take a hollow hull", func(q *hull.Plan) error { *q = *apptest.Folding(); return nil }))
	d.Choose(d.Choice.WithLine(-1).WithStrake(-1).WithFrame(0))
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	part := container.NewVBox(set.ProblemsPart()...)
	d.Lazy = append(d.Lazy, set.Update)
	set.Update()
	folds := func() bool {
		return strings.Contains(windowtest.Labels(part), "The outer face of this layer would fold at frame A")
	}
	require.True(t, folds(), windowtest.Labels(part))
	assert.Equal(t, 1, strings.Count(windowtest.Labels(part), "would fold"), "it is told once")

	thick := d.Plan().Layers[0].Stock.Thickness
	tap := func(begins string) {
		t.Helper()
		for _, s := range settlings(d) {
			for _, w := range s.ways {
				if strings.HasPrefix(w.name, begins) {
					test.Tap(windowtest.ButtonNamed(t, part, w.name))
					return
				}
			}
		}
		t.Fatalf("no button begins with %q", begins)
	}
	tap("Strips ")
	assert.Less(t, d.Plan().Layers[0].Stock.Thickness, thick)
	assert.False(t, folds())
	d.Undo()
	assert.True(t, folds())

	tap("Lay only frames ")
	assert.NotEmpty(t, d.Plan().Layers[0].From)
	assert.False(t, folds())
	tap("Lay it all along")
	assert.Empty(t, d.Plan().Layers[0].From)
	assert.True(t, folds())

	tap("Block, ")
	assert.Len(t, d.Plan().Layers[0].Blocks, 1)
	assert.False(t, folds())
	assert.Contains(t, windowtest.Labels(part), "is a solid block")
	tap("Plank it instead")
	assert.Empty(t, d.Plan().Layers[0].Blocks)
	assert.True(t, folds())
}

// TestALayerIsLaidBetweenChosenFrames: by the lists of the wood's part.
func TestALayerIsLaidBetweenChosenFrames(t *testing.T) {
	d := windowtest.NewDesk(t)
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	part := container.NewVBox(set.stretchRow()...)
	set.Update()
	var lists []*kit.Select
	windowtest.Walk(part, func(o fyne.CanvasObject) {
		if s, ok := o.(*kit.Select); ok {
			lists = append(lists, s)
		}
	})
	require.Len(t, lists, 2)
	lists[0].SetSelectedIndex(2)
	assert.Equal(t, d.FrameName(2), d.PlanLayer().From)
	assert.Empty(t, d.PlanLayer().To)
	lists[1].SetSelectedIndex(5)
	assert.Equal(t, d.FrameName(5), d.PlanLayer().To)
	lists[0].SetSelectedIndex(5) // no bay is left: refused, and the lists go back
	assert.Equal(t, d.FrameName(2), d.PlanLayer().From)
	lists[0].SetSelectedIndex(0)
	assert.Empty(t, d.PlanLayer().From, "the hull's own first frame is none of the layer's")
}
