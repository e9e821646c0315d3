package bench

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

func TestOutlookAsksForTheMeasurementThatTellsMost(t *testing.T) {
	d, b := atBench(t, notePart)
	windowtest.Laid(t, d, 3, 0.6)
	o := b.outlook
	asked := 0
	o.find = func(_ context.Context, s *progress.BandState) (progress.Outlook, error) {
		asked++
		return progress.Outlook{Last: s.Remaining[0], Tolerance: 0.5, Fits: 0.61, Room: s.Left, Within: s.LeftBound, Tells: []progress.Tell{{Frame: 7, Fits: 0.83}}}, nil
	}
	b.tabs.SelectIndex(restPart)
	windowtest.Until(t, func() bool { return o.ahead != nil })
	assert.Contains(t, o.told.Text, "Likely (61 %), if you cut every strake as planned and measure no more: ")
	assert.Contains(t, o.told.Text, "Next measure what is left at frame H, the most useful reading (from 61 % to 83 %).")
	b.Update()
	assert.Equal(t, 1, asked, "of the same record it is told once")
	d.SwitchUnits()
	assert.Contains(t, o.told.Text, " in at every frame")
	test.Tap(windowtest.ButtonNamed(t, b.tabs.Items[restPart].Content, "Measure at frame H"))
	assert.Equal(t, b.note, b.tabs.Selected())
	assert.Equal(t, 7, d.Choice.Frame)
	assert.Equal(t, hull.LeftOver, b.ask.doing())
}

func TestBareGirthIsNotedAsReadByItsRule(t *testing.T) {
	d, b := atBench(t, notePart)
	require.NoError(t, d.Session.SetRule(0.5))
	d.Choose(d.Choice.WithStrake(-1).WithFrame(6))
	b.askFor(hull.BareGirth)
	b.bench.Wet = true
	b.Update()
	assert.Contains(t, windowtest.Labels(b.note.Content), "Along bare frame G, from the ")
	b.ask.to = 0.1
	b.ask.number.Entry.SetText("96.5")
	test.Tap(windowtest.ButtonNamed(t, b.note.Content, "Note it"))
	want := hull.Entry{Date: "2026-03-01", EntryKind: hull.BareGirth, Layer: 1, Frame: "G", MM: 96.5, To: 0.1}
	assert.Equal(t, []hull.Entry{want}, onDisk(t, d).Record.Starboard)
	assert.Equal(t, 0.5, onDisk(t, d).Record.To)
}

func TestLearningFromBuildToBuild(t *testing.T) {
	d, b := atBench(t, restPart)
	said, status := "", ""
	d.Say, d.Status = func(s string) { said = s }, func(s string) { status = s }
	path := filepath.Join(t.TempDir(), "own.strakebuilds")
	b.learnFrom(path)
	assert.Contains(t, said, "own.strakebuilds")
	b.learnInto(path)
	windowtest.Until(t, func() bool { return said != "" })
	_, err := os.Stat(path)
	require.ErrorIs(t, err, os.ErrNotExist, "nothing was measured yet")

	windowtest.Laid(t, d, 3, 0.6)
	status = ""
	b.learnInto(path)
	windowtest.Until(t, func() bool { return status != "" })
	assert.Contains(t, status, "Learned into own.strakebuilds: With ")
	b.learnFrom(path)
	assert.Contains(t, status, "Taken from own.strakebuilds: With ")
	require.Len(t, onDisk(t, d).Record.Spreads, 1)
	d.Undo()
	assert.Empty(t, d.Plan().Record.Spreads)
}
