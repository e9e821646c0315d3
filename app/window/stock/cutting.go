package stock

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stockCutting is the cutting list: which piece from which strip.
type stockCutting struct {
	desk           *desk.Desk
	told           *widget.Label
	list           *widget.Select
	pieces, strips *figureTable
	stack          *fyne.Container
	cuts           []*loft.CuttingPlan
	of             *loft.Planking // what was cut
}

func newStockCutting(d *desk.Desk) *stockCutting {
	c := &stockCutting{desk: d, told: kit.Wrapped("")}
	c.pieces = newFigureTable(d, []string{"piece", "strake", "side", "part", "from", "to", "length", "from strip", "its width", "pins", "treenails"},
		[]string{"", "", "", "butts", "", "", "", "bound", "", "pins", "pins"}, nil)
	c.strips = newFigureTable(d, []string{"strip", "out of", "width", "length", "pieces in the order of laying", "left over"}, []string{"bound", "", "", "", "", ""}, nil)
	c.stack = container.NewStack(c.pieces.table, c.strips.table)
	c.strips.table.Hide()
	c.list = widget.NewSelect([]string{"Pieces in the order of laying", "Strips, and what is cut from each"}, func(string) {
		kit.Show(c.pieces.table, c.list.SelectedIndex() == 0)
		kit.Show(c.strips.table, c.list.SelectedIndex() == 1)
	})
	c.list.SetSelectedIndex(0)
	return c
}

func (c *stockCutting) object() fyne.CanvasObject {
	d := c.desk
	head := container.NewBorder(nil, nil, d.Button("Cut it", "Cuts every strake into pieces, and these from the box and then the shop", c.cut), asked(d, "bound"), c.list)
	told := kit.Tall(container.NewVScroll(container.NewVBox(c.told,
		kit.Caution("cut on a support, in several light scores, fingers behind the blade, away from the body. Sand with extraction and a mask."))), 96)
	return container.NewBorder(head, told, nil, nil, c.stack)
}

// cut cuts all layers.
func (c *stockCutting) cut() {
	d := c.desk
	k := d.Planking()
	var cuts []*loft.CuttingPlan
	d.Work("Cutting the pieces from the strips…", func(ctx context.Context) (err error) {
		cuts, err = k.CutLayers(ctx)
		return err
	}, func() {
		c.cuts, c.of = cuts, k
		c.show()
	})
}

func (c *stockCutting) sync() { c.show() }

func (c *stockCutting) show() {
	d := c.desk
	if c.cuts == nil || d.Choice.Layer >= len(c.cuts) {
		c.told.SetText("Cut it, to see what to buy: first the strips in the box are used, then those on sale are bought for the least money.")
		c.pieces.set(nil)
		c.strips.set(nil)
		return
	}
	a := answer.CuttingOf(c.of, d.Choice.Layer, c.cuts[d.Choice.Layer], d.Units)
	lines := []string{fmt.Sprintf("Layer %d. %s", d.Choice.Layer+1, a.Advice)}
	if c.of.Plan != d.Plan() {
		lines[0] = staleText + lines[0]
	}
	for _, l := range a.Lots {
		lines = append(lines, l.Tell(d.Units)+".")
	}
	c.told.SetText(strings.Join(append(lines, a.Breaches...), "\n"))
	c.pieces.set(pieceRows(a, d.Units))
	c.strips.set(stripRows(a, d.Units))
}

func pieceRows(a answer.Cutting, u views.Units) [][]string {
	var out [][]string
	for _, p := range a.Pieces {
		strip := "none left"
		if p.Strip > 0 {
			strip = strconv.Itoa(p.Strip)
		}
		out = append(out, []string{strconv.Itoa(p.Number), p.Strake, p.Side, fmt.Sprintf("%d of %d", p.Part, p.Of), p.From, p.To, u.Long(p.Length), strip, u.Number(p.Width), strconv.Itoa(p.Pins), strconv.Itoa(p.Treenails)})
	}
	return out
}

func stripRows(a answer.Cutting, u views.Units) [][]string {
	var out [][]string
	for _, l := range a.Lots {
		for _, s := range l.Strips {
			var pieces []string
			for _, n := range s.Pieces {
				p := a.Pieces[n-1]
				pieces = append(pieces, fmt.Sprintf("%d (%s %s)", n, p.Strake, sideLetter(p.Side)))
			}
			out = append(out, []string{strconv.Itoa(s.Number), s.From, u.Number(l.Width), u.Long(s.Length), strings.Join(pieces, ", "), u.Long(s.Left)})
		}
	}
	return out
}

// sideLetter is S or P.
func sideLetter(side string) string {
	if side == string(hull.Port) {
		return "P"
	}
	return "S"
}
