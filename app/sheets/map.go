package sheets

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// numberMap is the hull in profile from outside on one side.
type numberMap struct {
	*piece
	k     *loft.Planking
	l     *loft.Layer
	flip  bool // x runs to the left
	lo    mgl64.Vec3
	hi    mgl64.Vec3
	scale float64
	at    draw.Point // of the hull's upper left corner

	numbered []*loft.Strake
}

// Room round the hull on a numbering map, mm.
const (
	mapSide  = 15.0 // for numbers at either end
	mapHead  = 10.0 // for the frames' names
	mapWords = 12.0 // for what stands underneath
	mapPitch = 3.7  // from number to number
	// mapNumbers is the most strakes that are each numbered at either end.
	mapNumbers = 40
)

// numberedMap gives the map of the strakes' numbers on one side of the hull, as
// seen from outside: to starboard the bow lies to the right, to port to the
// left. Of more than forty strakes, every fifth is numbered. It is drawn at
// full size where it goes into the width of the settings; else it is made
// smaller, and says so: the one sheet that is not full size. There must be such
// a layer.
func numberedMap(k *loft.Planking, layer int, side hull.Side, s Settings) draw.Sheet {
	m := &numberMap{piece: &piece{}, k: k, l: k.Layers[layer-1]}
	m.flip = bowRight(side) == (k.Plan.Hull.Bow == hull.BowFirst)
	m.fit(s.MapWidth)
	m.drawFrames()
	m.drawSeams()
	m.drawBlocks()
	m.drawNumbers()
	m.words(side)
	title := fmt.Sprintf("Numbering map, layer %d, %s", layer, side)
	return flow(kind{section: "Numbering map", name: fmt.Sprintf("number-map-layer-%d-%s", layer, side), title: title}, []*piece{m.piece}, Size{})[0]
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
	tall := m.scale * (m.hi.Z() - m.lo.Z())
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
	return draw.Pt(m.at.X+x*m.scale, m.at.Y+(m.hi.Z()-p.Z())*m.scale)
}

func (m *numberMap) placed(pts []mgl64.Vec3) []draw.Point {
	out := make([]draw.Point, len(pts))
	for i, p := range pts {
		out[i] = m.place(p)
	}
	return out
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
		var pts []mgl64.Vec3
		const steps = 24
		for j := range steps + 1 {
			pts = append(pts, m.l.Surface.AtDown(f, m.l.Girths[f]*float64(j)/steps))
		}
		line := m.placed(pts)
		m.Line(draw.FrameInk, hair, line...)
		tops[i], at[i] = line[0], line[0].X
		room[i] = draw.TextWidth(m.l.Surface.FrameName(f), small) + 1.2
	}
	at = spread(at, room, 0, m.w)
	for i, f := range order {
		m.Text(draw.Pt(at[i], small), m.l.Surface.FrameName(f), draw.Ink, small, draw.Centre)
		m.Line(draw.Grid, hair, tops[i], draw.Pt(tops[i].X, mapHead-2), draw.Pt(at[i], small+1.2))
	}
}

func (m *numberMap) drawSeams() {
	for _, s := range m.l.SeamRuns() {
		m.Line(draw.Seam, thin, m.placed(s.Line.P[s.From:s.To+1])...)
	}
	for _, d := range m.l.Drops {
		st, at := m.l.Strakes[d.At], m.l.Surface.FrameStation(d.From)
		m.Line(draw.Seam, thin, m.place(st.Upper.P[at]), m.place(st.Lower.P[at]))
	}
	for _, b := range m.l.Lines {
		m.Line(draw.BandInk, heavy, m.placed(b.P)...)
	}
}

// drawBlocks draws the places of solid wood, dashed, each with its name.
func (m *numberMap) drawBlocks() {
	for _, n := range m.l.Notes {
		b, ok := n.(loft.MadeBlock)
		if !ok {
			continue
		}
		var upper, lower []mgl64.Vec3
		for f := b.From; f <= b.To; f++ {
			upper = append(upper, m.l.Surface.AtDown(f, b.Upper))
			lower = append(lower, m.l.Surface.AtDown(f, min(b.Lower, m.l.Girths[f])))
		}
		slices.Reverse(lower)
		line := m.placed(append(append(upper, lower...), upper[0]))
		m.Line(draw.Cut, broken, line...)
		m.Text(draw.Pt((line[0].X+line[b.To-b.From].X)/2, line[0].Y-0.6), "block", draw.Ink, small, draw.Centre)
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
			dot := m.place(st.Centre.P[m.l.Surface.FrameStation(f)])
			names, dots, ys = append(names, short(st.ID)), append(dots, dot), append(ys, dot.Y)
		}
		y := spread(ys, even(len(ys), mapPitch), mapHead-1, m.h-mapWords+2)
		for i, name := range names {
			x, align, from := 0.0, draw.Left, draw.TextWidth(name, small)+0.6
			if !left {
				x, align, from = m.w, draw.Right, m.w-from
			}
			m.Text(draw.Pt(x, y[i]+draw.CapHeight(small)/2), name, draw.Ink, small, align)
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
			return "dashed: blocks of solid wood; "
		}
	}
	return ""
}

// words says what is seen, and at what size.
func (m *numberMap) words(side hull.Side) {
	y := m.h - 2
	left, right := "stern", "bow"
	if !bowRight(side) {
		left, right = right, left
	}
	m.Text(draw.Pt(0, y), left, draw.Ink, small, draw.Left)
	m.Text(draw.Pt(m.w, y), right, draw.Ink, small, draw.Right)
	size := "full size"
	if m.scale < 1 {
		size = fmt.Sprintf("not full size: drawn at %.0f %% of the model", math.Floor(100*m.scale))
	}
	m.Text(draw.Pt(m.w/2, y), fmt.Sprintf("Layer %d, %s, seen from outside; heavy: limits and band lines; %s%s", m.l.Number, side, m.blocksTold(), size), draw.Ink, small, draw.Centre)
}
