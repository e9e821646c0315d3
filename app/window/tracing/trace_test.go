package tracing

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/picture"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/source"
)

// scanScale is the pixels to a mm of the scan; y = 0, z = 0 is at pixel (600, 150).
const scanScale = 10

// scanned is where a point of a frame lies on the scan.
func scanned(y, z float64) trace.Point { return trace.Pt(600+scanScale*y, 150-scanScale*z) }

// scan writes a body plan of every second frame of Wigley's hull as a PNG.
func scan(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "body plan.png")
	require.NoError(t, os.WriteFile(path, scanPNG(), 0o600))
	return path
}

// scanPNG is drawn once for all tests.
var scanPNG = sync.OnceValue(func() []byte {
	var d draw.Drawing
	for i := 0; i < 13; i += 2 {
		var line []draw.Point
		for _, p := range apptest.Wigley().Frames[i].Points {
			q := scanned(sideOf(i)*p.Y(), p.Z())
			line = append(line, draw.Pt(q.X, q.Y))
		}
		d.Line(draw.Cut, draw.Pen{Width: 3}, line...)
	}
	d.Line(draw.Cut, draw.Pen{Width: 2}, draw.Pt(100, 700), draw.Pt(1100, 700))
	px, err := draw.NewPixels(draw.Lettering())
	if err != nil {
		panic(err)
	}
	m := image.NewRGBA(image.Rect(0, 0, 1200, 760))
	px.Render(m, &d, &draw.Print, draw.View{Scale: 1})
	return encoded(m)
})

// encoded is an image as a PNG, quickly made.
func encoded(m image.Image) []byte {
	var out bytes.Buffer
	fast := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := fast.Encode(&out, m); err != nil {
		panic(err)
	}
	return out.Bytes()
}

// sideOf is the side of the body plan on which a frame is drawn.
func sideOf(i int) float64 {
	if i < 6 {
		return -1
	}
	return 1
}

// newTracing opens the window for tracing on the scan.
func newTracing(t *testing.T) (*Tracings, *tracer) {
	t.Helper()
	w := &Tracings{Main: windowtest.NewDesk(t)}
	tr := w.Show()
	t.Cleanup(func() {
		if w.open != nil {
			w.open.end()
		}
	})
	tr.Win.Resize(fyne.NewSize(1280, 760))
	tr.OpenAt(scan(t))
	windowtest.Until(t, func() bool { return tr.t.Ground() == 0 })
	tr.board.Paint(900, 700)
	return w, tr
}

func (b *traceBoard) event(at trace.Point, button desktop.MouseButton, m fyne.KeyModifier) *desktop.MouseEvent {
	p := b.On(at)
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: windowtest.Pos(p), AbsolutePosition: windowtest.Pos(p)}, Button: button, Modifier: m}
}

// clickOn clicks on a place of the picture.
func clickOn(b *traceBoard, at trace.Point, m fyne.KeyModifier) {
	b.MouseMoved(b.event(at, 0, m))
	b.MouseDown(b.event(at, desktop.MouseButtonPrimary, m))
	b.MouseUp(b.event(at, desktop.MouseButtonPrimary, m))
	b.Paint(90, 70) // where the view lies is settled when it is drawn, however small
}

// press presses a button of the panel.
func (tr *tracer) press(t *testing.T, name string) {
	t.Helper()
	b := windowtest.ButtonNamed(t, tr.Win.Content(), name)
	require.NotNil(t, b, name)
	require.False(t, b.Disabled(), name)
	b.OnTapped()
}

// setUp sets the scale by the line of 100 mm, and the lines, where they are
// known to be: Shift keeps the snap out.
func (tr *tracer) setUp(t *testing.T) {
	t.Helper()
	tr.press(t, "Click the two points")
	clickOn(tr.board, trace.Pt(100, 700), fyne.KeyModifierShift)
	clickOn(tr.board, trace.Pt(1100, 700), fyne.KeyModifierShift)
	require.True(t, tr.t.Grounds()[0].Calibration.Set())
	tr.press(t, "Centre line")
	clickOn(tr.board, scanned(0, -20), fyne.KeyModifierShift)
	tr.press(t, "Base line")
	clickOn(tr.board, scanned(20, 0), fyne.KeyModifierShift)
}

func TestABodyPlanIsTracedByTheMouseAlone(t *testing.T) {
	w, tr := newTracing(t)
	assert.Contains(t, tr.foot.Text, "scale")
	tr.setUp(t)
	h := apptest.Wigley()
	tr.board.TypedRune('f') // point by point
	for i := 0; i < 13; i += 2 {
		tr.press(t, "Add a frame")
		require.NoError(t, tr.t.SetX(h.Frames[i].X()))
		for _, p := range h.Frames[i].Points {
			clickOn(tr.board, scanned(sideOf(i)*p.Y(), p.Z()), 0)
		}
		tr.board.Paint(900, 700)
	}
	// a click is given in whole pixels of the screen, of which there are
	// fewer than of the scan; the snap draws most back to the line
	got, faults := tr.t.Hull()
	require.Empty(t, faults)
	snapped := 0
	for k, f := range got.Frames {
		want := h.Frames[2*k]
		assert.InDelta(t, want.X(), f.X(), 1e-9)
		require.Len(t, f.Points, len(want.Points))
		for j, p := range f.Points {
			assert.InDelta(t, 0, math.Hypot(p.Y()-want.Points[j].Y(), p.Z()-want.Points[j].Z()), 0.3)
			if tr.t.Frames()[k].Halves[0][j].Snapped {
				snapped++
			}
		}
	}
	assert.Greater(t, snapped, 7*13/2)
	rows := tr.frameRows()
	require.Len(t, rows, 7)
	windowtest.NothingCutAnywhere(t, tr.panel.table)
	k := windowtest.Keyboard{Win: tr.Win}
	tr.panel.table.Put(widget.TableCellID{Row: 2, Col: xColumn})
	tr.Win.Canvas().Focus(tr.panel.table)
	k.Press(fyne.KeyF2)
	k.Type("-60.5")
	k.Press(fyne.KeyReturn)
	assert.InDelta(t, -60.5, tr.t.Frames()[2].X, 1e-9, "x is entered in the table, too")
	tr.did(tr.t.SetX(got.Frames[2].X()))
	assert.Equal(t, []string{"A", "-180.00", "13"}, rows[0][:3])

	path := filepath.Join(t.TempDir(), "points.csv")
	tr.savePoints()
	var entry *widget.Entry
	windowtest.Walk(tr.Win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if e, ok := o.(*kit.Field); ok {
			entry = &e.Entry
		}
	})
	require.NotNil(t, entry)
	entry.SetText(path)
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Save").OnTapped()
	file, err := os.Open(path)
	require.NoError(t, err)
	back, err := source.ReadPoints(file, "points.csv")
	_ = file.Close()
	require.NoError(t, err)
	assert.Equal(t, got.Frames[3].Points, back.Frames[3].Points)

	tr.press(t, "Make the plan")
	assert.Equal(t, "body plan", w.Main.Session.Title())
	assert.Len(t, w.Main.Plan().Hull.Frames, 7)
	assert.True(t, w.Main.Session.Changed())
	assert.False(t, tr.lost())
}

func TestTheSnapIsLeftOutWithShiftAndBySwitch(t *testing.T) {
	_, tr := newTracing(t)
	tr.setUp(t)
	tr.press(t, "Add a frame")
	on := apptest.Wigley().Frames[6].Points[4]
	near := scanned(on.Y()+0.4, on.Z())
	mark := func(k int) trace.Mark { return tr.t.Frames()[0].Halves[0][k] }
	// points kept apart, so that no click takes hold of the one before
	clickOn(tr.board, near, 0)
	assert.True(t, mark(0).Snapped)
	assert.Greater(t, math.Hypot(mark(0).At.X-near.X, mark(0).At.Y-near.Y), 1.5)
	tr.undo()
	clickOn(tr.board, near, fyne.KeyModifierShift)
	assert.False(t, mark(0).Snapped)
	assert.InDelta(t, near.X, mark(0).At.X, 0.01)
	tr.undo()
	tr.snap = false
	clickOn(tr.board, near, 0)
	assert.False(t, mark(0).Snapped)
	tr.undo()
	tr.snap = true
	clickOn(tr.board, scanned(0, -10), 0)
	assert.False(t, mark(0).Snapped)
	assert.Contains(t, tr.foot.Text, "There is no clear outline there")
}

func TestPointsAreDraggedMarkedAndRemoved(t *testing.T) {
	_, tr := newTracing(t)
	tr.setUp(t)
	b := tr.board
	tr.snap = false
	tr.press(t, "Add a frame")
	places := []trace.Point{scanned(40, 0), scanned(35, -20), scanned(20, -40), scanned(2, -48)}
	for _, p := range places {
		clickOn(b, p, 0)
	}
	b.MouseDown(b.event(places[1], desktop.MouseButtonPrimary, 0))
	b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: windowtest.Pos(b.On(scanned(36, -22)))}})
	b.Paint(900, 700)
	b.MouseUp(b.event(scanned(36, -22), desktop.MouseButtonPrimary, 0))
	b.DragEnd()
	got := tr.t.Frames()[0].Halves[0][1].At
	assert.InDelta(t, scanned(36, -22).X, got.X, 0.01)
	tr.undo()
	assert.InDelta(t, places[1].X, tr.t.Frames()[0].Halves[0][1].At.X, 0.01, "one step takes the drag back")

	items := b.items(windowtest.Pos(b.On(places[2])))
	assert.Equal(t, "Knuckle: keep this corner", items[0].Label)
	items[0].Action()
	assert.True(t, tr.t.Frames()[0].Halves[0][2].Knuckle)
	b.items(windowtest.Pos(b.On(places[2])))[2].Action()
	assert.Len(t, tr.t.Frames()[0].Halves[0], 5)
	b.items(windowtest.Pos(b.On(places[0])))[1].Action()
	assert.Len(t, tr.t.Frames()[0].Halves[0], 4)
	tr.press(t, "Knuckle at the last point")
	assert.True(t, tr.t.Frames()[0].Halves[0][3].Knuckle)
	for tr.t.CanUndo() {
		tr.press(t, "Undo")
	}
	assert.Empty(t, tr.t.Grounds())
	b.Paint(900, 700)
	for tr.t.CanRedo() {
		tr.press(t, "Redo")
	}
	assert.Len(t, tr.t.Frames()[0].Halves[0], 4)
}

func TestTheViewZoomsAndPansAboutThePointer(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	assert.Equal(t, desktop.CrosshairCursor, b.Cursor())
	for range 2 { // before it has a scale, and after
		p := b.On(trace.Pt(300, 200))
		b.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: windowtest.Pos(p)}, Scrolled: fyne.NewDelta(0, 100)})
		q := b.On(trace.Pt(300, 200))
		assert.InDelta(t, p.X, q.X, 0.01)
		assert.InDelta(t, p.Y, q.Y, 0.01)
		before := b.On(trace.Pt(310, 200))
		assert.Greater(t, before.X-q.X, 10*0.8)
		// the right button, of which Fyne tells as of a pointer that moves
		down := b.event(trace.Pt(300, 200), desktop.MouseButtonSecondary, 0)
		b.MouseDown(down)
		b.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: down.Position.AddXY(30, -20)}, Button: desktop.MouseButtonSecondary})
		b.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: down.Position.AddXY(30, -20)}, Button: desktop.MouseButtonSecondary})
		moved := b.On(trace.Pt(300, 200))
		assert.InDelta(t, q.X+30, moved.X, 0.01)
		assert.InDelta(t, q.Y-20, moved.Y, 0.01)
		assert.Nil(t, tr.Win.Canvas().Overlays().Top(), "a drag opens no menu")
		// the middle one
		b.MouseDown(b.event(trace.Pt(300, 200), desktop.MouseButtonTertiary, 0))
		b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(moved.X)+10, float32(moved.Y))}})
		b.DragEnd()
		assert.InDelta(t, moved.X+10, b.On(trace.Pt(300, 200)).X, 0.01)
		assert.True(t, tr.t.Empty())
		b.Fit()
		b.Paint(900, 700)
		if tr.t.Grounds()[0].Calibration.Set() {
			break
		}
		tr.setUp(t)
	}
	assert.Contains(t, tr.foot.Text, "Click the upper end")
	b.MouseMoved(b.event(scanned(12, -30), 0, 0))
	assert.Contains(t, tr.foot.Text, "y 12.00, z -30.00 mm")
}

func TestFourCornersSquareThePicture(t *testing.T) {
	_, tr := newTracing(t)
	tr.known.width, tr.known.height = 100, 55
	tr.panel.ways.SelectIndex(1)
	tr.press(t, "Click the four corners")
	for _, p := range []trace.Point{{X: 100, Y: 150}, {X: 1100, Y: 150}, {X: 1100, Y: 700}, {X: 100, Y: 700}} {
		clickOn(tr.board, p, 0)
	}
	assert.InDelta(t, 0.1, tr.t.Grounds()[0].Calibration.PixelAt(trace.Pt(500, 500)), 1e-3)
	tr.press(t, "Click the four corners")
	for _, p := range []trace.Point{{X: 100, Y: 700}, {X: 1100, Y: 700}, {X: 1100, Y: 150}, {X: 100, Y: 150}} {
		clickOn(tr.board, p, 0)
	}
	assert.Contains(t, tr.foot.Text, "wrong way round")
	assert.True(t, tr.t.Grounds()[0].Calibration.Set(), "the old one stays")
}

func TestFaultsAreToldAndNothingIsLost(t *testing.T) {
	w, tr := newTracing(t)
	tr.setUp(t)
	tr.press(t, "Add a frame")
	clickOn(tr.board, scanned(40, 0), 0)
	before := w.Main.Session
	tr.press(t, "Make the plan")
	said := ""
	windowtest.Walk(tr.Win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			said += l.Text + "\n"
		}
	})
	assert.Contains(t, said, "a hull needs 3 or more")
	assert.Same(t, before, w.Main.Session)
	tr.Win.Canvas().Overlays().Top().Hide()

	gone := false
	require.True(t, w.Holds(func() { gone = true }))
	assert.False(t, gone, "it asks first")
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Leave them").OnTapped()
	assert.True(t, gone)
	assert.Nil(t, w.open)

	tr = w.Show()
	tr.OpenAt(filepath.Join(t.TempDir(), "none.png"))
	windowtest.Until(t, func() bool { return tr.Win.Canvas().Overlays().Top() != nil })
	assert.Equal(t, -1, tr.t.Ground())
}

func TestNamesOfFramesGoOn(t *testing.T) {
	for name, want := range map[string]string{"": "A", "A": "B", "Z": "Z1", "9": "10", "F7": "F8", "m": "n"} {
		assert.Equal(t, want, following(name))
	}
	name, x := nextFrame([]trace.Frame{{Name: "1", X: 10}, {Name: "3", X: 25}, {Name: "2", X: 40}, {Name: "stern"}})
	assert.Equal(t, "4", name)
	assert.InDelta(t, 55, x, 1e-9)
}

// openScan begins a tracing on a picture and waits until it is there.
func openScan(t *testing.T, tr *tracer, path string) {
	t.Helper()
	tr.OpenAt(path)
	windowtest.Until(t, func() bool { return tr.t.Ground() == 0 })
	tr.board.Paint(900, 700)
}

func key(b *traceBoard, name fyne.KeyName) {
	b.TypedKey(&fyne.KeyEvent{Name: name})
	b.Paint(900, 700)
}

func TestATracingIsResumedFromItsPicture(t *testing.T) {
	w := &Tracings{Main: windowtest.NewDesk(t)}
	path := scan(t)
	tr := w.Show()
	tr.Win.Resize(fyne.NewSize(1280, 760))
	openScan(t, tr, path)
	tr.setUp(t)
	h := apptest.Wigley()
	for i := range 2 {
		key(tr.board, fyne.KeyReturn)
		for _, p := range h.Frames[2*i].Points {
			clickOn(tr.board, scanned(sideOf(2*i)*p.Y(), p.Z()), 0)
		}
	}
	want := tr.t.Frames()
	said := ""
	tr.leave(func() {})
	windowtest.Walk(tr.Win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			said += l.Text + "\n"
		}
	})
	assert.Contains(t, said, filepath.Base(path)+trace.KeptSuffix)
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Leave them").OnTapped()
	require.Nil(t, w.open)

	tr = w.Show()
	tr.OpenAt(path)
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Resume it").OnTapped()
	windowtest.Until(t, func() bool { return tr.t.Ground() == 0 })
	assert.Equal(t, want, tr.t.Frames())
	assert.Contains(t, tr.foot.Text, "2 frames")
	assert.InDelta(t, 100, tr.known.distance, 1e-9)
	assert.False(t, tr.lost(), "it is as it was kept")
	require.False(t, tr.Gone)
	tr.end()

	tr = w.Show()
	tr.OpenAt(path)
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Start over").OnTapped()
	windowtest.Until(t, func() bool { return tr.t.Ground() == 0 })
	assert.True(t, tr.t.Empty())
	_, err := os.Stat(path + trace.KeptSuffix + ".old")
	require.NoError(t, err, "the old one is put aside")
	tr.end()

	require.NoError(t, os.WriteFile(path+trace.KeptSuffix, []byte("{"), 0o600))
	tr = w.Show()
	tr.OpenAt(path)
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Resume it").OnTapped()
	windowtest.ButtonNamed(t, tr.Win.Canvas().Overlays().Top(), "Put it aside").OnTapped()
	windowtest.Until(t, func() bool { return tr.t.Ground() == 0 })
	tr.end()
}

func TestEveryClickOfTheScaleIsTakenBack(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	tr.press(t, "Click the two points")
	clickOn(b, trace.Pt(100, 700), fyne.KeyModifierShift)
	clickOn(b, trace.Pt(1100, 700), fyne.KeyModifierShift)
	assert.Equal(t, traceCentre, tr.tool, "what comes next is in hand at once")
	clickOn(b, trace.Pt(600, 300), fyne.KeyModifierShift)
	assert.Equal(t, traceBase, tr.tool)
	clickOn(b, trace.Pt(600, 150), fyne.KeyModifierShift)
	assert.Equal(t, traceClicks, tr.tool)
	assert.Equal(t, framesTab, tr.panel.tabs.SelectedIndex())

	tr.undo()
	assert.Equal(t, traceBase, tr.tool)
	assert.False(t, tr.t.Lines().HasBase)
	tr.undo()
	assert.Equal(t, traceCentre, tr.tool)
	tr.undo()
	assert.Equal(t, traceScale, tr.tool)
	require.Len(t, tr.picked, 1, "the second click is taken back, and not the first")
	assert.InDelta(t, 100, tr.picked[0].X, 0.01)
	assert.False(t, tr.t.Grounds()[0].Calibration.Set())
	b.Paint(900, 700)
	clickOn(b, trace.Pt(1100, 700), fyne.KeyModifierShift)
	assert.InDelta(t, 0.1, tr.t.Grounds()[0].Calibration.PixelAt(trace.Pt(1, 1)), 1e-4)
	tr.undo()
	tr.undo()
	assert.Empty(t, tr.picked)
	assert.Contains(t, tr.foot.Text, "the left of two points")
	key(b, fyne.KeyEscape)
	assert.Equal(t, traceClicks, tr.tool)
	tr.redo()
	b.Paint(900, 700)
	p, s := b.On(trace.Pt(600, 380)), b.Size()
	assert.InDelta(t, float64(s.Width)/2, p.X, 1, "the whole is shown again in its new scale")
	assert.InDelta(t, float64(s.Height)/2, p.Y, 1)
}

// The first click along a frame begins it, where the scale is known; each of both
// is taken back by itself.
func TestFirstClickBeginsAFrame(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	clickOn(b, trace.Pt(700, 300), fyne.KeyModifierShift)
	assert.Empty(t, tr.t.Frames(), "nothing is known of the picture yet")
	tr.press(t, "Click the two points")
	for _, p := range []trace.Point{trace.Pt(100, 700), trace.Pt(1100, 700), trace.Pt(600, 300), trace.Pt(600, 650), trace.Pt(900, 200)} {
		clickOn(b, p, fyne.KeyModifierShift)
	}
	require.Len(t, tr.t.Frames(), 1)
	f, ok := tr.frame()
	require.True(t, ok)
	assert.Equal(t, 1, len(f.Halves[0])+len(f.Halves[1]))
	tr.undo()
	tr.undo()
	assert.Empty(t, tr.t.Frames())
}

func TestKeysTraceAsTheMouseDoes(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	tr.setUp(t)
	tr.snap = false
	key(b, fyne.KeyReturn)
	require.Len(t, tr.t.Frames(), 1)
	key(b, fyne.KeyReturn)
	assert.Len(t, tr.t.Frames(), 1, "none is begun before the one at hand has a point")
	clickOn(b, scanned(40, 0), 0)
	clickOn(b, scanned(30, -30), 0)
	before := tr.t.Frames()[0].Halves[0][1].At
	key(b, fyne.KeyRight)
	key(b, fyne.KeyDown)
	at := tr.t.Frames()[0].Halves[0][1].At
	assert.InDelta(t, before.X+1, at.X, 0.01)
	assert.InDelta(t, before.Y+1, at.Y, 0.01)
	b.TypedRune('k')
	assert.True(t, tr.t.Frames()[0].Halves[0][1].Knuckle)
	b.MouseMoved(b.event(scanned(40, 0), 0, 0))
	key(b, fyne.KeyDelete)
	require.Len(t, tr.t.Frames()[0].Halves[0], 1, "the point under the pointer goes")
	assert.InDelta(t, at.X, tr.t.Frames()[0].Halves[0][0].At.X, 0.01)
	key(b, fyne.KeyBackspace)
	assert.Len(t, tr.t.Frames()[0].Halves[0], 2)

	p := b.On(scanned(40, 0))
	b.TypedRune('+')
	q := b.On(scanned(40, 0))
	assert.InDelta(t, p.X, q.X, 0.01, "it zooms about the pointer")
	b.TypedRune('-')
	key(b, fyne.KeyReturn)
	assert.Len(t, tr.t.Frames(), 2)
	assert.InDelta(t, 20, tr.t.Frames()[1].X, 1e-9)
}

// The magnifier shows what lies under the pointer, in a corner out of its way.
func TestTheMagnifierShowsWhatIsUnderThePointer(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	at := trace.Pt(600, 700) // on the scan's black line
	show := func(p trace.Point) (corner draw.Point, dark bool) {
		b.MouseMoved(b.event(p, 0, 0))
		m := b.Paint(900, 700).(*image.RGBA)
		corner, ok := b.Lens()
		require.True(t, ok)
		scale := 900 / float64(b.Size().Width)
		r, _, _, _ := m.At(int((corner.X+picture.LensSide/2+3)*scale), int((corner.Y+picture.LensSide/2)*scale)).RGBA()
		return corner, r < 0x8000
	}
	_, dark := show(at)
	assert.True(t, dark)
	first, dark := show(trace.Pt(600, 720))
	assert.False(t, dark)
	under, _ := b.At(windowtest.Pos(draw.Pt(first.X+20, first.Y+picture.LensSide-10)))
	moved, _ := show(under)
	assert.NotEqual(t, first.X, moved.X, "it moves out of the pointer's way")
	b.TypedRune('m')
	_, ok := b.Lens()
	assert.False(t, ok)
}

// The centre line is drawn to lines that run upright, the base line to level
// ones, and the scale to corners.
func TestCalibrationClicksAreDrawnToTheDrawing(t *testing.T) {
	_, tr := newTracing(t)
	b := tr.board
	tr.press(t, "Click the two points")
	clickOn(b, trace.Pt(103, 701), 0) // the line runs from (100, 700) to (1100, 700)
	require.Len(t, tr.picked, 1)
	assert.InDelta(t, 700, tr.picked[0].Y, 0.3)
	clickOn(b, trace.Pt(1100, 700), fyne.KeyModifierShift)
	clickOn(b, trace.Pt(700, 703), 0)
	assert.InDelta(t, 703, tr.t.Lines().Centre.Y, 1, "a level line is no centre line")
	assert.Equal(t, traceBase, tr.tool)
	clickOn(b, trace.Pt(700, 703), 0)
	assert.InDelta(t, 700, tr.t.Lines().Base.Y, 0.3)
}
