// Package mesh takes a hull off a surface of triangles: STL, text and binary, OBJ and 3MF (3MF
// Consortium, 3D Manufacturing Format, Core Specification 1.3).
//
//	m, faults := mesh.Check(ctx, "skiff.stl", mesh.Options{Every: 20})
//	m.Hull.Frames // at every 20 mm, from the sheer down to the rabbet
//	m.Notes       // how the mesh lies, what was taken for sheer and rabbet, how true it is
//
// The mesh is sliced square to its length at the stations given, or at twenty evenly spaced ones.
// Which way it lies is inferred from its shape, and reported. The frame is the outer half of each
// section from the keel up to the sheer: the deck, walls in the middle plane and whatever else lies
// about it are left out. Gaps are bridged up to a share of the mesh's size and reported, and refused
// beyond it.
//
// An STL is sliced while it is read, twice from its beginning, so that its size costs time but no
// memory. Of the others, corners and triangles are held, up to some 200 MB, and as much again while
// they grow. All work stops soon after the context ends.
package mesh
