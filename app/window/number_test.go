package window

import (
	"context"
	"strakewright/app/draw/views"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseNumbers(t *testing.T) {
	got, err := parseNumbers(" 4, 4.5;5  6 ")
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 4.5, 5, 6}, got)
	_, err = parseNumbers("4, wide")
	assert.ErrorContains(t, err, `"wide"`)
	_, err = parseNumbers("  ")
	assert.Error(t, err)
	v, err := parseNumber("4,5")
	require.NoError(t, err)
	assert.Equal(t, 4.5, v)
	for _, s := range []string{"NaN", "Inf", ""} {
		_, err = parseNumber(s)
		assert.Error(t, err)
	}
}

// TestAsideGivesTheNewestAnswer: an answer of a question put before another is
// dropped, even where it was found before it was stopped.
func TestAsideGivesTheNewestAnswer(t *testing.T) {
	posted := make(chan func(), 2)
	b := newBackground(context.Background(), nil)
	b.onMain = func(f func()) { posted <- f }
	var a aside
	var got []string
	answer := func(s string) func(context.Context) func() {
		return func(context.Context) func() { return func() { got = append(got, s) } }
	}
	a.start(b, answer("old"))
	old := <-posted // found, and not yet shown
	a.start(b, answer("new"))
	old()
	assert.Empty(t, got)
	(<-posted)()
	assert.Equal(t, []string{"new"}, got)
	assert.False(t, a.end(), "nothing goes on any more")
}

func TestNumberCanBeTypedAndStepped(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	told := newNotices(a.NewWindow("numbers"))
	var status string
	told.status = func(s string) { status = s }
	units := views.Millimetres
	v := 5.0
	n := newLength(told, &units, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
	n.sync()
	assert.Equal(t, "5.00", n.entry.Text)
	test.Tap(n.more)
	assert.Equal(t, 5.1, v)
	n.entry.SetText("4,25")
	n.entry.OnSubmitted("")
	assert.Equal(t, 4.25, v)
	n.entry.SetText("wide")
	n.entry.FocusLost()
	assert.Equal(t, 4.25, v, "what is no number changes nothing")
	assert.Equal(t, "4.25", n.entry.Text)
	assert.Contains(t, status, "no number")
	units = views.Inches
	n.sync()
	assert.Equal(t, "0.167", n.entry.Text)
	n.entry.SetText("0.2")
	n.entry.FocusLost()
	assert.InDelta(t, 5.08, v, 1e-9, "typed in inches")
}
