package drawing

import (
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

const (
	// gapShare is the widest gap that is bridged, as a share of the greater of the
	// breadth and the height of all that is drawn under the name: over so short a
	// distance a straight line departs from any hull by less than can be drawn.
	gapShare = 0.02
	// breakShare is the widest break that is called a gap, and not the end of
	// another line.
	breakShare  = 0.25
	mostParts   = 200             // parts of one outline among which gaps are sought
	doublesBack = math.Pi * 2 / 3 // turn at a gap beyond which it is not one
)

// bridge is a gap or a notch that was bridged.
type bridge struct {
	wide  float64 // mm
	below float64 // mm below the highest point of the outline
}

// spanOf is the greater of the breadth and height of the chains.
func spanOf(chains []chain) float64 {
	b := box{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for i := range chains {
		c := boxOf(chains[i].pts)
		b = box{min(b.x0, c.x0), max(b.x1, c.x1), min(b.y0, c.y0), max(b.y1, c.y1)}
	}
	return max(b.x1-b.x0, b.y1-b.y0)
}

// topOf is the height of the highest point.
func topOf(chains []chain) float64 {
	top := math.Inf(-1)
	for i := range chains {
		for _, q := range chains[i].pts {
			top = max(top, q[1])
		}
	}
	return top
}

// gap is a pair of ends that face each other, of one chain or of two.
type gap struct {
	a, b         int  // chains
	aFirst, bEnd bool // the end of a is its first point; that of b is its last
	wide         float64
}

// joinGaps bridges the gaps in an outline that are narrow enough, the narrowest
// first, and returns the chains that result. A break across the centre line is
// not a gap: there two halves end at a keel. centre is NaN where there is no
// such line.
func joinGaps(chains []chain, centre float64) (whole []chain, found []bridge) {
	widest, top := gapShare*spanOf(chains), topOf(chains)
	whole = slices.Clone(chains)
	for len(whole) <= mostParts {
		g, ok := narrowest(whole, centre)
		if !ok || g.wide > widest {
			return whole, found
		}
		a := whole[g.a]
		if g.aFirst {
			a = a.turned()
		}
		at := a.pts[len(a.pts)-1]
		found = append(found, bridge{wide: g.wide, below: top - at[1]})
		if g.a == g.b {
			whole[g.a] = a.shut()
			continue
		}
		b := whole[g.b]
		if g.bEnd {
			b = b.turned()
		}
		whole[g.a] = a.over(b, g.wide)
		whole = slices.Delete(whole, g.b, g.b+1)
	}
	return whole, found
}

// narrowest finds the narrowest gap.
func narrowest(chains []chain, centre float64) (best gap, ok bool) {
	best.wide = math.Inf(1)
	try := func(g gap, p, q mgl64.Vec2) {
		if d := p.Sub(q).Len(); d < best.wide && !((p[0]-centre)*(q[0]-centre) <= 0) && goesOn(chains, g, d) {
			g.wide = d
			best, ok = g, true
		}
	}
	for a := range chains {
		p := &chains[a]
		if p.closed {
			continue
		}
		first, last := p.pts[0], p.pts[len(p.pts)-1]
		if p.length() > 4*first.Sub(last).Len() {
			try(gap{a: a, b: a}, last, first)
		}
		for b := a + 1; b < len(chains); b++ {
			q := &chains[b]
			if q.closed {
				continue
			}
			try(gap{a: a, b: b}, last, q.pts[0])
			try(gap{a: a, b: b, bEnd: true}, last, q.pts[len(q.pts)-1])
			try(gap{a: a, b: b, aFirst: true}, first, q.pts[0])
			try(gap{a: a, b: b, aFirst: true, bEnd: true}, first, q.pts[len(q.pts)-1])
		}
	}
	return best, ok
}

// goesOn reports whether the line continues beyond a gap: two lines side by side,
// whose ends lie beside each other, would double back.
func goesOn(chains []chain, g gap, wide float64) bool {
	a, b := &chains[g.a], &chains[g.b]
	u, v := a.along(len(a.pts)-1, -1, 2*wide), b.along(0, 1, 2*wide)
	if g.aFirst {
		u = a.along(0, 1, 2*wide).Mul(-1)
	}
	if g.bEnd {
		v = b.along(len(b.pts)-1, -1, 2*wide).Mul(-1)
	}
	return math.Abs(signedTurn(u, v)) < doublesBack
}

// shut closes a chain over a gap.
func (c *chain) shut() chain {
	n := len(c.pts)
	s := stroke{pts: append(c.pts[:n:n], c.pts[0]), closed: true, line: c.line}
	for i, corner := range c.corner {
		if corner {
			s.joint(i)
		}
	}
	return s.chain()
}

// over joins a chain that continues this one across a gap, where the ends may
// overlap. If the two turn a corner there, it is put where they would meet.
func (c *chain) over(next chain, wide float64) chain {
	u, v := c.along(len(c.pts)-1, -1, 2*wide), next.along(0, 1, 2*wide)
	a, b := c.pts[len(c.pts)-1], next.pts[0]
	out := chain{line: min(c.line, next.line), pts: slices.Clone(c.pts), corner: slices.Clone(c.corner)}
	rest := chain{pts: next.pts, corner: next.corner}
	meet, corner := mgl64.Vec2{}, false
	if det := u[0]*v[1] - u[1]*v[0]; math.Atan2(math.Abs(det), u.Dot(v)) > sharpest {
		w := b.Sub(a)
		meet = a.Add(u.Mul((w[0]*v[1] - w[1]*v[0]) / det))
		corner = meet.Sub(a).Len() <= 2*wide && meet.Sub(b).Len() <= 2*wide
	}
	if corner {
		out.drop(meet, u)
		rest.dropFirst(meet, v)
		out.pts, out.corner = append(out.pts, meet), append(out.corner, true)
	} else {
		out.drop(b, u.Add(v))
	}
	out.pts, out.corner = append(out.pts, rest.pts...), append(out.corner, rest.corner...)
	return out
}

// drop removes from the end all points that lie beyond a given point in the
// direction along, but keeps at least one.
func (c *chain) drop(from mgl64.Vec2, along mgl64.Vec2) {
	n := len(c.pts)
	for n > 1 && c.pts[n-1].Sub(from).Dot(along) >= 0 {
		n--
	}
	c.pts, c.corner = c.pts[:n], c.corner[:n]
}

// dropFirst removes from the beginning all points that lie before a given point
// in the direction along.
func (c *chain) dropFirst(from mgl64.Vec2, along mgl64.Vec2) {
	k := 0
	for k < len(c.pts)-1 && c.pts[k].Sub(from).Dot(along) <= 0 {
		k++
	}
	c.pts, c.corner = c.pts[k:], c.corner[k:]
}

// mend bridges the gaps and notches of an outline, notes them, and reports
// whether it is sound.
func (t *tracing) mend(name string, chains []chain, centre float64) (whole []chain, ok bool) {
	whole, gaps := joinGaps(chains, centre)
	t.bridged(&t.gaps, name, gaps)
	ok = true
	for i := range whole {
		var notches []bridge
		var wide float64
		whole[i], notches, wide = whole[i].withoutNotches(centre)
		t.bridged(&t.notches, name, notches)
		if wide > 0 {
			t.Add(whole[i].line, name, "draw its outline across it", "a notch of %s mm in its outline is too wide to be bridged", fault.Figure(math.Round(wide*10)/10))
			ok = false
		}
	}
	return whole, ok
}

// bridged collects what was bridged: for each frame only the widest, and how many
// there were.
func (t *tracing) bridged(list *[]string, name string, found []bridge) {
	if len(found) == 0 {
		return
	}
	most := slices.MaxFunc(found, func(a, b bridge) int {
		if a.wide < b.wide {
			return -1
		}
		return 1
	})
	text := tongue.T("%s (%.2f mm wide, %.1f mm below its highest point", fault.Name(name), most.wide, most.below)
	if n := len(found) - 1; n > 0 {
		text += tongue.T(", and %d narrower", n)
	}
	*list = append(*list, text+")")
}

// bridgeNotes notes the gaps and notches that were bridged.
func (t *tracing) bridgeNotes() {
	for what, list := range map[string][]string{"Gaps": t.gaps, "Notches": t.notches} {
		if len(list) > 0 {
			t.drawing.Notes = append(t.drawing.Notes, tongue.T("%s in the outlines of frames are bridged: %s. Check the outlines there.", what, few(list)))
		}
	}
	slices.Sort(t.drawing.Notes[max(len(t.drawing.Notes)-2, 0):])
}

// few names the first few of some things.
func few(items []string) string {
	const most = 8
	text := strings.Join(items[:min(len(items), most)], ", ")
	if len(items) > most {
		text += tongue.T(" and %d more", len(items)-most)
	}
	return text
}

// onlyOutline notes what is drawn under the frame's name besides the outlines of
// its two sides, which used lists.
func (t *tracing) onlyOutline(name string, chains []chain, used map[int]bool) bool {
	for i := range chains {
		if used[i] {
			continue
		}
		at, wide := mgl64.Vec2{}, math.Inf(1)
		for k := range used {
			for _, p := range chains[k].ends() {
				for _, q := range chains[i].ends() {
					if d := p.Sub(q).Len(); d < wide {
						at, wide = p, d
					}
				}
			}
		}
		if wide <= breakShare*spanOf(chains) && !runsBeside(chains, i, used) {
			t.Add(chains[i].line, name, "join its ends, or draw what is missing", "its outline breaks off %s mm below its highest point, and resumes %s mm farther on",
				fault.Figure(math.Round((topOf(chains)-at[1])*10)/10), fault.Figure(math.Round(wide*100)/100))
			return false
		}
		t.Add(chains[i].line, name, "rename the line that is not its outline, call it unused, or remove it",
			"two separate lines have its name on one side, of %s and %s mm", fault.Figure(math.Round(chains[i].length()*10)/10), fault.Figure(math.Round(longestOf(chains, used)*10)/10))
		return false
	}
	return true
}

// runsBeside reports whether a chain lies beside one of some others for half the height
// of the lower of the two, and so cannot be a missing part of it.
func runsBeside(chains []chain, i int, of map[int]bool) bool {
	b := boxOf(chains[i].pts)
	for k := range of {
		c := boxOf(chains[k].pts)
		if min(b.y1, c.y1)-max(b.y0, c.y0) > min(b.y1-b.y0, c.y1-c.y0)/2 {
			return true
		}
	}
	return false
}

// ends are the ends of an open chain.
func (c *chain) ends() []mgl64.Vec2 {
	if c.closed {
		return nil
	}
	return []mgl64.Vec2{c.pts[0], c.pts[len(c.pts)-1]}
}

// longestOf is the length of the longest of some chains.
func longestOf(chains []chain, of map[int]bool) float64 {
	long := 0.0
	for k := range of {
		long = max(long, chains[k].length())
	}
	return long
}
