package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// LiesOnLine is the distance from a line at a frame, mm, within which a strip counts as
// lying on it: a quarter of the width of a pencil line. Common practice, no source.
const LiesOnLine = 0.25

// StripBeside is where the strip of a band line lies by itself, shown beside the line
// while that is dragged.
type StripBeside struct {
	Line int         // 1 is the first below the upper limit
	Lie  *NaturalLie // by the line's handles; without the thin strip's line, the energies and the error
	// Off is the distance of the strip from the line at every frame, mm of girth downwards;
	// NaN where it does not reach the frame, and where nothing is planked.
	Off []float64
	// P is the middle of its inner face at the stations of the layer's surface, mm; NaN
	// where it does not reach.
	P []mgl64.Vec3

	// BattenP are the positions of a thin batten by the same handles, likewise, for a line
	// that follows its strip; nil for others.
	BattenP []mgl64.Vec3
}

// StripBeside gives this for a strip of the layer's stock; nil for the limits and on a
// hull of unknown shape. For a line that follows the strip itself it costs nothing.
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

// BattenOff is the distance of a thin batten by the handles of a band line from the
// line at every frame, mm of girth downwards; NaN where it does not reach the frame,
// and where nothing is planked. It is the lie-off, except for a line that follows its
// strip. Nil on a hull of unknown shape.
func (l *Layer) BattenOff(b *BandLine) []float64 {
	if !b.followsStrip() {
		return b.LieOff
	}
	return l.offLine(b, b.natural, func(a NaturalAt) float64 { return a.Thin })
}

// offLine is the distance of one course of a lie below a line at every planked frame.
func (l *Layer) offLine(b *BandLine, n *NaturalLie, down func(NaturalAt) float64) []float64 {
	out := make([]float64, len(n.Frames))
	for i, a := range n.Frames {
		if out[i] = math.NaN(); l.Surface.Planks(i) {
			out[i] = down(a) - b.Down[l.Surface.FrameStation(i)]
		}
	}
	return out
}

// followsStrip reports whether the line's free course and lie-off are those of the
// strip itself; they are not if it should follow the strip but no natural lie was
// found.
func (b *BandLine) followsStrip() bool { return b.natural != nil && b.natural.Untold == Told }

// pathOf gives the points of a course at the stations, mm; NaN where it does not reach.
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

// Most gives the greatest distance of the strip from the line, mm downwards, and its
// frame, or −1 where none is known.
func (b *StripBeside) Most() (mm float64, frame int) { return Farthest(b.Off) }

// Farthest gives the greatest of some distances at the frames, in either direction, and
// its frame, or −1 where all are NaN.
func Farthest(off []float64) (mm float64, frame int) {
	frame = -1
	for f, x := range off {
		if !math.IsNaN(x) && math.Abs(x) >= math.Abs(mm) {
			mm, frame = x, f
		}
	}
	return mm, frame
}

// OnLine reports whether the strip lies on the line by itself, at all planked frames
// that it reaches; false where its lie is not known.
func (b *StripBeside) OnLine() bool {
	off, at := b.Most()
	return b.Lie.Untold == Told && at >= 0 && math.Abs(off) <= LiesOnLine
}
