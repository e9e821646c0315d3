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
// What a layer's builder should know is in its Notes, as data: putting them into words
// is left to whoever shows them. The trade's usual figures stand in trade.go, each with
// its source.
//
// Two questions are answered separately: [Surface.Lie] follows the line on which a thin
// strip lies unstressed, and [Compare] lays the plan in other strips. [FairLines]
// proposes band lines of least edge-set; [LineOff] searches for band lines that hold
// whole strips. [Planking.CutLayers] butts all strakes into pieces; package cutstock
// cuts these from the strips at hand and on sale, and package nest cuts those of spiled
// strakes from sheets. [Wetting] gives the width of strips laid wet. Package progress
// works out what the bench record shows.
//
// Lengths are in mm, angles [hull.Angle] in radians, curvatures [hull.Curvature] in
// 1/mm. A surface has the parameters u, along the length, and v, down from 0 at the
// upper to 1 at the lower limit; its normal points outwards. The package does no input
// or output and uses no clock and no window.
package loft
