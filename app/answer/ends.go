package answer

import (
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// NibsText tells where a strake ends in a nib, and where it is notched for a
// neighbour's, in sentences; "" of one that is neither.
func NibsText(l *loft.Layer, st *loft.Strake, u Units) string {
	name := l.Surface.FrameName
	var out []string
	for _, d := range l.Drops {
		if d.Strake == st.ID {
			out = append(out, tongue.T("Cut it off square at frame %s, as a nib %s wide let into %s.", name(d.From), told(u, d.Nib, 1), d.Into))
		}
	}
	nibs := slices.Clone(st.Nibs)
	slices.SortStableFunc(nibs, func(a, b loft.Nib) int { return a.Frame - b.Frame })
	for _, n := range nibs {
		deep, wide := told(u, n.Width, 1), told(u, n.Wide, 1)
		if n.Above {
			out = append(out, tongue.T("At frame %s notch its upper edge %s deep, square, for the nib of %s; past the nib it is %s wide.", name(n.Frame), deep, l.Strakes[n.Strake].ID, wide))
		} else {
			out = append(out, tongue.T("At frame %s notch its lower edge %s deep, square, for the nib of %s; past the nib it is %s wide.", name(n.Frame), deep, l.Strakes[n.Strake].ID, wide))
		}
	}
	return strings.Join(out, " ")
}

// WedgeText tells a wedge that goes in beneath a strake, in a sentence.
func WedgeText(l *loft.Layer, w *loft.Wedge, u Units) string {
	name, wide, long := l.Surface.FrameName, told(u, w.Width, 1), told(u, w.Length, 0)
	if w.Stealer {
		return tongue.T("A stealer goes in beneath it: %s wide at frame %s, with its point %s from there towards frame %s. Cut it to its sheet, and fit it before the next strake.", wide, name(w.To), long, name(w.From))
	}
	return tongue.T("A wedge goes in beneath it: %s wide at frame %s, with its point %s from there towards frame %s. Cut it to its sheet, and fit it before the next strake.", wide, name(w.To), long, name(w.From))
}
