package window

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// figure is what the table's cells tell of a strake at a frame.
type figure uint8

const (
	widthToCut figure = iota
	widthOnFrame
	upperEdge
	upperBevel
	lowerBevel
	benchWidth
	benchChange
)

var figureNames = []string{"Width to cut", "Width on the frame", "Upper edge, below the limit", "Bevel of the upper edge", "Bevel of the lower edge",
	"Bench width", "Bench change"}

// The columns after the frames.
const (
	edgeSetColumn = iota
	radiusColumn
	twistColumn
	lengthColumn
	madeColumn
	verdictColumn
	summaries
)

// strakeTable is the table of strakes by frames.
type strakeTable struct {
	desk    *desk.Desk
	table   *widget.Table
	pick    *widget.Select
	figure  figure
	inSight func() bool
	filled  map[fyne.CanvasObject]widget.TableCellID // what each cell was filled for last
	heads   map[fyne.CanvasObject]widget.TableCellID // and each head
	changed fyne.CanvasObject                        // one of those that were filled with something else; nil for none
	sized   [2]int                                   // rows and columns as they were shown last
	shown   [2]int                                   // strake and frame scrolled to last
	row     int                                      // the strake scrolled to last
	of      *app.Session                             // whose table it was then
	quiet   bool                                     // the table's selection follows the choice and does not make it
}

func newStrakeTable(d *desk.Desk) *strakeTable {
	t := &strakeTable{desk: d, inSight: func() bool { return true }, shown: [2]int{-1, -1},
		filled: map[fyne.CanvasObject]widget.TableCellID{}, heads: map[fyne.CanvasObject]widget.TableCellID{}}
	t.table = widget.NewTableWithHeaders(t.size, d.NewCell, t.cell)
	t.table.CreateHeader = d.NewCell
	t.table.UpdateHeader = t.header
	t.table.OnSelected = t.selected
	t.pick = widget.NewSelect(figureNames, func(string) {
		t.figure = figure(max(t.pick.SelectedIndex(), 0))
		t.table.Refresh()
	})
	t.pick.SetSelectedIndex(0)
	d.ShowChange = func() { t.pick.SetSelectedIndex(int(benchChange)) }
	d.Lazy = append(d.Lazy, t.sync)
	return t
}

// object gives the table under its head.
func (t *strakeTable) object() fyne.CanvasObject {
	legend := widget.NewLabelWithStyle("▾taper ◂▸wider =full –out ╱sheet ╳carved", fyne.TextAlignLeading, fyne.TextStyle{Monospace: true})
	legend.Truncation = fyne.TextTruncateEllipsis
	head := container.NewBorder(nil, nil, t.pick, nil, legend)
	return container.NewBorder(head, nil, nil, nil, t.table)
}

func (t *strakeTable) size() (rows, cols int) {
	l := t.desk.Layer()
	return len(l.Strakes), len(l.Girths) + summaries
}

// cellWidth and headWidth are those of the columns and of the strakes' names.
const cellWidth, headWidth, cellHeight = 62, 66, 20

// verdictWidth is that of the column that says what a strake's figures mean.
const verdictWidth = 150

// sync brings the table up to date while it is in sight.
func (t *strakeTable) sync() {
	if !t.inSight() {
		return
	}
	c := t.desk.Choice
	t.quiet = true
	defer func() { t.quiet = false }()
	t.fillAll()
	if t.of != t.desk.Session { // the choice may be the same by number, but it is another hull's
		t.of, t.shown, t.row = t.desk.Session, [2]int{-2, -2}, 0
	}
	if now := [2]int{c.Strake, c.Frame}; now != t.shown {
		t.reveal(now)
	}
}

// reveal brings a strake and a frame into sight, with a neighbour to each side;
// where no strake is chosen, the one shown last. Going back, the toolkit stops a
// head's width or height short (v2.7.1, Table.ScrollTo), so that it is sent a cell
// further.
func (t *strakeTable) reveal(at [2]int) {
	if t.table.Size().Width < headWidth+2*cellWidth {
		return // not laid out yet
	}
	row, col := at[0], max(at[1], 0)
	if row < 0 {
		row = max(t.row, 0)
	}
	t.shown, t.row = at, row
	rows, cols := t.size()
	t.table.ScrollTo(widget.TableCellID{Row: min(row+1, rows-1), Col: min(col+1, cols-1)})
	t.table.ScrollTo(widget.TableCellID{Row: max(row-2, 0), Col: max(col-2, 0)})
	if row < 2 {
		t.table.ScrollToTop()
	}
	if col < 2 {
		t.table.ScrollToLeading()
	}
	t.table.UnselectAll()
}

// fillAll fills the cells that stand there anew. Where there are more or fewer
// rows or columns than before, the table is laid out anew, which costs far more.
func (t *strakeTable) fillAll() {
	rows, cols := t.size()
	left := len(t.filled) > rows*cols || len(t.heads) > rows+cols+1 // some that the table has let go of
	if now := [2]int{rows, cols}; now != t.sized || left {
		t.widths(t.sized[1] != cols)
		t.sized = now
		clear(t.filled)
		clear(t.heads)
		t.table.Refresh()
		return
	}
	t.changed = nil
	for o, id := range t.filled {
		t.cell(id, o)
	}
	for o, id := range t.heads {
		t.header(id, o)
	}
	if t.changed != nil {
		canvas.Refresh(t.changed) // has the whole window painted, and with it all that was filled
	}
}

// widths sets the columns' widths where there are others than before.
func (t *strakeTable) widths(others bool) {
	if !others {
		return
	}
	l := t.desk.Layer()
	for k := range len(l.Girths) {
		t.table.SetColumnWidth(k, cellWidth)
	}
	for k := range summaries {
		t.table.SetColumnWidth(len(l.Girths)+k, 84)
	}
	t.table.SetColumnWidth(len(l.Girths)+verdictColumn, verdictWidth)
	t.table.SetColumnWidth(-1, headWidth)
	t.table.SetRowHeight(-1, cellHeight)
}

func (t *strakeTable) selected(id widget.TableCellID) {
	if t.quiet || id.Row < 0 {
		return
	}
	c := t.desk.Choice.WithStrake(id.Row)
	if id.Col >= 0 && id.Col < len(t.desk.Layer().Girths) {
		c = c.WithFrame(id.Col)
	}
	t.shown, t.row = [2]int{c.Strake, c.Frame}, c.Strake
	t.desk.Choose(c)
	t.table.Unselect(id)
}

// cell fills a cell.
func (t *strakeTable) cell(id widget.TableCellID, o fyne.CanvasObject) {
	l := t.desk.Layer()
	t.filled[o] = id
	if id.Row < 0 || id.Row >= len(l.Strakes) {
		return
	}
	s, ground := l.Strakes[id.Row], draw.Paper
	var text string
	switch {
	case id.Col < len(l.Girths) && t.figure >= benchWidth:
		text, ground = t.benchCell(s, id.Col)
	case id.Col < len(l.Girths):
		text, ground = t.crossing(s, id.Col)
	default:
		text = t.summary(s, id.Col-len(l.Girths))
	}
	if id.Row == t.desk.Choice.Strake || id.Col == t.desk.Choice.Frame {
		ground = draw.ChosenSoft
	}
	t.fill(o, text, ground)
}

// fill writes a cell.
func (t *strakeTable) fill(o fyne.CanvasObject, text string, ground draw.Role) {
	c, pal := o.(*fyne.Container).Layout.(*kit.Cell), t.desk.Palette()
	var fill color.NRGBA
	if ground != draw.Paper {
		fill = pal.Colour(ground)
	}
	if c.Set(text, pal.Colour(draw.Ink), fill) {
		t.changed = c.Text
	}
}

// crossing writes what the table tells of a strake at a frame, with a mark for
// what is to be done there.
func (t *strakeTable) crossing(s *loft.Strake, frame int) (text string, ground draw.Role) {
	c := &s.At[frame]
	if !c.Laid {
		return "–", draw.Paper
	}
	switch t.figure {
	case upperEdge:
		return t.desk.Units.Number(c.Upper), draw.Paper
	case upperBevel:
		return answer.BevelCell(t.desk.Layer(), s, frame, true), draw.Paper
	case lowerBevel:
		return answer.BevelCell(t.desk.Layer(), s, frame, false), draw.Paper
	}
	w := c.WidthCut
	if t.figure == widthOnFrame {
		w = c.WidthFrame
	}
	text = t.desk.Units.Number(w)
	switch c.Action {
	case loft.Taper:
		return text + " ▾ ", draw.Paper
	case loft.Gap:
		return text + " ◂▸", draw.GapSoft
	}
	return text + " = ", draw.Paper
}

func (t *strakeTable) summary(s *loft.Strake, column int) string {
	switch column {
	case madeColumn:
		return modeMarks[s.Making.Mode] + " " + answer.ModeWord(s.Making.Mode)
	case verdictColumn:
		return verdictCell(s.Making.Verdict, t.desk.FrameName)
	}
	if column != lengthColumn && t.desk.Shapeless() {
		return desk.Unknown
	}
	switch column {
	case edgeSetColumn:
		return fmt.Sprintf("%.2f 1/m", s.EdgeSetMax.PerMetre())
	case radiusColumn:
		if s.FaceRadiusMin <= 0 {
			return "flat"
		}
		return t.desk.Units.Long(s.FaceRadiusMin)
	case twistColumn:
		return answer.Degrees(s.Twist.Degrees())
	}
	return t.desk.Units.Long(s.Length)
}

// modeMarks mark how a strake is made, as the drawings hatch it.
var modeMarks = map[hull.Mode]string{hull.Sprung: "–", hull.Spiled: "╱", hull.Block: "╳"}

// verdictCell says what is to be done with a strake, and where it asks for that.
func verdictCell(v loft.Verdict, frame func(int) string) string {
	if v.Kind == "" {
		return desk.Unknown
	}
	if v.Kind == loft.LiesByItself {
		return answer.VerdictWord(v.Kind)
	}
	return answer.VerdictWord(v.Kind) + " at " + frame(v.Frame)
}

// header fills a head: frames above, strakes at the left.
func (t *strakeTable) header(id widget.TableCellID, o fyne.CanvasObject) {
	l, c := t.desk.Layer(), t.desk.Choice
	t.heads[o] = id
	text, ground := "", draw.Grid
	switch {
	case id.Row < 0 && id.Col < 0:
		text = "strake"
	case id.Row < 0 && id.Col < len(l.Girths):
		text = t.desk.FrameName(id.Col)
		if id.Col == c.Frame {
			ground = draw.ChosenSoft
		}
	case id.Row < 0:
		text = [summaries]string{"edge-set", "bend radius", "twist", "length", "made", "verdict"}[min(id.Col-len(l.Girths), summaries-1)]
	case id.Row < len(l.Strakes):
		text = l.Strakes[id.Row].ID
		if l.Strakes[id.Row].Garboard {
			text += " g"
		}
		if m := l.Strakes[id.Row].Making.Mode; m != hull.Sprung {
			text += " " + modeMarks[m]
		}
		if id.Row == c.Strake {
			ground = draw.ChosenSoft
		}
	}
	t.fill(o, text, ground)
}
