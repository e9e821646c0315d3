package window

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
)

// settings are the parts of the panel about the planking as it is planned.
type settings struct {
	*form
	desk *desk
}

// notesPart lists what the builder should know.
func (p settings) notesPart() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.text(func() string { return strings.Join(p.desk.notes(), "\n\n") })}
}

func notesName(d *desk) string {
	n := 0
	for _, l := range d.planking().Layers {
		n += len(l.Notes)
	}
	n += len(d.bench.notes())
	if n == 0 {
		return "Notes"
	}
	return fmt.Sprintf("Notes (%d)", n)
}

// notes tells warnings, wedges and drop strakes, layer by layer.
func (d *desk) notes() []string {
	var out []string
	for _, l := range d.planking().Layers {
		head := ""
		if len(d.planking().Layers) > 1 {
			head = fmt.Sprintf("Layer %d. ", l.Number)
		}
		for _, n := range l.Notes {
			out = append(out, "! "+head+n)
		}
		for _, w := range l.Wedges {
			kind := "Wedge"
			if w.Stealer {
				kind = "Stealer"
			}
			out = append(out, fmt.Sprintf("%s%s below strake %s, from frame %s to frame %s: %s long, %s wide.", head, kind, w.Below,
				d.frameName(w.From), d.frameName(w.To), d.units.Long(w.Length), d.units.Length(w.Width)))
		}
		for _, s := range l.Drops {
			out = append(out, fmt.Sprintf("%sStrake %s ends in %s between frame %s and frame %s.", head, s.Strake, s.Into, d.frameName(s.From), d.frameName(s.To)))
		}
	}
	out = append(out, d.bench.notes()...)
	if len(out) == 0 {
		out = append(out, "Nothing to note: no wedge, no drop strake, no line runs out.")
	}
	return out
}
