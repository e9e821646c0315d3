package mesh

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// What counts as one place, as shares of the mesh's size (the diagonal of its
// bounding box).
const (
	sameShare   = 1e-6 // corners of triangles closer than this are one
	silentShare = 2e-5 // a gap up to this is bridged without a note
	bridgeShare = 5e-3 // and up to this with one
)

// line is an unbroken line of a section; a closed one ends where it begins.
type line struct {
	pts    []mgl64.Vec2
	closed bool
}

// length is the length of the line, mm.
func (l line) length() float64 {
	sum := 0.0
	for i := 1; i < len(l.pts); i++ {
		sum += l.pts[i].Sub(l.pts[i-1]).Len()
	}
	return sum
}

// welder merges places that lie close together.
type welder struct {
	near   float64
	cells  map[[2]int64]int32 // the first place in a cell
	next   []int32            // further ones in the same cell; -1 at the last
	places []mgl64.Vec2
}

func newWelder(near float64) *welder {
	return &welder{near: near, cells: map[[2]int64]int32{}}
}

// place gives the number of a place.
func (w *welder) place(p mgl64.Vec2) int32 {
	cx, cy := int64(math.Floor(p[0]/w.near)), int64(math.Floor(p[1]/w.near))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			i, there := w.cells[[2]int64{cx + dx, cy + dy}]
			for ; there && i >= 0; i = w.next[i] {
				if w.places[i].Sub(p).Len() <= w.near {
					return i
				}
			}
		}
	}
	cell := [2]int64{cx, cy}
	before, there := w.cells[cell]
	if !there {
		before = -1
	}
	n := int32(len(w.places))
	w.places, w.next, w.cells[cell] = append(w.places, p), append(w.next, before), n
	return n
}

// edge is a piece of a section between two places, the lesser first.
type edge [2]int32

// joined joins the pieces of a section into lines. Duplicate pieces count once;
// doubled lists them. Where three or more meet, all lines end.
func joined(cuts []cut, near float64) (lines []line, doubled []cut) {
	w := newWelder(near)
	edges := make([]edge, 0, len(cuts))
	for _, c := range cuts {
		a, b := w.place(c[0]), w.place(c[1])
		if a != b {
			edges = append(edges, edge{min(a, b), max(a, b)})
		}
	}
	slices.SortFunc(edges, func(a, b edge) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for i := 1; i < len(edges); i++ {
		if edges[i] == edges[i-1] {
			doubled = append(doubled, cut{w.places[edges[i][0]], w.places[edges[i][1]]})
		}
	}
	edges = slices.Compact(edges)
	at := make([][]int32, len(w.places)) // edges at each place
	for i, e := range edges {
		at[e[0]], at[e[1]] = append(at[e[0]], int32(i)), append(at[e[1]], int32(i))
	}
	used := make([]bool, len(edges))
	follow := func(from int32, first int32) line {
		l := line{pts: []mgl64.Vec2{w.places[from]}}
		here := from
		for e := first; ; {
			used[e] = true
			here = edges[e][0] + edges[e][1] - here
			l.pts = append(l.pts, w.places[here])
			if here == from || len(at[here]) != 2 {
				l.closed = here == from
				return l
			}
			other := at[here][0]
			if other == e {
				other = at[here][1]
			}
			if used[other] {
				return l
			}
			e = other
		}
	}
	for _, ends := range []bool{true, false} { // lines with ends first, then those that close
		for p := range at {
			if ends == (len(at[p]) == 2) {
				continue
			}
			for _, e := range at[p] {
				if !used[e] {
					lines = append(lines, follow(int32(p), e))
				}
			}
		}
	}
	return lines, doubled
}

// gap is a place at which a section was bridged, mm.
type gap struct {
	width float64
	at    mgl64.Vec2
}

// mostEnds is the most loose ends of a section that are considered for
// bridging.
const mostEnds = 1000

// bridged joins lines of a half at ends at most far apart, the nearest first, and
// returns the gaps. Ends in the middle plane, and ends where lines branch, are left.
func bridged(lines []line, far, near float64) ([]line, []gap) {
	var gaps []gap
	for {
		i, j, flipI, flipJ, width := nearestEnds(lines, far, near)
		if i < 0 {
			return lines, gaps
		}
		a := lines[i]
		if flipI {
			a = a.reversed()
		}
		gaps = append(gaps, gap{width, a.pts[len(a.pts)-1]})
		if i == j {
			a.pts, a.closed = append(slices.Clone(a.pts), a.pts[0]), true
			lines[i] = a
			continue
		}
		b := lines[j]
		if flipJ {
			b = b.reversed()
		}
		lines[i] = line{pts: met(a.pts, b.pts, width)}
		lines = slices.Delete(lines, j, j+1)
	}
}

// met joins two lines across a gap: at its middle where the gap is small beside
// their last pieces, since a corner there would otherwise become two.
func met(a, b []mgl64.Vec2, width float64) []mgl64.Vec2 {
	n := len(a)
	out := slices.Clone(a)
	if last := min(a[n-1].Sub(a[n-2]).Len(), b[1].Sub(b[0]).Len()); width < last/3 {
		out[n-1] = a[n-1].Add(b[0]).Mul(0.5)
		b = b[1:]
	}
	return append(out, b...)
}

// nearestEnds finds the two nearest loose ends; i and j are their lines, reversed
// if flipped so that the first ends where the second begins. i is -1 where there
// are none.
func nearestEnds(lines []line, far, near float64) (i, j int, flipI, flipJ bool, width float64) {
	type end struct {
		line int
		last bool
		at   mgl64.Vec2
	}
	var ends []end
	for k := range lines {
		if lines[k].closed {
			continue
		}
		for _, last := range []bool{false, true} {
			p := lines[k].end(last)
			if math.Abs(p[0]) > near && !meetsOther(lines, k, last, p, near) && len(ends) < mostEnds {
				ends = append(ends, end{k, last, p})
			}
		}
	}
	i, width = -1, far
	for a := range ends {
		for b := a + 1; b < len(ends); b++ {
			p, q := ends[a], ends[b]
			d := p.at.Sub(q.at).Len()
			if d > width || (i >= 0 && d == width) || (p.line == q.line && lines[p.line].length() < 4*far) {
				continue
			}
			i, j, flipI, flipJ, width = p.line, q.line, !p.last, q.last, d
		}
	}
	return i, j, flipI, flipJ, width
}

// end is the first point, or the last.
func (l line) end(last bool) mgl64.Vec2 {
	if last {
		return l.pts[len(l.pts)-1]
	}
	return l.pts[0]
}

// meetsOther reports whether another line has an end at an end of a line.
func meetsOther(lines []line, k int, last bool, p mgl64.Vec2, near float64) bool {
	for o := range lines {
		for _, l := range []bool{false, true} {
			if (o != k || l != last) && lines[o].end(l).Sub(p).Len() <= near {
				return true
			}
		}
	}
	return false
}

func (l line) reversed() line {
	r := slices.Clone(l.pts)
	slices.Reverse(r)
	return line{r, l.closed}
}
