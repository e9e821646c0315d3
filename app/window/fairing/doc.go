// Package fairing holds the three dialogs about the shape of a hull: which line of a
// drawing is which frame (OpenOutlines), where a mesh is sliced (OpenSections), and which points of the frames lie off a
// fair run, with a fair hull beside them (Open).
package fairing
