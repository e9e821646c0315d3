package loft

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// asLaid is a band at a frame with its strips laid edge to edge: widths along the
// frame, mm. Strakes, their creep and wedges together fill the girth.
type asLaid struct {
	width []float64 // of every strake, its creep included; 0 where it has dropped out
	creep []float64 // the part of that by which its strip creeps beyond the plan's allowance
	wedge []float64 // beneath every strake
	whole []bool    // its strip lies there uncut
	full  []float64 // the girth a whole strip of it covers
	short float64   // girth that whole strips leave open; negative for the total shaved off them
}

func (a asLaid) equals(b asLaid) bool {
	return a.short == b.short && slices.Equal(a.width, b.width) && slices.Equal(a.creep, b.creep) && slices.Equal(a.wedge, b.wedge) && slices.Equal(a.whole, b.whole)
}

// place is where a strake lies at a frame, in shares of its band's girth.
type place struct {
	upper, lower, middle float64
	gap                  float64 // the wedge beneath it; negative where strips are shaved instead, so that the sign change shows where between two frames the wedge opens
}

// layAtFrames lays the strips of a band at the frames: widths by weight, none wider
// than its strip, and any girth that whole strips leave open filled. The girth a strip
// covers depends on the turn from face to face, which depends on where the strips lie;
// a second round settles that to within a few microns. Whatever lies outside the band's
// lines has no influence, so a band that is not touched does not change.
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
			b.ledBy = b.faired(full) // the next round moves it by microns only
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

// wanted gives every strake's width at a frame by its weight alone, mm along the frame.
func (b *Band) wanted(i int) []float64 {
	out := b.widths(i)
	for k := range out {
		out[k] *= b.Girths[i]
	}
	return out
}

// fullAt gives the girth that a whole strip of every strake of a band covers at a
// frame, mm; 0 where the strake is not laid. Across the band's lines the face is
// assumed to turn once more by the angle between the band's own outermost face and the
// surface there.
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

// slack reports whether all strakes at a frame are so much narrower than their strips
// that the allowance for bevels (thickness times turn) makes no difference.
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
// frame; f is the first or the last of the band's faces there.
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

// normalOn is the face tangent to the surface where a line crosses a frame, with the
// run of another face.
func (s *Surface) normalOn(line *Line, i int, f *face) face {
	k := s.FrameStation(i)
	pu, pv := s.tangentsAt(k, line.V[k])
	return face{tangent: f.tangent, normal: pu.Cross(pv).Normalize()}
}

// faceBetween is the flat face of a strake between two places of a band, given in mm
// below its upper line on a frame, and the cosine of the slant of its run there.
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

// fit makes no strake at a frame wider than its whole strip covers (full, mm along the
// frame), as far as the others can take up the difference, and gives the strakes that
// drop out beyond the frame their nibs. It reports whether any width changed.
func (b *Band) fit(i int, full []float64) bool {
	a := &b.laid[i]
	want := b.wanted(i)
	if len(b.endings) > 0 {
		if b.ledBy != nil {
			want = slices.Clone(b.ledBy[i])
		}
		if !b.raise(i, want, b.dropsAt(i)) {
			want = b.wanted(i) // which respects the least width of every strake
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
		if open == 0 && fixed != nil { // where all others are whole strips, the strakes at the nibs take up more than one
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

// mostAt is the greatest girth a strake may cover at a frame where its whole strip
// covers full. A strake weighted above 1 is meant to be wider than its strip and gets
// its share; one that the builder has cut from sheet or block may be as much wider as
// the rules allow.
func (b *Band) mostAt(k int, full, byWeight float64) float64 {
	switch {
	case b.wider[k]:
		return max(full, byWeight)
	case b.modes[k] == hull.Spiled || b.modes[k] == hull.Block:
		return full * b.rules.MostWidth
	}
	return full
}

// nibsAt makes every strake that ends at a frame and its heir fill one whole strip
// together there, so that the heir goes on past the nib as a whole strip; the others
// share the rest. Where that would make any of them too narrow, all stay as they are.
// It reports which are fixed, nil for none.
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

// leastAt is a given share of the width of a strake's strip, measured along a frame,
// mm.
func (b *Band) leastAt(i, k int, want []float64, share float64) float64 {
	at := want[k] / 2
	for _, w := range want[:k] {
		at += w
	}
	return share * b.strips[k] * b.stock / b.slantAt(i, min(max(at/b.Girths[i], 0), 1))
}

// placesOf turns widths into shares of the girth at every frame; frames outside the
// planked length get those of the nearest planked one.
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

// placesAt does so for one frame. Both edges of a strake that has dropped out coincide.
// On a frame of no girth the strakes have equal shares.
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

// gaps sets the gap beneath strake k, one of a number of wedges, at every frame.
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

// centreHeirs moves the middle of every strake that goes on past a nib to the middle of
// the strip it is cut from. Towards the nib it is narrowed on one side only, so a line
// along its own middle would bend where the strip does not. The shift grows gradually
// from the band's greatest frame to the nib.
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

// centreHeir does so for one strake, narrowed on its upper or its lower side, from the
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
