package fairing

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/outlining"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/source"
)

// drawingOpened opens the dialog on a drawing.
func drawingOpened(t testing.TB, d *desk.Desk, path string) *outlinesDialog {
	t.Helper()
	c := source.Check(path, drawing.Options{})
	require.True(t, IsDrawing(&c))
	o := OpenOutlines(d, path, &c)
	require.NotNil(t, o)
	return o
}

func lineOf(t testing.TB, o *outlinesDialog, name string) int {
	t.Helper()
	for i := range o.use.Lines {
		if l := &o.use.Lines[i]; l.Name == name || (l.Frame == name && l.Mark != drawing.Unused) {
			return i
		}
	}
	t.Fatalf("no line %s", name)
	return -1
}

// read waits for what was said to be read.
func (o *outlinesDialog) settled(t testing.TB, sound bool) {
	t.Helper()
	windowtest.Until(t, func() bool { return o.accept.Disabled() != sound })
}

func TestOpeningADrawingShowsWhatWasFound(t *testing.T) {
	d := windowtest.NewDesk(t)
	old := d.Session
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	assert.NotNil(t, d.Win.Canvas().Overlays().Top())
	assert.Same(t, old, d.Session, "nothing is opened before it is looked at")
	assert.Contains(t, o.told.Text, "5 frames, from A at x 0.0 mm to E at x 160.0 mm")
	o.take()
	windowtest.Until(t, func() bool { return d.Session != old })
	assert.Len(t, d.Plan().Hull.Frames, 5)
	assert.Equal(t, "frames", d.Plan().Title)
	assert.True(t, d.Session.Changed(), "it is in no file yet")
}

func TestMissingXIsTyped(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "middle", func(i int) string { return fmt.Sprintf("mould%d", i+1) }))
	assert.True(t, o.accept.Disabled())
	for i := range o.use.Lines {
		assert.Equal(t, drawing.Unused, o.use.Lines[i].Mark)
	}
	o.pick(lineOf(t, o, "middle"))
	o.edit.kind.SetSelected("mark of the centre line")
	for i := range 5 {
		o.pick(lineOf(t, o, fmt.Sprintf("mould%d", i+1)))
		o.edit.kind.SetSelected("outline of a frame")
		o.edit.frame.SetText(fmt.Sprintf("M%d", i+1))
		o.edit.x.Entry.SetText(fmt.Sprint(30 * i))
		o.edit.x.Commit()
	}
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "5 frames, from M1 at x 0.0 mm to M5 at x 120.0 mm")
	assert.Contains(t, o.lineText(o.chosen), "frame M5 at x 120.0 mm")
	// The outlines are those of the drawing: a frame's half-breadth is its ellipse's.
	f := o.result.Hull.Frames[2]
	assert.InDelta(t, 38, f.Points[0].Y(), 0.002)
	assert.InDelta(t, 50, f.Points[0].Z(), 0.002)
	assert.InDelta(t, 0, f.Points[len(f.Points)-1].Y(), 0.002)
	for _, p := range f.Points {
		assert.InDelta(t, 1, p.Y()*p.Y()/38/38+(50-p.Z())*(50-p.Z())/50/50, 1e-3, "on the ellipse that was drawn")
	}
	o.pick(0)
	assert.NotNil(t, o.plot.Paint(500, 400))
}

// The x in the names are kept though the drawing as it is has no centre line.
func TestXInNamesIsKeptWhereAnotherThingIsWrong(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "middle", func(i int) string { return fmt.Sprintf("frame-%c-x-%d.5mm", 'A'+i, 40*i) }))
	assert.True(t, o.accept.Disabled())
	assert.Contains(t, o.told.Text, "Frames A, B, C, D, E: half an outline does not show the centre line")
	assert.Contains(t, o.lineText(lineOf(t, o, "B")), "frame B at x 40.5 mm")
	o.pick(lineOf(t, o, "middle"))
	o.edit.kind.SetSelected("mark of the centre line")
	o.settled(t, true)
	assert.Equal(t, 40.5, o.result.Hull.Frames[1].X())
	o.pick(lineOf(t, o, "C"))
	o.edit.kind.SetSelected("not used")
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "4 frames")
	o.edit.kind.SetSelected("outline of a frame")
	o.edit.frame.SetText("")
	o.settled(t, false)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "no name of its frame") })
}

func TestTapOnTheDrawingChoosesTheLine(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	size := o.plot.Size()
	o.plot.Paint(int(size.Width), int(size.Height))
	seen := map[int]bool{}
	for x := float32(0); x < size.Width; x += 3 {
		o.plot.Tapped(&fyne.PointEvent{Position: fyne.NewPos(x, size.Height/3)})
		seen[o.chosen] = true
	}
	assert.Len(t, seen, 6)
}

func TestHalvesThatDifferAreTold(t *testing.T) {
	d := windowtest.NewDesk(t)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80"><path id="centre" d="M50 0V80"/>`)
	for i, half := range []float64{20, 32, 38, 34, 24} {
		fmt.Fprintf(&b, `<path id="%c-x-%d" d="M%g 10 A%g 50 0 0 1 50 60 A%g 50 0 0 1 %g 10"/>`, 'A'+i, 40*i, 50+half, half, half-0.4, 50-half+0.4)
	}
	b.WriteString("</svg>")
	path := filepath.Join(t.TempDir(), "whole.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	o := drawingOpened(t, d, path)
	assert.Contains(t, o.told.Text, "the halves differ most on frame")
	before := o.result.Hull.Frames[2].Points[0].Y()
	assert.InDelta(t, 37.8, before, 0.01, "the mean of 38 and 37.6")
	o.pick(lineOf(t, o, "A"))
	o.edit.x.Entry.SetText("-5")
	o.edit.x.Commit()
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "the halves differ most on frame", "what is read again is the same")
	assert.InDelta(t, before, o.result.Hull.Frames[2].Points[0].Y(), 1e-3)
}

func TestOneHalfIsTakenAlone(t *testing.T) {
	d := windowtest.NewDesk(t)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80"><path id="centre" d="M50 0V80"/><path id="upper" d="M0 10.5H100"/><path id="rabbet" d="M48 50V70M52 50V70"/>`)
	for i, half := range []float64{20, 32, 38, 34, 24} { // closed by the deck, the left half narrower
		fmt.Fprintf(&b, `<path id="%c-x-%d" d="M%g 10 A%g 50 0 0 1 50 60 A%g 50 0 0 1 %g 10 Z"/>`, 'A'+i, 40*i, 50+half, half, half-1, 51-half)
	}
	b.WriteString("</svg>")
	path := filepath.Join(t.TempDir(), "whole.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	o := drawingOpened(t, d, path)
	require.Empty(t, o.wrong)
	for k, want := range []float64{37.5, 38, 37} {
		if k > 0 {
			o.scales.halves.SetSelectedIndex(k)
			o.settled(t, true)
			assert.Contains(t, o.told.Text, halfNames()[k]+" is taken")
		}
		p := o.result.Hull.Frames[2].Points[0]
		assert.InDelta(t, want, p.Y(), 0.02, "half-breadth just under the deck")
	}
}

// Circles that mark places stay marks when something else is said, and every step
// is undone and done again.
func TestCirclesStayMarksAndStepsAreUndone(t *testing.T) {
	d := windowtest.NewDesk(t)
	path := windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) })
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	circles := `<circle id="upper-C" cx="87.5" cy="18" r="1"/><path id="plank" d="M1 1h4"/></svg>`
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), "</svg>", circles, 1)), 0o600))
	o := drawingOpened(t, d, path)
	require.Empty(t, o.wrong)
	before := o.result.Hull.Frames[2].Points[0]
	assert.Less(t, before.Z(), 43.0, "cut off at the circle")
	assert.True(t, o.undo.Disabled())

	o.pick(lineOf(t, o, "A"))
	o.edit.x.Entry.SetText("-5")
	o.edit.x.Commit()
	o.settled(t, true)
	assert.Equal(t, before, o.result.Hull.Frames[2].Points[0])
	o.pick(lineOf(t, o, "plank"))
	o.edit.kind.SetSelected("mark of the rabbet")
	o.edit.frame.SetText("D")
	o.edit.frame.SetText("De")
	o.settled(t, false)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "The mark rabbet-De has no frame in the drawing") })
	o.undo.OnTapped() // both letters
	o.settled(t, false)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "the mark rabbet does not meet its outline") })
	o.undo.OnTapped()
	o.settled(t, true)
	assert.Equal(t, -5.0, o.result.Hull.Frames[0].X())
	o.undo.OnTapped()
	o.settled(t, true)
	assert.Equal(t, 0.0, o.result.Hull.Frames[0].X())
	assert.True(t, o.undo.Disabled())
	o.redo.OnTapped()
	o.settled(t, true)
	assert.Equal(t, -5.0, o.result.Hull.Frames[0].X())
	assert.False(t, o.redo.Disabled())
}

// A stem drawn from the side is told with its half-siding and the x of its upper
// end; all that is drawn is scaled, and what is typed is not.
func TestStemFromTheSideAndScale(t *testing.T) {
	d := windowtest.NewDesk(t)
	path := windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) })
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	side := `<path id="cutwater" d="M5 10L20 60"/></svg>`
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), "</svg>", side, 1)), 0o600))
	o := drawingOpened(t, d, path)
	o.pick(lineOf(t, o, "cutwater"))
	assert.False(t, o.edit.only.Visible())
	o.edit.kind.SetSelected("stem, seen from the side")
	o.settled(t, false)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "along the hull") })
	assert.True(t, o.edit.only.Visible())
	o.edit.siding.Entry.SetText("1.5")
	o.edit.siding.Commit()
	o.edit.x.Entry.SetText("-30")
	o.edit.x.Commit()
	o.settled(t, true)
	stem := o.result.Hull.Frames[0]
	assert.Equal(t, "stem", stem.Name)
	assert.InDelta(t, 0, stem.Points[0].Sub(mgl64.Vec3{-30, 1.5, 50}).Len(), 1e-6)
	assert.InDelta(t, 0, stem.Points[len(stem.Points)-1].Sub(mgl64.Vec3{-15, 1.5, 0}).Len(), 1e-6)
	assert.Contains(t, o.lineText(o.chosen), "stem, from the side at x -30.0 mm")

	o.scales.drawn.SetText("1:48")
	o.scales.drawn.OnSubmitted("")
	o.scales.model.SetText("96")
	o.scales.model.OnSubmitted("")
	o.settled(t, true)
	windowtest.Until(t, func() bool { return strings.Contains(o.told.Text, "scaled by 0.5") })
	stem = o.result.Hull.Frames[0]
	assert.InDelta(t, 0, stem.Points[0].Sub(mgl64.Vec3{-30, 1.5, 25}).Len(), 1e-6)
	assert.InDelta(t, 19, o.result.Hull.Frames[3].Points[0].Y(), 0.002)
	assert.Equal(t, 80.0, o.result.Hull.Frames[3].X())
}

// The list shows what is asked for, and a line chosen that it does not show has it
// show all.
func TestListOfOutlinesIsFiltered(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return []string{"A-x-0", "bracket", "C-x-80", "D-x-120", "E-x-160"}[i] }))
	assert.Equal(t, "all lines (6)", o.filter.Selected)
	o.filter.SetSelectedIndex(3)
	assert.Equal(t, "not used (1)", o.filter.Selected)
	require.Len(t, o.listed, 1)
	assert.Equal(t, "bracket", o.use.Lines[o.listed[0]].Name)
	o.pick(lineOf(t, o, "C"))
	assert.Equal(t, "all lines (6)", o.filter.Selected)
	assert.Equal(t, lineOf(t, o, "C"), o.chosen)
	assert.Contains(t, o.aboutText(o.chosen), "C-x-80: open, 38.0 x 50.0 mm")
}

// Many lines are made frames in one step, under their own names, and their x typed
// one after another.
func TestAllShownAreFrames(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("mould %d", i+1) }))
	o.filter.SetSelectedIndex(3)
	require.Len(t, o.listed, 5)
	o.choose(lineOf(t, o, "centre"))
	o.allFrames()
	assert.Equal(t, "mould 1", o.edit.frame.Text, "the first without an x is next")
	o.filter.SetSelectedIndex(2)
	assert.Equal(t, "frames without an x (5)", o.filter.Selected)
	o.pick(o.listed[0])
	for i := range 5 {
		assert.Equal(t, fmt.Sprintf("mould %d", i+1), o.edit.frame.Text)
		o.edit.x.Entry.SetText(fmt.Sprint(25 * i))
		o.edit.x.Entry.OnSubmitted("")
	}
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "5 frames, from mould 1 at x 0.0 mm to mould 5 at x 100.0 mm")
	for range 6 {
		o.undo.OnTapped()
	}
	assert.False(t, o.use.CanUndo())
	assert.Equal(t, drawing.Unused, o.use.Lines[lineOf(t, o, "mould 3")].Mark)
}

func TestDrawingWithoutLinesIsRefused(t *testing.T) {
	d := windowtest.NewDesk(t)
	var said string
	d.Say = func(s string) { said = s }
	path := filepath.Join(t.TempDir(), "empty.svg")
	require.NoError(t, os.WriteFile(path, []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), 0o600))
	c := source.Check(path, drawing.Options{})
	assert.Nil(t, OpenOutlines(d, path, &c))
	assert.Contains(t, said, "outline")
}

// TestStoppedReadingOfADrawing: Stop ends the reading, and the plan can be asked
// for all the same, which reads what was said first.
func TestStoppedReadingOfADrawing(t *testing.T) {
	d := windowtest.NewDesk(t)
	o := drawingOpened(t, d, windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	require.False(t, o.accept.Disabled())
	read := o.readUse
	readings := make(chan context.Context, 10)
	o.readUse = func(_ *outlining.Use, ctx context.Context) (*drawing.Drawing, []fault.Fault, error) {
		readings <- ctx
		<-ctx.Done()
		return nil, nil, ctx.Err()
	}
	e := lineOf(t, o, "E")
	o.say("", func() { o.use.Lines[e].X = 200 })
	first := <-readings
	assert.True(t, o.accept.Disabled(), "what was read is not what was said")
	o.say("", func() { o.use.Lines[e].X = 210 })
	second := <-readings
	<-first.Done() // what is said after makes it of no use
	assert.NoError(t, second.Err())

	var stop *kit.Button
	windowtest.Until(t, func() bool {
		stop = nil
		windowtest.Walk(d.Win.Canvas().Overlays().Top(), func(x fyne.CanvasObject) {
			if b, ok := x.(*kit.Button); ok && b.Text == "Stop" {
				stop = b
			}
		})
		return stop != nil
	})
	test.Tap(stop)
	<-second.Done()
	assert.False(t, o.accept.Disabled())
	assert.Contains(t, o.told.Text, "Stopped")

	o.readUse = read
	old := d.Session
	test.Tap(o.accept)
	windowtest.Until(t, func() bool { return d.Session != old })
	frames := d.Plan().Hull.Frames
	assert.InDelta(t, 210, frames[len(frames)-1].X(), 1e-9, "what was said last")
}
