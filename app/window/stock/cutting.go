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
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stockCutting is the cutting list: which piece from which strip.
type stockCutting struct {
	desk           *desk.Desk
	told           *widget.Label
	list           *kit.Select
	pieces, strips *figureTable
	sheets         *figureTable
	stack          *fyne.Container
	foot           *container.Scroll // what is told, under the tables
	cuts           []*loft.CuttingPlan
	of             *loft.Planking // what was cut
}

func newStockCutting(d *desk.Desk) *stockCutting {
	c := &stockCutting{desk: d, told: kit.Wrapped("")}
	c.pieces = newFigureTable(d, []string{tongue.T("piece"), tongue.T("strake"), tongue.T("side"), tongue.T("part"), tongue.T("from"), tongue.T("to"), tongue.T("length"), tongue.T("cut from"), tongue.T("its width"), tongue.T("pins"), tongue.T("treenails")},
		[]string{"", "", "", "butts", "", "", "", "bound", "", "pins", "pins"}, nil)
	c.strips = newFigureTable(d, []string{tongue.T("strip"), tongue.T("out of"), tongue.T("width"), tongue.T("length"), tongue.T("pieces in the order of laying"), tongue.T("left over")}, []string{"bound", "", "", "", "", ""}, nil)
	c.sheets = newFigureTable(d, []string{tongue.T("sheet or block"), tongue.T("out of"), tongue.T("width"), tongue.T("length"), tongue.T("what is cut from it; * turned over"), tongue.T("left over")}, make([]string, 6), nil)
	c.stack = container.NewStack(c.pieces.shown, c.strips.shown, c.sheets.shown)
	c.list = kit.NewSelect([]string{tongue.T("Pieces in the order of laying"), tongue.T("Strips, and what is cut from each"), tongue.T("Sheets and blocks, and what is cut from each")}, func(string) {
		for i, t := range []*figureTable{c.pieces, c.strips, c.sheets} {
			kit.Show(t.shown, c.list.SelectedIndex() == i)
		}
	})
	c.list.SetSelectedIndex(0)
	return c
}

func (c *stockCutting) object() fyne.CanvasObject {
	d := c.desk
	head := container.NewBorder(nil, nil, d.Button(tongue.T("Make the cutting list"), tongue.T("Cuts every strake into pieces, from your own wood first and then from the suppliers': from strips, sheets or blocks, as each strake is made"), c.cut), asked(d, "bound"), kit.Tipped(c.list, tongue.T("What is listed: pieces as they are laid, or what each strip or sheet is cut into")))
	c.foot = container.NewVScroll(container.NewVBox(c.told,
		kit.Caution(tongue.T("cut on a support, in several light scores, fingers behind the blade, away from the body. Sand with extraction and a mask."))))
	return container.NewBorder(head, kit.Tall(c.foot, 112), nil, nil, c.stack)
}

// cut cuts all layers.
func (c *stockCutting) cut() {
	d := c.desk
	k := d.Planking()
	var cuts []*loft.CuttingPlan
	d.Work(tongue.T("Cutting the pieces from strips and sheets…"), func(ctx context.Context) (err error) {
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
		c.told.SetText(tongue.T("Make the cutting list to see what to buy: your own strips are used first, then the suppliers' are bought for the least money."))
		for _, t := range []*figureTable{c.pieces, c.strips, c.sheets} {
			t.set(nil)
		}
		return
	}
	a := answer.CuttingOf(c.of, d.Choice.Layer, c.cuts[d.Choice.Layer], d.Units)
	lines := []string{tongue.T("Layer %d. %s", d.Choice.Layer+1, a.Advice)}
	if c.of.Plan != d.Plan() {
		lines[0] = staleText() + lines[0]
	}
	for _, l := range a.Lots {
		lines = append(lines, l.Tell(d.Units)+".")
	}
	if a.Sheets != nil {
		lines = append(lines, a.Sheets.Advice)
	}
	for _, b := range a.Blocks {
		lines = append(lines, b.Tell(d.Units))
	}
	c.told.SetText(strings.Join(append(lines, a.Breaches...), "\n"))
	if c.foot != nil { // it is as long as what it tells
		c.foot.Content.Refresh()
		c.foot.Refresh()
	}
	c.pieces.set(pieceRows(a, d.Units))
	c.strips.set(stripRows(a, d.Units))
	c.sheets.set(sheetRows(a, d.Units))
}

func pieceRows(a answer.Cutting, u views.Units) [][]string {
	var out [][]string
	for _, p := range a.Pieces {
		wood, width := p.Wood(), u.Number(p.Width)
		switch {
		case p.Mode != string(hull.Sprung):
			width = "" // of a strip it is not cut from
		case p.Strip > 0:
			wood = tongue.T("strip %s", wood)
		default:
			wood = tongue.T("none left")
		}
		out = append(out, []string{strconv.Itoa(p.Number), p.Strake, desk.SideName(hull.Side(p.Side)), tongue.T("%d of %d", p.Part, p.Of), p.From, p.To, u.Long(p.Length), wood, width, strconv.Itoa(p.Pins), strconv.Itoa(p.Treenails)})
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

// sheetRows has a row a sheet, and one a strake to be carved.
func sheetRows(a answer.Cutting, u views.Units) [][]string {
	var out [][]string
	if a.Sheets != nil {
		for _, s := range a.Sheets.Sheets {
			var pieces []string
			for _, p := range s.Pieces {
				pieces = append(pieces, p.Name(a))
			}
			out = append(out, []string{tongue.T("sheet %d", s.Number), s.From, u.Number(s.Width), u.Long(s.Length), strings.Join(pieces, ", "), u.Area(s.Waste)})
		}
	}
	for _, b := range a.Blocks {
		out = append(out, []string{tongue.Count(b.Count, "%d block", "%d blocks", b.Count), "", u.Number(b.Breadth) + " × " + u.Number(b.Depth), u.Long(b.Length), b.Strake, ""})
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
