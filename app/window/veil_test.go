package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
)

// What is veiled is neither measured nor laid out until it is shown.
func TestVeilLiftsWhenItIsShown(t *testing.T) {
	w := newWindow(t)
	assert.Less(t, benchLeast.Width-w.panel.bench.item.Content.(*veil).content.MinSize().Width, float32(1), "the bench asks for what it needs")
	stock := w.tables.Items[1].Content.(*veil)
	assert.False(t, stock.lifted)
	assert.Equal(t, stockLeast, stock.MinSize())
	w.tables.SelectIndex(1)
	assert.True(t, stock.lifted)
	assert.Equal(t, stock.Size(), stock.content.Size())
	assert.Equal(t, stock.content.MinSize().Max(stockLeast), stock.MinSize())

	v := veiled(fyne.NewSize(7, 8), widget.NewLabel("a text that needs more room than that"))
	v.Resize(fyne.Size{})
	assert.Equal(t, fyne.NewSize(7, 8), v.MinSize(), "no size is not shown")
}
