package window

import (
	"context"
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

func TestPanelFollowsThePlan(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	require.True(t, d.Edit("stock", edit.OnLayer(0, func(l *hull.Layer) { l.Stock.Width, l.Stock.Species = 4.5, "limba" })))
	texts := map[string]bool{}
	for _, tab := range w.panel.tabs.Items {
		w.panel.tabs.Select(tab)
		windowtest.Walk(tab.Content, func(o fyne.CanvasObject) {
			switch o := o.(type) {
			case *kit.NumberEntry:
				texts[o.Text] = true
			case *kit.FieldOfChoice:
				texts[o.Text] = true
			}
		})
	}
	assert.True(t, texts["4.50"])
	assert.True(t, texts["limba"])
	d.Undo()
	assert.Equal(t, 5.0, d.PlanLayer().Stock.Width, "showing a plan changes nothing in it")
	_, ok := d.Session.CanUndo()
	assert.False(t, ok)
}

func TestLongWorkShowsItselfAndCanBeStopped(t *testing.T) {
	w := newWindow(t)
	finish, ended := make(chan bool), false
	stopped := make(chan bool, 1)
	w.desk.Work("Long work", func(ctx context.Context) error {
		<-finish
		stopped <- ctx.Err() != nil
		return ctx.Err()
	}, func() { ended = true })
	windowtest.Until(t, func() bool { return w.Canvas().Overlays().Top() != nil })
	stop := windowtest.ButtonNamed(t, w.Canvas().Overlays().Top(), "Stop")
	test.Tap(stop)
	assert.Nil(t, w.Canvas().Overlays().Top())
	close(finish)
	assert.True(t, <-stopped)
	(<-windowtest.Posted)()
	assert.False(t, ended, "its result is dropped")
}

func TestWorkThatFailsSaysSo(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.Say = func(s string) { said = s }
	w.desk.Work("Quick work", func(context.Context) error { return errors.New("the hull folds at frame K") }, func() { t.Error("it failed") })
	assert.Equal(t, "The hull folds at frame K.", said)
}

func TestButtonsTellWhatTheyDo(t *testing.T) {
	w := newWindow(t)
	told := 0
	windowtest.Walk(w.Content(), func(o fyne.CanvasObject) {
		if b, ok := o.(*kit.Button); ok && b.Tip != "" {
			b.MouseIn(&desktop.MouseEvent{})
			assert.Equal(t, b.Tip, w.status.Text)
			b.MouseOut()
			told++
		}
	})
	assert.Greater(t, told, 10)
}

func TestEscapeLeavesADialog(t *testing.T) {
	w := newWindow(t)
	w.helpIn(w.desk.Notices, "")
	require.NotNil(t, w.Canvas().Overlays().Top())
	w.typed(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Nil(t, w.Canvas().Overlays().Top())
}
