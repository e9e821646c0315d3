package loft

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"strakewright/hull"
	"strakewright/loft/internal/halt"
)

// Action says what the builder does to a strip at a frame.
type Action string

// The actions.
const (
	Taper Action = "taper" // the strip is wider than needed
	Full  Action = "full"  // it fits as it is, within FitTolerance
	Gap   Action = "gap"   // it is too narrow
)

// Strake is one strake of a band with all that is needed to make it.
type Strake struct {
	ID            string // as "1.05"; in an outer layer as "2/1.05"
	Band, Number  int    // from 1, from the upper limit down
	Garboard      bool
	Strip         float64    // mm, the width of the strip it is laid with
	At            []Crossing // one a frame
	Centre        *Line      // its middle line
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
	WidthFrame float64    // along the frame: marks the frame
	WidthCut   float64    // across the strake: cuts the wood
	Pitch      float64    // what a whole strip takes up there as laid
	BevelUpper hull.Angle // off square; positive where the hull is convex
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

// newStrakes makes the strakes of a band, of strips that stock wide unless their
// own are given, with their seams below.
func (l *Layer) newStrakes(ctx context.Context, b *Band, stock float64, old *courses) error {
	s := l.Surface
	b.shares = l.seamShares(b)
	c := old.ifShared(b.shares)
	if c == nil {
		var err error
		if c, err = l.coursesIn(ctx, b); err != nil {
			return err
		}
	}
	for k := range b.Weights {
		if err := halt.Asked(ctx, planking); err != nil {
			return err
		}
		st := &Strake{Band: b.Number, Number: k + 1, ID: StrakeID(l.Number, b.Number, k+1), Strip: b.strips[k] * stock, At: make([]Crossing, s.Frames())}
		st.Centre = c.centres[k]
		l.Strakes = append(l.Strakes, st)
		for i := range st.At {
			w := (b.shares[i][k+1] - b.shares[i][k]) * b.Girths[i]
			if w > 0 {
				c := &st.At[i]
				c.Laid, c.WidthFrame = true, w
				c.Upper = b.top.Down[s.FrameStation(i)] + b.shares[i][k]*b.Girths[i]
				c.WidthCut = w * st.Centre.runs[i].slant
			}
		}
	}
	l.Seams = append(append(l.Seams, c.seams...), b.bottom)
	return nil
}

// seamShares gives the shares of the girth of a band's seams at every frame; at
// those not planked, what they are at the end of the planking.
func (l *Layer) seamShares(b *Band) [][]float64 {
	s := l.Surface
	out := make([][]float64, s.Frames())
	for i := s.first; i <= s.last; i++ {
		out[i] = b.edges(i)
	}
	for i := range out {
		out[i] = out[min(max(i, s.first), s.last)]
	}
	return out
}

// courses are the lines of a band's strakes: the middle of each, and the seams
// between. They hang on the shares of the girth alone, within one region.
type courses struct {
	shares         [][]float64
	centres, seams []*Line
}

// coursesIn finds them, and looks at the context at each strake.
func (l *Layer) coursesIn(ctx context.Context, b *Band) (*courses, error) {
	s := l.Surface
	c := &courses{}
	scratch, at := newCourse(len(s.stations)), make([]float64, s.Frames())
	n := len(b.Weights)
	room := s.roomFor(n, n-1, 2*n-1)
	share := func(k int, weight float64) course {
		for i, e := range b.shares {
			at[i] = e[k]*(1-weight) + e[min(k+1, len(b.Weights))]*weight
		}
		return s.blend(room, b.top.course, b.bottom.course, s.sharesAlong(at, scratch))
	}
	for k := range b.Weights {
		if err := halt.Asked(ctx, planking); err != nil {
			return nil, err
		}
		c.centres = append(c.centres, s.lineIn(room, share(k, 0.5)))
		if k < len(b.Weights)-1 {
			c.seams = append(c.seams, s.placesIn(room, share(k+1, 0)))
		}
	}
	return c, nil
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
	n := len(b.Weights)
	c := &courses{shares: b.shares, seams: l.Seams[b.First+1 : b.First+n]}
	for _, st := range l.Strakes[b.First : b.First+n] {
		c.centres = append(c.centres, st.Centre)
	}
	return c
}

// ifShared gives the courses if they are those of these shares, else nil.
func (c *courses) ifShared(shares [][]float64) *courses {
	if c == nil || !slices.EqualFunc(c.shares, shares, slices.Equal[[]float64]) {
		return nil
	}
	return c
}

// summarise fills in what holds for a whole strake.
func (st *Strake) summarise(s *Surface) {
	first, last := -1, -1
	for i, c := range st.At {
		if c.Laid {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return
	}
	// A strake that drops out runs to a point by the next frame.
	st.From, st.To = s.FrameStation(max(first-1, s.first)), s.FrameStation(min(last+1, s.last))
	face := 0.0
	for k := s.FrameStation(first); k <= s.FrameStation(last); k++ {
		st.EdgeSetMax = max(st.EdgeSetMax, st.Centre.EdgeSet[k], -st.Centre.EdgeSet[k])
		face = max(face, math.Abs(float64(st.Centre.Face[k])))
	}
	st.FaceRadiusMin, _ = hull.Curvature(face).Radius()
	st.Twist = st.Centre.twistBetween(st.From, st.To)
	st.Length = st.Centre.S[st.To] - st.Centre.S[st.From]
}

// fitStock sets bevels, pitch and action of every strake at a frame.
func (l *Layer) fitStock(frame int, h *hull.Layer) {
	faces := make([]face, 0, len(l.Strakes))
	for n, st := range l.Strakes {
		if st.At[frame].Laid {
			faces = append(faces, l.faceAt(n, frame))
		}
	}
	for i := range faces {
		c := &l.Strakes[faces[i].strake].At[frame]
		var upper, lower hull.Angle // turn of the face over either seam
		if i > 0 {
			upper = turn(&faces[i-1], &faces[i])
		}
		if i < len(faces)-1 {
			lower = turn(&faces[i], &faces[i+1])
		}
		c.BevelUpper, c.BevelLower = upper/2, lower/2
		c.Pitch = pitch(h, l.Strakes[faces[i].strake].Strip, upper, lower)
		c.Decide()
	}
}

// Decide compares the need with a whole strip.
func (c *Crossing) Decide() {
	over := c.WidthCut - c.Pitch
	switch {
	case over > FitTolerance:
		c.Action, c.Gap = Gap, over
	case over < -FitTolerance:
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
	chord := l.Seams[n+1].P[k].Sub(l.Seams[n].P[k])
	return face{n, t, t.Cross(chord).Normalize()}
}
