package sight

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Mark is a place marked in a picture, with its possible errors, as standard errors:
// across the line in the picture on which it was set, and along it. The heading of that
// line is measured from the right, turning downwards.
type Mark struct {
	At            Pixel
	Across, Along float64 // px
	Heading       hull.Angle
}

// usualClick is the error, px, of a careful click in a magnified picture each way, as a
// standard error (common practice, no source).
const usualClick = 0.7

// onLine is the error, px, across a line of a mark that a computer set on it. Förstner
// and Gülch (1987, from memory) find corners to a few tenths of a pixel.
const onLine = 0.3

// Clicked is a mark set by hand.
func Clicked(x, y float64) Mark { return Mark{At: Pixel{x, y}, Across: usualClick, Along: usualClick} }

// Snapped is a mark set by hand near a line of the given heading, and then moved square
// to it onto its middle: along the line it stays where the hand put it.
func Snapped(x, y float64, heading hull.Angle, hand float64) Mark {
	return Mark{Pixel{x, y}, onLine, max(hand, onLine), heading}
}

// vec is the place of the mark.
func (m Mark) vec() mgl64.Vec2 { return mgl64.Vec2{m.At.X, m.At.Y} }

// cov is the covariance of the mark, px².
func (m Mark) cov() mgl64.Mat2 {
	s, c := math.Sincos(float64(m.Heading))
	along, across := mgl64.Vec2{c, s}, mgl64.Vec2{-s, c}
	return along.OuterProd2(along).Mul(m.Along * m.Along).Add(across.OuterProd2(across).Mul(m.Across * m.Across))
}

// What says which known place of a frame a mark shows.
type What string

// The known places.
const (
	UpperLimit What = "upper"  // where the frame meets the upper limit
	Rabbet     What = "rabbet" // where it meets the lower limit
	SeamBelow  What = "seam"   // the lower edge of a strake already laid
	AtGirth    What = "girth"  // at a given girth, mm, below the upper limit, as marked on the frame
)

// Face says on which face of the planking a place is seen.
type Face string

// The faces.
const (
	OnFrame Face = "frame" // on the frame, or the layer beneath
	OnPlank Face = "plank" // on the outer face of the layer's planks
)

// UsualFace is the face on which a known place of a frame is seen from outside,
// according to the record of its side: a seam on the planks, an end of the frame on the
// strake that covers it, and everything else on the frame.
func UsualFace(l *loft.Layer, states []progress.BandState, what What, frame int) Face {
	n := 0
	switch what {
	case SeamBelow:
		return OnPlank
	case Rabbet:
		n = len(l.Strakes) - 1
	case AtGirth:
		return OnFrame
	}
	st := l.Strakes[n]
	for i := range states {
		if s := &states[i]; s.Layer == l.Number && s.Band == st.Band && slices.Contains(s.Laid, st.ID) && st.At[frame].Laid {
			return OnPlank
		}
	}
	return OnFrame
}

// Known is a known place, seen in the picture.
type Known struct {
	Mark
	What   What
	Frame  int     // index of the frame
	Strake int     // index of the strake in its layer, for a seam
	Girth  float64 // mm below the upper limit, for AtGirth
	Face   Face    // empty for that given by UsualFace
	Beyond bool    // it is on the ship's other side
}

// Of says which edge of the remaining space a mark shows.
type Of string

// The two edges of the remaining space.
const (
	Above Of = "above" // the lower edge of what is laid above it
	Below Of = "below" // the upper edge of what is laid below it
)

// Edge is where, at a frame, the remaining part of the band begins or ends, seen in the
// picture.
type Edge struct {
	Mark
	Frame int
	Of    Of
	Face  Face // empty for OnFrame, where the edge meets it
}

// Marks are everything marked in a picture.
type Marks struct {
	Picture Picture
	Known   []Known
	Edges   []Edge
}

// Care is the accuracy with which a picture and the ship in it are made.
type Care struct {
	Stands float64 // mm: how far a frame stands off its place each way, as a standard error
	Most   float64 // mm: a reading that may be further out, in one of twenty cases, is not given
}

// UsualCare is that of a careful builder: frames set up to some tenths of a
// millimetre (common practice, no source), and readings to a millimetre.
func UsualCare() Care { return Care{Stands: 0.2, Most: 1} }
