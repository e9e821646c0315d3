package settings

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// setIn types an inset and leaves the entry.
func setIn(n *kit.Number, text string) {
	n.Entry.SetText(text)
	n.Commit()
}

// removeButton gives the button of a row of the list of insets.
func removeButton(t *testing.T, row fyne.CanvasObject) *kit.Button {
	t.Helper()
	for _, o := range row.(*fyne.Container).Objects {
		if b, ok := o.(*kit.Button); ok {
			return b
		}
	}
	t.Fatal("the row has no button")
	return nil
}

func TestPlankedFromToIsOneStep(t *testing.T) {
	d := windowtest.NewDesk(t)
	before := d.Plan()
	l := SetLimits(d)
	assert.True(t, l.apply.Disabled(), "nothing is changed yet")
	assert.Equal(t, "A", l.from.Selected)
	assert.Equal(t, "M", l.to.Selected)
	l.from.SetSelected("C")
	l.to.SetSelected("K")
	assert.Same(t, before, d.Plan(), "a draft changes nothing")
	test.Tap(l.apply)
	assert.Equal(t, "C", d.Plan().Hull.Limits.From)
	first, last := d.Layer().Surface.Planked()
	assert.Equal(t, []int{2, 10}, []int{first, last})
	for _, s := range d.Layer().Strakes {
		assert.False(t, s.At[1].Laid, "strake %s at frame B", s.ID)
		assert.False(t, s.At[11].Laid, "strake %s at frame L", s.ID)
	}
	assert.True(t, d.Layer().Strakes[0].At[2].Laid)
	what, _ := d.Session.CanUndo()
	assert.Equal(t, "set the limits", what)
	d.Undo()
	assert.Equal(t, before, d.Plan())
	assert.True(t, d.Layer().Strakes[0].At[1].Laid)
}

func TestInsetsShortenTheGirth(t *testing.T) {
	d := windowtest.NewDesk(t)
	before, girths := d.Plan(), append([]float64(nil), d.Layer().Girths...)
	l := SetLimits(d)
	l.at.SetSelected("G")
	setIn(l.down, "4")
	for range 3 {
		test.Tap(l.down.More)
	}
	test.Tap(l.down.Less)
	test.Tap(l.up.More) // from none
	assert.Equal(t, []hull.Inset{{Frame: "G", MM: 4.2}}, l.draft.Down)
	assert.Equal(t, []hull.Inset{{Frame: "G", MM: 0.1}}, l.draft.Up)
	require.Len(t, l.given.Objects, 2)
	assert.Contains(t, l.told.Text, "not applied yet")
	test.Tap(l.apply)
	assert.InDelta(t, girths[6]-4.3, d.Layer().Girths[6], 1e-6)
	assert.InDelta(t, girths[3]-4.3, d.Layer().Girths[3], 1e-6, "one inset alone holds all along")
	assert.True(t, l.apply.Disabled())

	test.Tap(removeButton(t, l.given.Objects[0]))
	assert.Nil(t, l.draft.Down)
	require.Len(t, l.given.Objects, 1)
	test.Tap(l.apply)
	assert.InDelta(t, girths[6]-0.1, d.Layer().Girths[6], 1e-6)
	d.Undo()
	d.Undo()
	assert.Equal(t, before, d.Plan())
}

func TestInsetsAreInTheUnitShownAndInFrameOrder(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Units = 1
	l := SetLimits(d)
	l.at.SetSelected("H")
	setIn(l.down, "0.1")
	l.at.SetSelected("D")
	assert.Empty(t, l.down.Entry.Text)
	l.down.Entry.SetText("0.2") // left by choosing another frame
	l.at.SetSelected("E")
	require.Len(t, l.draft.Down, 2)
	assert.Equal(t, "D", l.draft.Down[0].Frame)
	assert.InDelta(t, 5.08, l.draft.Down[0].MM, 1e-9)
	assert.InDelta(t, 2.54, l.draft.Down[1].MM, 1e-9)
	setIn(l.down, "-1")
	assert.Len(t, l.draft.Down, 2, "no limit is set out over the end of a frame")
}

func TestLimitsThatLeaveNothingAreRefused(t *testing.T) {
	d := windowtest.NewDesk(t)
	var said []string
	d.Say = func(s string) { said = append(said, s) }
	before := d.Plan()
	l := SetLimits(d)
	l.at.SetSelected("G")
	setIn(l.down, "500")
	test.Tap(l.apply)
	require.Len(t, said, 1)
	assert.Contains(t, said[0], "leave nothing of frame G")
	assert.Equal(t, 500.0, l.draft.Down[0].MM, "what was entered is still there to be mended")

	setIn(l.down, "2")
	l.from.SetSelected("H")
	l.to.SetSelected("D")
	test.Tap(l.apply)
	require.Len(t, said, 2)
	assert.Contains(t, said[1], "From frame H to frame D there is no bay")

	l.from.SetSelected("A")
	l.to.SetSelected("M")
	l.upper.SetText(" ")
	test.Tap(l.apply)
	require.Len(t, said, 3)
	assert.Contains(t, said[2], "name")
	assert.Same(t, before, d.Plan())

	l.upper.SetText("sheer")
	test.Tap(l.apply)
	require.Len(t, said, 3)
	assert.Equal(t, "sheer", d.UpperName())
	assert.Equal(t, "Sheer below the upper end (mm)", l.downName.Text)
}

func TestLimitsTakenBackMeanwhileAreShownAnew(t *testing.T) {
	d := windowtest.NewDesk(t)
	said := ""
	d.Say = func(s string) { said = s }
	l := SetLimits(d)
	l.from.SetSelected("B")
	test.Tap(l.apply)
	d.Undo()
	l.to.SetSelected("L")
	before := d.Plan()
	test.Tap(l.apply)
	assert.Contains(t, said, "shown anew")
	assert.Same(t, before, d.Plan())
	assert.Equal(t, "A", l.from.Selected)
	assert.Equal(t, "M", l.to.Selected)
}
