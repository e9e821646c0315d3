package settings

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// liningFront shows the ways to line a layer off, and takes one.
type liningFront struct {
	desk   *desk.Desk
	k      *loft.Planking // what they were searched for
	layer  int
	ways   []loft.Lining
	front  answer.Front
	chosen int

	chart  views.LiningChart
	plot   *kit.Plot
	table  *kit.Table
	told   *widget.Label
	dialog *dialog.CustomDialog
}

func newLiningFront(d *desk.Desk, k *loft.Planking, layer int, ways []loft.Lining, front answer.Front) *liningFront {
	f := &liningFront{desk: d, k: k, layer: layer, ways: ways, front: front}
	f.chart.Units, f.chart.Shapeless = d.Units, k.Plan.Hull.Shapeless()
	f.plot = kit.NewPlot(d.Notices, d.Look, fyne.NewSize(320, 180), func(w, h float64) *draw.Drawing {
		f.chart.Draw(f.marks(), f.chosen, w, h)
		return &f.chart.Drawing
	}, func(p draw.Point) { f.choose(f.chart.WayAt(p)) })
	f.told = kit.Wrapped("")
	f.table = kit.NewCellTable(func() (int, int) { return len(f.ways) + 1, len(answer.LiningHeads()) + 1 }, newLiningCell, f.cell)
	f.table.ShowHeaderRow = true
	f.table.CreateHeader = func() fyne.CanvasObject { return widget.NewLabel("") }
	f.table.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		text := ""
		if id.Col > 0 {
			text = answer.LiningHeads()[id.Col-1]
		}
		kit.SetText(o.(*widget.Label), text)
	}
	f.table.OnSelected = func(id widget.TableCellID) {
		f.table.UnselectAll()
		f.choose(id.Row)
	}
	f.widths()
	f.choose(0)
	return f
}

// marks are the ways, and last the plan as it is.
func (f *liningFront) marks() []views.LiningMark {
	var out []views.LiningMark
	add := func(name string, a answer.Lining) {
		m := views.LiningMark{Name: name, Waste: a.Waste(), Ends: a.Drops + a.Wedges}
		if a.Forced != nil {
			m.Forced = *a.Forced
		}
		out = append(out, m)
	}
	for i, a := range f.front.Plans {
		add(strconv.Itoa(i+1), a)
	}
	add(tongue.T("now"), f.front.Now)
	return out
}

// choose shows what taking a way would do; any other index changes nothing.
func (f *liningFront) choose(i int) {
	if i < 0 || i >= len(f.ways) {
		return
	}
	f.chosen = i
	kit.SetText(f.told, f.text(i))
	f.plot.Refresh()
	f.table.Refresh()
}

// text is what taking a way would do, and what the builder should know before.
func (f *liningFront) text(i int) string {
	a := f.front.Plans[i]
	lines := []string{a.Tells(f.front.Now)}
	if i == 0 {
		lines = []string{f.front.Advice}
	}
	for _, w := range a.Warnings {
		lines = append(lines, "! "+w)
	}
	return strings.Join(lines, "\n")
}

// takeButton takes a way, and shows what that would do while the pointer is on it.
type takeButton struct {
	kit.Button
	entered func()
}

// MouseIn shows what it would do.
func (b *takeButton) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	if b.entered != nil {
		b.entered()
	}
}

// FocusGained shows what it would do.
func (b *takeButton) FocusGained() {
	b.Button.FocusGained()
	if b.entered != nil {
		b.entered()
	}
}

// TypedKey takes a key.
func (b *takeButton) TypedKey(e *fyne.KeyEvent) {
	b.Button.TypedKey(e)
	kit.HandOn(e, b)
}

func newLiningCell() fyne.CanvasObject {
	b := &takeButton{}
	b.ExtendBaseWidget(b)
	return container.NewStack(widget.NewLabelWithStyle("0.00", fyne.TextAlignCenter, fyne.TextStyle{}), b)
}

// cell is a figure, or the button that takes the row's way.
func (f *liningFront) cell(id widget.TableCellID, o fyne.CanvasObject) {
	in := o.(*fyne.Container).Objects
	label, take := in[0].(*widget.Label), in[1].(*takeButton)
	button := id.Col == 0 && id.Row < len(f.ways)
	label.Hidden, take.Hidden = button, !button
	if button {
		row := id.Row
		take.OnTapped, take.entered = func() { f.take(row) }, func() { f.choose(row) }
		take.Importance = widget.MediumImportance
		if row == f.chosen {
			take.Importance = widget.HighImportance
		}
		take.SetText(tongue.T("Take %d", row+1))
		return
	}
	label.TextStyle.Bold = id.Row == f.chosen
	kit.SetText(label, f.figure(id))
}

func (f *liningFront) figure(id widget.TableCellID) string {
	a := f.front.Now
	if id.Row < len(f.ways) {
		a = f.front.Plans[id.Row]
	}
	if id.Col == 0 {
		return tongue.T("now")
	}
	return a.Cells()[id.Col-1]
}

// widths makes every column as wide as its widest text.
func (f *liningFront) widths() {
	size := theme.TextSize()
	for col := range len(answer.LiningHeads()) + 1 {
		w := fyne.MeasureText(tongue.T("Take 0"), size, fyne.TextStyle{Bold: true}).Width + 24
		if col > 0 {
			w = fyne.MeasureText(answer.LiningHeads()[col-1], size, fyne.TextStyle{}).Width
			for row := range len(f.ways) + 1 {
				w = fyne.Max(w, fyne.MeasureText(f.figure(widget.TableCellID{Row: row, Col: col}), size, fyne.TextStyle{Bold: true}).Width)
			}
			w += 4 * theme.InnerPadding() / 2
		}
		f.table.SetColumnWidth(col, w)
	}
}

func (f *liningFront) open() {
	f.dialog = f.desk.Shown(tongue.T("Ways to line off"), f.content())
	s := f.desk.Win.Canvas().Size()
	f.dialog.Resize(fyne.NewSize(fyne.Min(1180, s.Width*0.95), fyne.Min(860, s.Height*0.95)))
	f.dialog.Show()
}

// content is the plot, what the chosen way would do beside it, and the table beneath.
func (f *liningFront) content() fyne.CanvasObject {
	height := float32(len(f.ways)+2)*(newLiningCell().MinSize().Height+theme.Padding()) + theme.Padding()
	both := container.NewHSplit(f.plot, container.NewVScroll(f.told))
	both.SetOffset(0.58)
	return container.NewBorder(nil, kit.Tall(f.table, height), nil, nil, both)
}

var errLinesChanged = tongue.New("the plan has changed since the lines were searched for; search again")

// take puts a way into the plan, as one step.
func (f *liningFront) take(i int) {
	d := f.desk
	if d.Plan() != f.k.Plan {
		d.Say(kit.Sentence(errLinesChanged))
		return
	}
	found := f.ways[i].Plan
	if !d.Edit(tongue.T("lay all band lines"), func(now *hull.Plan) error {
		now.Layers[f.layer], now.Cutting = found.Layers[f.layer], found.Cutting
		return nil
	}) {
		return
	}
	if f.dialog != nil {
		f.dialog.Hide()
	}
	d.Status(tongue.T("The lines of plan %d are laid; undo brings the former ones back.", i+1))
}
