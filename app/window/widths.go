package window

import (
	"fmt"
	"image"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// comparison is the dialog that lays the layer in strips of several widths.
type comparison struct {
	desk   *desk
	layer  int
	rows   []loft.StockRow
	chosen int
	table  *widget.Table
	chart  *canvas.Raster
	set    *widget.Button
	paper  sheet
	v      views.WidthChart
}

var comparisonHeads = []string{"width", "strakes", "narrowest", "widest", "tapered", "wedges", "drops", "left over", "edge strain", "strips", "waste"}

var comparisonWidths = []float32{60, 76, 80, 70, 70, 66, 60, 150, 90, 60, 110}

// compareWidths opens the dialog.
func (d *desk) compareWidths() {
	c := &comparison{desk: d, layer: d.choice.Layer, chosen: -1}
	entry := widget.NewEntry()
	entry.SetText(d.firstWidths())
	entry.OnSubmitted = func(s string) { c.lay(s) }
	c.table = c.newTable()
	c.chart = canvas.NewRaster(c.paint)
	c.chart.SetMinSize(fyne.NewSize(300, 150))
	head := container.NewBorder(nil, nil, widget.NewLabel("Widths ("+d.units.Name()+")"), d.button("Lay them", "Lays the layer in strips of each width", func() { c.lay(entry.Text) }), entry)
	var shown *dialog.CustomDialog
	c.set = widget.NewButton("Use the chosen width", func() {
		if c.use() {
			shown.Hide()
		}
	})
	c.set.Importance = widget.HighImportance
	c.set.Disable()
	body := container.NewBorder(head, c.chart, nil, nil, c.table)
	shown = dialog.NewCustomWithoutButtons(fmt.Sprintf("Strip widths side by side, layer %d", c.layer+1), body, d.win)
	shown.SetButtons([]fyne.CanvasObject{widget.NewButton("Close", func() { shown.Hide() }), c.set})
	s := d.win.Canvas().Size()
	shown.Resize(fyne.NewSize(fyne.Min(1000, s.Width*0.95), fyne.Min(520, s.Height*0.9)))
	shown.Show()
	c.lay(entry.Text)
}

// firstWidths offers the layer's own width and one step to either side.
func (d *desk) firstWidths() string {
	w := d.planLayer().Stock.Width
	var out []string
	for _, v := range []float64{w - 1, w, w + 1} {
		if v > 0 {
			out = append(out, strconv.FormatFloat(math.Round(d.units.Of(v)*1000)/1000, 'g', -1, 64))
		}
	}
	return strings.Join(out, ", ")
}

// lay lays the layer in every width typed; one stop between two is enough.
func (c *comparison) lay(typed string) {
	widths, err := parseNumbers(typed)
	if err != nil {
		c.desk.say(sentence(err))
		return
	}
	p, layer := c.desk.plan(), c.layer
	var rows []loft.StockRow
	c.desk.work("Laying the strips…", func(stopped func() bool) error {
		for _, w := range widths {
			if stopped() {
				return nil
			}
			r, err := loft.CompareStock(p, layer, []float64{c.desk.units.ToMM(w)})
			if err != nil {
				return err
			}
			rows = append(rows, r...)
		}
		return nil
	}, func() {
		c.rows, c.chosen = rows, -1
		c.set.Disable()
		c.table.UnselectAll()
		c.table.Refresh()
		c.chart.Refresh()
	})
}

func (c *comparison) newTable() *widget.Table {
	t := widget.NewTable(func() (int, int) { return len(c.rows), len(comparisonHeads) }, func() fyne.CanvasObject {
		l := widget.NewLabelWithStyle("0.00", fyne.TextAlignCenter, fyne.TextStyle{Monospace: true})
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(id widget.TableCellID, o fyne.CanvasObject) {
		o.(*widget.Label).SetText(c.cell(c.rows[id.Row], id.Col))
	})
	t.ShowHeaderRow = true
	t.CreateHeader = func() fyne.CanvasObject {
		return widget.NewLabelWithStyle("", fyne.TextAlignCenter, fyne.TextStyle{Bold: true})
	}
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			o.(*widget.Label).SetText(comparisonHeads[id.Col])
		}
	}
	for k := range comparisonHeads {
		t.SetColumnWidth(k, comparisonWidths[k])
	}
	t.OnSelected = func(id widget.TableCellID) {
		c.chosen = id.Row
		c.set.Enable()
		c.chart.Refresh()
	}
	return t
}

func (c *comparison) cell(r loft.StockRow, col int) string {
	u := c.desk.units
	switch col {
	case 0:
		return u.Number(r.Stock)
	case 1:
		return counts(r.Strakes)
	case 2:
		return u.Number(r.Narrowest)
	case 3:
		return u.Number(r.Widest)
	case 4:
		return strconv.Itoa(r.Tapered)
	case 5:
		return strconv.Itoa(r.Wedges)
	case 6:
		return strconv.Itoa(r.Drops)
	case 7:
		var out []string
		for _, v := range r.LeftOver {
			out = append(out, u.Number(v))
		}
		return strings.Join(out, " ")
	case 8:
		return percent(r.EdgeStrainMax)
	case 9:
		return strconv.Itoa(r.Strips)
	}
	return u.Long(r.Waste)
}

func counts(n []int) string {
	var out []string
	for _, v := range n {
		out = append(out, strconv.Itoa(v))
	}
	return strings.Join(out, "+")
}

func (c *comparison) paint(w, h int) image.Image {
	scale := 1.0
	if s := c.chart.Size().Width; s > 0 {
		scale = float64(w) / float64(s)
	}
	c.v.Units = c.desk.units
	c.v.Draw(c.rows, c.chosen, float64(w)/scale, float64(h)/scale)
	return c.paper.render(c.desk, &c.v.Drawing, w, h, scale)
}

// use takes the chosen width into the plan; the number of strakes is left to
// the girth, as it was in the comparison.
func (c *comparison) use() bool {
	if c.chosen < 0 || c.chosen >= len(c.rows) {
		return false
	}
	w := c.rows[c.chosen].Stock
	return c.desk.edit("set the strip's width", onLayer(c.layer, func(l *hull.Layer) {
		l.Stock.Width = w
		for i := range l.Bands {
			l.Bands[i].Strakes = 0
		}
	}))
}
