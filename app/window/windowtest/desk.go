package windowtest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
)

// NewDesk gives a desk on a fresh session, with an empty window of Fyne's
// test driver.
func NewDesk(t testing.TB) *desk.Desk {
	t.Helper()
	a := test.NewApp()
	a.Settings().SetTheme(kit.NewTheme(false))
	pixels, err := draw.NewPixels(theme.DefaultTextFont().Content())
	require.NoError(t, err)
	d := desk.New(a, &kit.Look{Pixels: pixels}, apptest.Session(t))
	d.Clock = func() time.Time { return time.Time{} } // a slow machine leaves nothing out
	d.Win = a.NewWindow("desk")
	d.OnMain = func(f func()) { Posted <- f }
	d.After = nil // no tips by a clock
	d.Win.Show()
	d.Win.Resize(fyne.NewSize(1280, 760))
	t.Cleanup(func() {
		d.Leave()
		d.Win.Close()
		a.Quit()
	})
	return d
}

// ButtonNamed finds a button by its name.
func ButtonNamed(t *testing.T, o fyne.CanvasObject, name string) *widget.Button {
	t.Helper()
	var found *widget.Button
	Walk(o, func(o fyne.CanvasObject) {
		if b, ok := o.(*kit.Button); ok {
			o = &b.Button
		}
		if b, ok := o.(*widget.Button); ok && b.Text == name && found == nil {
			found = b
		}
	})
	require.NotNil(t, found, "button %q", name)
	return found
}

// Walk calls f with an object and all within it.
func Walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			Walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			Walk(c, f)
		}
	}
}

// Texts gives what every label, entry and list within an object says.
func Texts(o fyne.CanvasObject) []string {
	var out []string
	Walk(o, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widget.Label:
			out = append(out, o.Text)
		case *kit.NumberEntry:
			out = append(out, o.Text)
		case *kit.Select:
			out = append(out, o.Selected)
		case *kit.FieldOfChoice:
			out = append(out, o.Text)
		}
	})
	return out
}

// Labels gives all that labels within an object say.
func Labels(o fyne.CanvasObject) string {
	var out []string
	Walk(o, func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			out = append(out, l.Text)
		}
	})
	return strings.Join(out, "\n")
}

// DrawnFrames is a drawing of five half frames side by side, each a quarter of
// an ellipse named by name(i), with a centre line called centre.
func DrawnFrames(t testing.TB, centre string, name func(i int) string) string {
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

// Laid glues the first strakes of the first band to starboard, and measures
// what is left at some frames, so much less than planned.
func Laid(t *testing.T, d *desk.Desk, strakes int, less float64) {
	t.Helper()
	for k := range strakes {
		d.Choose(d.Choice.WithStrake(k))
		require.True(t, d.Bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: d.Layer().Strakes[k].ID}))
	}
	for _, f := range []int{2, 4, 6, 8, 10} {
		left := d.Bench.State().Left[f] - less
		require.True(t, d.Bench.Note(hull.Entry{EntryKind: hull.LeftOver, Band: 1, Frame: d.FrameName(f), MM: left}))
	}
}
