package fairing

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// meshWritten is a file of Wigley's hull.
func meshWritten(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "skiff.stl")
	require.NoError(t, os.WriteFile(path, sourcetest.Skin(sourcetest.Wigley, -300, 300, 24, 10, 0).BinarySTL(), 0o600))
	return path
}

func (o *sectionsDialog) settled(t *testing.T, sound bool) {
	t.Helper()
	windowtest.Until(t, func() bool { return !o.bar.Visible() && o.accept.Disabled() != sound })
}

func sectionsOpened(t *testing.T, d *desk.Desk) *sectionsDialog {
	t.Helper()
	o := OpenSections(d, meshWritten(t), nil)
	o.settled(t, true)
	return o
}

func TestAMeshIsSlicedAndBecomesAPlan(t *testing.T) {
	d := windowtest.NewDesk(t)
	old := d.Session
	o := sectionsOpened(t, d)
	assert.Len(t, o.lines, 22, "twenty frames and two limits")
	assert.Contains(t, o.told.Text, "20 frames, set evenly")
	assert.Same(t, old, d.Session, "nothing is opened before it is looked at")

	o.stations.SetSelectedIndex(stationsSpaced)
	o.settled(t, true)
	assert.InDelta(t, 30, o.how.Every, 0, "as the even ones stood")
	assert.True(t, o.spaced.Visible())
	o.every.Entry.SetText("50")
	o.every.Commit()
	o.settled(t, true)
	assert.Len(t, o.frames(), 11)
	o.from.Entry.SetText("-240")
	o.from.Commit()
	o.settled(t, true)
	assert.InDelta(t, -240, o.frames()[0].X(), 1e-9)

	o.stations.SetSelectedIndex(stationsListed)
	o.settled(t, true)
	assert.Equal(t, "-240.00, -190.00, -140.00, -90.00, -40.00, 10.00, 60.00, 110.00, 160.00, 210.00, 260.00", o.list.Text)
	o.list.SetText("-100, 0, 100, 200.5")
	o.list.OnSubmitted(o.list.Text)
	o.settled(t, true)
	assert.Len(t, o.frames(), 4)

	o.list.SetText("-100, 0, 100, 400")
	o.list.OnSubmitted(o.list.Text)
	o.settled(t, false)
	assert.Contains(t, o.told.Text, "The station at x 400 mm lies beyond it")
	assert.Empty(t, o.lines)

	o.stations.SetSelectedIndex(stationsEven)
	o.bow.SetSelectedIndex(1)
	o.settled(t, true)
	o.take()
	windowtest.Until(t, func() bool { return d.Session != old })
	assert.Len(t, d.Plan().Hull.Frames, 20)
	assert.Equal(t, hull.BowLast, d.Plan().Hull.Bow)
	assert.Equal(t, "skiff", d.Plan().Title)
	assert.True(t, d.Session.Changed(), "it is in no file yet")
}

// What is said while a large mesh is read ends that reading, and so does closing.
func TestReadingAMeshIsEnded(t *testing.T) {
	d := windowtest.NewDesk(t)
	ended := make(chan mesh.Options, 3)
	o := openSections(d, "large.stl", nil, func(ctx context.Context, path string, how mesh.Options) source.Checked {
		<-ctx.Done()
		ended <- how
		return source.Checked{}
	})
	assert.True(t, o.accept.Disabled())
	o.bow.SetSelectedIndex(1)
	assert.Empty(t, (<-ended).Bow)
	o.take()
	o.dialog.Hide()
	assert.Equal(t, hull.BowLast, (<-ended).Bow)
}
