package scene

import (
	"image/color"

	"github.com/go-gl/mathgl/mgl64"
)

// Tag says what a place on the hull belongs to; -1 is nothing.
type Tag struct {
	Strake int16 // index of the strake in its layer, from 0
	Frame  int16 // index of the nearest frame
}

// nothing is the tag of empty ground.
var nothing = Tag{-1, -1}

// Vertex is a corner of the mesh.
type Vertex struct {
	At     mgl64.Vec3 // mm
	Normal mgl64.Vec3 // of unit length, outwards
	Tint   float64    // −1 to 1: what a map shows of the planking here; see stepOf
	Tone   float64    // by how much its piece is lighter than the material, as a share: −0.05 is darker
	Shut   float64    // 0 to 1: how much of the sky is hidden from its inner face
	Grain  [2]float32 // mm: its position along the grain of the piece, and across it
	Of     Material
}

// Material is what a part of the mesh is made of.
type Material uint8

// The materials.
const (
	Plank     Material = iota // planking, or a strip
	BareFrame                 // the flat face of a frame before planking; it has no inside
	Timber                    // keel, posts and frames behind the planking
)

// Triangle names three vertices by their index.
type Triangle struct {
	A, B, C int32
	Tag     Tag
	Chosen  bool
}

// Kind is what a line on the hull stands for.
type Kind uint8

// The kinds of lines.
const (
	SeamLine Kind = iota
	FrameLine
	BandLine
	LimitLine
	ChosenLine
	LiftLine  // where a strip stands off the frames
	ForceLine // a force on it
	// On bare frames, where much of the ground is visible, lines have colours that
	// contrast with it.
	BareFrameLine
	BareLimitLine
	BareChosenLine
	kinds
)

// Polyline is a line on the hull.
type Polyline struct {
	Points []mgl64.Vec3 // mm
	Kind   Kind
	Width  float64 // pixels of a screen of scale 1
	Gap    float64 // mm to the next line of its kind; where these are close together on the screen they are drawn finer. 0 for a line on its own
	Dotted bool
}

// Scene is what is drawn.
type Scene struct {
	Vertices  []Vertex
	Triangles []Triangle
	Lines     []Polyline
	Mapped    bool   // the planking shows the tints in steps, instead of the wood
	Floor     *Floor // what the hull stands on; nil for nothing
	Base      *Scene // drawn with it, shared and never changed; nil for nothing
}

// parts gives the parts of the scene to draw: itself, and its Base.
func (s *Scene) parts() []*Scene {
	if s.Base == nil {
		return []*Scene{s}
	}
	return append([]*Scene{s}, s.Base.parts()...)
}

// Palette is the colours of a scene.
type Palette struct {
	Ground     color.RGBA
	Shadow     color.RGBA // of the ground under the hull
	Wood       color.RGBA
	Timber     color.RGBA // keel, posts and frames behind the planking
	Frame      color.RGBA // the flat face of a bare frame
	Pale       color.RGBA // a map's colour where it shows neither sign
	Down, Up   color.RGBA // the tints at −1 and at 1
	Hatch      color.RGBA // over them
	ChosenWood color.RGBA
	Lines      [kinds]color.RGBA
}

// Light and Dark are the palettes of the window; the tints are blue and orange,
// which colour-blind eyes can tell apart.
var (
	Light = Palette{
		Ground: rgb(0xf1efe8), Shadow: rgb(0x8f887a), Wood: rgb(0xedce9a), Timber: rgb(0xbb8c57), Frame: rgb(0xd3d9e0),
		Pale: rgb(0xf0ebe0), Down: rgb(0x2f80c8), Up: rgb(0xe0801c), Hatch: rgb(0x17191c), ChosenWood: rgb(0xe58ab2),
		Lines: [kinds]color.RGBA{
			SeamLine: rgb(0x24180a), FrameLine: rgb(0x4d3a22), BandLine: rgb(0x3f2673), LimitLine: rgb(0x202428), ChosenLine: rgb(0x9a0049), LiftLine: rgb(0x0b5cad), ForceLine: rgb(0x9c2f00),
			BareFrameLine: rgb(0x6f757d), BareLimitLine: rgb(0x202428), BareChosenLine: rgb(0xa5004e),
		},
	}
	Dark = Palette{
		Ground: rgb(0x16181b), Shadow: rgb(0x060708), Wood: rgb(0xcdb083), Timber: rgb(0x9c7a50), Frame: rgb(0x5a636d),
		Pale: rgb(0xcfcac0), Down: rgb(0x3f93e0), Up: rgb(0xf0902c), Hatch: rgb(0x0c0d0f), ChosenWood: rgb(0xd8689c),
		Lines: [kinds]color.RGBA{
			SeamLine: rgb(0x180f05), FrameLine: rgb(0x33250f), BandLine: rgb(0x3a1f78), LimitLine: rgb(0x0c0d0f), ChosenLine: rgb(0x8f0048), LiftLine: rgb(0x74b6f5), ForceLine: rgb(0xffb48a),
			BareFrameLine: rgb(0x868d95), BareLimitLine: rgb(0xf0eee8), BareChosenLine: rgb(0xffc0dc),
		},
	}
)

func rgb(v uint32) color.RGBA {
	return color.RGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

// Bounds gives the two corners of the box around all vertices and lines, in
// mm; both are zero for an empty scene.
func (s *Scene) Bounds() (lo, hi mgl64.Vec3) {
	first := true
	add := func(p mgl64.Vec3) {
		if first {
			lo, hi, first = p, p, false
			return
		}
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	s.each(add)
	return lo, hi
}

// each calls f with every vertex and every point of a line.
func (s *Scene) each(f func(mgl64.Vec3)) {
	for _, part := range s.parts() {
		for i := range part.Vertices {
			f(part.Vertices[i].At)
		}
		for i := range part.Lines {
			for _, p := range part.Lines[i].Points {
				f(p)
			}
		}
	}
}
