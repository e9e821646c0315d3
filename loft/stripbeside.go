package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// LiesOnLine is how far a strip may lie from a line at a frame, mm, and lies on it all
// the same: a quarter of the line of a pencil. Common practice, no source.
const LiesOnLine = 0.25

// StripBeside is where the strip of a band line lies by itself, to be seen beside the
// line while that is dragged.
type StripBeside struct {
	Line int         // 1 being the first under the upper limit
	Lie  *NaturalLie // by the line's handles; without the thin strip's line, the energies and the error
	// Off is how far the strip lies from the line at every frame, mm of girth
	// downwards; NaN where it does not come to, and where nothing is planked.
	Off []float64
	// P is the middle of its inner face at the stations of the layer's surface, mm;
	// NaN where it does not come to.
	P []mgl64.Vec3

	// BattenP are the places of a thin batten by the same handles, likewise, beside a
	// line that follows its strip; nil beside others.
	BattenP []mgl64.Vec3
}

// StripBeside gives it of a strip of the layer's stock; nil for the limits and on a
// hull without a shape. For a line that follows the strip itself it costs nothing to
// find.
func (l *Layer) StripBeside(line int) *StripBeside {
	if line < 1 || line >= len(l.Lines)-1 || l.Surface.shapeless {
		return nil
	}
	s, b := l.Surface, l.Lines[line]
	lie := b.natural
	if lie == nil {
		lie = s.naturalOf(&b.origin, l.ribbon, b.origin.free, false)
	}
	out := &StripBeside{Line: line, Lie: lie, Off: l.offLine(b, lie, func(a NaturalAt) float64 { return a.Natural })}
	if lie.Untold == Told {
		out.P = s.pathOf(lie.under)
	}
	if b.followsStrip() {
		out.BattenP = s.pathOf(lie.thin)
	}
	return out
}

// BattenOff is how far a thin batten by the handles of a band line falls from the line
// at every frame, mm of girth downwards; NaN where it does not come to, and where
// nothing is planked. It is the lie-off but of a line that follows its strip. Nil on a
// hull without a shape.
func (l *Layer) BattenOff(b *BandLine) []float64 {
	if !b.followsStrip() {
		return b.LieOff
	}
	return l.offLine(b, b.natural, func(a NaturalAt) float64 { return a.Thin })
}

// offLine is how far one course of a lie is below a line at every planked frame.
func (l *Layer) offLine(b *BandLine, n *NaturalLie, down func(NaturalAt) float64) []float64 {
	out := make([]float64, len(n.Frames))
	for i, a := range n.Frames {
		if out[i] = math.NaN(); l.Surface.Planks(i) {
			out[i] = down(a) - b.Down[l.Surface.FrameStation(i)]
		}
	}
	return out
}

// followsStrip tells whether the line's free course and lie-off are those of the strip
// itself: not where it is to follow that, and no natural lie is told.
func (b *BandLine) followsStrip() bool { return b.natural != nil && b.natural.Untold == Told }

// pathOf is a course at the stations, mm; NaN where it does not come to.
func (s *Surface) pathOf(c course) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(c.v))
	for k, v := range c.v {
		if math.IsNaN(v) {
			out[k] = mgl64.Vec3{v, v, v}
			continue
		}
		out[k] = s.atStation(k, v).P
	}
	return out
}

// Most gives how far the strip lies from the line at the frame where most, mm
// downwards, and that frame, or -1 where it is told at none.
func (b *StripBeside) Most() (mm float64, frame int) { return Farthest(b.Off) }

// Farthest gives the greatest of some distances at the frames, either way, and its
// frame, or -1 where all are NaN.
func Farthest(off []float64) (mm float64, frame int) {
	frame = -1
	for f, x := range off {
		if !math.IsNaN(x) && math.Abs(x) >= math.Abs(mm) {
			mm, frame = x, f
		}
	}
	return mm, frame
}

// OnLine tells whether the strip lies on the line by itself, at all planked frames that
// it comes to; false where it is not told how it lies.
func (b *StripBeside) OnLine() bool {
	off, at := b.Most()
	return b.Lie.Untold == Told && at >= 0 && math.Abs(off) <= LiesOnLine
}
