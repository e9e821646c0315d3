package loft

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Action says what the builder does to a strip at a frame.
type Action string

// The actions.
const (
	Taper Action = "taper" // the strip is wider than needed
	Full  Action = "full"  // it fits as it is, as near as the plan's rules ask
	Gap   Action = "gap"   // it is too narrow
)

// Strake is one strake of a band with all that is needed to make it.
type Strake struct {
	ID            string // as "1.05"; in an outer layer as "2/1.05"
	Band, Number  int    // from 1, from the upper limit down
	Garboard      bool
	Strip         float64    // mm, the width of the strip it is laid with
	Making        Making     // how it is made, and why
	At            []Crossing // one a frame
	Centre        *Line      // its middle line; where it is narrowed for a nib, that of the strip it is cut from
	Upper, Lower  *Line      // its edges, places only
	Nibs          []Nib      // in which its neighbours end, and it goes on in their place
	From, To      int        // stations of Centre between which it is laid
	EdgeSetMax    hull.Curvature
	FaceRadiusMin float64 // mm; 0 if flat all along
	Twist         hull.Angle
	Length        float64 // mm along the middle line
}

// Crossing is a strake at a frame. Widths in mm.
type Crossing struct {
	Laid       bool       // false where it has dropped out; all else is then zero
	Upper      float64    // girth of its upper edge below the upper limit
	WidthFrame float64    // along the frame, an arc as a tick strip laid round it measures: marks the frame
	WidthCut   float64    // across the strake, an arc too: what it is wide as bent to the frame; the flat shape is straight across
	Creep      float64    // beyond the plan's allowance, what the strip creeps apart: WidthFrame is WidthCut and this, aslant
	Pitch      float64    // what a whole strip takes up there as laid
	BevelUpper hull.Angle // planed off square; positive where the hull is convex. Of edges left square 0, but at wale and rabbet
	BevelLower hull.Angle
	Action     Action
	Gap        float64 // WidthCut less Pitch where that is a gap, else 0
}

// StrakeID names a strake.
func StrakeID(layer, band, number int) string {
	id := fmt.Sprintf("%d.%02d", band, number)
	if layer > 1 {
		return fmt.Sprintf("%d/%s", layer, id)
	}
	return id
}

// StrakeNamed is the index of a strake, or -1.
func (l *Layer) StrakeNamed(id string) int {
	return slices.IndexFunc(l.Strakes, func(st *Strake) bool { return st.ID == id })
}

// fitting is what the strips of a layer are fitted by, beside their lines.
type fitting struct {
	width, thickness, creep float64 // mm
	edges                   hull.Edges
	Rules                   hull.Trade // of the plan
}

// fittingOf is that of a layer of a plan with those rules.
func fittingOf(h *hull.Layer, rules hull.Trade) fitting {
	return fitting{h.Stock.Width, h.Stock.Thickness, h.Creep, h.Edges, rules}
}

// newStrakes makes the strakes of a band, of the layer's stock unless their own
// strips are given, with their seams below. was is the band as it was in the old
// layer, nil if there was none.
func (l *Layer) newStrakes(ctx context.Context, b *Band, old *Layer, was *Band) error {
	c := old.coursesOf(was).ifPlaced(b.places)
	var kept []*Strake
	if c != nil {
		kept = l.keptFrom(old, was, b)
	} else {
		var err error
		if c, err = l.coursesIn(ctx, b); err != nil {
			return err
		}
	}
	crossings := make([]Crossing, len(b.Weights)*l.Surface.Frames())
	for k := range b.Weights {
		if err := halt.Asked(ctx, planking); err != nil {
			return err
		}
		if kept != nil && kept[k] != nil {
			l.Strakes = append(l.Strakes, kept[k])
			l.fitted = append(l.fitted, true)
			continue
		}
		st := &Strake{Band: b.Number, Number: k + 1, ID: StrakeID(l.Number, b.Number, k+1), Strip: b.strips[k] * l.width,
			Centre: c.centres[k], Upper: c.uppers[k], Lower: c.lowers[k]}
		st.At = take(&crossings, l.Surface.Frames())
		l.Strakes = append(l.Strakes, st)
		l.fitted = append(l.fitted, false)
		l.cross(st, b)
	}
	l.Seams = append(l.Seams, c.lowers...)
	return nil
}

// cross sets where a strake lies at every frame, and how wide it is there.
func (l *Layer) cross(st *Strake, b *Band) {
	k := st.Number - 1
	for i := range st.At {
		at := b.places[i][k]
		w := (at.lower - at.upper) * b.Girths[i]
		if w > 0 {
			c := &st.At[i]
			c.Laid, c.WidthFrame = true, w
			c.Upper = b.top.Down[l.Surface.FrameStation(i)] + at.upper*b.Girths[i]
			c.WidthCut = w * st.Centre.runs[i].slant
		}
	}
}

// keptFrom gives, for every strake of a band, that of the old layer if it has
// changed in nothing, else nil. The band's lines and shares are those of the old
// one; so all of its strakes are the same but those that lie at its edges at
// some frame, whose bevels go by the next band too.
func (l *Layer) keptFrom(old *Layer, was, b *Band) []*Strake {
	if old.fitting != l.fitting || was.Number != b.Number || was.First != b.First || !slices.Equal(was.strips, b.strips) ||
		!slices.Equal(was.modes, b.modes) || !slices.Equal(was.Laid, b.Laid) || !slices.EqualFunc(was.laid, b.laid, asLaid.equals) {
		return nil
	}
	kept := slices.Clone(old.Strakes[was.First : was.First+len(was.Weights)])
	for i := range b.Laid {
		if laid := b.laidOf(b.Laid[i]); b.Laid[i] > 0 {
			kept[laid[0]], kept[laid[len(laid)-1]] = nil, nil
		}
	}
	return kept
}

// courses are the lines of a band's strakes: the middle of each, and its edges. They
// hang on the places of the strakes at the frames alone, within one region.
type courses struct {
	places                  [][]place
	centres, uppers, lowers []*Line
}

// coursesIn finds them, and looks at the context at each strake. The lower edge of
// a strake is the upper one of the next, but for where a wedge lies between: there
// that runs the wedge's width below it.
func (l *Layer) coursesIn(ctx context.Context, b *Band) (*courses, error) {
	s := l.Surface
	c := &courses{places: b.places}
	n := len(b.Weights)
	wedged := 0
	for k := range n - 1 {
		if b.wedgeBelow(k) {
			wedged++
		}
	}
	scratch, at := newCourse(len(s.stations)), make([]float64, s.Frames())
	room := s.roomFor(n, n-1+wedged, 2*n-1+wedged)
	share := func(of func(p []place) float64) course {
		for i, p := range b.places {
			at[i] = of(p)
		}
		return s.sharesAlong(at, scratch)
	}
	line := func(c course) course { return s.blend(room, b.top.course, b.bottom.course, c) }
	upper := b.top
	for k := range n {
		if err := halt.Asked(ctx, planking); err != nil {
			return nil, err
		}
		c.centres = append(c.centres, s.lineIn(room, line(share(func(p []place) float64 { return p[k].middle }))))
		c.uppers = append(c.uppers, upper)
		if k == n-1 {
			c.lowers = append(c.lowers, b.bottom)
			break
		}
		lower := share(func(p []place) float64 { return p[k].lower })
		c.lowers = append(c.lowers, s.placesIn(room, line(lower)))
		if upper = c.lowers[k]; b.wedgeBelow(k) {
			edge := lower.clone()
			edge.addOpen(share(func(p []place) float64 { return p[k].gap }))
			upper = s.placesIn(room, line(edge))
		}
	}
	return c, nil
}

// wedgeBelow tells whether a wedge lies anywhere beneath strake k.
func (b *Band) wedgeBelow(k int) bool {
	for _, run := range b.shorts {
		if slices.Contains(run.wedges, k) {
			return true
		}
	}
	return false
}

// bandBetween gives the band of a layer that lies between those two very lines,
// nil where there is none, as in no layer.
func (l *Layer) bandBetween(top, bottom *Line) *Band {
	if l == nil {
		return nil
	}
	for _, b := range l.Bands {
		if b.top == top && b.bottom == bottom {
			return b
		}
	}
	return nil
}

// coursesOf gives the courses of the strakes of a band, nil of none.
func (l *Layer) coursesOf(b *Band) *courses {
	if b == nil {
		return nil
	}
	c := &courses{places: b.places}
	for _, st := range l.Strakes[b.First : b.First+len(b.Weights)] {
		c.centres, c.uppers, c.lowers = append(c.centres, st.Centre), append(c.uppers, st.Upper), append(c.lowers, st.Lower)
	}
	return c
}

// ifPlaced gives the courses if they are those of these places, else nil.
func (c *courses) ifPlaced(places [][]place) *courses {
	if c == nil || !slices.EqualFunc(c.places, places, slices.Equal[[]place]) {
		return nil
	}
	return c
}

// LaidBetween gives the first and last frame at which the strake is laid; both are −1
// where it is laid at none.
func (st *Strake) LaidBetween() (first, last int) {
	first, last = -1, -1
	for i, c := range st.At {
		if c.Laid {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return first, last
}

// summarise fills in what holds for a whole strake.
func (st *Strake) summarise(s *Surface) {
	first, last := st.LaidBetween()
	if first < 0 {
		return
	}
	st.From, st.To = s.FrameStation(first), s.FrameStation(last) // one that drops out ends in a nib on its last frame
	face := 0.0
	for k := s.FrameStation(first); k <= s.FrameStation(last); k++ {
		st.EdgeSetMax = max(st.EdgeSetMax, st.Centre.EdgeSet[k], -st.Centre.EdgeSet[k])
		face = max(face, math.Abs(float64(st.Centre.Face[k])))
	}
	st.FaceRadiusMin, _ = hull.Curvature(face).Radius()
	st.Twist = st.Centre.twistBetween(st.From, st.To)
	st.Length = st.Centre.S[st.To] - st.Centre.S[st.From]
}

// fitStock sets bevels, pitch and action at a frame of every strake that is not
// fitted yet.
func (l *Layer) fitStock(frame int, h *hull.Layer) {
	var here, below face  // the last that were asked for
	var upper, lower edge // of the strake
	if n := l.nextLaid(0, frame); n < len(l.Strakes) {
		below = l.faceAt(n, frame)
		upper = limitEdge(l.waleTurn(frame, &below))
	}
	for n := l.nextLaid(0, frame); n < len(l.Strakes); n = l.nextLaid(n+1, frame) {
		next := l.nextLaid(n+1, frame)
		lower = seamEdge(h, 0)
		if next < len(l.Strakes) && !(l.fitted[n] && l.fitted[next]) {
			if here = below; here.strake != n || here.normal == (mgl64.Vec3{}) {
				here = l.faceAt(n, frame)
			}
			below = l.faceAt(next, frame)
			lower = seamEdge(h, turn(&here, &below))
		}
		if next == len(l.Strakes) {
			last := l.faceAt(n, frame)
			lower = limitEdge(l.Surface.rabbetTurn(frame, &last))
		}
		if !l.fitted[n] {
			c := &l.Strakes[n].At[frame]
			c.BevelUpper, c.BevelLower = upper.bevel(), lower.bevel()
			c.Pitch = pitch(h, l.Strakes[n].Strip, l.Rules.LeastWidth, upper, lower)
			l.settle(n, frame)
		}
		upper = lower
	}
}

// settle parts what a strake takes up at a frame into the width of its wood and
// what it creeps, and says what is done to its strip.
func (l *Layer) settle(n, frame int) {
	st := l.Strakes[n]
	b, c := l.Bands[st.Band-1], &st.At[frame]
	if a := &b.laid[frame]; a.whole[st.Number-1] {
		c.Creep = c.WidthCut - c.Pitch
	} else {
		c.Creep = a.creep[st.Number-1] * c.WidthCut / c.WidthFrame
	}
	c.WidthCut -= c.Creep
	c.Decide(l.Rules.Fit)
}

// nextLaid is the first strake from the n-th on that is laid at a frame, or how
// many strakes there are.
func (l *Layer) nextLaid(n, frame int) int {
	for n < len(l.Strakes) && !l.Strakes[n].At[frame].Laid {
		n++
	}
	return n
}

// Resize gives the crossing another width along the frame, mm. What its strip creeps
// stays, as far as the strip does not taper.
func (c *Crossing) Resize(width float64) {
	across := (c.WidthCut + c.Creep) * width / c.WidthFrame
	c.Creep = min(c.Creep, max(across-c.Pitch, 0)) // it is a hair below nothing where strips are pressed
	c.WidthFrame, c.WidthCut = width, across-c.Creep
}

// Decide compares the need with a whole strip, which fits where it comes so near,
// mm.
func (c *Crossing) Decide(fit float64) {
	over := c.WidthCut - c.Pitch
	c.Gap = 0
	switch {
	case over > fit:
		c.Action, c.Gap = Gap, over
	case over < -fit:
		c.Action = Taper
	default:
		c.Action = Full
	}
}

// face is the flat face of a strake at a frame.
type face struct {
	strake          int
	tangent, normal mgl64.Vec3
}

// faceAt gives the face between the seams of a strake at a frame: its normal is
// square to its run and to the chord from seam to seam. On a hull without a
// shape it runs square to the frame.
func (l *Layer) faceAt(n, frame int) face {
	t := mgl64.Vec3{1, 0, 0}
	if !l.Surface.shapeless {
		t = l.Strakes[n].Centre.runs[frame].tangent
	}
	k := l.Surface.FrameStation(frame)
	chord := l.Strakes[n].Lower.P[k].Sub(l.Strakes[n].Upper.P[k])
	return face{n, t, t.Cross(chord).Normalize()}
}
