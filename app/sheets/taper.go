package sheets

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// notch is a place of a taper: a frame that it crosses, or an end between frames.
type notch struct {
	frame     int     // -1 where there is none
	at, width float64 // mm along the strip from its beginning, and that it is planed to
	corner    bool    // a straight cut ends here
	whole     bool    // the strip is left as it is
}

// notches are the places of a set: the frames that its first strake crosses and the
// corners of its cuts.
func notches(set *loft.CutSet) []notch {
	var out []notch
	st, corners := set.Strakes[0], set.Cuts.Corners
	add := func(frame int, at float64, corner bool) {
		w := set.Cuts.Width(at)
		out = append(out, notch{frame, at, w, corner, w == set.Cuts.Strip})
	}
	for i, c := range st.At {
		at := st.Along(i)
		for len(corners) > 0 && corners[0].At < at-1e-9 { // an end in a point, or between frames
			add(-1, corners[0].At, true)
			corners = corners[1:]
		}
		corner := len(corners) > 0 && corners[0].At <= at+1e-9
		if c.Laid {
			add(i, at, corner)
		} else if corner {
			add(-1, at, true)
		}
		if corner {
			corners = corners[1:]
		}
	}
	for _, c := range corners {
		add(-1, c.At, true)
	}
	return out
}

// taperParts draws a set for pages: whole, or in lengths where no page is so long. They
// join at lines across with a cross off either end, as those of a flat strake do.
func taperParts(k *loft.Planking, l *loft.Layer, set *loft.CutSet, s Settings) []*piece {
	all := notches(set)
	end := all[len(all)-1].at
	after := k.Plan.Hull.Bow == hull.BowFirst
	longest := s.Long - endRoom
	n := math.Ceil((end + s.Overhang) / (longest - 2*joinOver))
	if end+s.Overhang <= longest {
		n = 1
	}
	var joints []float64
	for i := 0.0; i <= n; i++ {
		joints = append(joints, clearOf(all, end*i/n))
	}
	joints[0], joints[len(joints)-1] = 0, end
	var out []*piece
	for i := 1; i < len(joints); i++ {
		title := taperTitle(k, l, set)
		if n > 1 {
			title = tongue.T("Length %c of %g. %s", rune('a'+(i-1)%26), n, title)
			if i > 1 {
				title = tongue.T("Length %c of %g of %s, layer %d", rune('a'+(i-1)%26), n, names(set), l.Number)
			}
		}
		p := &piece{}
		wide := min(max(joints[i]-joints[i-1]+s.Overhang, s.double()), s.Long-endRoom)
		y := p.lines(0, 0, wide, title) + joinOut + joinArm
		t := taperLength{set: set, all: all, from: joints[i-1], to: joints[i], first: i == 1, last: i == len(joints)-1}
		if after && t.last || !after && t.first {
			t.over = s.Overhang
		}
		marks := t.draw(p, y, after)
		numberBays(p, names(set), t.sh, between(0, len(t.sh.upper)))
		crossingRows(p, marks, y+t.deepest()+joinArm, taperRows(l, set, all)) // crosses stand clear of the frames
		out = append(out, p)
	}
	return out
}

// clearOf is the place next to one that is furthest from frames and corners.
func clearOf(all []notch, at float64) float64 {
	best, far := at, -1.0
	for d := -12.0; d <= 12; d++ {
		off := 6.0
		for _, n := range all {
			off = min(off, math.Abs(n.at-at-d))
		}
		if off > far || off == far && math.Abs(d) < math.Abs(best-at) {
			best, far = at+d, off
		}
	}
	return best
}

// taperLength is a length of a straight taper.
type taperLength struct {
	set         *loft.CutSet
	all         []notch
	from, to    float64 // mm along the strip
	first, last bool
	over        float64 // spare wood at its end
	sh          *shape
}

// deepest is its greatest width.
func (t *taperLength) deepest() float64 {
	w := 0.0
	for _, n := range t.all {
		w = max(w, n.width)
	}
	return w
}

// draw draws the length with its top at y, and gives where frames cross it.
func (t *taperLength) draw(p *piece, y float64, after bool) []crossing {
	base := y + t.deepest()
	t.sh = &shape{straight: true}
	begin := t.from
	if !t.first {
		begin -= joinOver
	}
	left := 0.0
	if t.over > 0 && !after {
		left += t.over
	}
	add := func(at float64) (u, w draw.Point) {
		u, w = draw.Pt(left+at-begin, base-t.set.Cuts.Width(at)), draw.Pt(left+at-begin, base)
		t.sh.upper, t.sh.lower = append(t.sh.upper, u), append(t.sh.lower, w)
		return u, w
	}
	var marks []crossing
	if !t.first {
		add(begin)
		add(t.from)
	}
	for _, n := range t.all {
		if n.at < t.from-1e-9 || n.at > t.to+1e-9 {
			continue
		}
		u, w := add(n.at)
		if n.corner && n.width > 0 {
			p.Line(draw.Pencil, heavy, u, w)
		}
		if n.frame >= 0 {
			p.Line(draw.Pencil, hair, u, w)
			marks = append(marks, crossing{n.frame, w})
		}
	}
	if !t.last {
		add(t.to)
		add(t.to + joinOver)
	}
	p.edges(&length{shape: *t.sh, joins: !t.first, joint: !t.last})
	p.Line(draw.Pencil, broken, t.sh.overhang(after, t.over)...)
	p.w = max(p.w, t.sh.upper[len(t.sh.upper)-1].X)
	return marks
}

// taperPiece draws a set as one strip with a straight lower edge, its straight cuts
// from corner to corner above.
func taperPiece(k *loft.Planking, l *loft.Layer, set *loft.CutSet, s Settings) *piece {
	p := &piece{}
	y := p.lines(0, 0, s.Long, taperTitle(k, l, set)) + 5.5
	drawEnds(p, k, shapeLeft, y-2.7)
	all, deepest := notches(set), 0.0
	for _, n := range all {
		deepest = max(deepest, n.width)
	}
	base := y + deepest
	sh := shape{straight: true}
	var marks []crossing
	for _, n := range all {
		u, w := draw.Pt(shapeLeft+n.at, base-n.width), draw.Pt(shapeLeft+n.at, base)
		sh.upper, sh.lower = append(sh.upper, u), append(sh.lower, w)
		if n.corner && n.width > 0 {
			p.Line(draw.Pencil, heavy, u, w)
		}
		if n.frame >= 0 {
			p.Line(draw.Pencil, hair, u, w)
			marks = append(marks, crossing{n.frame, w})
		}
	}
	p.Line(draw.Cut, thin, sh.outline()...)
	drawOverhang(p, k, &sh, s.Overhang)
	numberInside(p, names(set), &sh, between(0, len(all)))
	p.w = max(p.w, shapeLeft+all[len(all)-1].at+s.Overhang)
	crossingRows(p, marks, base, taperRows(l, set, all))
	return p
}

// taperTitle says what a set is and how many to cut, for both sides.
func taperTitle(k *loft.Planking, l *loft.Layer, set *loft.CutSet) string {
	strain := 0.0
	for _, st := range set.Strakes {
		strain = max(strain, edgeStrain(l, st))
	}
	side, other := asDrawn(&k.Plan.Hull)
	how := tongue.T("Leave the strips whole.")
	if !set.Cuts.Whole() {
		how = tongue.T("Clamp them together in a vice and plane the upper edge straight from one heavy line to the next: %s. Widths are those before you bevel the edges; at “=” the strip stays whole.",
			answer.CutsText(l, set.Cuts, answer.MM{}))
	}
	for _, st := range set.Strakes {
		if nibs := answer.NibsText(l, st, answer.MM{}); nibs != "" {
			how += fmt.Sprintf(" %s: %s", short(st.ID), nibs)
		}
	}
	return tongue.T("Taper, layer %d, cut %d: %s, each once for %s as drawn and once turned over for %s. Sprung from straight stock: edge-set strains it by at most %.2f %% (the plan's limit is %.2f %%, a rule of thumb: set its rule edge_strain to suit the wood). %s",
		l.Number, 2*len(set.Strakes), names(set), sideName(side), sideName(other), 100*strain, 100*l.Rules.EdgeStrain, how)
}

// names lists the strakes of a set.
func names(set *loft.CutSet) string {
	var out []string
	for _, st := range set.Strakes {
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

// samePlace is how near, mm, the frames of two strakes lie that need no rows of
// their own: half the line of a pencil.
const samePlace = 0.5

// taperRows are the rows under a set: where its first strake crosses the frames, and
// every other that does so elsewhere, and the widths; then the bevels of every strake
// in it.
func taperRows(l *loft.Layer, set *loft.CutSet, all []notch) []valueRow {
	of := map[int]notch{}
	for _, n := range all {
		of[n.frame] = n
	}
	rows := []valueRow{
		{tongue.T("frame"), l.Surface.FrameName},
		{tongue.T("along"), func(i int) string { return figure("%.1f", of[i].at) }},
	}
	for _, st := range set.Strakes[1:] {
		if elsewhere(st, all) {
			rows = append(rows, valueRow{tongue.T("%s along", short(st.ID)), func(i int) string { return figure("%.1f", st.Along(i)) }})
		}
	}
	rows = append(rows, valueRow{tongue.T("cut to"), func(i int) string {
		if !of[i].corner {
			return ""
		}
		return plainest(of[i].width)
	}}, valueRow{tongue.T("width"), func(i int) string {
		text := figure("%.2f", of[i].width)
		if of[i].whole {
			text += "="
		}
		return text
	}})
	for _, st := range set.Strakes {
		upper, lower := tongue.T("bevel up"), tongue.T("bevel low")
		if len(set.Strakes) > 1 {
			upper, lower = tongue.T("%s bev. up", short(st.ID)), tongue.T("%s bev. low", short(st.ID))
		}
		rows = append(rows, bevelRows(l, st, upper, lower)...)
	}
	return rows
}

// elsewhere tells whether a strake crosses a frame of a set at another place than
// the set's first.
func elsewhere(st *loft.Strake, all []notch) bool {
	for _, n := range all {
		if n.frame >= 0 && math.Abs(st.Along(n.frame)-n.at) > samePlace {
			return true
		}
	}
	return false
}

// plainest writes a width of the lattice that cuts end at.
func plainest(w float64) string {
	if math.Abs(10*w-math.Round(10*w)) > 1e-6 {
		return figure("%.2f", w)
	}
	return figure("%.1f", w)
}
