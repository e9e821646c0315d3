package answer

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Cut is a corner of the straight cuts of a strake: a width to which its strip is
// planed, from which a cut runs straight to the next.
type Cut struct {
	Frame string  `json:"frame"` // "" where the strake ends between frames
	Width float64 `json:"width"`
}

// cutsOf gives the corners of cuts; none of no cuts.
func cutsOf(l *loft.Layer, c *loft.Cuts) []Cut {
	out := []Cut{}
	if c == nil {
		return out
	}
	for _, q := range c.Corners {
		cut := Cut{Width: tidy(q.Width)}
		if q.Frame >= 0 {
			cut.Frame = l.Surface.FrameName(q.Frame)
		}
		out = append(out, cut)
	}
	return out
}

// setCuts puts the cuts of the sprung strakes of a layer into their answers, which
// are in its order.
func setCuts(l *loft.Layer, strakes []Strake) {
	cuts := make([]*loft.Cuts, len(l.Strakes))
	for i, st := range l.Strakes {
		cuts[i] = l.CutsOf(st, st.At)
	}
	sets := loft.GatherCuts(l.Strakes, func(i int) *loft.Cuts { return cuts[i] })
	for i, st := range l.Strakes {
		a := &strakes[i]
		a.Cuts, a.Set = cutsOf(l, cuts[i]), []string{}
		set := loft.SetOf(sets, st.ID)
		if set == nil {
			continue
		}
		a.Strays = tidy(cuts[i].Strays)
		a.together = setText(l, set, MM{})
		for _, other := range set.Strakes {
			a.Set = append(a.Set, other.ID)
		}
	}
}

// CutsText tells the straight cuts by which a strip is planed, from corner to
// corner: "3.1 mm at frame A, straight to 5.0 mm at D, whole to K, straight to 3.4 mm
// at T"; of a strip that is not planed, "leave it whole".
func CutsText(l *loft.Layer, c *loft.Cuts, u Units) string {
	if c.Whole() {
		return tongue.T("leave it whole")
	}
	last := len(c.Corners) - 1
	at := func(k int) string { return l.Surface.FrameName(c.Corners[k].Frame) }
	whole := func(k int) bool { return c.Corners[k].Width == c.Strip && c.Corners[k+1].Width == c.Strip }
	var parts []string
	k := 0
	if whole(0) {
		parts = append(parts, tongue.T("%s, whole, from frame %s to %s", width(u, c.Strip), at(0), at(1)))
		k = 1
	} else {
		parts = append(parts, tongue.T("%s at frame %s", width(u, c.Corners[0].Width), at(0)))
	}
	for ; k < last; k++ {
		switch a, b := c.Corners[k], c.Corners[k+1]; {
		case a.Frame == b.Frame:
			parts = append(parts, tongue.T("notched there, %s just past it", width(u, b.Width)))
		case whole(k):
			parts = append(parts, tongue.T("whole to %s", at(k+1)))
		default:
			parts = append(parts, tongue.T("straight to %s at %s", width(u, c.Corners[k+1].Width), at(k+1)))
		}
	}
	return strings.Join(parts, ", ")
}

// width tells a width that a strip is planed to: to a tenth of a mm if it is one of
// these, else to a hundredth; nothing is a point.
func width(u Units, x float64) string {
	if x == 0 {
		return tongue.T("a point")
	}
	decimals := 1
	if math.Abs(10*x-math.Round(10*x)) > 1e-6 {
		decimals = 2
	}
	return told(u, x, decimals)
}

// straysText tells by how much cuts stray from a strake's edge; "" where they do so
// by less than is seen.
func straysText(l *loft.Layer, c *loft.Cuts, u Units) string {
	if c.Strays < 0.005 {
		return ""
	}
	most := told(u, c.Strays, 2)
	if !c.Keeps {
		return tongue.T(" Cut straight from frame to frame, it strays from its edge by up to %s, near frame %s: dress that by eye when you fit it.", most, l.Surface.FrameName(c.StraysAt))
	}
	return tongue.T(" These cuts keep within %s of its edge.", most)
}

// setText tells a set of strakes that are cut alike: "1.02 and 1.03, both sides: 3.1
// mm at frame A, straight to 3.4 mm at T".
func setText(l *loft.Layer, set *loft.CutSet, u Units) string {
	var ids []string
	for _, st := range set.Strakes {
		ids = append(ids, st.ID)
	}
	return tongue.T("%s, both sides: %s", andList(ids), CutsText(l, set.Cuts, u))
}

// together tells what is clamped and planed in one, and from what.
func (w laying) together() (clamp, from string) {
	strip := told(w.u, w.Strake.Strip, -1)
	switch ids, both := w.Together(); {
	case len(ids) > 1 && both:
		return tongue.T("Clamp %s together, both sides", andList(ids)), tongue.T("strips of %s", strip)
	case len(ids) > 1:
		return tongue.T("Clamp %s together", andList(ids)), tongue.T("strips of %s", strip)
	case both:
		return tongue.T("Clamp it with its twin for the other side"), tongue.T("strips of %s", strip)
	}
	return tongue.T("Plane it alone"), tongue.T("a strip of %s", strip)
}

// cuts lists the sets of a layer.
func (p *page) cuts(strakes []Strake) {
	var out []string
	for _, s := range strakes {
		if len(s.Set) > 0 && s.Set[0] == s.ID {
			out = append(out, s.together+".")
		}
	}
	p.list(tongue.T("Straight cuts, mm, before you bevel the edges; clamp the strakes on one line together"), out)
}
