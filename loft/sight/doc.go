// Package sight tells what a picture of the hull on the bench says of places on its
// frames: how much is left of a band there, and how far that may be trusted.
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
// Places that are known on the ship and seen in the picture tell where the camera
// stood: six or more that do not lie in one plane, or four of one frame, which then
// is the one frame that can be read. A mark on an edge is taken back from the picture
// onto the outline of its frame. The error told of a reading holds those of the mark
// itself, of the camera as the known places leave it open, and of frames that stand
// a little off their place.
//
// A place in a picture is a [Pixel], x to the right and y down, the middle of the
// upper left one at (0.5, 0.5). Lengths on the ship are in mm. Its axes are the
// hull's, with y on the side that is seen, so that they are right-handed: x along
// the keel, z up.
package sight
