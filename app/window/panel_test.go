package window

import (
	"context"
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// buttonNamed finds a button by its name.
func buttonNamed(t *testing.T, o fyne.CanvasObject, name string) *widget.Button {
	t.Helper()
	var found *widget.Button
	walk(o, func(o fyne.CanvasObject) {
		if b, ok := o.(*tipButton); ok {
			o = &b.Button
		}
		if b, ok := o.(*widget.Button); ok && b.Text == name && found == nil {
			found = b
		}
	})
	require.NotNil(t, found, "button %q", name)
	return found
}

// walk calls f with an object and all within it.
func walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			walk(c, f)
		}
	}
}

func TestNumberCanBeTypedAndStepped(t *testing.T) {
	w := newWindow(t)
	v := 5.0
	n := newLength(w.desk.notices, &w.desk.units, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
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
	assert.Contains(t, w.status.Text, "no number")
	w.switchUnits()
	n.sync()
	assert.Equal(t, "0.167", n.entry.Text)
	n.entry.SetText("0.2")
	n.entry.FocusLost()
	assert.InDelta(t, 5.08, v, 1e-9, "typed in inches")
}

func TestPanelFollowsThePlan(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	require.True(t, d.edit("stock", onLayer(0, func(l *hull.Layer) { l.Stock.Width, l.Stock.Species = 4.5, "limba" })))
	texts := map[string]bool{}
	for _, tab := range w.panel.tabs.Items {
		w.panel.tabs.Select(tab)
		walk(tab.Content, func(o fyne.CanvasObject) {
			switch o := o.(type) {
			case *numberEntry:
				texts[o.Text] = true
			case *widget.SelectEntry:
				texts[o.Text] = true
			}
		})
	}
	assert.True(t, texts["4.50"])
	assert.True(t, texts["limba"])
	d.undo()
	assert.Equal(t, 5.0, d.planLayer().Stock.Width, "showing a plan changes nothing in it")
	_, ok := d.s.CanUndo()
	assert.False(t, ok)
}

func TestLinesByTheMouseAlone(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	line := w.panel.tabs.Items[0].Content
	lines := len(d.planLayer().Lines)
	d.choose(d.choice.WithLine(0).WithFrame(5))
	test.Tap(buttonNamed(t, line, "Add line"))
	assert.Len(t, d.planLayer().Lines, lines+1)
	assert.Equal(t, 1, d.choice.Line, "the new line is chosen")
	d.choose(d.choice.WithFrame(5))
	d.setManner(hull.Free)
	test.Tap(buttonNamed(t, line, "Hold here"))
	assert.Equal(t, 5, d.line().Hold)
	d.choose(d.choice.WithFrame(8))
	test.Tap(buttonNamed(t, line, "Aim here"))
	assert.Equal(t, 8, d.line().Aim)
	test.Tap(buttonNamed(t, line, "Default heading"))
	assert.Equal(t, -1, d.line().Aim)
	test.Tap(buttonNamed(t, line, "Remove line"))
	assert.Len(t, d.planLayer().Lines, lines)
}

func TestBoardMenuActsOnTheChosenHandle(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.choose(d.choice.WithLine(0).WithFrame(4))
	var names []string
	for _, it := range d.boardMenu().Items {
		names = append(names, it.Label)
	}
	all := strings.Join(names, "|")
	for _, want := range []string{"as drawn", "free", "least edge-set", "Aim at frame E", "Remove this line"} {
		assert.Contains(t, all, want)
	}
	d.setManner(hull.Least)
	d.hold(true)
	assert.True(t, d.line().Handles[4].Held)
	d.hold(false)
	assert.False(t, d.line().Handles[4].Held)
}

func TestLayersAndBands(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.addLayer()
	assert.Equal(t, 1, d.choice.Layer)
	assert.Len(t, d.planking().Layers, 2)
	d.undo()
	assert.Equal(t, 0, d.choice.Layer, "the layer shown is one there is")
	d.choose(d.choice.WithStrake(len(d.layer().Strakes) - 1).WithFrame(6))
	before := d.layer().Strakes[d.choice.Strake].At[6].WidthFrame
	require.True(t, d.setShare(1.5))
	assert.Greater(t, d.layer().Strakes[d.choice.Strake].At[6].WidthFrame, before)
	assert.Equal(t, 1.5, d.share())
}

func TestNotesTellWedgesAndDrops(t *testing.T) {
	w := newWindow(t)
	l := w.desk.layer()
	assert.GreaterOrEqual(t, len(w.desk.notes()), len(l.Notes)+len(l.Wedges)+len(l.Drops))
	assert.Greater(t, len(l.Wedges)+len(l.Drops)+len(l.Notes), 0)
}

func TestLongWorkShowsItselfAndCanBeStopped(t *testing.T) {
	w := newWindow(t)
	finish, ended := make(chan bool), false
	stopped := make(chan bool, 1)
	w.desk.work("Long work", func(ctx context.Context) error {
		<-finish
		stopped <- ctx.Err() != nil
		return ctx.Err()
	}, func() { ended = true })
	until(t, func() bool { return w.Canvas().Overlays().Top() != nil })
	stop := buttonNamed(t, w.Canvas().Overlays().Top(), "Stop")
	test.Tap(stop)
	assert.Nil(t, w.Canvas().Overlays().Top())
	close(finish)
	assert.True(t, <-stopped)
	(<-posted)()
	assert.False(t, ended, "its result is dropped")
}

func TestWorkThatFailsSaysSo(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.say = func(s string) { said = s }
	w.desk.work("Quick work", func(context.Context) error { return errors.New("the hull folds at frame K") }, func() { t.Error("it failed") })
	assert.Equal(t, "The hull folds at frame K.", said)
}

func TestButtonsTellWhatTheyDo(t *testing.T) {
	w := newWindow(t)
	walk(w.Content(), func(o fyne.CanvasObject) {
		if b, ok := o.(*tipButton); ok {
			b.MouseIn(&desktop.MouseEvent{})
			assert.NotEmpty(t, b.tip)
			assert.Equal(t, b.tip, w.status.Text)
			b.MouseOut()
		}
	})
}

func TestEscapeLeavesADialog(t *testing.T) {
	w := newWindow(t)
	w.desk.help()
	require.NotNil(t, w.Canvas().Overlays().Top())
	w.typed(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Nil(t, w.Canvas().Overlays().Top())
}

// TestAMovedLineSaysSo: a line drawn over another is laid below it, and its panel
// and the notes say so.
func TestAMovedLineSaysSo(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.choice.Line = 1
	assert.NotContains(t, lineSummary(d), "than it is drawn")
	first := d.planLayer().Lines[0]
	require.True(t, d.edit("cross the lines", onLine(0, 1, func(b *hull.BandLine) error {
		for f := range b.Handles {
			b.Handles[f] = hull.Handle{Down: max(first.Handles[f].Down-5, 0), Held: true}
		}
		b.Manner = hull.Drawn
		return nil
	})))
	assert.Contains(t, lineSummary(d), "lower than it is drawn, most at frame ")
	assert.Contains(t, strings.Join(d.layer().Notes, "\n"), "Band lines 1 and 2 cross: at frames ")
}
