package scene

import (
	"image/color"

	"github.com/go-gl/mathgl/mgl64"
)

// Tag says what a place of the hull belongs to; -1 is nothing.
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
	Tint   float64    // −1 to 1: where between the two tints of the palette its colour lies; 0 is bare wood
	Bare   bool       // of a frame, not of what is laid on it
}

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
	kinds
)

// Polyline is a line on the hull.
type Polyline struct {
	Points []mgl64.Vec3 // mm
	Kind   Kind
	Width  float64 // pixels
}

// Scene is what is drawn.
type Scene struct {
	Vertices  []Vertex
	Triangles []Triangle
	Lines     []Polyline
}

// Palette is the colours of a scene.
type Palette struct {
	Ground     color.RGBA
	Wood       color.RGBA
	Frame      color.RGBA // the flat of a bare frame
	Down, Up   color.RGBA // the tints at −1 and at 1
	ChosenWood color.RGBA
	Lines      [kinds]color.RGBA
}

// Light and Dark are the palettes of the window; the tints are blue and
// orange, which colour-blind eyes keep apart.
var (
	Light = Palette{
		Ground: rgb(0xf1efe8), Wood: rgb(0xe8d7b4), Frame: rgb(0xd3d9e0), Down: rgb(0x1f77c8), Up: rgb(0xe07b00), ChosenWood: rgb(0xe58ab2),
		Lines: [kinds]color.RGBA{SeamLine: rgb(0x6b5637), FrameLine: rgb(0x8d9299), BandLine: rgb(0x4a2f80), LimitLine: rgb(0x202428), ChosenLine: rgb(0xa5004e), LiftLine: rgb(0x0b5cad), ForceLine: rgb(0x9c2f00)},
	}
	Dark = Palette{
		Ground: rgb(0x16181b), Wood: rgb(0xb59c70), Frame: rgb(0x5a636d), Down: rgb(0x2f8fe8), Up: rgb(0xff9a2e), ChosenWood: rgb(0xd8689c),
		Lines: [kinds]color.RGBA{SeamLine: rgb(0x3d301d), FrameLine: rgb(0x565c63), BandLine: rgb(0xe0d2ff), LimitLine: rgb(0xf0eee8), ChosenLine: rgb(0xffc0dc), LiftLine: rgb(0x74b6f5), ForceLine: rgb(0xffb48a)},
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
	for i := range s.Vertices {
		f(s.Vertices[i].At)
	}
	for i := range s.Lines {
		for _, p := range s.Lines[i].Points {
			f(p)
		}
	}
}
