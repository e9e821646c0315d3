package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/window/kit"
)

// What is veiled is neither measured nor laid out until it is shown.
func TestVeilLiftsWhenItIsShown(t *testing.T) {
	w := newWindow(t)
	assert.Less(t, benchLeast.Width-w.panel.bench.Item.Content.(*kit.Veil).Content.MinSize().Width, float32(1), "the bench asks for what it needs")
	stock := w.tables.Items[1].Content.(*kit.Veil)
	assert.False(t, stock.Lifted)
	assert.Equal(t, stockLeast, stock.MinSize())
	w.tables.SelectIndex(1)
	assert.True(t, stock.Lifted)
	assert.Equal(t, stock.Size(), stock.Content.Size())
	assert.Equal(t, stock.Content.MinSize().Max(stockLeast), stock.MinSize())

	v := kit.Veiled(fyne.NewSize(7, 8), widget.NewLabel("a text that needs more room than that"))
	v.Resize(fyne.Size{})
	assert.Equal(t, fyne.NewSize(7, 8), v.MinSize(), "no size is not shown")
}
