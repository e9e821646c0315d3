package kit

import (
	"context"
	"testing"

	"github.com/strakewright/strakewright/app/draw/views"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseNumbers(t *testing.T) {
	got, err := ParseNumbers(" 4, 4.5;5  6 ")
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 4.5, 5, 6}, got)
	got, err = ParseNumbers("4,5")
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 5}, got, "a comma parts two widths")
	got, err = ParseNumbers("4,5; 5")
	require.NoError(t, err)
	assert.Equal(t, []float64{4.5, 5}, got, "but with semicolons")
	_, err = ParseNumbers("4, wide")
	assert.ErrorContains(t, err, `"wide"`)
	_, err = ParseNumbers("  ")
	assert.Error(t, err)
	v, err := ParseNumber("4,5")
	require.NoError(t, err)
	assert.Equal(t, 4.5, v)
	for _, s := range []string{"NaN", "Inf", ""} {
		_, err = ParseNumber(s)
		assert.Error(t, err)
	}
}

// TestTheNewestAnswerIsGiven: an answer of a question put before another is
// dropped, even where it was found before it was stopped.
func TestTheNewestAnswerIsGiven(t *testing.T) {
	posted := make(chan func(), 2)
	b := NewBackground(context.Background(), nil)
	b.OnMain = func(f func()) { posted <- f }
	var a Latest
	var got []string
	answer := func(s string) func(context.Context) func() {
		return func(context.Context) func() { return func() { got = append(got, s) } }
	}
	a.Start(b, answer("old"))
	old := <-posted // found, and not yet shown
	a.Start(b, answer("new"))
	old()
	assert.Empty(t, got)
	(<-posted)()
	assert.Equal(t, []string{"new"}, got)
	assert.False(t, a.End(), "nothing goes on any more")
}

func TestNumberCanBeTypedAndStepped(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	told := newNotices(a.NewWindow("numbers"))
	var status string
	told.Status = func(s string) { status = s }
	units := views.Millimetres
	v := 5.0
	n := NewLength(told, &units, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
	n.Sync()
	assert.Equal(t, "5.00", n.Entry.Text)
	test.Tap(n.More)
	assert.Equal(t, 5.1, v)
	n.Entry.SetText("4,25")
	n.Entry.OnSubmitted("")
	assert.Equal(t, 4.25, v)
	n.Entry.SetText("wide")
	n.Entry.FocusLost()
	assert.Equal(t, 4.25, v, "what is not a number changes nothing")
	assert.Equal(t, "4.25", n.Entry.Text)
	assert.Contains(t, status, "no number")
	units = views.Inches
	n.Sync()
	assert.Equal(t, "0.167", n.Entry.Text)
	n.Entry.SetText("0.2")
	n.Entry.FocusLost()
	assert.InDelta(t, 5.08, v, 1e-9, "typed in inches")
}

func TestWhatIsNoNumberDoesNotStayInItsField(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	w := a.NewWindow("numbers")
	told, said := newNotices(w), ""
	told.Status = func(s string) { said = s }
	v := 4.5
	n := NewNumber(told, 1, func(v float64) string { return views.Millimetres.Number(v) }, func() float64 { return v }, func(to float64) bool {
		v = to
		return true
	})
	n.Sync()
	w.SetContent(n.Box)
	w.Canvas().Focus(n.Entry)
	n.Entry.SetText("abc")
	w.Canvas().Unfocus()
	assert.Equal(t, "4.50", n.Entry.Text)
	assert.Contains(t, said, "is no number")
	w.Canvas().Focus(n.Entry)
	n.Entry.SetText("abc")
	n.Entry.OnSubmitted("abc")
	assert.Equal(t, "4.50", n.Entry.Text)
	assert.Equal(t, 4.5, v)
}
