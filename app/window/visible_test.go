package window

import (
	"testing"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
)

// TestNoTextOfAPlanHidesInTheWindow: whatever a plan holds, the window shows it as it
// can be seen, but in the fields in which it is typed.
func TestNoTextOfAPlanHidesInTheWindow(t *testing.T) {
	w := newWindow(t)
	const spiteful = "x\x1b[31m\r\x00\u202egnp\u202c\u2066\u2069\u200f\u2028\x7f"
	require.True(t, w.desk.Edit("spite", func(p *hull.Plan) error {
		p.Title = "title " + spiteful
		p.Hull.Limits.Upper, p.Hull.Limits.Lower = "upper "+spiteful, "lower "+spiteful
		p.Hull.Frames[1].Name = "B" + spiteful
		for i := range p.Layers {
			p.Layers[i].Stock.Species = "species " + spiteful
		}
		s := p.Layers[0].Stock
		p.Woods = []hull.Wood{{Name: s.Species, Radial: 3, Tangential: 6, Source: "source " + spiteful}}
		p.Box = []hull.Strips{{Width: s.Width, Thickness: s.Thickness, Length: s.Length, Species: s.Species, Count: 3}}
		p.Shop = []hull.Strips{{Width: s.Width, Thickness: s.Thickness, Length: s.Length, Species: s.Species, Count: hull.AsMany, Price: 2}}
		p.Record.Steps = []hull.Step{{Key: "step " + spiteful, Name: "step name " + spiteful}}
		p.Record.Starboard = []hull.Entry{{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: "1.01", Note: "note " + spiteful}}
		return nil
	}))
	seen := 0
	look := func(what string) {
		drawnTexts(w.Canvas().Content(), func(text string) {
			seen++
			for _, r := range text {
				if r != '\n' && r != '\t' && !unicode.IsGraphic(r) {
					assert.Fail(t, what+" shows what cannot be seen", "%q", text)
					return
				}
			}
		})
	}
	for i, item := range w.panel.tabs.Items {
		w.panel.tabs.SelectIndex(i)
		look("panel " + item.Text)
	}
	for i, item := range w.tables.Items {
		w.tables.SelectIndex(i)
		look("table " + item.Text)
	}
	w.desk.Choose(w.desk.Choice.WithStrake(0).WithFrame(1))
	look("the choice")
	assert.Greater(t, seen, 100)
}

// drawnTexts calls f with every text that is drawn, but for what stands in fields.
func drawnTexts(o fyne.CanvasObject, f func(string)) {
	switch o := o.(type) {
	case *canvas.Text:
		f(o.Text)
	case *widget.Entry, *kit.Field, *kit.NumberEntry, *kit.FieldOfChoice:
	case *fyne.Container:
		for _, c := range o.Objects {
			drawnTexts(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			drawnTexts(c, f)
		}
	}
}
