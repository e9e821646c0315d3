package stock

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

func TestRowsAreSortedByTheirFigures(t *testing.T) {
	rows := [][]string{{"limba", "10.0 mm"}, {"ash", "9.5 mm"}, {"pear", "-"}, {"fir", "10.0 mm"}}
	assert.Equal(t, []int{0, 1, 2, 3}, orderOf(rows, -1, true))
	assert.Equal(t, []int{1, 0, 3, 2}, orderOf(rows, 1, false), "9.5 before 10.0; what is not a number last")
	assert.Equal(t, []int{0, 3, 1, 2}, orderOf(rows, 1, true))
	assert.Equal(t, []int{1, 3, 0, 2}, orderOf(rows, 0, false))
}

func TestASortedTableIsChosenAndCopiedAsItStands(t *testing.T) {
	d := windowtest.NewDesk(t)
	picked := -1
	f := newFigureTable(d, []string{"wood", "length"}, []string{"", ""}, func(row int) { picked = row })
	d.Win.SetContent(f.shown)
	f.set([][]string{{"limba", "10.0 mm"}, {"ash", "9.5 mm"}})
	f.sortItems(widget.TableCellID{Col: 1})[0].Action()
	assert.Equal(t, "length ▴", f.head(1))
	f.pickRow(0)
	assert.Equal(t, 1, picked, "the ash, which stands first now")
	f.menuAt(fyne.Position{}).Items[0].Action()
	assert.Equal(t, "wood\tlength\nash\t9.5 mm\nlimba\t10.0 mm\n", d.App.Clipboard().Content())
	for _, it := range f.sortItems(widget.TableCellID{Col: 1}) {
		assert.Equal(t, it.Label == "Sort by “length”, least first", it.Checked)
	}
}

// The forms about woods and strips answer to the keys as every other dialog does.
func TestFormsAnswerToReturnAndEscape(t *testing.T) {
	w := newStockWindow(t)
	d := w.desk
	c := d.Win.Canvas()
	c.SetOnTypedKey(func(e *fyne.KeyEvent) { d.DialogKey(e) })
	fields := func() (out []*kit.Field) {
		windowtest.Walk(c.Overlays().Top(), func(o fyne.CanvasObject) {
			if f, ok := o.(*kit.Field); ok {
				out = append(out, f)
			}
		})
		return out
	}
	w.stock.wood.ask(-1)
	all := fields()
	require.Len(t, all, 4)
	windowtest.TypeKey(all[0], fyne.KeyReturn)
	assert.NotNil(t, c.Overlays().Top(), "nothing is typed yet")
	for i, text := range []string{"hedge plum", "4", "7"} {
		all[i].SetText(text)
	}
	windowtest.TypeKey(all[2], fyne.KeyReturn)
	assert.Nil(t, c.Overlays().Top())
	assert.Equal(t, "hedge plum", d.Plan().Woods[0].Name)
	w.stock.box.box.ask(-1)
	windowtest.TypeKey(fields()[0], fyne.KeyEscape)
	assert.Nil(t, c.Overlays().Top())
}

// A figure cut by the edge of a table is another figure. A text wider than the table is told
// by those of its words that are seen whole, all of which are somewhere.
func TestNoTextOfATableIsCut(t *testing.T) {
	d := windowtest.NewDesk(t)
	f := newFigureTable(d, []string{"wood", "length", "pieces", "left over"}, []string{"", "", "bound", ""}, func(int) {})
	d.Win.SetContent(f.shown)
	d.Win.Resize(fyne.NewSize(250, 140))
	long := "1.01 port fore, 1.02 port aft, 12.5 mm of 1.03, 3.60 mm of 2.10 starboard"
	f.set([][]string{{"limba", "10.0 mm", long, "3.60"}, {"ash", "9.5 mm", "1.04", "12.5"}, {"fir", "9.5 mm", "1.05", "12.5"}})
	windowtest.NothingCutAnywhere(t, f.table)
	seen := map[string]bool{}
	f.table.ScrollToLeading()
	in := windowtest.ScrollOf(f.table)
	require.Greater(t, in.Content.Size().Width, 2*in.Size().Width)
	for was := float32(-1); in.Offset.X != was; in.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(-40, 0)}) {
		was = in.Offset.X
		windowtest.Walk(in, func(o fyne.CanvasObject) {
			if text, ok := o.(*canvas.Text); ok && text.Visible() && strings.Contains(text.Text, "…") {
				for w := range strings.FieldsSeq(text.Text) {
					seen[w] = true
				}
			}
		})
	}
	for w := range strings.FieldsSeq(long) {
		assert.True(t, seen[w], w)
	}
}
