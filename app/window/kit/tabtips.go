package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// TabTips are tabs, each with a tip. The toolkit's own tabs take no notice of what lies
// round them: what is upon their names feels the pointer for them, and presses go through.
type TabTips struct {
	widget.BaseWidget
	Tabs  *container.AppTabs
	Tips  []string // one a tab, in order
	cover *tabCover
}

// TippedTabs gives each of some tabs a tip.
func TippedTabs(tabs *container.AppTabs, tips ...string) *TabTips {
	t := &TabTips{Tabs: tabs, Tips: tips}
	t.ExtendBaseWidget(t)
	return t
}

// Visible tells whether the tabs are: they are what is put away and shown again.
func (t *TabTips) Visible() bool { return t.Tabs.Visible() && t.BaseWidget.Visible() }

// CreateRenderer gives Fyne the tabs, with what feels the pointer upon their names.
func (t *TabTips) CreateRenderer() fyne.WidgetRenderer {
	t.cover = &tabCover{of: t, mark: canvas.NewRectangle(nil)}
	t.cover.ExtendBaseWidget(t.cover)
	return widget.NewSimpleRenderer(container.New(tabsCovered{t.Tabs}, t.Tabs, t.cover))
}

// tabsCovered lays out tabs, and what lies upon their names.
type tabsCovered struct{ tabs *container.AppTabs }

// MinSize is that of the tabs.
func (l tabsCovered) MinSize([]fyne.CanvasObject) fyne.Size { return l.tabs.MinSize() }

// Layout gives the tabs the whole room, and the cover that of their names.
func (l tabsCovered) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(s)
	high := float32(0)
	if at := l.tabs.Selected(); at != nil && at.Content != nil {
		high = at.Content.Position().Y - theme.Padding()
	}
	o[1].Move(fyne.Position{})
	o[1].Resize(fyne.NewSize(s.Width, max(high, 0)))
}

// Names is the width that the names of all tabs take up side by side.
func (t *TabTips) Names() float32 {
	_, to := t.nameOf(len(t.Tabs.Items) - 1)
	return to
}

// nameOf gives from where to where the name of a tab reaches, as the toolkit lays them out
// (v2.7.1, container.tabButtonRenderer): bold, with inner padding on both sides.
func (t *TabTips) nameOf(i int) (from, to float32) {
	for k := 0; k <= i; k++ {
		from = to
		if k > 0 {
			from += theme.Padding()
		}
		to = from + fyne.MeasureText(t.Tabs.Items[k].Text, theme.TextSize(), fyne.TextStyle{Bold: true}).Width + 2*theme.InnerPadding()
	}
	return from, to
}

// tabCover lies upon the names.
type tabCover struct {
	widget.BaseWidget
	of   *TabTips
	mark *canvas.Rectangle // over the name under the pointer, as the toolkit marks it
	at   fyne.Position
}

// CreateRenderer gives Fyne the mark.
func (c *tabCover) CreateRenderer() fyne.WidgetRenderer {
	c.mark.Hide()
	return widget.NewSimpleRenderer(container.NewWithoutLayout(c.mark))
}

// MouseIn has the tip of the tab there come.
func (c *tabCover) MouseIn(e *desktop.MouseEvent) { c.feel(e) }

// MouseMoved has the tip go, and come when the pointer rests again.
func (c *tabCover) MouseMoved(e *desktop.MouseEvent) {
	if e.AbsolutePosition != c.at {
		c.feel(e)
	}
}

// MouseOut has the tip go.
func (c *tabCover) MouseOut() {
	c.host().leave()
	c.mark.Hide()
}

func (c *tabCover) host() *tipHost {
	if on := fyne.CurrentApp().Driver().CanvasForObject(c); on != nil {
		return hostOn(on)
	}
	return nil
}

func (c *tabCover) feel(e *desktop.MouseEvent) {
	c.at = e.AbsolutePosition
	for i := range c.of.Tabs.Items {
		from, to := c.of.nameOf(i)
		if e.Position.X < from || e.Position.X >= to || to > c.Size().Width || i >= len(c.of.Tips) {
			continue
		}
		c.mark.FillColor, c.mark.CornerRadius = theme.Color(theme.ColorNameHover), theme.SelectionRadiusSize()
		c.mark.Move(fyne.NewPos(from, 0))
		c.mark.Resize(fyne.NewSize(to-from, c.Size().Height))
		c.mark.Show()
		c.mark.Refresh()
		c.host().over(c.of.Tips[i], e.AbsolutePosition)
		return
	}
	c.MouseOut()
}
