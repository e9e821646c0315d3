package scene_test

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/scene"
)

// A scene holds a mesh and lines on it; the renderer says what lies at a pixel of
// the last image.
func Example() {
	var s scene.Scene
	out := [2]mgl64.Vec3{{0, 1, 0}, {0, 1, 0}}
	s.Add(scene.Skin{Chosen: -1, Plates: []scene.Plate{{Strake: 0, Rungs: []scene.Rung{ // one strake of two bays, square abeam
		{At: [2]mgl64.Vec3{{0, 20, 10}, {0, 20, 0}}, Normal: out, Frame: 0},
		{At: [2]mgl64.Vec3{{50, 20, 10}, {50, 20, 0}}, Normal: out, Frame: 1},
		{At: [2]mgl64.Vec3{{100, 20, 10}, {100, 20, 0}}, Normal: out, Frame: 2},
	}}}}, false)
	s.Draw([]mgl64.Vec3{{0, 20, 10}, {100, 20, 10}}, scene.SeamLine, 1, false)

	var r scene.Renderer
	r.Render(&s, scene.Facing(&s, 0, 0).Fit(&s, 200, 100), &scene.Light, 200, 100)
	tag, ok := r.Pick(100, 50)
	fmt.Println("strake", tag.Strake, "frame", tag.Frame, ok)
	_, ok = r.Pick(100, 5)
	fmt.Println("above it:", ok)
	// Output:
	// strake 0 frame 1 true
	// above it: false
}
