package bench

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// frameTable is the table of what is measured at the frames, in which it is entered
// frame by frame.
type frameTable struct {
	m      *measureAsked
	note   *kit.Field // the remark that is kept with what is entered
	table  *kit.Table
	rows   [][frameColumns]string
	chosen int // the frame that stands out
	at     int // the frame that was brought into sight last
}

// The columns of the table.
const (
	ofFrame = iota
	ofExpected
	ofMeasured
	frameColumns
)

// frameWidths are how wide they are.
var frameWidths = [frameColumns]float32{60, 88, 126}

// Of the table: how tall its heads are, and how tall all of it.
const frameHead, frameTall = 20, 168

func (m *measureAsked) frames(note *kit.Field) *frameTable {
	t := &frameTable{m: m, note: note, chosen: -1, at: -1}
	d := m.b.desk
	t.table = kit.NewCellTable(func() (int, int) { return len(t.rows), frameColumns }, d.NewCell, t.cell)
	t.table.ShowHeaderRow, t.table.Follows = true, true
	t.table.CreateHeader, t.table.UpdateHeader = d.NewCell, t.header
	for col, w := range frameWidths {
		t.table.SetColumnWidth(col, w)
	}
	t.table.SetRowHeight(-1, frameHead)
	t.table.OnSelected = func(id widget.TableCellID) {
		t.table.UnselectAll()
		if id.Row >= 0 && id.Row < len(t.rows) {
			t.at = id.Row
			d.Choose(d.Choice.WithFrame(id.Row))
		}
	}
	t.table.Enters(d.Notices, t.enter)
	m.b.Keep(t.sync)
	return t
}

// object is the table with what is to be done in it.
func (t *frameTable) object() fyne.CanvasObject {
	return container.NewVBox(kit.Wrapped(tongue.T("Or type the figures into the table: Return notes one and goes on to the next frame.")), kit.Tall(t.table, frameTall))
}

// sync brings the table up to date, and the chosen frame into sight.
func (t *frameTable) sync() {
	if !t.m.b.inSight() {
		return
	}
	now, f := t.told(), t.m.b.desk.Choice.Frame
	if !slices.Equal(now, t.rows) || t.chosen != f {
		t.rows, t.chosen = now, f
		t.table.Refresh()
	}
	if f != t.at && f >= 0 && f < len(now) {
		t.at = f
		id := widget.TableCellID{Row: f, Col: ofMeasured}
		t.table.Reveal(id)
		t.table.Put(id)
	}
}

// told is what the table tells of every frame.
func (t *frameTable) told() (rows [][frameColumns]string) {
	d := t.m.b.desk
	if !t.m.b.bench.Reckon() {
		return nil // the panel says why
	}
	noted := t.m.noted()
	for f := range d.Layer().Girths {
		row := [frameColumns]string{d.FrameName(f), "–", ""}
		if mm := t.m.expectedAt(f); !math.IsNaN(mm) {
			row[ofExpected] = tongue.Figure(d.Units.Number(mm))
		}
		if e, ok := noted[row[ofFrame]]; ok {
			row[ofMeasured] = tongue.Figure(d.Units.Number(e.MM))
			if e.Wet {
				row[ofMeasured] = tongue.In("measured", "%s wet", row[ofMeasured])
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// cell fills a cell.
func (t *frameTable) cell(id widget.TableCellID, o fyne.CanvasObject) {
	if id.Row >= len(t.rows) {
		return
	}
	ground := draw.Paper
	if id.Row == t.chosen {
		ground = draw.ChosenSoft
	}
	t.fill(o, t.rows[id.Row][id.Col], ground)
}

// header fills a head.
func (t *frameTable) header(id widget.TableCellID, o fyne.CanvasObject) {
	heads := [frameColumns]string{tongue.In("column", "frame"), tongue.In("column", "expected"), tongue.In("column", "measured")}
	if id.Col >= 0 {
		t.fill(o, heads[id.Col], draw.Grid)
	}
}

func (t *frameTable) fill(o fyne.CanvasObject, text string, ground draw.Role) {
	o.(*fyne.Container).Layout.(*kit.Cell).Fill(text, t.m.b.desk.Palette(), ground)
}

// enter has what was measured at a frame entered, or says why it cannot be.
func (t *frameTable) enter(id widget.TableCellID, cell fyne.CanvasObject, first string) {
	d, m := t.m.b.desk, t.m
	f := id.Row
	switch {
	case f < 0 || f >= len(t.rows):
		return
	case m.b.bench.Day != "":
		d.Status(m.b.bench.OnlyLooked())
		return
	case !m.doing().OfBand() && m.doing() != hull.BareGirth && d.Strake() == nil:
		d.Status(tongue.T("Choose the strake that was measured."))
		return
	case math.IsNaN(m.expectedAt(f)):
		d.Status(tongue.T("There is nothing to measure at frame %s.", d.FrameName(f)))
		return
	}
	asks := tongue.T("Measured at frame %s: %s", d.FrameName(f), m.names()[max(m.what.SelectedIndex(), 0)])
	d.EnterLength(cell, d.Units, math.NaN(), first, asks, func(mm float64) error {
		e, _ := m.entryAt(f, mm)
		e.Note = strings.TrimSpace(t.note.Text)
		if err := m.b.bench.TryNote(e); err != nil {
			return err
		}
		t.note.SetText("")
		t.next(f)
		return nil
	})
}

// next goes on to the next frame at which there is something to measure.
func (t *frameTable) next(f int) {
	for f++; f < len(t.rows); f++ {
		if !math.IsNaN(t.m.expectedAt(f)) {
			t.m.b.desk.Choose(t.m.b.desk.Choice.WithFrame(f))
			return
		}
	}
}
