package app

import (
	"errors"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

// during calls f on another goroutine while an edit is under way, lets it run
// until it blocks, and only then makes the edit. f has returned when during does.
func during(t *testing.T, s *Session, change func(*hull.Plan) error, f func()) {
	t.Helper()
	var other sync.WaitGroup
	require.NoError(t, s.Edit("an edit", func(p *hull.Plan) error {
		other.Go(f)
		for range 1000 { // as far as it gets: to where it waits for this edit
			runtime.Gosched()
		}
		return change(p)
	}))
	other.Wait()
}

func TestADragBeginsFromTheEditUnderWay(t *testing.T) {
	s := opened(t)
	var d *Drag
	during(t, s, title("Edited"), func() { d = s.Begin("move") })
	require.NoError(t, d.Try(to(4, 28)))
	assert.Equal(t, "Edited", s.Plan().Title, "the trial is of the edited plan")
	d.Done()
	assert.Equal(t, "Edited", s.Plan().Title)
	assert.InDelta(t, 28, downAt(s, 4), 1e-6)
	s.Undo()
	assert.Equal(t, "Edited", s.Plan().Title, "undo takes the drag back, and no more")
	assert.InDelta(t, 25, downAt(s, 4), 1e-6)
}

// TestEditsAndDragsAtOnce: whatever happens in between, an edit is applied to
// what came before it, and nothing that was reported as done is lost.
func TestEditsAndDragsAtOnce(t *testing.T) {
	s := opened(t)
	const each = 40
	var all sync.WaitGroup
	all.Go(func() {
		for range each {
			assert.NoError(t, s.Edit("a strake more", func(p *hull.Plan) error { p.Layers[0].Bands[0].Strakes++; return nil }))
		}
	})
	for frame := range 2 {
		all.Go(func() {
			for i := range each {
				d := s.Begin("move")
				if err := d.Try(to(frame, 20+float64(i)/10)); !errors.Is(err, errDragOver) { // an edit ends it
					assert.NoError(t, err)
				}
				d.Done()
			}
		})
	}
	all.Wait()
	assert.Equal(t, each, s.Plan().Layers[0].Bands[0].Strakes)
	assert.Same(t, s.Plan(), s.Planking().Plan)
}

// twoGlued is a session with two strakes glued to starboard.
func twoGlued(t *testing.T) *Session {
	t.Helper()
	s, err := Open(benchPlan(t))
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.01")))
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.02")))
	return s
}

func TestStrikeLooksForTheEntryInThePlanItChanges(t *testing.T) {
	s := twoGlued(t)
	var err error
	during(t, s, func(p *hull.Plan) error { p.Record.Starboard = p.Record.Starboard[:1]; return nil },
		func() { err = s.Strike(hull.Starboard, 1) })
	assert.ErrorContains(t, err, "entry 2 on the starboard side was struck out meanwhile")
	assert.Len(t, s.Plan().Record.Starboard, 1)
}

func TestNoteIsOfThePlanItChanges(t *testing.T) {
	s := twoGlued(t)
	var err error
	during(t, s, func(p *hull.Plan) error {
		p.Layers[0].Stock.Width = 10
		p.Layers[0].Bands[0].Strakes = 0
		p.Record = hull.Record{}
		return nil
	},
		func() { err = s.Note(hull.Port, gluedOn("2026-03-02", "1.01")) })
	require.NoError(t, err)
	e := s.Plan().Record.Port[0]
	require.NotEmpty(t, e.Widths)
	for _, w := range e.Widths {
		assert.Greater(t, w.MM, 6.0, "the strips are 10 mm wide by now, and so it was cut")
	}
	assert.Less(t, s.Plan().Layers[0].Bands[0].Strakes, 9, "so many as there are of these")

	during(t, s, func(p *hull.Plan) error { p.Record = hull.Record{}; p.Layers[0].Bands[0].Strakes = 2; return nil },
		func() { err = s.Note(hull.Port, gluedOn("2026-03-02", "1.05")) })
	assert.ErrorContains(t, err, "no strake 1.05")
}

func TestChooseIsRefusedWhereThePlanHasChanged(t *testing.T) {
	s := twoGlued(t)
	options, err := progress.Options(t.Context(), s.Planking(), hull.Starboard, 0, 0, progress.UsualHabit())
	require.NoError(t, err)
	require.NotEmpty(t, options)
	during(t, s, func(p *hull.Plan) error { p.Layers[0].Creep = 0.1; return nil },
		func() { err = s.Choose(&options[0], "2026-03-02") })
	assert.ErrorIs(t, err, errStale)
	assert.Len(t, s.Plan().Record.Starboard, 2, "nothing was chosen")
	s.Undo()
	assert.NoError(t, s.Choose(&options[0], "2026-03-02"), "it is again the plan that they were found for")
}
