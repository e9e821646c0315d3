// Package sighting reads what was marked in a picture of the hull from a table, for
// package loft/sight to tell what is left at the frames.
//
//	m, err := sighting.Open("port.csv", planking, 0)
//	seen, err := sight.Read(planking, hull.Port, 0, 0, states, m, sight.UsualCare())
package sighting
