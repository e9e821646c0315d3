package kit

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
)

// TestATableBehindATabTakesTheNewColours: its cells kept the letters of the theme before,
// black on black.
func TestATableBehindATabTakesTheNewColours(t *testing.T) {
	a := test.NewApp()
	defer a.Quit()
	a.Settings().SetTheme(NewTheme(false))
	label := func() fyne.CanvasObject { return widget.NewLabel("0.00") }
	table := NewCellTable(func() (int, int) { return 2, 2 }, label, func(widget.TableCellID, fyne.CanvasObject) {})
	table.CreateHeader, table.UpdateHeader = label, func(widget.TableCellID, fyne.CanvasObject) {}
	behind := NewMenuOver(table, nil)
	test.WidgetRenderer(table)
	table.Resize(fyne.NewSize(300, 200))
	ink := func() any {
		l := madeOf(table.places.cells[0][0]).(*widget.Label)
		return test.WidgetRenderer(test.WidgetRenderer(l).Objects()[0].(fyne.Widget)).Objects()[0].(*canvas.Text).Color
	}
	assert.Equal(t, theme.Color(theme.ColorNameForeground), ink())
	a.Settings().SetTheme(NewTheme(true))
	RefreshWhole(behind)
	assert.Equal(t, theme.Color(theme.ColorNameForeground), ink())
}
