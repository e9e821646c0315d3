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

// layAtFrames works out how the strips of all bands lie at the frames: by
// weights, each no wider than its strip, and what whole strips leave open filled.
// What a strip takes up hangs on the turn from face to face, and that on where
// the strips lie: three rounds bring it home within some microns.
func (l *Layer) layAtFrames(h *hull.Layer) {
	s := l.Surface
	for _, b := range l.Bands {
		b.laid = make([]asLaid, s.Frames())
		for i := s.first; i <= s.last; i++ {
			b.laid[i].width = b.wanted(i)
		}
	}
	const rounds = 3
	for round := range rounds {
		moved := false
		full := make([][]float64, s.Frames())
		for i := s.first; i <= s.last; i++ {
			full[i] = l.fullAt(i, h)
		}
		for _, b := range l.Bands {
			moved = b.fitAll(full, round) || moved
		}
		if round == 0 && !moved {
			break
		}
		for _, b := range l.Bands {
			b.fill(h)
		}
	}
	for _, b := range l.Bands {
		b.places = l.placesOf(b)
	}
}

// fitAll fits a band at all frames, led past its nibs; full is for all strakes of the
// layer. The leading is not found again in later rounds: it moves by microns.
func (b *Band) fitAll(full [][]float64, round int) (moved bool) {
	own := make([][]float64, len(full))
	for i := b.first; i <= b.last; i++ {
		own[i] = full[i][b.First : b.First+len(b.Weights)]
	}
	if round == 0 {
		b.ledBy = b.faired(own)
	}
	for i := b.first; i <= b.last; i++ {
		moved = b.fit(i, own[i]) || moved
	}
	return moved
}

// wanted is every strake's width at a frame by its weight alone, mm along the frame.
func (b *Band) wanted(i int) []float64 {
	out := b.widths(i)
	for k := range out {
		out[k] *= b.Girths[i]
	}
	return out
}

// fullAt gives what a whole strip of every strake of the layer takes up along a
// frame, mm: 0 where it is not laid.
func (l *Layer) fullAt(i int, h *hull.Layer) []float64 {
	type laid struct {
		n    int // its index in the layer
		cos  float64
		rel  float64
		face face
	}
	var all []laid
	count := 0
	for _, b := range l.Bands {
		down := 0.0
		for k, w := range b.laid[i].width {
			if w > 0 {
				f, cos := l.Surface.faceBetween(i, b, down, down+w)
				all = append(all, laid{b.First + k, cos, b.strips[k], f})
			}
			down += w
			if b.laid[i].wedge != nil {
				down += b.laid[i].wedge[k]
			}
		}
		count += len(b.Weights)
	}
	out := make([]float64, count)
	var upper, lower edge
	for j := range all {
		if j == 0 {
			upper = limitEdge(l.waleTurn(i, &all[j].face))
		}
		if j+1 < len(all) {
			lower = seamEdge(h, turn(&all[j].face, &all[j+1].face))
		} else {
			lower = limitEdge(l.Surface.rabbetTurn(i, &all[j].face))
		}
		a := &all[j]
		out[a.n] = pitch(h, a.rel*l.width, l.Rules.LeastWidth, upper, lower) / a.cos
		upper = lower
	}
	return out
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
		b.raise(i, want, b.dropsAt(i))
	}
	byWeight, capped := slices.Clone(want), make([]bool, len(want))
	fixed := b.nibsAt(i, want, full)
	moved := fixed != nil
	a.whole, a.full = make([]bool, len(want)), full
	a.creep, a.wedge, a.short = make([]float64, len(want)), make([]float64, len(want)), 0
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
