package loft

import (
	"context"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Layer is one skin of planking as computed.
type Layer struct {
	Number  int // from 1, outwards
	Surface *Surface
	Girths  []float64   // mm, at every frame, upper to lower limit
	Lines   []*BandLine // the band lines and the two limits: one more than there are bands
	Bands   []*Band     // from the upper limit down
	Strakes []*Strake   // from the upper limit down, through all bands
	Seams   []*Line     // the edges of the strakes, positions only (V, Down, P): one more than there are strakes
	Wedges  []Wedge
	Drops   []Drop
	Notes   []Note // what the builder should know

	fitting
	ribbon Ribbon       // its strip
	above  []mgl64.Vec3 // direction down every frame over the width of a strip above the upper limit; see chordsAbove
	fitted []bool       // for every strake while they are being laid: it is the old layer's, and ready
}

// BandLine is the course of a line between two bands, or of a limit.
type BandLine struct {
	*Line
	origin
	LieOff  []float64 // mm at every frame, positive downwards: distance from this line to the strip held at the hold and aim handles; NaN where the strip does not reach the frame. Nil for the limits
	Runouts []Runout  // where the free course leaves the planked region; empty for lines not free
	Moved   []Moved   // where the line is laid away from where it is drawn

	natural *NaturalLie // that it follows, without the parts that only sure needs; nil where it follows the thin batten
}

// Runout records that a free line left the planked region at a frame.
type Runout struct {
	Frame int     // its index
	Upper bool    // over the upper limit; else under the lower
	By    float64 // mm of girth past the limit; the frame is extended straight there
}

// newLayer computes a layer on its surface. old is the layer as it was before, nil if
// there was none; if it lies on the same surface, lines that have not changed are
// reused. It looks at the context at every line, strake and frame.
func newLayer(ctx context.Context, p *hull.Plan, index int, s *Surface, old *Layer) (*Layer, error) {
	if old != nil && old.Surface != s {
		old = nil
	}
	h := &p.Layers[index]
	if err := sound(h); err != nil {
		return nil, err
	}
	l := &Layer{Number: index + 1, Surface: s, fitting: fittingOf(h, rulesOf(p, h)), ribbon: RibbonOf(p, h.Stock)}
	for i := range s.Frames() {
		l.Girths = append(l.Girths, s.Girth(i))
	}
	if old != nil && old.width == l.width {
		l.above = old.above
	} else {
		l.above = l.chordsAbove(&p.Hull)
	}
	if err := l.layLines(ctx, h, old); err != nil {
		return nil, err
	}
	if err := l.layStrakes(ctx, h, old); err != nil {
		return nil, err
	}
	l.noteWidths()
	l.noteGirths(&p.Hull)
	l.noteEnds(&p.Hull)
	l.noteTurns()
	l.noteBends()
	return l, nil
}

// sound refuses decisions that leave nothing to compute.
func sound(h *hull.Layer) error {
	if err := h.Stock.Check(); err != nil {
		return err
	}
	switch {
	case !(math.Abs(h.Creep) < h.Stock.Width/2):
		return tongue.Errorf("a creep of %g mm a strip is half a strip or more: give a smaller one", h.Creep)
	case len(h.Bands) == 0:
		return tongue.Errorf("it has no band: give it one or more")
	case len(h.Lines) != len(h.Bands)-1:
		return tongue.Errorf("it has %d bands and %d lines between them: there must be one line fewer than bands", len(h.Bands), len(h.Lines))
	case h.Edges != hull.Bevelled && h.Edges != hull.Square:
		return tongue.Errorf("there are no edges %q: they are bevelled or square", h.Edges)
	}
	return nil
}

// layLines finds the limits and every band line between.
func (l *Layer) layLines(ctx context.Context, h *hull.Layer, old *Layer) error {
	s := l.Surface
	limits := [2]*BandLine{}
	if old != nil {
		limits[0], limits[1] = old.Lines[0], old.Lines[len(old.Lines)-1]
	} else {
		limits[0], limits[1] = s.limitLine(0), s.limitLine(1)
	}
	l.Lines = append(l.Lines, limits[0])
	for k := range h.Lines {
		if err := halt.Asked(ctx, planking); err != nil {
			return err
		}
		above := l.Lines[k]
		var before *BandLine
		if old != nil && k < len(old.Lines)-2 {
			before = old.Lines[k+1]
		}
		b, err := s.bandLine(&h.Lines[k], l.ribbon, berth{above.Down, l.Rules.LeastWidth * h.Stock.Width, len(h.Lines) - k, len(h.Bands), k}, before)
		if err != nil {
			return tongue.Errorf("band line %d: %w", k+1, err)
		}
		l.Lines = append(l.Lines, b)
		l.noteRunouts(k+1, b.Runouts)
		l.noteNatural(k+1, b)
		l.noteMoved(k+1, b)
	}
	l.Lines = append(l.Lines, limits[1])
	return nil
}

// region is what lies between two band lines: everything about a band that does not
// depend on its strips.
type region struct {
	top, bottom *Line
	girths      []float64 // mm at every frame; 0 at those not planked
	slant       []slants  // at every frame
	turn        float64   // rad, of the outline at the hull's greatest frame
}

// regionBetween measures the region between two lines.
func (l *Layer) regionBetween(top, bottom *Line) *region {
	s := l.Surface
	r := &region{top: top, bottom: bottom, girths: make([]float64, s.Frames()), slant: make([]slants, s.Frames())}
	for i := range r.girths {
		j := s.FrameStation(i)
		if s.Planks(i) {
			r.girths[i] = bottom.Down[j] - top.Down[j]
		}
		r.slant[i] = s.slantsAt(j, top, bottom)
	}
	mid := s.FrameStation(l.Greatest())
	r.turn = s.turning(mid, top.V[mid], bottom.V[mid])
	return r
}

// layStrakes shares the bands among strakes and fits the stock to them.
func (l *Layer) layStrakes(ctx context.Context, h *hull.Layer, old *Layer) error {
	s := l.Surface
	count := 0
	before := make([]*Band, len(h.Bands))
	for k := range h.Bands {
		top, bottom := l.Lines[k].Line, l.Lines[k+1].Line
		var r *region
		if before[k] = old.bandBetween(top, bottom); before[k] != nil {
			r = before[k].region
		} else {
			r = l.regionBetween(top, bottom)
		}
		if err := l.bearable(k, count, r.girths[l.Greatest()], r.turn, h); err != nil {
			return err
		}
		b := before[k].again(k+1, count, h, old, l)
		if b == nil {
			b = newBand(k+1, count, r, s, l.Greatest(), h, l.Rules)
			l.layAtFrames(b, h)
		}
		l.Bands = append(l.Bands, b)
		count += len(b.Weights)
	}
	l.Seams = append(l.Seams, l.Lines[0].Line)
	for k, b := range l.Bands {
		if err := l.newStrakes(ctx, b, old, before[k]); err != nil {
			return err
		}
		l.noteSurplus(b, h.Bands[k])
	}
	l.Strakes[len(l.Strakes)-1].Garboard = true // never one reused from the old layer, since it lies at an edge
	for i := range s.Frames() {
		if err := halt.Asked(ctx, planking); err != nil {
			return err
		}
		l.fitStock(i, h)
	}
	for _, b := range l.Bands {
		l.drops(b)
	}
	for n, st := range l.Strakes {
		if !l.fitted[n] {
			l.nibs(n)
			st.summarise(s)
			st.Making = l.making(st, h.Bands[st.Band-1].Mode(st.Number-1))
		}
	}
	l.fitted = nil
	for _, b := range l.Bands {
		l.wedges(b, h)
		l.noteShorts(b)
	}
	return nil
}

// bearable refuses a band (from 0) with more strakes than any hull has, before
// they are laid: the work grows with strakes and frames.
func (l *Layer) bearable(band, before int, girth, turn float64, h *hull.Layer) error {
	n := h.Bands[band].Strakes
	if n <= 0 {
		n = strakesFor(girth, turn, h, l.Rules.Creep)
	}
	if most := int(hull.StrakeCount.High); n > most {
		return tongue.Errorf("band %d, %.0f mm of girth, would take more than %d strips %g mm wide: give wider strips, or check the unit of the hull", band+1, girth, most, h.Stock.Width)
	}
	if all := before + n; all*l.Surface.Frames() > hull.MostCrossings {
		return tongue.Errorf("%d strakes over %d frames exceed the limit of %d crossings: give wider strips or fewer frames", all, l.Surface.Frames(), hull.MostCrossings)
	}
	return nil
}

// Greatest is the index of the planked frame of greatest girth, where strakes are
// counted.
func (l *Layer) Greatest() int {
	first, last := l.Surface.Planked()
	best := first
	for i := first; i <= last; i++ {
		if l.Girths[i] > l.Girths[best] {
			best = i
		}
	}
	return best
}

// turning is the angle by which the outline turns inwards between two values of v at a
// station, rad: the sum over the knots of the turn of its normal.
func (s *Surface) turning(station int, from, to float64) float64 {
	const steps = 32
	sum := 0.0
	j := s.atStation(station, from)
	last := j.Normal()
	for i := 1; i <= steps; i++ {
		j = s.atStation(station, from+(to-from)*float64(i)/steps)
		n := j.Normal()
		run := j.Pu.Normalize()
		sum += math.Atan2(-last.Cross(n).Dot(run), last.Dot(n))
		last = n
	}
	return sum
}
