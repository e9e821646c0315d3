package settings

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/app/answer"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/loft"
)

// Settings are the parts of the panel about the planking as it is planned.
type Settings struct {
	*kit.Form
	desk *desk.Desk
}

// New gives the parts, to be kept up to date by a form.
func New(f *kit.Form, d *desk.Desk) Settings { return Settings{f, d} }

// NotesPart lists what the builder should know.
func (p Settings) NotesPart() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.settlingPart(), p.Text(func() string { return strings.Join(notes(p.desk), "\n\n") })}
}

// NotesName is the name of the tab, with the number of notes.
func NotesName(d *desk.Desk) string {
	n := 0
	for _, l := range d.Planking().Layers {
		n += len(l.Notes)
	}
	n += len(d.Bench.Notes())
	if n == 0 {
		return "Notes"
	}
	return fmt.Sprintf("Notes (%d)", n)
}

// notes tells warnings, wedges and drop strakes, layer by layer, but for those that
// stand with their buttons.
func notes(d *desk.Desk) []string {
	var out []string
	for _, l := range d.Planking().Layers {
		head := layerHead(d, l)
		for _, n := range l.Notes {
			switch n.(type) {
			case loft.Folds, loft.MadeBlock, loft.LaidBetween:
			default:
				out = append(out, "! "+head+answer.NoteText(l, n, d.Units))
			}
		}
		for _, w := range l.Wedges {
			kind := "Wedge"
			if w.Stealer {
				kind = "Stealer"
			}
			out = append(out, fmt.Sprintf("%s%s below strake %s, from frame %s to frame %s: %s long, %s wide.", head, kind, w.Below,
				d.FrameName(w.From), d.FrameName(w.To), d.Units.Long(w.Length), d.Units.Length(w.Width)))
		}
		for _, s := range l.Drops {
			text := answer.DropText(l, &s, d.Units)
			out = append(out, head+strings.ToUpper(text[:1])+text[1:]+".")
		}
	}
	out = append(out, d.Bench.Notes()...)
	if len(out) == 0 && len(settlings(d)) == 0 {
		out = append(out, "Nothing to note: no wedge, no drop strake, no line runs out.")
	}
	return out
}
