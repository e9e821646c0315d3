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
		edge := "lower"
		if n.Above {
			edge = "upper"
		}
		out = append(out, tongue.T("At frame %s notch its %s edge %s deep, square, for the nib of %s; past the nib it is %s wide.",
			name(n.Frame), edge, told(u, n.Width, 1), l.Strakes[n.Strake].ID, told(u, n.Wide, 1)))
	}
	return strings.Join(out, " ")
}

// WedgeText tells a wedge that goes in beneath a strake, in a sentence.
func WedgeText(l *loft.Layer, w *loft.Wedge, u Units) string {
	what := "wedge"
	if w.Stealer {
		what = "stealer"
	}
	name := l.Surface.FrameName
	return tongue.T("A %s goes in beneath it: %s wide at frame %s, with its point %s from there towards frame %s. Cut it to its sheet, and fit it before the next strake.",
		what, told(u, w.Width, 1), name(w.To), told(u, w.Length, 0), name(w.From))
}
