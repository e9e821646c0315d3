package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

// ModeReason says why a strake is made as it is.
type ModeReason string

// The reasons, from the weakest.
const (
	ByNature ModeReason = "easy"   // nothing speaks against a strip
	ByEdge   ModeReason = "edge"   // a strip would be strained sideways
	ByWidth  ModeReason = "width"  // it is wider than its strip
	ByBend   ModeReason = "bend"   // no strip takes its face bend, heat or none
	ByTwist  ModeReason = "twist"  // no strip takes its twist
	ByChoice ModeReason = "chosen" // the builder's word
)

// Making is how a strake is made, and why.
type Making struct {
	Mode   hull.Mode
	Reason ModeReason
	Figure float64 // what speaks for it: a strain, or of ByWidth the width over the strip's; a ratio
	Limit  float64 // up to which a strip would serve; 0 of ByChoice
	Frame  int     // where it is greatest
}

// making chooses the mode of a strake by the plan's rules, or takes the
// builder's. What bends or twists a strip too much bends a sheet of the same
// thickness too much as well, and so is carved; what only strains it sideways, or
// is wider, is cut from sheet.
func (l *Layer) making(st *Strake, chosen hull.Mode) Making {
	if chosen != "" {
		return Making{Mode: chosen, Reason: ByChoice}
	}
	if st.To <= st.From {
		return Making{Mode: hull.Sprung, Reason: ByNature}
	}
	face, faceAt := st.greatest(func(k int) float64 { return l.thickness * abs(st.Centre.Face[k]) / 2 })
	twist, twistAt := st.greatest(func(k int) float64 { return l.thickness * abs(st.Centre.Twist[k]) })
	edge, edgeAt := st.greatest(func(k int) float64 { return st.EdgeStrain(k) })
	wide, wideAt := st.widest()
	switch r := l.Rules; {
	case face > r.BendHot:
		return Making{hull.Block, ByBend, face, r.BendHot, faceAt}
	case twist > r.Twist:
		return Making{hull.Block, ByTwist, twist, r.Twist, twistAt}
	case wide > 1+r.Creep: // a strip may be as little short as strakes are counted by
		return Making{hull.Spiled, ByWidth, wide, 1 + r.Creep, wideAt}
	case edge > r.EdgeStrain:
		return Making{hull.Spiled, ByEdge, edge, r.EdgeStrain, edgeAt}
	default:
		return Making{hull.Sprung, ByNature, edge, r.EdgeStrain, edgeAt}
	}
}

// greatest is the greatest of a figure over the stations between the first and
// the last frame at which a strake is laid, and the nearest frame.
func (st *Strake) greatest(figure func(station int) float64) (most float64, frame int) {
	first, last := st.laidStations()
	at := first
	for k := first; k <= last; k++ {
		if f := figure(k); f > most {
			most, at = f, k
		}
	}
	return most, (at + stationsPerBay/2) / stationsPerBay
}

// EdgeStrain is the strain of edge-set at the edges of the strake at a station
// of its middle line, |κg|·w/2 for its width w there, straight between the frames:
// a ratio.
func (st *Strake) EdgeStrain(station int) float64 {
	i := min(station/stationsPerBay, len(st.At)-1)
	w := st.At[i].WidthCut
	if f := float64(station%stationsPerBay) / stationsPerBay; f > 0 {
		w += f * (st.At[i+1].WidthCut - w)
	}
	return abs(st.Centre.EdgeSet[station]) * w / 2
}

// widest is the greatest width over that of the strip where it is a gap, as a
// ratio of a whole strip's, or 1, and its frame.
func (st *Strake) widest() (ratio float64, frame int) {
	ratio = 1
	for i, c := range st.At {
		if c.Action == Gap && c.WidthCut/c.Pitch > ratio {
			ratio, frame = c.WidthCut/math.Max(c.Pitch, 1e-9), i
		}
	}
	return ratio, frame
}
