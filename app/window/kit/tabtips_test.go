package kit

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tip of a tab comes over its name, wherever the toolkit has put that, and a press
// goes through to the tab.
func TestTabsHaveTips(t *testing.T) {
	test.NewTempApp(t)
	win := test.NewTempWindow(t, nil)
	var wait func()
	n := &Notices{Win: win, After: func(_ time.Duration, f func()) func() { wait = f; return func() { wait = nil } }}
	tabs := container.NewAppTabs(container.NewTabItem("Line", widget.NewLabel("a")), container.NewTabItem("Problems (12)", widget.NewLabel("b")), container.NewTabItem("Wood", widget.NewLabel("c")))
	tips := TippedTabs(tabs, "about lines", "about problems", "about wood")
	win.SetContent(n.WithTips(container.NewStack(tips)))
	win.Resize(fyne.NewSize(500, 300))
	host := n.host()
	names := map[string]fyne.CanvasObject{}
	bar := test.WidgetRenderer(tabs).Objects()[0].(*fyne.Container)
	for i, button := range bar.Objects[0].(*fyne.Container).Objects {
		names[tabs.Items[i].Text] = button
	}
	require.Len(t, names, 3)
	for i, item := range tabs.Items {
		button := names[item.Text]
		from, to := tips.nameOf(i)
		assert.InDelta(t, button.Position().X, from, 1, item.Text)
		assert.InDelta(t, button.Position().X+button.Size().Width, to, 1, item.Text)
		assert.InDelta(t, bar.Size().Height, tips.cover.Size().Height, 1)
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(button).AddXY(button.Size().Width/2, 8)
		tips.cover.MouseIn(&desktop.MouseEvent{PointEvent: fyne.PointEvent{AbsolutePosition: at, Position: fyne.NewPos(button.Position().X+button.Size().Width/2, 8)}})
		require.NotNil(t, wait, item.Text)
		wait()
		shown := ""
		for _, o := range host.tip.Objects {
			if x, ok := o.(*canvas.Text); ok {
				shown += x.Text
			}
		}
		assert.Equal(t, tips.Tips[i], shown)
		test.TapCanvas(win.Canvas(), at)
		assert.Equal(t, i, tabs.SelectedIndex())
	}
	tips.cover.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(480, 8), AbsolutePosition: fyne.NewPos(480, 8)}})
	assert.False(t, host.tip.Visible(), "beside the names there is none")
	tabs.Hide()
	assert.False(t, tips.Visible(), "put away with its tabs")
}
