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
	"github.com/strakewright/strakewright/hull"
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

// Strips, sheets and woods of the builder's own are changed in their tables as in their forms.
func TestFiguresAreEnteredInTheTablesOfWood(t *testing.T) {
	w := newStockWindow(t)
	d, k := w.desk, windowtest.Keyboard{Win: w.desk.Win}
	k.Win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { d.DialogKey(e) })
	enter := func(f *figureTable, row, col int, text string) {
		w.stock.Sync()
		f.table.Put(widget.TableCellID{Row: row, Col: col})
		k.Win.Canvas().Focus(f.table)
		k.Press(fyne.KeyF2)
		require.NotNil(t, k.Win.Canvas().Overlays().Top())
		k.Type(text)
		k.Press(fyne.KeyReturn)
	}
	own := d.PlanLayer().Stock
	require.True(t, d.Edit("wood", func(p *hull.Plan) error {
		p.Box = []hull.Strips{{Width: 5, Thickness: 2, Length: 1000, Species: own.Species, Count: 7}, {Width: 4, Thickness: 2, Length: 1000, Count: 3}}
		p.Shop = []hull.Strips{{Width: 5, Thickness: 2, Length: 1000, Count: 7}}
		p.Woods = []hull.Wood{{Name: "hedge plum", Radial: 4, Tangential: 7, Source: "own"}}
		return nil
	}))
	stockShown(w, 3)
	b := w.stock.box
	b.box.table.sorted = 1 // by the width
	b.box.table.arrange()
	enter(b.box.table, 0, 1, "4,25")
	assert.InDelta(t, 4.25, d.Plan().Box[1].Width, 1e-9, "of the row that stands there")
	enter(b.box.table, 1, 0, "half")
	assert.Contains(t, windowtest.Labels(k.Win.Canvas().Overlays().Top()), "whole number", "bad input stays, and is told")
	k.Type("9")
	k.Press(fyne.KeyReturn)
	assert.Nil(t, k.Win.Canvas().Overlays().Top())
	assert.Equal(t, 9, d.Plan().Box[0].Count)
	enter(b.shop.table, 0, 5, "0.45")
	assert.InDelta(t, 0.45, d.Plan().Shop[0].Price, 1e-9)
	k.Win.Canvas().Focus(b.shop.table.table)
	b.shop.table.table.Put(widget.TableCellID{})
	k.Press(fyne.KeyF2)
	k.Press(fyne.KeyBackspace)
	k.Press(fyne.KeyReturn)
	assert.Equal(t, hull.AsMany, d.Plan().Shop[0].Count)

	stockShown(w, 2)
	enter(w.stock.wood.woods, 0, 2, "8.5")
	assert.InDelta(t, 8.5, d.Plan().Woods[0].Tangential, 1e-9)
	enter(w.stock.wood.woods, 0, 1, "-3")
	assert.NotNil(t, k.Win.Canvas().Overlays().Top(), "the plan's own check refuses it")
	k.Press(fyne.KeyEscape)
	assert.InDelta(t, 4, d.Plan().Woods[0].Radial, 1e-9)
	d.Undo()
	assert.InDelta(t, 7, d.Plan().Woods[0].Tangential, 1e-9, "one step each")
	said := ""
	d.Status = func(s string) { said = s }
	w.stock.wood.woods.table.Put(widget.TableCellID{Row: 1, Col: 1})
	k.Win.Canvas().Focus(w.stock.wood.woods.table)
	k.Press(fyne.KeyF2)
	assert.Contains(t, said, "add a wood of your own")
}
