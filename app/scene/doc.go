// Package scene draws the lofted hull: a shaded mesh of strakes with lines on it, hidden ones removed
// with a depth buffer, to an image that is reused for every frame. It is pure Go and knows no window.
//
//	on := scene.Structure(planking.Layers[0], nil) // keel, posts and frames
//	s := scene.Hull(planking.Layers[0], scene.Look{Both: true, Strake: -1, Line: -1, Frame: -1, Built: on})
//	cam := scene.From(scene.OffTheBow, s, true, 1000, 600)
//	var r scene.Renderer
//	img := r.Render(s, cam, scene.Light, 1000, 600)
//	tag, ok := r.Pick(x, y)
package scene
