package tracing

import (
	"fmt"
	"math"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// tracePanel is what is set beside the picture.
type tracePanel struct {
	*kit.Form
	tr         *tracer
	table      *kit.Table
	rows       [][]string
	undo, redo *kit.Button
	tabs       *container.AppTabs // the picture, and the frames
	ways       *container.AppTabs // how the scale is set
}

// The tabs of the panel.
const (
	pictureTab = iota
	framesTab
)

func newTracePanel(tr *tracer) *tracePanel {
	p := &tracePanel{Form: &kit.Form{}, tr: tr}
	p.Part(func() bool { return true })
	return p
}

func (p *tracePanel) content() fyne.CanvasObject {
	picture := container.NewVBox()
	for _, part := range [][]fyne.CanvasObject{p.picturePart(), p.scalePart(), p.datumPart()} {
		for _, o := range part {
			picture.Add(o)
		}
	}
	frames := container.NewBorder(container.NewVBox(p.framePart()...), nil, nil, nil, p.frameTable())
	p.tabs = container.NewAppTabs(
		container.NewTabItem(tongue.T("1 Picture"), tabSide(picture)),
		container.NewTabItem(tongue.T("2 Frames"), tabSide(frames)))
	return kit.TippedTabs(p.tabs, tongue.T("The picture, its scale and its zero lines"), tongue.T("The frames as they are traced"))
}

// tabSide is a tab's content, as wide as the panel, to be scrolled where the
// window is low.
func tabSide(o fyne.CanvasObject) fyne.CanvasObject {
	side := container.NewVScroll(container.New(layout.NewCustomPaddedLayout(3, 3, 3, 10), o))
	side.SetMinSize(fyne.NewSize(350, 200))
	return side
}

func (p *tracePanel) length(step float64, get func() float64, set func(float64) bool) *kit.Number {
	n := kit.NewLength(p.tr.Notices, &p.tr.units, step, get, set)
	p.Keep(n.Sync)
	return n
}

func (p *tracePanel) picturePart() []fyne.CanvasObject {
	tr := p.tr
	open := tr.Button(tongue.T("Open a picture…"), tongue.T("Opens a scan, a photo, or a page of a PDF"), tr.openPicture)
	open.Icon = theme.FolderOpenIcon()
	which := p.Choice(func() []string {
		var names []string
		for i, g := range tr.t.Grounds() {
			names = append(names, fmt.Sprintf("%d: %s", i+1, g.Picture.Name))
		}
		return names
	}, tr.t.Ground, func(i int) {
		tr.t.ChooseGround(i)
		tr.take(traceClicks)
		tr.board.Fit()
	})
	p.Keep(func() { kit.Show(which, len(tr.t.Grounds()) > 1) })
	return []fyne.CanvasObject{kit.Heading(tongue.T("Picture")), open, kit.Tipped(which, tongue.T("The picture that is traced")), p.Text(tr.pictureText)}
}

// pictureText tells the size and the scale of the picture.
func (tr *tracer) pictureText() string {
	if tr.t.Ground() < 0 {
		return tongue.T("None is open yet.")
	}
	g := tr.t.Grounds()[tr.t.Ground()]
	w, h := g.Picture.Size()
	text := tongue.T("%s, %d x %d pixels", g.Picture.Name, w, h)
	if n := g.Picture.Smaller; n > 1 {
		text += " " + tongue.T("(large: each is %d x %d of the file's)", n, n)
	}
	switch size := g.Calibration.PixelAt; {
	case !g.Calibration.Set():
		return text + tongue.T(", no scale yet")
	case len(g.Calibration.Points) == 4:
		return text + tongue.T("; perspective taken out, %.3f mm a pixel", size(g.Calibration.Points[0]))
	default:
		return text + tongue.T("; scale and level set, %.3f mm a pixel", size(g.Calibration.Points[0]))
	}
}

// keptText tells where the tracing is kept.
func (tr *tracer) keptText() string {
	if err := tr.keeper.Err(); err != nil {
		return kit.Sentence(err)
	}
	path := tr.keeper.Path()
	if path == "" {
		return ""
	}
	return tongue.T("Kept in %s: it can be resumed.", filepath.Base(path))
}

func (p *tracePanel) scalePart() []fyne.CanvasObject {
	tr := p.tr
	unit := tr.units.Name()
	known := func(v *float64) *kit.Number {
		return p.length(1, func() float64 { return *v }, func(mm float64) bool {
			*v = mm
			tr.say(tr.next())
			return true
		})
	}
	lie := p.Choice(func() []string {
		return []string{tongue.T("level, left then right"), tongue.T("upright, lower then upper")}
	},
		func() int { return int(tr.lie) }, func(i int) { tr.lie = trace.Lie(i); tr.say(tr.next()) })
	two := tr.Button(tongue.T("Click the two points"), tongue.T("Then click two points in the picture that lie so far apart"), func() { tr.take(traceScale) })
	four := tr.Button(tongue.T("Click the four corners"), tongue.T("Then click the corners of the rectangle in the picture"), func() { tr.take(traceCorners) })
	p.ways = container.NewAppTabs(
		container.NewTabItem(tongue.T("Two points"), container.NewVBox(kit.TippedRow(tongue.T("Distance (%s)", unit), tongue.T("How far apart the two points lie on the model"), known(&tr.known.distance).Box), kit.TippedRow(tongue.T("They lie"), tongue.T("How the two points lie to each other"), lie), two)),
		container.NewTabItem(tongue.T("Four corners"), container.NewVBox(kit.TippedRow(tongue.T("Width (%s)", unit), tongue.T("How wide the rectangle truly is"), known(&tr.known.width).Box), kit.TippedRow(tongue.T("Height (%s)", unit), tongue.T("How high the rectangle truly is"), known(&tr.known.height).Box), four)))
	p.Keep(func() {
		kit.Able(tr.t.Ground() >= 0, two, four)
	})
	return []fyne.CanvasObject{kit.Heading(tongue.T("Scale and level, at the model's size")), kit.TippedTabs(p.ways, tongue.T("Sets the scale by two points whose distance you know"), tongue.T("Sets the scale by a rectangle of known size, seen from any side"))}
}

func (p *tracePanel) datumPart() []fyne.CanvasObject {
	tr := p.tr
	centre := tr.Button(tongue.T("Centre line"), tongue.T("Then click any point of the centre line"), func() { tr.take(traceCentre) })
	base := tr.Button(tongue.T("Base line"), tongue.T("Then click any point of the base line"), func() { tr.take(traceBase) })
	p.Keep(func() {
		kit.Able(tr.t.Ground() >= 0, centre, base)
	})
	return []fyne.CanvasObject{kit.Heading(tongue.T("Zero lines")), container.NewGridWithColumns(2, centre, base)}
}

// frame is the frame at hand.
func (tr *tracer) frame() (trace.Frame, bool) {
	if i := tr.t.Frame(); i >= 0 {
		return tr.t.Frames()[i], true
	}
	return trace.Frame{}, false
}

func (p *tracePanel) framePart() []fyne.CanvasObject {
	tr := p.tr
	add := tr.Button(tongue.T("Add a frame"), tongue.T("Begins the next frame"), tr.addFrame)
	remove := tr.Button(tongue.T("Remove it"), tongue.T("Takes the chosen frame away"), func() { tr.did(tr.t.RemoveFrame()) })
	add.Icon, remove.Icon = theme.ContentAddIcon(), theme.ContentRemoveIcon()
	half := p.Choice(func() []string { return []string{tongue.T("one half"), tongue.T("the other half")} }, func() int {
		if tr.t.Frame() < 0 {
			return -1
		}
		return tr.t.Half()
	}, func(i int) { tr.t.ChooseHalf(i); tr.did(nil) })
	x := p.length(1, func() float64 {
		if f, ok := tr.frame(); ok {
			return f.X
		}
		return math.NaN()
	}, func(mm float64) bool { return tr.did(tr.t.SetX(mm)) })
	knuckle := tr.Button(tongue.T("Knuckle at the last point"), tongue.T("Makes a sharp corner of the last point (K)"), tr.lastKnuckle)
	snap := kit.NewCheck(tongue.T("Snap to lines and corners (not with Shift held)"), func(on bool) { tr.snap = on })
	snap.SetChecked(tr.snap)
	follow := kit.NewCheck(tongue.T("Follow the line between clicks (F)"), func(on bool) { tr.follow = on })
	p.Keep(func() { follow.SetChecked(tr.follow) })
	own := kit.NewCheck(tongue.T("A centre and base line of its own"), func(on bool) {
		if !p.Busy && tr.did(tr.t.SetOwn(on)) && on {
			tr.take(traceCentre)
		}
	})
	lens := kit.NewCheck(tongue.T("Magnifier (M)"), func(on bool) { tr.lens = on; tr.board.Changed() })
	p.Keep(func() { lens.SetChecked(tr.lens) })
	bow := p.Choice(func() []string { return []string{tongue.T("at the least x"), tongue.T("at the greatest x")} }, func() int {
		if tr.t.Bow() == hull.BowLast {
			return 1
		}
		return 0
	}, func(i int) { tr.t.SetBow([]hull.BowEnd{hull.BowFirst, hull.BowLast}[i]); tr.did(nil) })
	xName := widget.NewLabel("")
	xName.Truncation = fyne.TextTruncateOff
	p.Keep(func() {
		f, ok := tr.frame()
		kit.Able(tr.t.Ground() >= 0, add)
		kit.Able(ok, remove, own)
		own.SetChecked(ok && f.Own != nil)
		kit.Able(ok, half)
		x.Able(ok)
		kit.Able(ok && len(f.Halves[tr.t.Half()]) > 0, knuckle)
		if ok && f.IsEnd() {
			xName.SetText(tongue.T("Half-breadth (%s)", tr.units.Name()))
		} else {
			xName.SetText("x (" + tr.units.Name() + ")")
		}
	})
	return []fyne.CanvasObject{container.NewGridWithColumns(2, add, remove),
		kit.TippedRow(tongue.T("Name"), tongue.T("The name of the frame; stem or stern traces that end"), p.name()), kit.Tipped(container.New(&kit.RowLayout{}, xName, x.Box), tongue.T("Where the frame stands along the keel; of an end, half its thickness")), kit.TippedRow(tongue.T("Clicks go to"), tongue.T("Which half of the frame is traced"), half), knuckle,
		kit.Tipped(own, tongue.T("For a frame that is drawn beside the others, with lines of its own")), kit.Tipped(snap, tongue.T("Pulls clicks onto clear lines, their ends and corners")),
		kit.Tipped(follow, tongue.T("Follows the line from click to click")), kit.Tipped(lens, tongue.T("Shows the picture under the pointer, much enlarged")),
		kit.TippedRow(tongue.T("The bow is"), tongue.T("At which end of the keel the bow lies"), bow)}
}

// name is the frame's name.
func (p *tracePanel) name() fyne.CanvasObject {
	tr := p.tr
	shown := ""
	e := &kit.NumberEntry{}
	commit := func() {
		if _, ok := tr.frame(); !ok || e.Text == shown {
			return
		}
		tr.did(tr.t.Rename(e.Text))
	}
	e.Left = commit
	e.ExtendBaseWidget(e)
	e.OnSubmitted = func(string) { commit() }
	p.Keep(func() {
		f, ok := tr.frame()
		kit.Able(ok, e)
		if shown = f.Name; e.Text != shown {
			e.SetText(shown)
		}
	})
	return e
}

// lastKnuckle marks the last point of the half at hand as a corner, or takes
// the mark away.
func (tr *tracer) lastKnuckle() {
	if f, ok := tr.frame(); ok {
		h := tr.t.Half()
		if n := len(f.Halves[h]); n > 0 {
			tr.did(tr.t.SetKnuckle(h, n-1, !f.Halves[h][n-1].Knuckle))
		}
	}
}

// widthsOf are how wide columns are: as their headings are, and at least so wide.
func widthsOf(headings []string, least ...float32) []float32 {
	for i, h := range headings {
		w := fyne.MeasureText(h, theme.TextSize(), fyne.TextStyle{Bold: true}).Width
		least[i] = fyne.Max(least[i], w+2*theme.InnerPadding())
	}
	return least
}

func (p *tracePanel) frameTable() fyne.CanvasObject {
	heads := []string{tongue.T("Frame"), "x", tongue.T("Points"), tongue.T("Girth"), tongue.T("Halves differ")}
	p.table = kit.NewTable(heads, widthsOf(heads, 50, 60, 50, 58, 58), func() [][]string { return p.rows }, func(row int) bool { return row == p.tr.t.Frame() }, p.choose)
	p.table.Enters(p.tr.Notices, p.enter)
	p.Keep(func() {
		p.rows = p.tr.frameRows()
		p.table.Refresh()
	})
	room := canvas.NewRectangle(nil)
	room.SetMinSize(fyne.NewSize(300, 150))
	return container.NewStack(room, p.table)
}

// xColumn is that of where a frame stands, the only one of figures that are given.
const xColumn = 1

// enter has where a frame stands entered in its cell.
func (p *tracePanel) enter(id widget.TableCellID, cell fyne.CanvasObject, first string) {
	tr, frames := p.tr, p.tr.t.Frames()
	if id.Row < 0 || id.Row >= len(frames) {
		return
	}
	if id.Col != xColumn {
		tr.Status(tongue.T("Only x is entered in the table: the other figures follow from the points."))
		return
	}
	if tr.t.Frame() != id.Row {
		p.choose(id.Row)
	}
	f := frames[id.Row]
	tr.EnterLength(cell, tr.units, f.X, first, tongue.T("x of frame %s", f.Name), func(mm float64) error {
		err := tr.t.SetX(mm)
		tr.did(err)
		return err
	})
}

// choose takes a frame in hand.
func (p *tracePanel) choose(row int) {
	ground := p.tr.t.Ground()
	p.tr.t.Choose(row)
	p.tr.take(traceClicks)
	if p.tr.t.Ground() != ground {
		p.tr.board.Fit()
	}
}

// frameRows tells each frame as far as it is traced.
func (tr *tracer) frameRows() [][]string {
	var rows [][]string
	for i, f := range tr.t.Frames() {
		points := fmt.Sprint(len(f.Halves[0]))
		if len(f.Halves[1]) > 0 {
			points += " + " + fmt.Sprint(len(f.Halves[1]))
		}
		girth, apart := "–", "–"
		if o, err := tr.t.Outline(i); err == nil && len(o.Points) > 1 {
			girth = tr.units.Number(o.Girth)
			if len(f.Halves[0]) > 0 && len(f.Halves[1]) > 0 {
				apart = tr.units.Number(o.Apart)
			}
		}
		rows = append(rows, []string{f.Name, tr.units.Number(f.X), points, girth, apart})
	}
	return rows
}

// finish is what is done with the whole.
func (p *tracePanel) finish() fyne.CanvasObject {
	tr := p.tr
	p.undo = tr.Button(tongue.T("Undo"), tongue.T("Takes back the last click (Ctrl+Z)"), tr.undo)
	p.redo = tr.Button(tongue.T("Redo"), tongue.T("Redoes it (Ctrl+Y)"), tr.redo)
	save := tr.Button(tongue.T("Save the points…"), tongue.T("Writes the points of all frames as a table"), tr.savePoints)
	plan := tr.Button(tongue.T("Make the plan"), tongue.T("Makes a plan of the frames traced"), tr.makePlan)
	p.undo.Icon, p.redo.Icon, save.Icon, plan.Icon = theme.ContentUndoIcon(), theme.ContentRedoIcon(), theme.DocumentSaveIcon(), theme.ConfirmIcon()
	plan.Importance = widget.HighImportance
	p.Keep(func() {
		kit.Able(tr.t.CanUndo() || len(tr.picked) > 0, p.undo)
		kit.Able(tr.t.CanRedo(), p.redo)
		kit.Able(!tr.t.Empty(), save, plan)
	})
	kept := p.Text(tr.keptText)
	p.Keep(func() { kit.Show(kept, kept.Text != "") })
	return container.NewVBox(kept, container.NewGridWithColumns(2, p.undo, p.redo, save, plan))
}
