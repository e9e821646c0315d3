// Package scene draws the lofted hull: a shaded mesh of strakes with lines on
// it, hidden ones removed through a depth buffer, to an image that is used
// again for every frame. It is pure Go and knows no window.
//
//	s := scene.Hull(planking.Layers[0], scene.Look{Both: true})
//	cam := scene.Facing(s, 0.6, 0.3)
//	var r scene.Renderer
//	img := r.Render(s, cam, scene.Light, 1000, 600)
//	tag, ok := r.Pick(x, y)
package scene
