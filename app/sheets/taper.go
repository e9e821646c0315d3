package sheets

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// Within these, mm, two tapers are one.
const (
	sameWidth = 0.1
	samePlace = 0.5
)

// notch is a taper's width at a frame (or, with frame -1, at the point in which
// it ends).
type notch struct {
	frame     int
	at, width float64 // mm along the strake and across it
	whole     bool    // the strip is left as it is
}

// taperSet is some strakes that are cut alike.
type taperSet struct {
	strakes []*loft.Strake
	notches []notch
}

// taper reads a strake as a straight-edged strip: its width at every frame at
// the arc length of its middle line. Where the strip is too narrow it stays
// whole.
func taper(l *loft.Layer, st *loft.Strake) []notch {
	var out []notch
	s := st.Centre.S
	end := func(station int) {
		if n := len(out); n == 0 || out[n-1].at < s[station]-s[st.From]-1e-9 {
			out = append(out, notch{frame: -1, at: s[station] - s[st.From]})
		}
	}
	if !st.At[frameOf(l, st.From)].Laid {
		end(st.From)
	}
	for i, c := range st.At {
		if c.Laid {
			out = append(out, notch{i, s[l.Surface.FrameStation(i)] - s[st.From], min(c.WidthCut, c.Pitch), c.Action != loft.Taper})
		}
	}
	if !st.At[frameOf(l, st.To)].Laid {
		end(st.To)
	}
	return out
}

// frameOf is the frame at a station that has one.
func frameOf(l *loft.Layer, station int) int {
	for i := range l.Girths {
		if l.Surface.FrameStation(i) == station {
			return i
		}
	}
	return 0
}

// taperSets gathers identical tapers, in the order of their first strakes.
func taperSets(l *loft.Layer, strakes []*loft.Strake) []*taperSet {
	var out []*taperSet
next:
	for _, st := range strakes {
		n := taper(l, st)
		for _, set := range out {
			if alike(set.notches, n) {
				set.strakes = append(set.strakes, st)
				continue next
			}
		}
		out = append(out, &taperSet{[]*loft.Strake{st}, n})
	}
	return out
}

// alike tells whether two tapers have the same frames with the same spacing
// and widths.
func alike(a, b []notch) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].frame != b[i].frame || math.Abs(a[i].width-b[i].width) > sameWidth {
			return false
		}
		if i > 0 && math.Abs((a[i].at-a[i-1].at)-(b[i].at-b[i-1].at)) > samePlace {
			return false
		}
	}
	return true
}

// taperPiece draws a set as one strip with a straight lower edge.
func taperPiece(k *loft.Planking, l *loft.Layer, set *taperSet, s Settings) *piece {
	p := &piece{}
	y := p.lines(0, 0, s.Room.Width, taperTitle(k, l, set)) + 5.5
	drawEnds(p, k, shapeLeft, y-2.7)
	deepest := 0.0
	for _, n := range set.notches {
		deepest = max(deepest, n.width)
	}
	base := y + deepest
	sh := shape{straight: true}
	var marks []crossing
	for _, n := range set.notches {
		u, w := draw.Pt(shapeLeft+n.at, base-n.width), draw.Pt(shapeLeft+n.at, base)
		sh.upper, sh.lower = append(sh.upper, u), append(sh.lower, w)
		if n.frame >= 0 {
			p.Line(draw.Pencil, hair, u, w)
			marks = append(marks, crossing{n.frame, w})
		}
	}
	p.Line(draw.Cut, thin, sh.outline()...)
	drawOverhang(p, k, &sh, s.Overhang)
	numberInside(p, set.names(), &sh, between(0, len(set.notches)))
	p.w = max(p.w, shapeLeft+set.notches[len(set.notches)-1].at+s.Overhang)
	crossingRows(p, marks, base, taperRows(l, set))
	return p
}

// taperTitle says what a set is and how many to cut, for both sides.
func taperTitle(k *loft.Planking, l *loft.Layer, set *taperSet) string {
	strain := 0.0
	for _, st := range set.strakes {
		strain = max(strain, edgeStrain(st))
	}
	side, other := asDrawn(&k.Plan.Hull)
	return fmt.Sprintf("Taper, layer %d, cut %d: %s, each once for %s as drawn and once turned over for %s. Sprung from straight stock: edge-set strains it %.2f %% at most (the plan springs a strip up to %.2f %%, a rule of thumb: set its rule edge_strain to suit the wood). Plane the upper edge in a vice; at “=” the strip stays whole, and its inner face, once bevelled, is as wide as written.",
		l.Number, 2*len(set.strakes), set.names(), side, other, 100*strain, 100*l.Rules.EdgeStrain)
}

// names lists the strakes of a set.
func (t *taperSet) names() string {
	var out []string
	for _, st := range t.strakes {
		out = append(out, short(st.ID))
	}
	return strings.Join(out, ", ")
}

// between lists the whole numbers from a up to but not b.
func between(a, b int) []int {
	var out []int
	for ; a < b; a++ {
		out = append(out, a)
	}
	return out
}

// taperRows are the rows under a set: places and widths, then the bevels of
// every strake in it.
func taperRows(l *loft.Layer, set *taperSet) []valueRow {
	of := map[int]notch{}
	for _, n := range set.notches {
		of[n.frame] = n
	}
	rows := []valueRow{
		{"frame", l.Surface.FrameName},
		{"along", func(i int) string { return fmt.Sprintf("%.1f", of[i].at) }},
		{"width", func(i int) string {
			text := fmt.Sprintf("%.2f", of[i].width)
			if of[i].whole {
				text += "="
			}
			return text
		}},
	}
	for _, st := range set.strakes {
		name := ""
		if len(set.strakes) > 1 {
			name = short(st.ID) + " "
		}
		for i, r := range bevelRows(st, "") {
			if name != "" {
				r.name = name + []string{"bev. up", "bev. low"}[i]
			}
			rows = append(rows, r)
		}
	}
	return rows
}
