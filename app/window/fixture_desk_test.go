package window

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"strakewright/app/draw"
	"strakewright/hull"
)

// newDeskShown gives a desk on a fresh session, with an empty window of Fyne's
// test driver.
func newDeskShown(t testing.TB) *desk {
	t.Helper()
	a := test.NewApp()
	a.Settings().SetTheme(newTheme(false))
	pixels, err := draw.NewPixels(theme.DefaultTextFont().Content())
	require.NoError(t, err)
	d := newDesk(a, &look{pixels: pixels}, newSession(t))
	d.win = a.NewWindow("desk")
	d.onMain = func(f func()) { posted <- f }
	d.win.Show()
	d.win.Resize(fyne.NewSize(1280, 760))
	t.Cleanup(func() {
		d.leave()
		d.win.Close()
		a.Quit()
	})
	return d
}

// buttonNamed finds a button by its name.
func buttonNamed(t *testing.T, o fyne.CanvasObject, name string) *widget.Button {
	t.Helper()
	var found *widget.Button
	walk(o, func(o fyne.CanvasObject) {
		if b, ok := o.(*tipButton); ok {
			o = &b.Button
		}
		if b, ok := o.(*widget.Button); ok && b.Text == name && found == nil {
			found = b
		}
	})
	require.NotNil(t, found, "button %q", name)
	return found
}

// walk calls f with an object and all within it.
func walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			walk(c, f)
		}
	}
}

// texts gives what every label, entry and list within an object says.
func texts(o fyne.CanvasObject) []string {
	var out []string
	walk(o, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widget.Label:
			out = append(out, o.Text)
		case *numberEntry:
			out = append(out, o.Text)
		case *widget.Select:
			out = append(out, o.Selected)
		case *widget.SelectEntry:
			out = append(out, o.Text)
		}
	})
	return out
}

// labels gives all that labels within an object say.
func labels(o fyne.CanvasObject) string {
	var out []string
	walk(o, func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			out = append(out, l.Text)
		}
	})
	return strings.Join(out, "\n")
}

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

// laid glues the first strakes of the first band to starboard, and measures
// what is left at some frames, so much less than planned.
func laid(t *testing.T, d *desk, strakes int, less float64) {
	t.Helper()
	for k := range strakes {
		d.choose(d.choice.WithStrake(k))
		require.True(t, d.bench.note(hull.Entry{Doing: hull.Glued, Strake: d.layer().Strakes[k].ID}))
	}
	for _, f := range []int{2, 4, 6, 8, 10} {
		left := d.bench.state().Left[f] - less
		require.True(t, d.bench.note(hull.Entry{Doing: hull.LeftOver, Band: 1, Frame: d.frameName(f), MM: left}))
	}
}
