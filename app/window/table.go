package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
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

var figureNames = []string{tongue.Mark("Width to cut"), tongue.Mark("Width on the frame"), tongue.Mark("Upper edge, below the limit"), tongue.Mark("Bevel of the upper edge"), tongue.Mark("Bevel of the lower edge"),
	tongue.Mark("Bench width"), tongue.Mark("Bench change")}

// What else there is to tell of a strake, a column each.
const (
	edgeSetColumn = iota
	radiusColumn
	twistColumn
	lengthColumn
	madeColumn
	verdictColumn
	wordColumn // the verdict in a word
)

var columnNames = map[int]string{edgeSetColumn: tongue.Mark("edge-set"), radiusColumn: tongue.Mark("bend radius"), twistColumn: tongue.Mark("twist"), lengthColumn: tongue.Mark("length"), madeColumn: tongue.Mark("made"),
	verdictColumn: tongue.Mark("verdict, where"), wordColumn: tongue.Mark("verdict")}

// The columns before the frames stay in sight, as the strake's name does; the others
// stand after them.
var (
	pinned = [...]int{lengthColumn, wordColumn}
	after  = [...]int{edgeSetColumn, radiusColumn, twistColumn, madeColumn, verdictColumn}
)

// columnOf tells which frame a column stands for, or else, where that is −1, what it
// tells of a strake.
func (t *strakeTable) columnOf(col int) (frame, tells int) {
	frames := len(t.desk.Layer().Girths)
	switch k := col - len(pinned); {
	case k < 0:
		return -1, pinned[max(col, 0)]
	case k < frames:
		return k, -1
	default:
		return -1, after[min(k-frames, len(after)-1)]
	}
}

// strakeTable is the table of strakes by frames.
type strakeTable struct {
	desk    *desk.Desk
	table   *kit.Table
	pick    *kit.Select
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
	sorted  sorting
	order   []int // the strake in every row
	legend  *widget.Label
	unsort  *kit.Button     // says how the strakes are sorted, and undoes it
	head    *fyne.Container // in which one of the two is shown
}

func newStrakeTable(d *desk.Desk) *strakeTable {
	t := &strakeTable{desk: d, inSight: func() bool { return true }, shown: [2]int{-1, -1}, sorted: sorting{by: asLaid},
		filled: map[fyne.CanvasObject]widget.TableCellID{}, heads: map[fyne.CanvasObject]widget.TableCellID{}}
	t.table = kit.NewCellTable(t.size, d.NewCell, t.cell)
	t.table.ShowHeaderRow, t.table.ShowHeaderColumn, t.table.Follows = true, true, true
	t.table.CreateHeader = d.NewCell
	t.table.UpdateHeader = t.header
	t.table.OnSelected, t.table.OnHead = t.selected, t.headTapped
	t.table.Enters(d.Notices, t.enter)
	t.table.StickyColumnCount = len(pinned)
	t.legend = widget.NewLabelWithStyle(tongue.T("▾taper ◂▸wider =full –out ╱sheet ╳carved"), fyne.TextAlignLeading, fyne.TextStyle{Monospace: true})
	t.legend.Truncation = fyne.TextTruncateEllipsis
	t.unsort = d.Button("", tongue.T("How the strakes are sorted; puts them back as they lie"), func() { t.sort(sorting{by: asLaid}) })
	t.unsort.Hide()
	t.head = container.NewStack(t.legend, container.NewHBox(t.unsort))
	t.pick = kit.NewSelect(said(figureNames), func(string) {
		t.figure = figure(max(t.pick.SelectedIndex(), 0))
		t.arrange()
		t.table.Refresh()
	})
	t.pick.PlaceHolder = t.pick.Options[0] // for whose width it has room
	t.pick.SetSelectedIndex(0)
	d.ShowChange = func() { t.pick.SetSelectedIndex(int(benchChange)) }
	d.Lazy = append(d.Lazy, t.sync)
	return t
}

// said are texts in the reader's language.
func said(texts []string) []string {
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = tongue.T(text)
	}
	return out
}

// object gives the table under its head.
func (t *strakeTable) object() fyne.CanvasObject {
	head := container.NewBorder(nil, nil, kit.Tipped(t.pick, tongue.T("What the table shows of every strake on every frame")), nil, t.head)
	return container.NewBorder(head, nil, nil, nil, kit.NewMenuOver(t.table, t.menuAt))
}

func (t *strakeTable) size() (rows, cols int) {
	l := t.desk.Layer()
	return len(l.Strakes), len(pinned) + len(l.Girths) + len(after)
}

// cellWidth and headWidth are those of the columns and of the strakes' names.
const cellWidth, headWidth, cellHeight = 58, 66, 20

// Those of the columns that stay in sight, of the others, and of the one that says where
// a strake asks for its verdict.
const lengthWidth, wordWidth, afterWidth, verdictWidth = 62, 106, 90, 170

// sync brings the table up to date while it is in sight.
func (t *strakeTable) sync() {
	if !t.inSight() {
		return
	}
	c := t.desk.Choice
	t.quiet = true
	defer func() { t.quiet = false }()
	was := slices.Clone(t.order)
	t.fillAll()
	if t.of != t.desk.Session { // the choice may be the same by number, but it is another hull's
		t.of, t.shown, t.row = t.desk.Session, [2]int{-2, -2}, 0
	}
	if now := [2]int{c.Strake, c.Frame}; now != t.shown || !slices.Equal(was, t.order) {
		t.reveal(now)
	}
}

// reveal brings a strake and a frame into sight, with a neighbour to each side;
// where no strake is chosen, the one shown last.
func (t *strakeTable) reveal(at [2]int) {
	if t.table.Size().Width < headWidth+lengthWidth+wordWidth+cellWidth {
		return // not laid out yet
	}
	row, col := at[0], max(at[1], 0)
	if row < 0 {
		row = max(t.row, 0)
	}
	t.shown, t.row = at, row
	cell := widget.TableCellID{Row: t.rowOf(row), Col: len(pinned) + col}
	t.table.Reveal(cell)
	t.table.Put(cell)
	t.table.UnselectAll()
}

// fillAll fills the cells that stand there anew. Where there are more or fewer
// rows or columns than before, the table is laid out anew, which costs far more.
func (t *strakeTable) fillAll() {
	t.arrange()
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
	t.table.Fit()
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
	t.table.SetColumnWidth(0, lengthWidth)
	t.table.SetColumnWidth(1, wordWidth)
	for k := range len(l.Girths) {
		t.table.SetColumnWidth(len(pinned)+k, cellWidth)
	}
	last := len(pinned) + len(l.Girths) + len(after) - 1
	for k := len(pinned) + len(l.Girths); k < last; k++ {
		t.table.SetColumnWidth(k, afterWidth)
	}
	t.table.SetColumnWidth(last, verdictWidth)
	t.table.SetColumnWidth(-1, headWidth)
	t.table.SetRowHeight(-1, cellHeight)
}

func (t *strakeTable) selected(id widget.TableCellID) {
	if t.quiet || id.Row < 0 {
		return
	}
	c := t.desk.Choice.WithStrake(t.strakeAt(id.Row))
	if frame, _ := t.columnOf(id.Col); frame >= 0 {
		c = c.WithFrame(frame)
	}
	t.shown, t.row = [2]int{c.Strake, c.Frame}, c.Strake
	t.desk.Choose(c)
	t.desk.TellChosen()
	t.table.Unselect(id)
}

// cell fills a cell.
func (t *strakeTable) cell(id widget.TableCellID, o fyne.CanvasObject) {
	l := t.desk.Layer()
	t.filled[o] = id
	if id.Row < 0 || id.Row >= len(l.Strakes) {
		return
	}
	strake := t.strakeAt(id.Row)
	s := l.Strakes[strake]
	frame, tells := t.columnOf(id.Col)
	text, ground := t.told(s, frame, tells)
	if strake == t.desk.Choice.Strake || frame >= 0 && frame == t.desk.Choice.Frame {
		ground = draw.ChosenSoft
	}
	t.fill(o, text, ground)
}

// told is what the table tells of a strake at a frame, or else of the whole strake.
func (t *strakeTable) told(s *loft.Strake, frame, tells int) (text string, ground draw.Role) {
	switch {
	case frame < 0:
		return t.summary(s, tells), draw.Paper
	case t.figure >= benchWidth:
		return t.benchCell(s, frame)
	}
	return t.crossing(s, frame)
}

// fill writes a cell.
func (t *strakeTable) fill(o fyne.CanvasObject, text string, ground draw.Role) {
	if c := o.(*fyne.Container).Layout.(*kit.Cell); c.Fill(text, t.desk.Palette(), ground) {
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
		return modeMarks[s.Making.Mode] + " " + answer.SaidMode(s.Making.Mode)
	case wordColumn:
		return judged(s.Making.Verdict.Kind)
	case verdictColumn:
		return verdictCell(s.Making.Verdict, t.desk.FrameName)
	}
	if column != lengthColumn && t.desk.Shapeless() {
		return desk.Unknown
	}
	switch column {
	case edgeSetColumn:
		return tongue.Figure(fmt.Sprintf("%.2f 1/m", s.EdgeSetMax.PerMetre()))
	case radiusColumn:
		if s.FaceRadiusMin <= 0 {
			return tongue.T("flat")
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
		return judged(v.Kind)
	}
	return tongue.In("frame", "%s at %s", judged(v.Kind), frame(v.Frame))
}

// judged is a verdict's mark and word, close together as in the legend: the column has
// to leave room for the frames.
func judged(kind loft.VerdictKind) string {
	if kind == "" {
		return desk.Unknown
	}
	return answer.VerdictMark(kind) + answer.VerdictWord(kind)
}

// header fills a head: frames above, strakes at the left.
func (t *strakeTable) header(id widget.TableCellID, o fyne.CanvasObject) {
	l, c := t.desk.Layer(), t.desk.Choice
	t.heads[o] = id
	text, ground := "", draw.Grid
	switch {
	case id.Row < 0:
		text = t.headed(id.Col)
		if frame, _ := t.columnOf(id.Col); id.Col >= 0 && frame >= 0 && frame == c.Frame {
			ground = draw.ChosenSoft
		}
	case id.Row < len(l.Strakes):
		strake := t.strakeAt(id.Row)
		text = rowName(l.Strakes[strake])
		if strake == c.Strake {
			ground = draw.ChosenSoft
		}
	}
	t.fill(o, text, ground)
}

// columnName is the head of a column; −1 is that of the strakes' names.
func (t *strakeTable) columnName(col int) string {
	if col < 0 {
		return tongue.T("strake")
	}
	frame, tells := t.columnOf(col)
	if frame >= 0 {
		return t.desk.FrameName(frame)
	}
	return tongue.T(columnNames[tells])
}

// rowName is the head of a strake's row.
func rowName(s *loft.Strake) string {
	text := s.ID
	if s.Garboard {
		text += " g"
	}
	if m := s.Making.Mode; m != hull.Sprung {
		text += " " + modeMarks[m]
	}
	return text
}
