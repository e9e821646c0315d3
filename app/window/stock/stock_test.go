package stock

import (
	"context"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// stockWindow is the panel of the wood in a window of its own.
type stockWindow struct {
	desk  *desk.Desk
	stock *Panel
}

func newStockWindow(t testing.TB) *stockWindow {
	t.Helper()
	d := windowtest.NewDesk(t)
	s := New(d)
	s.Shown = func() bool { return true }
	d.Win.SetContent(s.Object())
	return &stockWindow{d, s}
}

// stockShown shows a part of the panel of the wood.
func stockShown(w *stockWindow, part int) {
	w.stock.Tabs.SelectIndex(part)
	w.stock.Sync()
}

func (f *figureTable) pickRow(row int) { f.table.Select(widget.TableCellID{Row: row, Col: 1}) }

func TestComparisonLaysTheChosenStrips(t *testing.T) {
	w := newStockWindow(t)
	d, c := w.desk, w.stock.compare
	stockShown(w, 0)
	assert.Equal(t, "4; 5; 6", c.widths.Text, "the layer's own and a step to either side")
	windowtest.Until(t, func() bool { return len(c.trials) == 3 })
	c.widths.SetText("5.08")
	w.desk.SwitchUnits()
	w.stock.Sync()
	assert.Equal(t, "0.2", c.widths.Text, "what was typed stays, in inches")
	assert.Contains(t, c.advice.Text, "in²")
	w.desk.SwitchUnits()
	w.stock.Sync()
	assert.Equal(t, "5.08", c.widths.Text)
	c.widths.SetText("4, 6")
	c.thick.SetText("1; 2")
	c.species.SetText("limba, paper birch")
	c.lay()
	windowtest.Until(t, func() bool { return len(c.trials) == 8 })
	assert.Equal(t, "4.00 x 1.00 limba", c.table.rows[0][0])
	assert.NotNil(t, c.paint(300, 150))
	assert.NotEmpty(t, c.advice.Text)
	assert.True(t, c.use.Disabled())
	assert.False(t, c.take(), "none is chosen yet")
	windowtest.NothingCutAnywhere(t, c.table.table)
	c.table.pickRow(6)
	require.False(t, c.use.Disabled())
	before := d.PlanLayer().Stock
	test.Tap(c.use)
	assert.Equal(t, "paper birch", d.PlanLayer().Stock.Species)
	assert.Equal(t, [2]float64{4, 2}, [2]float64{d.PlanLayer().Stock.Width, d.PlanLayer().Stock.Thickness})
	for k, n := range c.trials[6].Row.Strakes {
		assert.Equal(t, n, d.Layer().Bands[k].Strakes, "as compared")
	}
	c.show()
	assert.Contains(t, c.advice.Text, staleText())
	d.Undo()
	assert.Equal(t, before, d.PlanLayer().Stock, "one step takes it back")
	// Every cell is what the headless computation says.
	ts, err := answer.NewTrials(context.Background(), d.Planking(), 0)
	require.NoError(t, err)
	trial, err := ts.Lay(context.Background(), c.trials[2].Stock)
	require.NoError(t, err)
	assert.Equal(t, c.row(trial), c.table.rows[2])
	assert.Len(t, c.table.rows[2], comparedFigures)
}

func TestWhatIsNoWidthIsSaid(t *testing.T) {
	w := newStockWindow(t)
	c := w.stock.compare
	stockShown(w, 0)
	windowtest.Until(t, func() bool { return len(c.trials) == 3 })
	var said string
	w.desk.Say = func(s string) { said = s }
	c.widths.SetText("4, wide")
	c.lay()
	assert.Contains(t, said, "not a number")
	c.widths.SetText("-4")
	c.lay()
	windowtest.Until(t, func() bool { return said != `"wide" is not a number: write one as 4.5.` })
	assert.Contains(t, said, "give it from 0.1 to 1000 mm")
	assert.Len(t, c.trials, 3, "the rows stay")
}

// Every heading that has a formula shows it.
func TestHeadingsShowTheirFormulas(t *testing.T) {
	w := newStockWindow(t)
	for _, f := range []*figureTable{w.stock.compare.table, w.stock.cutting.pieces, w.stock.cutting.strips, w.stock.wood.runs, w.stock.wood.woods, w.stock.seams.table} {
		for col, key := range f.keys {
			if key == "" {
				continue
			}
			o := f.table.CreateHeader()
			f.table.UpdateHeader(widget.TableCellID{Row: -1, Col: col}, o)
			test.Tap(windowtest.ButtonNamed(t, o, f.head(col)))
			top := w.desk.Win.Canvas().Overlays().Top()
			require.NotNil(t, top, key)
			w.desk.Win.Canvas().Overlays().Remove(top)
		}
	}
}

func TestMixIsLaidAsOneStep(t *testing.T) {
	w := newStockWindow(t)
	d, m := w.desk, w.stock.mix
	stockShown(w, 1)
	m.widths.SetText("4; 5; 6")
	m.find()
	windowtest.Until(t, func() bool { return len(m.mixes) == 3 })
	test.Tap(windowtest.ButtonNamed(t, m.list, "Lay this mix in band 2"))
	assert.Equal(t, m.mixes[1].Order, d.PlanLayer().Bands[1].Strips)
	assert.Equal(t, len(m.mixes[1].Order), d.PlanLayer().Bands[1].Strakes)
	assert.Nil(t, d.PlanLayer().Bands[0].Strips)
	d.Undo()
	assert.Nil(t, d.PlanLayer().Bands[1].Strips)
	m.sync()
	require.True(t, m.lay(m.mixes))
	for b := range m.mixes {
		assert.Equal(t, m.mixes[b].Order, d.PlanLayer().Bands[b].Strips)
	}
	m.plain()
	for _, b := range d.PlanLayer().Bands {
		assert.Nil(t, b.Strips)
	}
}

func TestWoodOfOneself(t *testing.T) {
	w := newStockWindow(t)
	d, p := w.desk, w.stock.wood
	stockShown(w, 2)
	assert.Contains(t, p.told.Text, "names no wood")
	var said string
	d.Say = func(s string) { said = s }
	assert.False(t, p.put(-1, hull.Wood{Name: "hedge plum", Source: "own"}, "4", "much"))
	assert.Contains(t, said, "not a number")
	assert.False(t, p.put(-1, hull.Wood{Name: "hedge plum", Source: "own"}, "4", "80"))
	assert.Contains(t, said, "80", "a file with it could not be read again")
	require.True(t, p.put(-1, hull.Wood{Name: "hedge plum", Source: "own"}, "4", "7"))
	p.sync()
	assert.Equal(t, "hedge plum", p.woods.rows[0][0])
	p.woods.pickRow(0)
	test.Tap(&p.adopt.Button)
	assert.Equal(t, "hedge plum", d.PlanLayer().Stock.Species)
	p.measured = 100
	p.sync()
	assert.Len(t, p.runs.rows, 2, "quarter- and flat-sawn")
	assert.Contains(t, p.told.Text, "loose fit")
	test.Tap(&p.remove.Button)
	assert.Empty(t, d.Plan().Woods)
}

func TestBoxShopAndRulesAreOfThePlan(t *testing.T) {
	w := newStockWindow(t)
	d, b := w.desk, w.stock.box
	stockShown(w, 3)
	s := hull.Strips{Width: 5, Thickness: 2, Length: 1000, Count: 10}
	f := newStripsForm(s, false, d.Units)
	f.count.SetText("7")
	assert.NoError(t, f.count.Validate())
	f.width.SetText("wide")
	assert.Error(t, f.width.Validate(), "the form stays open")
	f.width.SetText("5")
	require.True(t, b.box.put(-1, s, f))
	assert.Equal(t, 7, d.Plan().Box[0].Count)
	f.count.SetText("some")
	var said string
	d.Say = func(s string) { said = s }
	assert.False(t, b.box.put(0, s, f))
	assert.Contains(t, said, "whole number")
	f.count.SetText("")
	f.price.SetText("0,45")
	require.True(t, b.shop.put(-1, s, f))
	assert.Equal(t, hull.AsMany, d.Plan().Shop[0].Count)
	assert.Equal(t, 0.45, d.Plan().Shop[0].Price)
	b.sync()
	assert.Equal(t, []string{"as many as wanted", "5.00", "2.00", "1000.0 mm", "any", "0.45"}, b.shop.table.rows[0])
	b.laying.SetSelectedIndex(1)
	assert.Equal(t, hull.Downward, d.Plan().Cutting.Laying)
	assert.Contains(t, b.begins.Text, "Type a strake or a line")
	b.start.OnSubmitted("9.99")
	assert.Equal(t, "There is no strake 9.99.", said)
	assert.Empty(t, d.Plan().Cutting.Start)
	b.start.OnSubmitted(" 2.03 ")
	assert.Equal(t, "2.03", d.Plan().Cutting.Start)
	assert.Equal(t, hull.Outward, d.Plan().Cutting.Laying, "a place to begin at is that of laying outward")
	b.sync()
	assert.Equal(t, "2.03", b.start.Text)
	assert.Contains(t, b.begins.Text, "it begins with strake 2.03")
	b.numbers[0].Entry.SetText("-1")
	b.numbers[0].Commit()
	assert.Equal(t, hull.NewCutting().Kerf, d.Plan().Cutting.Kerf)
	assert.Contains(t, said, "kerf")
	b.box.table.pickRow(0)
	test.Tap(&b.box.remove.Button)
	assert.Empty(t, d.Plan().Box)
}

// Sheets are set as strips are, in tables of their own; the cutting list then names the
// sheets that spiled strakes come from.
func TestSheetsAreSetAndCut(t *testing.T) {
	w := newStockWindow(t)
	d, b, c := w.desk, w.stock.box, w.stock.cutting
	own := d.PlanLayer().Stock
	s := hull.Strips{Width: 120, Thickness: own.Thickness, Length: 1200, Species: own.Species, Count: 2}
	f := newStripsForm(s, false, d.Units)
	require.True(t, b.sheetBox.put(-1, s, f))
	require.True(t, b.sheetBox.put(0, s, f), "and changed")
	assert.Equal(t, []hull.Sheet{{Width: 120, Length: 1200, Thickness: own.Thickness, Species: own.Species, Count: 2}}, d.Plan().SheetBox)
	f.count.SetText("")
	f.price.SetText("6.50")
	require.True(t, b.sheetShop.put(-1, s, f))
	assert.Equal(t, 6.5, d.Plan().SheetShop[0].Price)
	assert.Equal(t, hull.AsMany, d.Plan().SheetShop[0].Count)
	b.sync()
	assert.Equal(t, "1200.0 mm", b.sheetBox.table.rows[0][3])
	stockShown(w, 4)
	c.cut()
	windowtest.Until(t, func() bool { return len(c.sheets.rows) > 0 })
	c.list.SetSelectedIndex(2)
	assert.True(t, c.sheets.shown.Visible())
	assert.False(t, c.pieces.shown.Visible())
	assert.Equal(t, []string{"sheet 1", "box"}, c.sheets.rows[0][:2])
	assert.Contains(t, c.told.Text, "Sheet wood")
	assert.Contains(t, c.told.Text, "the fewest that the area allows")
	b.sheetShop.table.pickRow(0)
	test.Tap(&b.sheetShop.remove.Button)
	assert.Empty(t, d.Plan().SheetShop)
}

func TestCuttingListFollowsBoxAndShop(t *testing.T) {
	w := newStockWindow(t)
	d, c := w.desk, w.stock.cutting
	stockShown(w, 4)
	require.True(t, editWood(d, "shop", func(p *hull.Plan) {
		p.Box = []hull.Strips{{Width: 5, Thickness: 2, Length: 1000, Count: 4}}
		p.Shop = []hull.Strips{{Width: 5, Thickness: 2, Length: 1000, Count: hull.AsMany, Price: 0.5}}
	}))
	c.cut()
	windowtest.Until(t, func() bool { return c.cuts != nil })
	assert.Contains(t, c.told.Text, "4 of your own")
	assert.Contains(t, c.told.Text, "cost")
	assert.Contains(t, c.told.Text, "pins ready")
	assert.Len(t, c.pieces.rows, len(c.cuts[0].Pieces))
	switchLayers(d, t)
	c.sync()
	assert.Contains(t, c.told.Text, staleText())
}

// switchLayers adds a layer and shows the first again.
func switchLayers(d *desk.Desk, t *testing.T) {
	t.Helper()
	settings.AddLayer(d)
	settings.ShowLayer(d, 0)
	require.Len(t, d.Plan().Layers, 2)
}

func TestSeamsAreKeptApartAsOneStep(t *testing.T) {
	w := newStockWindow(t)
	d, s := w.desk, w.stock.seams
	stockShown(w, 5)
	assert.True(t, s.apart.Disabled(), "nothing lies beneath")
	settings.AddLayer(d)
	s.sync()
	require.False(t, s.apart.Disabled())
	bands := d.Plan().Layers[1].Bands
	test.Tap(&s.apart.Button)
	windowtest.Until(t, func() bool { what, _ := d.Session.CanUndo(); return what == "keep the seams apart" })
	middle := func() float64 {
		seams, err := answer.SeamsOf(d.Planking(), 1, nil)
		require.NoError(t, err)
		return seams.Middle
	}
	after := middle()
	d.Undo()
	assert.Equal(t, bands, d.Plan().Layers[1].Bands)
	assert.Greater(t, after, middle())
}

// TestComparisonWithoutAShape: no nought stands for a figure that is not known.
func TestComparisonWithoutAShape(t *testing.T) {
	w := newStockWindow(t)
	w.desk.Replace(apptest.GirthSession(t))
	c := w.stock.compare
	c.sync()
	windowtest.Until(t, func() bool { return len(c.trials) > 0 })
	row := c.row(c.trials[0])
	for i, f := range answer.Figures()[:comparedFigures] {
		needs := f.Key == "edge_strain_max" || f.Key == "face_strain_max" || f.Key == "how"
		assert.Equal(t, needs, row[i] == desk.Unknown, f.Key)
	}
	assert.Contains(t, c.advice.Text, "Girths alone do not show")
}
