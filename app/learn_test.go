package app

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

func TestSpreadsAreTakenInOneStep(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "mine.strakeplan")
	p, err := hull.OpenFile(filepath.Join("..", "assets", "skiff.strakeplan"))
	require.NoError(t, err)
	l := p.Layers[0].Stock
	old := hull.Spread{Species: "no wood of this plan", Width: 9, Thickness: 3, CreepSD: 1, Shape: 1, Frame: 1, Knife: 1, Along: 1, Strake: 1, Reading: 1, Sure: 1}
	p.Record.Spreads = []hull.Spread{old}
	require.NoError(t, hull.SaveFile(path, p))
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()

	_, err = s.TakeSpreads(&hull.Builder{}, "own")
	assert.EqualError(t, err, "own has no build with the wood of this plan")
	_, undo := s.CanUndo()
	assert.False(t, undo)

	b := &hull.Builder{}
	taught := old
	taught.Species, taught.Width, taught.Thickness, taught.Creep = l.Species, l.Width, l.Thickness, 0.1
	b.Learn("Dunlin", "a", taught)
	taken, err := s.TakeSpreads(b, "own")
	require.NoError(t, err)
	require.Len(t, taken, 1)
	require.Len(t, s.Plan().Record.Spreads, 2, "what serves other plans' woods is left alone")
	kept, err := hull.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, 0.1, kept.Record.Spreads[1].Creep, "it is on the disk")
	s.Undo()
	assert.Equal(t, []hull.Spread{old}, s.Plan().Record.Spreads)
}

func TestLearningLeavesWhatItCannotWrite(t *testing.T) {
	s, err := Open(filepath.Join("..", "assets", "skiff.strakeplan"))
	require.NoError(t, err)
	defer s.Close()
	path := filepath.Join(t.TempDir(), "own")
	_, _, err = LearnInto(t.Context(), path, func() {}, s.Planking())
	assert.ErrorIs(t, err, errNothingLearned)
	_, err = os.Stat(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestABuildTeachesItsOwnAlone(t *testing.T) {
	s, err := Open(benchPlan(t))
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.01")))
	for _, frame := range []string{"B", "C", "D"} {
		require.NoError(t, s.Note(hull.Starboard, hull.Entry{Date: "2026-03-02", EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: frame, MM: 39.6}))
	}
	learned := func() string {
		path := filepath.Join(t.TempDir(), "own")
		_, _, err := LearnInto(t.Context(), path, func() {}, s.Planking())
		require.NoError(t, err)
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		return string(text)
	}
	before := learned()
	b := &hull.Builder{}
	strip := s.Plan().Layers[0].Stock
	b.Learn("Dunlin", "a", hull.Spread{Species: strip.Species, Width: strip.Width, Thickness: strip.Thickness, Creep: -0.4, CreepSD: 0.01, Shape: 2, Frame: 2, Knife: 1, Along: 1, Strake: 1, Reading: 1, Sure: 0.1})
	_, err = s.TakeSpreads(b, "own")
	require.NoError(t, err)
	assert.Equal(t, before, learned(), "what others taught does not come back as its own")
}
