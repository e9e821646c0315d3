package answer

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

// WetStrakeOf is a strake of a side that was laid or held wet.
func WetStrakeOf(side hull.Side, w progress.WetStrake) WetStrake {
	out := WetStrake{Side: string(side), ID: w.ID, Soaked: w.Soaked, Pinned: w.Pinned, Glued: w.Glued, GluedWet: w.GluedWet, Awaits: w.Awaits, Woods: append([]string{}, w.Woods...)}
	if len(w.Woods) > 0 {
		least, most := tidy(w.Shrinks.Low), tidy(w.Shrinks.High)
		out.Least, out.Most = &least, &most
	}
	return out
}

// Told tells of the strake in two sentences.
func (w WetStrake) Told(u Units) string {
	text := w.ID + " " + said(sideWays, w.Side)
	switch {
	case w.GluedWet:
		text = tongue.T("%s was glued wet", text)
	case w.Glued != "":
		text = tongue.T("%s was pinned wet and glued dry", text)
	default:
		text = tongue.T("%s is pinned wet", text)
	}
	if w.Soaked != "" {
		text += tongue.T(", soaked %s", w.Soaked)
	}
	if w.Pinned != "" {
		text += tongue.T(", pinned %s", w.Pinned)
	}
	if w.Least == nil {
		text += tongue.T("; its shrinkage is not known, because the layer names no wood of the tables")
	} else {
		text += tongue.T("; as it dries it shrinks by %s to %s at most", u.Number(*w.Least), u.Length(*w.Most))
	}
	if w.Awaits {
		return tongue.T("%s. Measure its width when it is dry.", text)
	}
	return tongue.T("%s. You measured it dry.", text)
}
