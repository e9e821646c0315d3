// Package edit holds the changes that can be made to a plan, each a function that
// a session makes as one step; they know of no window.
//
//	err := s.Edit("hold line 1 at frame K", edit.SetHeld(0, 0, 7, true, edit.Crossings(layer, 1)))
package edit
