package drawing

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Stations are places along the hull, as a list or evenly spaced; mm.
type Stations struct {
	From, Every float64 // where List is empty
	List        []float64
}

// at is the place of frame i.
func (s *Stations) at(i int) float64 {
	if len(s.List) > 0 {
		return s.List[i]
	}
	return s.From + float64(i)*s.Every
}

// wrong says why they cannot be those of n frames; empty where they can.
func (s *Stations) wrong(n int) string {
	switch {
	case len(s.List) > 0 && len(s.List) != n:
		return tongue.T("you gave %s, but the drawing has %s", tongue.Count(len(s.List), "%d station", "%d stations", len(s.List)), tongue.Count(n, "%d frame", "%d frames", n))
	case len(s.List) == 0 && !(math.Abs(s.Every) > hull.Apart):
		return tongue.T("the stations have no distance between them")
	}
	return ""
}
