package loft

import (
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// BlockPiece is the block of wood that a carved strake needs, mm: the smallest box
// along its run. It is for one side; the other side's is its mirror image.
type BlockPiece struct {
	Strake          int // its index in Layer.Strakes
	ID              string
	Length          float64 // along the chord of its middle line, the overhang included
	Breadth, Depth  float64 // of the smallest rectangle that holds it, seen along that chord: the longer and the shorter side
	Rough           bool    // only the hull's girths are known: breadth and depth are those of a flat strake
	FirstAt, LastAt int     // the frames at its ends, or -1
}

// blocks lists the blocks that a layer needs, in the order of laying.
func (l *Layer) blocks(b *Butting) []BlockPiece {
	var out []BlockPiece
	for _, p := range b.Pieces {
		if p.Mode == hull.Block && p.Side == hull.Sides()[0] {
			out = append(out, l.block(p))
		}
	}
	return out
}

// block measures the box of one piece: the edges of both its faces, the outer one a
// thickness out along the surface normals.
func (l *Layer) block(p LaidPiece) BlockPiece {
	st := l.Strakes[p.Strake]
	out := BlockPiece{Strake: p.Strake, ID: p.ID, FirstAt: p.FromFrame, LastAt: p.ToFrame, Length: p.Length(), Breadth: st.widestCut(), Depth: l.thickness, Rough: true}
	if l.Surface.shapeless {
		return out
	}
	out.Rough = false
	s := l.Surface
	var points []mgl64.Vec3
	for k := st.From; k <= st.To; k++ {
		for _, line := range []*Line{l.Seams[p.Strake], st.Centre, l.Seams[p.Strake+1]} {
			j := s.At(s.stations[k], line.V[k])
			points = append(points, j.P, j.P.Add(j.Normal().Mul(l.thickness)))
		}
	}
	chord := st.Centre.P[st.To].Sub(st.Centre.P[st.From])
	if chord.Len() < 1e-9 {
		return out
	}
	along := chord.Normalize()
	across := along.Cross(mgl64.Vec3{0, 1, 0})
	if across.Len() < 1e-6 {
		across = along.Cross(mgl64.Vec3{0, 0, 1})
	}
	across = across.Normalize()
	third := along.Cross(across)
	low, high := points[0].Dot(along), points[0].Dot(along)
	var seen []mgl64.Vec2
	for _, q := range points {
		low, high = min(low, q.Dot(along)), max(high, q.Dot(along))
		seen = append(seen, mgl64.Vec2{q.Dot(across), q.Dot(third)})
	}
	out.Length = high - low + p.Overhang
	out.Breadth, out.Depth = leastRectangle(seen)
	return out
}
