package window

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app/draw/views"
	"strakewright/hull"
)

// drawnFrames is a drawing of five half frames side by side, each a quarter of
// an ellipse named by name(i), with a centre line called centre.
func drawnFrames(t testing.TB, centre string, name func(i int) string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">` + "\n")
	fmt.Fprintf(&b, `<path id="%s" d="M50 0V80"/>`+"\n", centre)
	for i, half := range []float64{20, 32, 38, 34, 24} {
		fmt.Fprintf(&b, `<path id="%s" d="M%g 10 A%g 50 0 0 1 50 60"/>`+"\n", name(i), 50+half, half)
	}
	b.WriteString("</svg>\n")
	path := filepath.Join(t.TempDir(), "frames.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	return path
}

// drawing opens the dialog on a drawing.
func drawing(t testing.TB, w *Window, path string) *outlinesDialog {
	t.Helper()
	c := hull.CheckFile(path)
	require.True(t, isDrawing(&c))
	o := w.desk.outlines(path, &c)
	require.NotNil(t, o)
	return o
}

func lineOf(t testing.TB, o *outlinesDialog, name string) int {
	t.Helper()
	for i := range o.use.lines {
		if o.use.lines[i].Name == name {
			return i
		}
	}
	t.Fatalf("no line %s", name)
	return -1
}

// read waits for what was said to be read.
func (o *outlinesDialog) settled(t testing.TB, sound bool) {
	t.Helper()
	until(t, func() bool { return o.accept.Disabled() != sound })
}

func TestOpeningADrawingShowsWhatWasFound(t *testing.T) {
	w := newWindow(t)
	old := w.desk.s
	w.desk.load(drawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	until(t, func() bool { return w.Canvas().Overlays().Top() != nil })
	assert.Same(t, old, w.desk.s, "nothing is opened before it is looked at")
	o := drawing(t, w, drawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	assert.Contains(t, o.told.Text, "5 frames, from A at x 0.0 mm to E at x 160.0 mm")
	o.take()
	until(t, func() bool { return w.desk.s != old })
	assert.Len(t, w.desk.plan().Hull.Frames, 5)
	assert.Equal(t, "frames", w.desk.plan().Title)
	assert.True(t, w.desk.s.Changed(), "it is in no file yet")
}

func TestMissingXIsTyped(t *testing.T) {
	w := newWindow(t)
	o := drawing(t, w, drawnFrames(t, "middle", func(i int) string { return fmt.Sprintf("mould%d", i+1) }))
	assert.True(t, o.accept.Disabled())
	for i := range o.use.lines {
		assert.Equal(t, views.Unused, o.use.lines[i].Mark)
	}
	o.list.Select(lineOf(t, o, "middle"))
	o.kind.SetSelected("mark of the centre line")
	for i := range 5 {
		o.list.Select(lineOf(t, o, fmt.Sprintf("mould%d", i+1)))
		o.kind.SetSelected("outline of a frame")
		o.frame.SetText(fmt.Sprintf("M%d", i+1))
		o.x.entry.SetText(fmt.Sprint(30 * i))
		o.x.commit()
	}
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "5 frames, from M1 at x 0.0 mm to M5 at x 120.0 mm")
	assert.Contains(t, o.lineText(o.chosen), "frame M5 at x 120.0 mm")
	// The outlines are those of the drawing: a frame's half-breadth is its ellipse's.
	f := o.found.Hull.Frames[2]
	assert.InDelta(t, 38, f.Points[0].Y(), 0.002)
	assert.InDelta(t, 50, f.Points[0].Z(), 0.002)
	assert.InDelta(t, 0, f.Points[len(f.Points)-1].Y(), 0.002)
	for _, p := range f.Points {
		assert.InDelta(t, 1, p.Y()*p.Y()/38/38+(50-p.Z())*(50-p.Z())/50/50, 1e-3, "on the ellipse that was drawn")
	}
	o.list.Select(0)
	assert.NotNil(t, o.plot.paint(500, 400))
}

// The x in the names are kept though the drawing as it is has no centre line.
func TestXInNamesIsKeptWhereAnotherThingIsWrong(t *testing.T) {
	w := newWindow(t)
	o := drawing(t, w, drawnFrames(t, "middle", func(i int) string { return fmt.Sprintf("frame-%c-x-%d.5mm", 'A'+i, 40*i) }))
	assert.True(t, o.accept.Disabled())
	assert.Contains(t, o.told.Text, "Frames A, B, C, D, E: half an outline does not tell where the centre line is")
	assert.Contains(t, o.lineText(lineOf(t, o, "B")), "frame B at x 40.5 mm")
	o.list.Select(lineOf(t, o, "middle"))
	o.kind.SetSelected("mark of the centre line")
	o.settled(t, true)
	assert.Equal(t, 40.5, o.found.Hull.Frames[1].X())
	o.list.Select(lineOf(t, o, "C"))
	o.kind.SetSelected("not used")
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "4 frames")
	o.kind.SetSelected("outline of a frame")
	o.frame.SetText("")
	o.settled(t, false)
	until(t, func() bool { return strings.Contains(o.told.Text, "no name of its frame") })
}

func TestTapOnTheDrawingChoosesTheLine(t *testing.T) {
	w := newWindow(t)
	o := drawing(t, w, drawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	size := o.plot.Size()
	o.plot.paint(int(size.Width), int(size.Height))
	seen := map[int]bool{}
	for x := float32(0); x < size.Width; x += 3 {
		o.plot.Tapped(&fyne.PointEvent{Position: fyne.NewPos(x, size.Height/3)})
		seen[o.chosen] = true
	}
	assert.Len(t, seen, 6)
}

func TestHalvesThatDifferAreTold(t *testing.T) {
	w := newWindow(t)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80"><path id="centre" d="M50 0V80"/>`)
	for i, half := range []float64{20, 32, 38, 34, 24} {
		fmt.Fprintf(&b, `<path id="%c-x-%d" d="M%g 10 A%g 50 0 0 1 50 60 A%g 50 0 0 1 %g 10"/>`, 'A'+i, 40*i, 50+half, half, half-0.4, 50-half+0.4)
	}
	b.WriteString("</svg>")
	path := filepath.Join(t.TempDir(), "whole.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	o := drawing(t, w, path)
	assert.Contains(t, o.told.Text, "two halves differ by up to 0.4")
	before := o.found.Hull.Frames[2].Points[0].Y()
	assert.InDelta(t, 37.8, before, 0.01, "the mean of 38 and 37.6")
	o.list.Select(lineOf(t, o, "A"))
	o.x.entry.SetText("-5")
	o.x.commit()
	o.settled(t, true)
	assert.Contains(t, o.told.Text, "two halves differ by up to 0.4", "what is read again is the same")
	assert.InDelta(t, before, o.found.Hull.Frames[2].Points[0].Y(), 1e-3)
}

func TestOneHalfIsTakenAlone(t *testing.T) {
	w := newWindow(t)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80"><path id="centre" d="M50 0V80"/><path id="upper" d="M0 10.5H100"/><path id="rabbet" d="M48 50V70M52 50V70"/>`)
	for i, half := range []float64{20, 32, 38, 34, 24} { // closed by the deck, the left half narrower
		fmt.Fprintf(&b, `<path id="%c-x-%d" d="M%g 10 A%g 50 0 0 1 50 60 A%g 50 0 0 1 %g 10 Z"/>`, 'A'+i, 40*i, 50+half, half, half-1, 51-half)
	}
	b.WriteString("</svg>")
	path := filepath.Join(t.TempDir(), "whole.svg")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	o := drawing(t, w, path)
	require.Empty(t, o.wrong)
	for k, want := range []float64{37.5, 38, 37} {
		if k > 0 {
			o.halves.SetSelectedIndex(k)
			o.settled(t, true)
			assert.NotContains(t, o.told.Text, "differ")
		}
		p := o.found.Hull.Frames[2].Points[0]
		assert.InDelta(t, want, p.Y(), 0.02, "half-breadth just under the deck")
	}
}

func TestDrawingWithoutLinesIsRefused(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.say = func(s string) { said = s }
	path := filepath.Join(t.TempDir(), "empty.svg")
	require.NoError(t, os.WriteFile(path, []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), 0o600))
	w.desk.load(path)
	until(t, func() bool { return said != "" })
	assert.Contains(t, said, "outline")
}
