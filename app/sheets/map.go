package sheets

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// numberMap is the hull in profile from outside on one side, or its planking expanded:
// along the hull, and down from the upper limit by the girth.
type numberMap struct {
	*piece
	k     *loft.Planking
	l     *loft.Layer
	flip  bool // x runs to the left
	lo    mgl64.Vec3
	hi    mgl64.Vec3
	scale float64
	tall  float64    // the scale down the map
	at    draw.Point // of the hull's upper left corner

	expanded bool

	numbered []*loft.Strake
}

// Room round the hull on a numbering map, mm.
const (
	mapSide  = 13.0 // for numbers at either end
	mapHead  = 8.0  // for the frames' names
	mapWords = 7.0  // for what stands underneath
	mapPitch = 2.9  // from number to number
	mapGirth = 62.0 // the most that an expanded planking is drawn high
	// mapNumbers is the most strakes that are each numbered at either end.
	mapNumbers = 40
)

// numberedMap gives the map of the strakes' numbers on one side of the hull, as
// seen from outside: to starboard the bow lies to the right, to port to the
// left. Of more than forty strakes, every fifth is numbered. It is drawn at
// full size where it goes into the width of the settings; else it is made
// fineer, and says so: the one sheet that is not full size. There must be such
// a layer.
func numberedMap(k *loft.Planking, layer int, side hull.Side, s Settings) draw.Sheet {
	return mapOf(k, layer, side, false, s)
}

// numberMaps are the maps of a layer: starboard in profile, and expanded. Port is the
// mirror image of either.
func numberMaps(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	return []draw.Sheet{numberedMap(k, layer, hull.Starboard, s), mapOf(k, layer, hull.Starboard, true, s)}
}

func mapOf(k *loft.Planking, layer int, side hull.Side, expanded bool, s Settings) draw.Sheet {
	m := &numberMap{piece: &piece{}, k: k, l: k.Layers[layer-1], expanded: expanded}
	m.flip = bowRight(side) == (k.Plan.Hull.Bow == hull.BowFirst)
	m.fit(s.MapWidth)
	m.drawFrames()
	m.drawSeams()
	m.drawBlocks()
	m.drawNumbers()
	name, what := "number-map", tongue.T("Numbering map")
	if expanded {
		name, what = "expanded-map", tongue.T("Expanded planking")
		m.numberAmidships()
	}
	m.words(side)
	p := m.trimmed()
	p.nests = false
	return flow(kind{section: tongue.T("Numbering map"), name: fmt.Sprintf("%s-layer-%d", name, layer), title: tongue.T("%s, layer %d", what, layer)}, []*piece{p}, Size{})[0]
}

// fit finds scale and place.
func (m *numberMap) fit(width float64) {
	m.lo, m.hi = m.l.Seams[0].P[0], m.l.Seams[0].P[0]
	for _, s := range m.l.Seams {
		for _, p := range s.P {
			for a := range p {
				m.lo[a], m.hi[a] = min(m.lo[a], p[a]), max(m.hi[a], p[a])
			}
		}
	}
	m.scale = min(1, (width-2*mapSide)/(m.hi.X()-m.lo.X()))
	m.tall = m.scale
	if m.expanded {
		m.lo[2], m.hi[2] = -slices.Max(m.l.Girths), 0
		m.tall = min(1, mapGirth/-m.lo[2])
	}
	tall := m.tall * (m.hi.Z() - m.lo.Z())
	m.w = 2*mapSide + m.scale*(m.hi.X()-m.lo.X())
	m.numbered = m.l.Strakes
	if len(m.numbered) > mapNumbers {
		m.numbered = everyFifth(m.numbered)
	}
	numbers := mapPitch * float64(len(m.numbered))
	m.at = draw.Pt(mapSide, mapHead+max(numbers-tall, 0)/2)
	m.h = mapHead + max(numbers, tall) + mapWords
}

// place gives a point of the hull on the map.
func (m *numberMap) place(p mgl64.Vec3) draw.Point {
	x := p.X() - m.lo.X()
	if m.flip {
		x = m.hi.X() - p.X()
	}
	return draw.Pt(m.at.X+x*m.scale, m.at.Y+(m.hi.Z()-p.Z())*m.tall)
}

// on gives the place of a line's station.
func (m *numberMap) on(line *loft.Line, station int) draw.Point {
	p := line.P[station]
	if m.expanded {
		p[2] = -line.Down[station]
	}
	return m.place(p)
}

// run gives the places of a line from one station to another.
func (m *numberMap) run(line *loft.Line, from, to int) []draw.Point {
	var out []draw.Point
	for i := from; i <= to; i++ {
		out = append(out, m.on(line, i))
	}
	return out
}

// down gives a place on a frame.
func (m *numberMap) down(frame int, girth float64) draw.Point {
	p := m.l.Surface.AtDown(frame, girth)
	if m.expanded {
		p[2] = -girth
	}
	return m.place(p)
}

// drawFrames draws the planked frames and their names in a row above.
func (m *numberMap) drawFrames() {
	first, last := m.l.Surface.Planked()
	n := last - first + 1
	order := make([]int, n)
	for i := range order {
		order[i] = first + i
		if m.flip {
			order[i] = last - i
		}
	}
	at, room := make([]float64, n), make([]float64, n)
	tops := make([]draw.Point, n)
	for i, f := range order {
		var line []draw.Point
		const steps = 24
		for j := range steps + 1 {
			line = append(line, m.down(f, m.l.Girths[f]*float64(j)/steps))
		}
		m.Line(draw.FrameInk, hair, line...)
		tops[i], at[i] = line[0], line[0].X
		room[i] = draw.TextWidth(m.l.Surface.FrameName(f), fine) + 1.2
	}
	at = spread(at, room, 0, m.w)
	for i, f := range order {
		m.Text(draw.Pt(at[i], fine), m.l.Surface.FrameName(f), draw.Ink, fine, draw.Centre)
		m.Line(draw.Grid, hair, tops[i], draw.Pt(tops[i].X, mapHead-2), draw.Pt(at[i], fine+1.2))
	}
}

func (m *numberMap) drawSeams() {
	for _, s := range m.l.SeamRuns() {
		m.Line(draw.Seam, thin, m.run(s.Line, s.From, s.To)...)
	}
	for _, d := range m.l.Drops {
		st, at := m.l.Strakes[d.At], m.l.Surface.FrameStation(d.From)
		m.Line(draw.Seam, thin, m.on(st.Upper, at), m.on(st.Lower, at))
	}
	for _, b := range m.l.Lines {
		m.Line(draw.BandInk, heavy, m.run(b.Line, 0, len(b.P)-1)...)
	}
}

// drawBlocks draws the places of solid wood, dashed, each with its name.
func (m *numberMap) drawBlocks() {
	for _, n := range m.l.Notes {
		b, ok := n.(loft.MadeBlock)
		if !ok {
			continue
		}
		var upper, lower []draw.Point
		for f := b.From; f <= b.To; f++ {
			upper = append(upper, m.down(f, b.Upper))
			lower = append(lower, m.down(f, min(b.Lower, m.l.Girths[f])))
		}
		slices.Reverse(lower)
		line := append(append(upper, lower...), upper[0])
		m.Line(draw.Cut, broken, line...)
		m.Text(draw.Pt((line[0].X+line[b.To-b.From].X)/2, line[0].Y-0.6), tongue.T("block"), draw.Ink, fine, draw.Centre)
	}
}

// drawNumbers writes the strakes' numbers in a column at either end, each led
// to a dot on its strake. A strake that does not come to an end has no number
// there, and one that comes to neither has one at both, led to the first frame
// from there at which it is laid.
func (m *numberMap) drawNumbers() {
	for _, left := range []bool{true, false} {
		var names []string
		var dots []draw.Point
		var ys []float64
		for _, st := range m.numbered {
			f := m.numberedAt(st, left != m.flip)
			if f < 0 {
				continue
			}
			dot := m.on(st.Centre, m.l.Surface.FrameStation(f))
			names, dots, ys = append(names, short(st.ID)), append(dots, dot), append(ys, dot.Y)
		}
		y := spread(ys, even(len(ys), mapPitch), mapHead-1, m.h-mapWords+2)
		for i, name := range names {
			x, align, from := 0.0, draw.Left, draw.TextWidth(name, fine)+0.6
			if !left {
				x, align, from = m.w, draw.Right, m.w-from
			}
			m.Text(draw.Pt(x, y[i]+draw.CapHeight(fine)/2), name, draw.Ink, fine, align)
			m.Line(draw.Ink, hair, draw.Pt(from, y[i]), dots[i])
			m.Area(draw.Ink, draw.Mark{At: dots[i], Shape: draw.Disc, Size: 0.8}.Outline()...)
		}
	}
}

// numberedAt is the frame at which a strake is numbered at the end of least x,
// or else of greatest; -1 if it is not.
func (m *numberMap) numberedAt(st *loft.Strake, least bool) int {
	first, last := st.LaidBetween()
	from, to := m.l.Surface.Planked()
	switch {
	case first < 0:
		return -1
	case least && (first <= from || last < to):
		return first
	case !least && (last >= to || first > from):
		return last
	}
	return -1
}

// blocksTold says what is dashed, where there are blocks.
func (m *numberMap) blocksTold() string {
	for _, n := range m.l.Notes {
		if _, ok := n.(loft.MadeBlock); ok {
			return tongue.T("dashed: blocks of solid wood; ")
		}
	}
	return ""
}

// numberAmidships writes the numbers of the strakes onto them in two bays amidships, in
// columns so that none comes near the next.
func (m *numberMap) numberAmidships() {
	first, last := m.l.Surface.Planked()
	for _, share := range []int{3, 5} {
		f := first + (last-first)*share/8
		if f >= last {
			continue
		}
		a, b := m.l.Surface.FrameStation(f), m.l.Surface.FrameStation(f+1)
		at, n := (a+b)/2, 0
		for _, st := range m.numbered {
			if at < st.From || at > st.To {
				continue
			}
			up, low := m.on(st.Upper, at), m.on(st.Lower, at)
			columns := math.Ceil((draw.CapHeight(fine) + 0.3) / max(low.Y-up.Y, 0.3))
			name := short(st.ID)
			x := up.X + (float64(n%int(columns))-(columns-1)/2)*(draw.TextWidth(name, fine)+1)
			m.Text(draw.Pt(x, (up.Y+low.Y+draw.CapHeight(fine))/2), name, draw.Ink, fine, draw.Centre)
			n++
		}
	}
}

// words says what is seen, and at what size.
func (m *numberMap) words(side hull.Side) {
	y := m.h - 1
	left, right := tongue.T("stern"), tongue.T("bow")
	if !bowRight(side) {
		left, right = right, left
	}
	m.Text(draw.Pt(0, y), left, draw.Ink, fine, draw.Left)
	m.Text(draw.Pt(m.w, y), right, draw.Ink, fine, draw.Right)
	size := tongue.T("full size")
	switch percent := func(v float64) float64 { return math.Floor(100 * v) }; {
	case m.expanded:
		size = tongue.T("girth down from the %s; not full size: along the hull %.0f %%, down %.0f %%", hull.LimitWord(m.k.Plan.Hull.Limits.Upper), percent(m.scale), percent(m.tall))
	case m.scale < 1:
		size = tongue.T("not full size: drawn at %.0f %% of the model", percent(m.scale))
	}
	seen := tongue.T("%s, seen from outside", sideName(side))
	if m.expanded {
		seen = tongue.T("planking of the %s side, expanded", sideName(side))
	}
	other := hull.Port
	if side == hull.Port {
		other = hull.Starboard
	}
	text := tongue.T("Layer %d, %s; %s is the mirror image; heavy: limits and band lines; %s%s", m.l.Number, seen, sideName(other), m.blocksTold(), size)
	for i, line := range draw.Wrap(text, fine, m.w-draw.TextWidth(tongue.T("stern  bow  "), fine)) {
		m.Text(draw.Pt(m.w/2, y+fineLine*float64(i)), line, draw.Ink, fine, draw.Centre)
	}
}
