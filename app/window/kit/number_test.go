package kit

import (
	"context"
	"runtime"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/assets/tongue"
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

func TestALoneDecimalCommaIsOneInALanguageThatHasIt(t *testing.T) {
	defer func() { _ = tongue.Use() }()
	for _, c := range []struct {
		language, list string
		want           []float64
	}{
		{"en", "1,5", []float64{1, 5}}, {"de", "1,5", []float64{1.5}}, {"de", "4,5 5", []float64{4.5, 5}},
		{"de", "4, 5, 6.5", []float64{4, 5, 6.5}}, {"de", "4,5,6", []float64{4, 5, 6}}, {"de", "4; 6,5", []float64{4, 6.5}},
	} {
		require.NoError(t, tongue.Use(c.language))
		got, err := ParseNumbers(c.list)
		require.NoError(t, err, c.list)
		assert.Equal(t, c.want, got, "%s in %s", c.list, c.language)
	}
}

func TestNumbersAreShownWithTheLanguagesSignAndReadWithBoth(t *testing.T) {
	require.NoError(t, tongue.Use("de"))
	defer func() { _ = tongue.Use() }()
	a := test.NewApp()
	defer a.Quit()
	units, v := views.Millimetres, 5.5
	n := NewLength(newNotices(a.NewWindow("numbers")), &units, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
	n.Sync()
	assert.Equal(t, "5,50", n.Entry.Text)
	for _, typed := range []string{"4,25", "4.5"} {
		n.Entry.SetText(typed)
		n.Entry.FocusLost()
	}
	assert.Equal(t, 4.5, v)
	assert.Equal(t, "4,50", n.Entry.Text)
}

// Menus show keys as they are called in the reader's language, and are found by the keys
// themselves.
func TestShortcutsOfMenusAreSaidInTheReadersLanguage(t *testing.T) {
	defer func() { _ = tongue.Use() }()
	with := fyne.KeyModifierControl | fyne.KeyModifierShift
	english := NewShortcut(fyne.KeyDelete, with)
	require.NoError(t, tongue.Use("de"))
	german := NewShortcut(fyne.KeyDelete, with)
	assert.Equal(t, english.ShortcutName(), german.ShortcutName())
	assert.Equal(t, "Strg+Umschalt+Entf", ShortcutName(ShortcutOf(&fyne.MenuItem{Shortcut: german})))
	if runtime.GOOS != "darwin" {
		assert.Equal(t, fyne.KeyName("Strg+Umschalt+Entf"), german.(fyne.KeyboardShortcut).Key())
	}
	assert.Nil(t, ShortcutOf(&fyne.MenuItem{}))
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
	assert.Contains(t, status, "not a number")
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
	assert.Contains(t, said, "is not a number")
	w.Canvas().Focus(n.Entry)
	n.Entry.SetText("abc")
	n.Entry.OnSubmitted("abc")
	assert.Equal(t, "4.50", n.Entry.Text)
	assert.Equal(t, 4.5, v)
}
