// Package loft computes what follows from a builder's decisions: the surface
// that each layer of planking lies on, the course of every band line, and of
// every strake its width, bevels, strains and length at every frame.
//
// Everything comes from one call, which is pure:
//
//	planking, err := loft.Plank(plan)
//	...
//	layer := planking.Layers[0]
//	for _, strake := range layer.Strakes {
//		for i, c := range strake.At {
//			if c.Laid {
//				fmt.Println(strake.ID, layer.Surface.FrameName(i), c.WidthFrame, c.Action)
//			}
//		}
//	}
//
// What a layer's builder should know is in its Notes, as data: words are the
// business of those who show them. The trade's usual figures stand in trade.go,
// each with its source.
//
// Two questions are answered beside it: [Surface.Lie] follows the line on which
// a thin strip lies unstressed, and [Compare] lays the plan in other
// strips. [FairLines] proposes decisions: band lines of least edge-set;
// [LineOff] searches for those that hold whole strips.
// [Planking.CutLayers] cuts all strakes into pieces, and these from the strips
// at hand and on sale by package cutstock, those of spiled strakes from sheets by
// package nest; [Wetting] tells what strips laid wet run
// to. What the bench record teaches is told by package progress.
//
// Lengths are in mm, angles [hull.Angle] in radians, curvatures
// [hull.Curvature] in 1/mm. A surface has the parameters u, along the length,
// and v, down from 0 at the upper to 1 at the lower limit; its normal points
// outwards. The package does no input or output, has no clock and no window.
package loft
