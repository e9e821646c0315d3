package mesh

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// How the hull's side is distinguished from whatever else a section shows.
const (
	deckSlope   = math.Pi * 35 / 180 // off level: what lies flatter, running inwards from the top of the side, is deck
	deckAbove   = 0.4                // of the height of a section: no deck lies lower
	ledge       = 0.08               // of the half-breadth: what runs in by less is a ledge or a rail
	keelBreadth = 0.06               // of the greatest breadth: half the breadth that a keel may have
	keelUpright = math.Pi * 15 / 180 // off upright: the limit for a keel's side
	keelLeast   = 0.02               // of the height of the hull: the least part of a keel that shows
	keelTurn    = math.Pi * 20 / 180 // least outward turn where hull and keel meet
	mostPieces  = 100                // lines of a half that are examined: its longest
	heights     = 15                 // heights at which a section is examined for a second skin
	skinShare   = 0.12               // of the half-breadth: a second skin lies closer than this
	skinMost    = 0.6                // of the heights: the share at which it must be seen
	gapShare    = 0.15               // of a side's girth, or of the hull: ends closer than this belong to a gap
)

// side is the outline of one half of a section.
type side struct {
	pts     []mgl64.Vec2 // from the lower limit up to the upper one; y outwards
	deck    bool         // a deck was left out
	keel    bool         // a keel was left out
	open    bool         // the upper end is an edge of the mesh
	gaps    []gap
	beside  int     // other lines, which are left out
	doubled float64 // mm to a second skin, or 0
	torn    *gap    // too wide to be bridged
}

// halfOf gives the parts of the lines on one side of the middle, 1 or -1, mirrored for -1, and
// the heights between which pieces lie in the middle plane itself, the lower first.
func halfOf(lines []line, side, near float64) (out []line, walls [][2]float64) {
	for _, l := range lines {
		pts := make([]mgl64.Vec2, len(l.pts))
		for i, p := range l.pts {
			pts[i] = mgl64.Vec2{p[0] * side, p[1]}
			if math.Abs(p[0]) <= near {
				pts[i][0] = 0
			}
		}
		if l.closed {
			if i := slices.IndexFunc(pts, func(p mgl64.Vec2) bool { return p[0] <= 0 }); i >= 0 {
				pts = slices.Concat(pts[i:len(pts)-1], pts[:i+1])
			}
		}
		for i := 1; i < len(pts); i++ {
			if a, b := pts[i-1], pts[i]; a[0] == 0 && b[0] == 0 {
				walls = append(walls, [2]float64{min(a[1], b[1]), max(a[1], b[1])})
			}
		}
		out = append(out, clipped(pts, l.closed)...)
	}
	return out, walls
}

// downTo continues down from the lower end of a line along walls in the middle plane: a
// sharp end of the hull, or a thin skeg. A wall that closes a half hull rises from there.
func downTo(way []mgl64.Vec2, walls [][2]float64, near float64) []mgl64.Vec2 {
	if way[0][0] > near {
		return way
	}
	slices.SortFunc(walls, func(a, b [2]float64) int { return cmp.Compare(b[1], a[1]) })
	foot := way[0][1]
	for _, w := range walls {
		if math.Abs(w[1]-foot) <= 2*near {
			foot = w[0]
		}
	}
	if foot < way[0][1]-near {
		return append([]mgl64.Vec2{{0, foot}}, way...)
	}
	return way
}

// clipped gives the parts of a line with y above 0.
func clipped(pts []mgl64.Vec2, closed bool) []line {
	if len(pts) < 2 {
		return nil
	}
	if !slices.ContainsFunc(pts, func(p mgl64.Vec2) bool { return p[0] <= 0 }) {
		return []line{{pts, closed}}
	}
	var out []line
	var now []mgl64.Vec2
	end := func() {
		if len(now) > 1 {
			out = append(out, line{pts: now})
		}
		now = nil
	}
	for i, p := range pts {
		if i == 0 {
			if p[0] >= 0 {
				now = append(now, p)
			}
			continue
		}
		a := pts[i-1]
		switch {
		case a[0] <= 0 && p[0] <= 0: // on the far side, or in the middle plane
			end()
			if p[0] == 0 {
				now = append(now, p)
			}
		case a[0] < 0:
			now = append(now, onMiddle(a, p), p)
		case p[0] < 0:
			now = append(now, onMiddle(a, p))
			end()
		default:
			now = append(now, p)
		}
	}
	end()
	return out
}

func onMiddle(a, b mgl64.Vec2) mgl64.Vec2 {
	t := a[0] / (a[0] - b[0])
	return mgl64.Vec2{0, a[1] + (b[1]-a[1])*t}
}

// sizes are the lengths, in mm, that the search for sides uses.
type sizes struct {
	near, silent, bridge float64
	breadth, height      float64 // half the greatest breadth of the hull, and its height
}

// sideOf finds the hull's side among the lines of a half; false where there is none.
func sideOf(lines []line, walls [][2]float64, s sizes) (side, bool) {
	var out side
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(b.length(), a.length()) })
	lines = lines[:min(len(lines), mostPieces)]
	lines, out.gaps = bridged(lines, s.bridge, s.near)
	way, taken := widestWay(lines, s.near)
	if len(way) < 2 {
		return out, false
	}
	out.beside = len(lines) - taken
	out.doubled = secondSkin(way, lines)
	top := way[len(way)-1]
	out.open = top[0] > s.near
	out.torn = tornAt(way, lines, s)
	if way, out.deck = withoutDeck(way, s.near); len(way) < 2 {
		return out, false
	}
	if way, out.keel = withoutKeel(downTo(way, walls, s.near), s); !out.keel {
		way, out.keel = aboveKeel(way, lines, s)
	}
	out.pts = way
	return out, true
}

// widestWay follows the outside of the lines upwards from each of their ends, and
// gives the course that takes up most room, with the number of lines in it. Of
// closed lines it takes the outside from the lowest point to the highest.
func widestWay(lines []line, near float64) (way []mgl64.Vec2, taken int) {
	most := -1.0
	for i := range lines {
		if lines[i].closed {
			if w := outsideOf(lines[i].pts); room(w) > most {
				way, taken, most = w, 1, room(w)
			}
			continue
		}
		for _, last := range []bool{false, true} {
			if meetsOther(lines, i, last, lines[i].end(last), near) {
				continue
			}
			w, n := outsideFrom(lines, i, last, near)
			if w[0][1] > w[len(w)-1][1] {
				slices.Reverse(w) // it started from its upper end
			}
			if room(w) > most {
				way, taken, most = w, n, room(w)
			}
		}
	}
	return way, taken
}

// room is the area that points take up, and a little for their length: a mast is high and
// a deck broad, but the hull is both.
func room(pts []mgl64.Vec2) float64 {
	low, high := box([][]line{{{pts: pts}}})
	d := high.Sub(low)
	return d[0]*d[1] + d.Dot(d)/1000
}

// outsideOf is the course of a closed line from its lowest point to its highest,
// on the side of greater y.
func outsideOf(pts []mgl64.Vec2) []mgl64.Vec2 {
	n := len(pts) - 1
	low, high := 0, 0
	for i := range n {
		if pts[i][1] < pts[low][1] {
			low = i
		}
		if pts[i][1] > pts[high][1] {
			high = i
		}
	}
	var ways [2][]mgl64.Vec2
	for k, step := range []int{1, n - 1} {
		for i := low; ; i = (i + step) % n {
			ways[k] = append(ways[k], pts[i])
			if i == high {
				break
			}
		}
	}
	if reach(ways[0]) >= reach(ways[1]) {
		return ways[0]
	}
	return ways[1]
}

// reach is the mean y along the points.
func reach(pts []mgl64.Vec2) float64 {
	sum, length := 0.0, 1e-12
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1]).Len()
		sum, length = sum+d*(pts[i][0]+pts[i-1][0])/2, length+d
	}
	return sum / length
}

// outsideFrom follows lines from an end of one. Wherever several meet it takes
// the rightmost, which is the outside when coming from the keel.
func outsideFrom(lines []line, i int, last bool, near float64) (way []mgl64.Vec2, taken int) {
	used := make([]bool, len(lines))
	l := lines[i]
	if last {
		l = l.reversed()
	}
	for {
		used[i] = true
		taken++
		if len(way) > 0 {
			l.pts = l.pts[1:]
		}
		way = append(way, l.pts...)
		n := len(way)
		here, in := way[n-1], way[n-1].Sub(way[max(n-2, 0)])
		next, turn := line{}, math.Inf(1)
		for k := range lines {
			if used[k] || lines[k].closed {
				continue
			}
			for _, flip := range []bool{false, true} {
				o := lines[k]
				if o.end(flip).Sub(here).Len() > near {
					continue
				}
				if flip {
					o = o.reversed()
				}
				out := o.pts[1].Sub(o.pts[0])
				if t := math.Atan2(in[0]*out[1]-in[1]*out[0], in.Dot(out)); t < turn {
					next, turn, i = o, t, k
				}
			}
		}
		if next.pts == nil {
			return way, taken
		}
		l = next
	}
}

// withoutDeck cuts a line off where the side ends and the deck, or the inside of a bulwark,
// begins. The first place where it runs in flat by more than a ledge, above the lower part, is
// deck, with all beyond it; the side runs up to the highest point of the rest.
func withoutDeck(way []mgl64.Vec2, near float64) (side []mgl64.Vec2, deck bool) {
	n := len(way)
	low, high := box([][]line{{{pts: way}}})
	least := low[1] + deckAbove*(high[1]-low[1])
	end, from := n-1, 0
	for i := 1; i < n; i++ {
		if way[i-1][1] < least || !isDeck(way[i-1], way[i]) {
			from = i
			continue
		}
		if way[from][0]-way[i][0] > ledge*high[0] {
			end = from
			break
		}
	}
	top := 0
	for i := range end + 1 {
		if way[i][1] > way[top][1]+near || (way[i][1] > way[top][1]-near && way[i][0] > way[top][0]) {
			top = i
		}
	}
	if top == 0 {
		return way[:end+1], end < n-1
	}
	return way[:top+1], top < n-1
}

// isDeck reports whether a piece of a line runs inwards and is flat.
func isDeck(a, b mgl64.Vec2) bool {
	d := b.Sub(a)
	return d[0] < 0 && math.Abs(math.Atan2(d[1], -d[0])) < deckSlope
}

// withoutKeel cuts off a keel that stands out of the hull: from the bottom
// outwards, upright, then a corner outwards, which is the rabbet.
func withoutKeel(way []mgl64.Vec2, s sizes) (side []mgl64.Vec2, keel bool) {
	upright := false
	for i := 1; i+1 < len(way); i++ {
		if way[i][0] > keelBreadth*s.breadth*2 {
			return way, false
		}
		in, out := way[i].Sub(way[i-1]), way[i+1].Sub(way[i])
		if in[1] > 0 && math.Abs(in[0]) <= in[1]*math.Tan(keelUpright) {
			upright = true
		}
		turn := math.Atan2(in[1], in[0]) - math.Atan2(out[1], out[0])
		if upright && turn > keelTurn && way[i][1]-way[0][1] > keelLeast*s.height && way[i][0] <= keelBreadth*s.breadth*2 {
			return way[i:], true
		}
	}
	return way, false
}

// aboveKeel cuts a line off where the upright side of a keel that is a separate body
// passes through it.
func aboveKeel(way []mgl64.Vec2, lines []line, s sizes) (side []mgl64.Vec2, keel bool) {
	at, cutAt := -1, mgl64.Vec2{}
	for _, l := range lines {
		low, _ := box([][]line{{l}})
		if low[1] > way[0][1]-keelLeast*s.height {
			continue
		}
		for i := 1; i < len(l.pts); i++ {
			a, b := l.pts[i-1], l.pts[i]
			if min(a[0], b[0]) <= s.near || math.Abs(a[0]-b[0]) > math.Abs(a[1]-b[1])*math.Tan(keelUpright) {
				continue
			}
			for k := 1; k < len(way) && way[k-1][0] <= 2*keelBreadth*s.breadth; k++ {
				if p, ok := crossing(a, b, way[k-1], way[k]); ok && k > at {
					at, cutAt = k, p
				}
			}
		}
	}
	if at < 0 {
		return way, false
	}
	if at+1 < len(way) && way[at].Sub(cutAt).Len() < way[at+1].Sub(way[at]).Len()/4 {
		at++ // with two points so close a smooth curve would swing
	}
	return append([]mgl64.Vec2{cutAt}, way[at:]...), true
}

// crossing is where two straight pieces cross.
func crossing(a, b, c, d mgl64.Vec2) (mgl64.Vec2, bool) {
	u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
	det := u[0]*v[1] - u[1]*v[0]
	if det == 0 {
		return mgl64.Vec2{}, false
	}
	s, t := (w[0]*v[1]-w[1]*v[0])/det, (w[0]*u[1]-w[1]*u[0])/det
	return c.Add(v.Mul(t)), s >= 0 && s <= 1 && t >= 0 && t <= 1
}

// tornAt gives the gap beyond which the side would continue, if there is one:
// the lower end away from the middle, or another line that begins not far from
// an end.
func tornAt(way []mgl64.Vec2, lines []line, s sizes) *gap {
	girth := line{pts: way}.length()
	wide := gapShare * max(girth, s.breadth, s.height)
	first, last := way[0], way[len(way)-1]
	low, high := box([][]line{{{pts: way}}})
	for _, l := range lines {
		if l.closed || l.length() < girth*0.02 {
			continue
		}
		for _, end := range []bool{false, true} {
			p, far := l.end(end), l.end(!end)
			if p[0] <= s.near {
				continue
			}
			switch {
			case last[0] > s.near && p != last && far != last && p.Sub(last).Len() < wide && far[1] > high[1]+s.near && rises(p, far):
				return &gap{p.Sub(last).Len(), last}
			case first[0] > s.near && p != first && far != first && p.Sub(first).Len() < wide && far[1] < low[1]-s.near:
				return &gap{p.Sub(first).Len(), first}
			}
		}
	}
	if first[0] <= max(2*sidingShare*s.breadth, high[0]*0.25) || first[0] <= s.bridge {
		return nil
	}
	wide = first[0] // to the middle, or to the next line below
	for _, l := range lines {
		for _, end := range []bool{false, true} {
			if p := l.end(end); !l.closed && p[1] < first[1]-s.near {
				wide = min(wide, p.Sub(first).Len())
			}
		}
	}
	return &gap{wide, first}
}

// rises reports whether a line continues as a side does, and not inwards as a
// deck.
func rises(from, to mgl64.Vec2) bool {
	return to[1]-from[1] > (from[0]-to[0])*math.Tan(deckSlope)
}

// secondSkin is how far inside the side another skin runs along it, mm, or 0.
func secondSkin(way []mgl64.Vec2, lines []line) float64 {
	low, high := box([][]line{{{pts: way}}})
	seen, sum := 0, 0.0
	for k := range heights {
		z := low[1] + (high[1]-low[1])*(0.15+0.6*float64(k)/(heights-1))
		var at []float64
		for _, l := range lines {
			for i := 1; i < len(l.pts); i++ {
				if a, b := l.pts[i-1], l.pts[i]; (a[1] > z) != (b[1] > z) {
					at = append(at, a[0]+(b[0]-a[0])*(z-a[1])/(b[1]-a[1]))
				}
			}
		}
		slices.Sort(at)
		if n := len(at); n > 1 && at[n-1]-at[n-2] < skinShare*high[0] {
			seen++
			sum += at[n-1] - at[n-2]
		}
	}
	if float64(seen) < skinMost*heights {
		return 0
	}
	return max(sum/float64(seen), 1e-9)
}
