// Package sight measures places on the frames in a picture of the hull on the bench:
// how much is left of a band there, and how reliable the figure is.
//
//	marks := sight.Marks{
//		Picture: sight.Picture{Width: 4000, Height: 3000},
//		Known:   []sight.Known{{Mark: sight.Clicked(812, 690), What: sight.UpperLimit, Frame: 3}, …},
//		Edges:   []sight.Edge{{Mark: sight.Clicked(1204, 1310), Frame: 3, Of: sight.Above}, …},
//	}
//	seen, err := sight.Read(planking, hull.Port, 0, 0, states, marks, sight.UsualCare())
//	for _, r := range seen.Readings {
//		fmt.Println(r.Frame, r.Left, r.Bound())
//	}
//
// Places that are known on the ship and seen in the picture show where the camera
// stood: six or more that do not lie in one plane, or four of one frame, which is then
// the only frame that can be read. A mark on an edge is projected back from the picture
// onto the outline of its frame. The error of a reading includes those of the mark
// itself, of the camera as far as the known places leave it open, and of frames that
// stand slightly off their place.
//
// A place in a picture is a [Pixel], x to the right and y down, the middle of the upper
// left one at (0.5, 0.5). Lengths on the ship are in mm. Its axes are the hull's, with
// y towards the side that is seen, so that they are right-handed: x along the keel, z
// up.
package sight
