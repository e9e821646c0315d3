// Package curve draws smooth curves through given points: the outline of a frame with
// its knuckles and its girth, the batten, and the cubic splines of which both are made.
//
// Lengths are in mm; girth is arc length from a frame's first point.
package curve
