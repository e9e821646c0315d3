package progress

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Meet is where the lines of the two sides are seen to meet or to match.
type Meet string

// The places at which a difference shows.
const (
	atKeel Meet = "keel"      // the garboard's upper edge, or the whole run at the rabbet
	atStem Meet = "stem"      // any seam at the bow's end frame, where both sides meet
	atBand Meet = "band line" // the line between two bands
)

// SideDifference is a seam that lies on both sides, at a frame, in mm of girth
// below the upper limit.
type SideDifference struct {
	Where           Meet
	Layer, Band     int    // from 1
	Below           string // the strake whose lower edge it is
	Frame           int
	Starboard, Port float64
	Over            bool // they differ by more than the tolerance
}

// By is how much lower the seam lies to port, mm.
func (d SideDifference) By() float64 { return d.Port - d.Starboard }

// CompareSides compares what is laid on both sides of a layer: at the keel, at the stem
// (the end frame given by the hull's bow) and at the band lines. Both sides are as
// BothSides gives them; a tolerance of 0 or less means the usual one. Seams are left
// out where one side has not laid all strakes above or below.
func CompareSides(k *loft.Planking, states map[hull.Side][]BandState, tolerance float64) []SideDifference {
	if !(tolerance > 0) {
		tolerance = loft.UsualTolerance
	}
	star, port := states[hull.Starboard], states[hull.Port]
	var out []SideDifference
	for i := range min(len(star), len(port)) {
		a, b := &star[i], &port[i]
		last := len(a.Seams) - 1
		for n := range a.Seams {
			if n == 0 || n >= len(b.Seams) || !a.Made[n] || !b.Made[n] {
				continue
			}
			for f := range a.Seams[n] {
				where, ok := meet(k, i, len(star), n, last, f)
				if !ok {
					continue
				}
				d := SideDifference{Where: where, Layer: a.Layer, Band: a.Band, Below: loft.StrakeID(a.Layer, a.Band, n), Frame: f, Starboard: a.Seams[n][f], Port: b.Seams[n][f]}
				d.Over = math.Abs(d.By()) > tolerance
				out = append(out, d)
			}
		}
	}
	return out
}

// meet gives what a seam of a band (from 0) is at a frame.
func meet(k *loft.Planking, band, bands, seam, last, frame int) (Meet, bool) {
	bow := 0
	if k.Plan.Hull.Bow == hull.BowLast {
		bow = len(k.Plan.Hull.Frames) - 1
	}
	lowest := band == bands-1
	switch {
	case frame == bow:
		return atStem, true
	case lowest && seam >= last-1:
		return atKeel, true
	case seam == last:
		return atBand, true
	}
	return "", false
}
