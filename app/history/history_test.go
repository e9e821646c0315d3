package history

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// walker is a number that is worked on.
type walker struct {
	now   int
	steps Steps[int]
}

func (w *walker) set(what string, to int) {
	w.steps.Made(what, w.now)
	w.now = to
}

func (w *walker) walk(d Direction) (string, bool) {
	return w.steps.Walk(d, func(to int) int {
		was := w.now
		w.now = to
		return was
	})
}

func TestStepsAreTakenBackAndMadeAgain(t *testing.T) {
	var w walker
	_, ok := w.walk(Back)
	assert.False(t, ok, "none was made")
	w.set("one", 1)
	w.set("two", 2)
	assert.Equal(t, 2, w.steps.Len(Back))
	what, _ := w.walk(Back)
	assert.Equal(t, "two", what)
	assert.Equal(t, 1, w.now)
	what, _ = w.walk(Back)
	assert.Equal(t, "one", what)
	assert.Equal(t, 0, w.now)
	_, ok = w.walk(Back)
	assert.False(t, ok)
	what, ok = w.steps.Can(Forward)
	assert.True(t, ok)
	assert.Equal(t, "one", what)
	w.walk(Forward)
	w.walk(Forward)
	assert.Equal(t, 2, w.now)
	_, ok = w.walk(Forward)
	assert.False(t, ok)
	w.walk(Back)
	w.set("three", 3)
	_, ok = w.steps.Can(Forward)
	assert.False(t, ok, "what was taken back is gone")
	w.walk(Back)
	assert.Equal(t, 1, w.now)
}

func TestAStepThatCannotBeChangedIsDroppedWithThoseBeyond(t *testing.T) {
	var w walker
	for i := 1; i <= 4; i++ {
		w.set("set", i)
	}
	w.walk(Back) // stands at 3, with 4 before it and 2, 1, 0 behind
	w.steps.Change(func(to int) (int, bool) { return 10 * to, to != 1 })
	w.walk(Forward)
	assert.Equal(t, 40, w.now)
	w.walk(Back)
	w.walk(Back)
	assert.Equal(t, 20, w.now)
	_, ok := w.walk(Back)
	assert.False(t, ok)
	w.steps.Forget(Forward)
	_, ok = w.steps.Can(Forward)
	assert.False(t, ok)
	w.steps.Gone(Back, 7)
	_, ok = w.steps.Can(Forward)
	assert.False(t, ok, "where there is no step, none is gone")
}
