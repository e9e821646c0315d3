package loft

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// asLaid is a band at a frame as its strips come to lie, edge to edge: widths
// along the frame, mm. Strakes, what they creep and wedges fill the girth.
type asLaid struct {
	width []float64 // of every strake, with what it creeps; 0 where it has dropped out
	creep []float64 // of that, what its strip creeps apart beyond the plan's allowance
	wedge []float64 // beneath every strake
	whole []bool    // its strip lies there whole
	full  []float64 // what a whole strip of it takes up
	short float64   // what whole strips leave of the girth; below 0 what is shaved off them in all
}

func (a asLaid) equals(b asLaid) bool {
	return a.short == b.short && slices.Equal(a.width, b.width) && slices.Equal(a.creep, b.creep) && slices.Equal(a.wedge, b.wedge) && slices.Equal(a.whole, b.whole)
}

// place is where a strake lies at a frame, in shares of its band's girth.
type place struct {
	upper, lower, middle float64
	gap                  float64 // the wedge beneath it; below 0 where strips are shaved instead, so that it tells where between two frames the wedge opens
}

// layAtFrames works out how the strips of a band lie at the frames: by weights, each
// no wider than its strip, and what whole strips leave open filled. What a strip takes
// up hangs on the turn from face to face, and that on where the strips lie: a second
// round brings it home within some microns. What lies beyond the band's lines has no
// part in it, so that a band which is not touched stays as it is.
func (l *Layer) layAtFrames(b *Band, h *hull.Layer) {
	s := l.Surface
	b.laid = make([]asLaid, s.Frames())
	n := len(b.Weights)
	room, flags := make([]float64, 2*n*s.Frames()), make([]bool, n*s.Frames())
	for i := s.first; i <= s.last; i++ {
		a := &b.laid[i]
		a.width = b.wanted(i)
		a.creep, a.wedge, a.whole = take(&room, n), take(&room, n), take(&flags, n)
	}
	const rounds = 2
	full := make([][]float64, s.Frames())
	for round := range rounds {
		moved := false
		for i := s.first; i <= s.last; i++ {
			full[i] = l.fullAt(b, i, h)
		}
		if round == 0 {
			b.ledBy = b.faired(full) // it moves by microns in the next
		}
		for i := s.first; i <= s.last; i++ {
			moved = b.fit(i, full[i]) || moved
		}
		if round == 0 && !moved {
			break
		}
		b.fill(h)
	}
	b.places = l.placesOf(b)
}

// wanted is every strake's width at a frame by its weight alone, mm along the frame.
func (b *Band) wanted(i int) []float64 {
	out := b.widths(i)
	for k := range out {
		out[k] *= b.Girths[i]
	}
	return out
}

// fullAt gives what a whole strip of every strake of a band takes up along a frame, mm:
// 0 where it is not laid. Over the band's lines the faces are taken to turn as much
// again as from the surface there to its own.
func (l *Layer) fullAt(b *Band, i int, h *hull.Layer) []float64 {
	out := make([]float64, len(b.Weights))
	a := &b.laid[i]
	if b.slack(i) {
		for k, w := range a.width {
			if w > 0 {
				out[k] = b.leastAt(i, k, a.width, 1)
			}
		}
		return out
	}
	var before face
	last, down := -1, 0.0
	var upper edge
	for k, w := range a.width {
		if w > 0 {
			f, cos := l.Surface.faceBetween(i, b, down, down+w)
			if last < 0 {
				upper = l.turnAbove(b, i, &f, h)
			} else {
				lower := seamEdge(h, turn(&before, &f))
				out[last] = pitch(h, b.strips[last]*l.width, l.Rules.LeastWidth, upper, lower) / out[last]
				upper = lower
			}
			before, last, out[k] = f, k, cos
		}
		down += w
		if a.wedge != nil {
			down += a.wedge[k]
		}
	}
	if last >= 0 {
		out[last] = pitch(h, b.strips[last]*l.width, l.Rules.LeastWidth, upper, l.turnBelow(b, i, &before, h)) / out[last]
	}
	return out
}

// slack tells whether all strakes of a frame are so much narrower than their strips that
// what bevels take of these, thickness times turn, matters to none.
func (b *Band) slack(i int) bool {
	const easily = 0.8
	for k, w := range b.laid[i].width {
		if w > easily*b.strips[k]*b.stock {
			return false
		}
	}
	return len(b.dropsAt(i)) == 0
}

// turnAbove and turnBelow are the edges at the upper and the lower line of a band on a
// frame, f being the first or the last of its faces.
func (l *Layer) turnAbove(b *Band, i int, f *face, h *hull.Layer) edge {
	if b.Number == 1 || l.Surface.shapeless {
		return limitEdge(l.waleTurn(i, f))
	}
	at := l.Surface.normalOn(b.top, i, f)
	return seamEdge(h, 2*turn(&at, f))
}

func (l *Layer) turnBelow(b *Band, i int, f *face, h *hull.Layer) edge {
	if b.lowest || l.Surface.shapeless {
		return limitEdge(l.Surface.rabbetTurn(i, f))
	}
	at := l.Surface.normalOn(b.bottom, i, f)
	return seamEdge(h, 2*turn(f, &at))
}

// normalOn is the face that lies along the surface where a line crosses a frame, run as
// another face is.
func (s *Surface) normalOn(line *Line, i int, f *face) face {
	k := s.FrameStation(i)
	pu, pv := s.tangentsAt(k, line.V[k])
	return face{tangent: f.tangent, normal: pu.Cross(pv).Normalize()}
}

// faceBetween is the flat face of a strake between two places of a band, mm below
// its upper line on a frame, and the cosine of its run's slant there.
func (s *Surface) faceBetween(i int, b *Band, from, to float64) (face, float64) {
	k := s.FrameStation(i)
	top := b.top.Down[k]
	share := 0.0
	if b.Girths[i] > 0 {
		share = min((from+to)/2/b.Girths[i], 1)
	}
	cos := b.slantAt(i, share)
	chord := s.placeAt(k, s.vDown(k, top+to)).Sub(s.placeAt(k, s.vDown(k, top+from)))
	t := mgl64.Vec3{1, 0, 0}
	if !s.shapeless {
		pu, pv := s.tangentsAt(k, s.vDown(k, top+(from+to)/2))
		c, d := b.top.course, b.bottom.course
		t = pu.Add(pv.Mul(c.v1[k]*(1-share) + d.v1[k]*share)).Normalize()
	}
	return face{tangent: t, normal: t.Cross(chord).Normalize()}, cos
}

// fit makes every strake at a frame no wider than a whole strip takes up, full mm
// along the frame, as far as the others can take what that leaves; and gives the
// strakes that drop out after it their nibs. It tells whether that moved any.
func (b *Band) fit(i int, full []float64) bool {
	a := &b.laid[i]
	want := b.wanted(i)
	if len(b.endings) > 0 {
		if b.ledBy != nil {
			want = slices.Clone(b.ledBy[i])
		}
		if !b.raise(i, want, b.dropsAt(i)) {
			want = b.wanted(i) // which leaves every strake so much as it may be narrowed to
		}
	}
	byWeight, capped := slices.Clone(want), make([]bool, len(want))
	fixed := b.nibsAt(i, want, full)
	moved := fixed != nil
	a.full, a.short = full, 0
	clear(a.whole)
	clear(a.creep)
	clear(a.wedge)
	for {
		over, open := 0.0, 0.0
		for k, w := range want {
			switch most := b.mostAt(k, full[k], byWeight[k]); {
			case w == 0 || capped[k] || fixed != nil && fixed[k]:
			case w > most+tight:
				over += w - most
				want[k], capped[k], a.whole[k] = most, true, most == full[k]
			default:
				open += w
			}
		}
		if over == 0 {
			break
		}
		moved = true
		if open == 0 && fixed != nil { // where all others are whole strips, those at the nibs take more than one
			for k, is := range fixed {
				if is {
					open += want[k]
				}
			}
			fixed = nil
		}
		if open == 0 {
			a.short = over
			break
		}
		for k := range want {
			if want[k] > 0 && !capped[k] && (fixed == nil || !fixed[k]) {
				want[k] *= 1 + over/open
			}
		}
	}
	a.width = want
	if a.short == 0 {
		for k, w := range want {
			if w > 0 {
				a.short -= max(full[k]-w, 0)
			}
		}
	}
	return moved
}

// mostAt is the most that a strake takes up at a frame where a whole strip of it
// takes up full. One whose weight was set above 1 is to be wider than its strip, and
// takes up its share; one that is cut from sheet or block by the builder's word may
// be as much wider as the rules allow.
func (b *Band) mostAt(k int, full, byWeight float64) float64 {
	switch {
	case b.wider[k]:
		return max(full, byWeight)
	case b.modes[k] == hull.Spiled || b.modes[k] == hull.Block:
		return full * b.rules.MostWidth
	}
	return full
}

// nibsAt has every strake that ends at a frame and its heir fill a whole strip there
// together, so that the heir goes on past the nib as one; the others share what is
// left. Where that would leave any of these narrower than it may be all stay as they
// are. It tells which are fixed, nil for none.
func (b *Band) nibsAt(i int, want, full []float64) []bool {
	drops := b.dropsAt(i)
	if len(drops) == 0 {
		return nil
	}
	fixed, set := make([]bool, len(want)), make([]float64, len(want))
	given, others := 0.0, 0.0
	for _, d := range drops {
		if fixed[d.strake] || fixed[d.into] {
			continue
		}
		nib, rest := b.leastAt(i, d.strake, want, max(b.rules.Nib, b.rules.LeastWidth)), b.leastAt(i, d.into, want, b.rules.LeastWidth)
		both := max(full[d.into], nib+rest)
		fixed[d.strake], fixed[d.into] = true, true
		set[d.strake] = min(max(both*want[d.strake]/(want[d.strake]+want[d.into]), nib), both-rest)
		set[d.into] = both - set[d.strake]
		given += both
	}
	for k, w := range want {
		if !fixed[k] {
			others += w
		}
	}
	if others == 0 {
		return nil
	}
	scale := (b.Girths[i] - given) / others
	for k, w := range want {
		if w > 0 && !fixed[k] && w*scale < b.leastAt(i, k, want, b.rules.LeastWidth) {
			return nil
		}
	}
	for k := range want {
		if fixed[k] {
			want[k] = set[k]
		} else {
			want[k] *= scale
		}
	}
	return fixed
}

// dropsAt lists the strakes that end at a frame, towards either end of the hull.
func (b *Band) dropsAt(i int) []dropping {
	return append(b.dropsTo(i, i-1), b.dropsTo(i, i+1)...)
}

// leastAt is a share of the width of a strake's strip along a frame, mm.
func (b *Band) leastAt(i, k int, want []float64, share float64) float64 {
	at := want[k] / 2
	for _, w := range want[:k] {
		at += w
	}
	return share * b.strips[k] * b.stock / b.slantAt(i, min(max(at/b.Girths[i], 0), 1))
}

// placesOf turns widths into shares of the girth at every frame; at those not
// planked they are what they are at the end of the planking.
func (l *Layer) placesOf(b *Band) [][]place {
	s := l.Surface
	out := make([][]place, s.Frames())
	for i := s.first; i <= s.last; i++ {
		out[i] = b.placesAt(i)
	}
	b.centreHeirs(out)
	for _, run := range b.shorts {
		for _, k := range run.wedges {
			b.gaps(out, k, float64(len(run.wedges)))
		}
	}
	for i := range out {
		out[i] = out[min(max(i, s.first), s.last)]
	}
	return out
}

// placesAt gives them at a frame. A strake that has dropped out has both its edges
// in one place. On a frame of no girth all are shared alike.
func (b *Band) placesAt(i int) []place {
	a, g := &b.laid[i], b.Girths[i]
	width := a.width
	scale := 1 / g
	if !(g > 0) {
		width, scale = b.widths(i), 1
	}
	out := make([]place, len(width))
	at := 0.0
	for k, w := range width {
		p := &out[k]
		p.upper = at
		p.lower = at + w*scale
		p.middle = (p.upper + p.lower) / 2
		at = p.lower
		if a.wedge != nil && g > 0 {
			at += a.wedge[k] / g
		}
	}
	for k := len(out) - 1; k >= 0 && out[k].lower > 1-1e-9; k-- { // rounding
		out[k].lower = 1
	}
	return out
}

// gaps sets the gap beneath strake k, one of so many wedges, at every frame.
func (b *Band) gaps(places [][]place, k int, wedges float64) {
	for i := b.first; i <= b.last; i++ {
		a := &b.laid[i]
		if g := b.Girths[i]; g > 0 {
			places[i][k].gap = a.wedge[k] / g
			if a.short < 0 {
				places[i][k].gap = a.short / wedges / g
			}
		}
	}
}

// centreHeirs moves the middle of every strake that goes on past a nib to that of
// the strip it is cut from: towards the nib it is narrowed on one side alone, and a
// line along its own middle would bend where the strip does not. Between the band's
// greatest frame and the nib that comes in by degrees.
func (b *Band) centreHeirs(places [][]place) {
	most := b.first
	for i := b.first; i <= b.last; i++ {
		if b.Girths[i] > b.Girths[most] {
			most = i
		}
	}
	for i := b.first; i <= b.last; i++ {
		for _, next := range []int{i - 1, i + 1} {
			sides := map[int][2]bool{}
			for _, d := range b.dropsTo(i, next) {
				s := sides[d.into]
				s[0], s[1] = s[0] || d.strake < d.into, s[1] || d.strake > d.into
				sides[d.into] = s
			}
			for k, s := range sides {
				if s[0] != s[1] && (next-i)*(i-most) >= 0 && i != most {
					b.centreHeir(places, k, i, most, s[0])
				}
			}
		}
	}
}

// centreHeir does so for one, narrowed on its upper side or its lower, from the
// greatest frame to the end beyond the nib.
func (b *Band) centreHeir(places [][]place, k, nib, most int, above bool) {
	step := 1
	if nib < most {
		step = -1
	}
	for i := most + step; i >= b.first && i <= b.last; i += step {
		a := &b.laid[i]
		if a.width[k] == 0 || !(b.Girths[i] > 0) {
			continue
		}
		share := min(math.Abs(float64(i-most))/math.Abs(float64(nib-most)), 1)
		by := share * max(a.full[k]-a.width[k], 0) / 2 / b.Girths[i]
		if above {
			by = -by
		}
		p := &places[i][k]
		p.middle = (p.upper+p.lower)/2 + by
	}
}
