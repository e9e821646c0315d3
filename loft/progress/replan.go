package progress

import (
	"errors"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// BandState is a band of one side as it stands on the bench, and what to do with the
// rest of it.
type BandState struct {
	Layer, Band int         // from 1
	Laid        []string    // IDs of the strakes glued, in the order of laying
	Remaining   []string    // those still to be laid, from the upper limit down
	Measured    bool        // something was measured in this band
	Known       bool        // this builder's creep is known: from this band, or learned from the other side
	Creep       float64     // mm a strip over the plan: this builder's own, as learned, averaged along the hull
	CreepToGo   float64     // mm a strip, expected creep of those still to be laid: Creep, unless tighter bevels were chosen
	Remedy      hull.Remedy // how the rest is made to fit, as chosen last; empty if shared afresh
	CreepBound  float64     // mm: in 95 % of cases the true creep is within this of Creep
	Left        []float64   // mm of girth left at every frame
	LeftBound   []float64   // mm: in 95 % of cases the true figure is within this of Left
	FrameOff    []float64   // mm at every frame: how much more girth the band has there than drawn, as learned
	CreepAt     []float64   // mm a strip at every frame: expected creep there of those still to be laid
	Straying    []float64   // mm at every frame: how much more is left than was planned
	Widths      [][]float64 // mm along the frame, [remaining strake][frame]: what is left, shared afresh; 0 where dropped
	Change      [][]float64 // mm relative to the plan
	Seams       [][]float64 // mm below the upper limit at every frame, of the band's upper edge and the lower edge of each strake, with any wedge beneath it: as laid, and for the rest as shared afresh
	Made        []bool      // for every seam, whether it is in place: all strakes above it in the band are laid, or all below; for the band's own edges, all of them
	Queries     []Query     // measurements that are hardly possible, left out
	Wet         []int       // entries: measurements of wet wood, left out until it is measured dry

	Spread hull.Spread // how this builder's work varies, as learned from the record so far

	plan *loft.Planking // as planned
	g    *regression
	runs []bool // for every strake, from 0: whether it is laid
	cuts []bool // for those still to be laid: whether it is cut
}

// Query is a measurement that is hardly possible.
type Query struct {
	Entry int // index into the entries given
	Doubt Doubt
	Frame string
	Kept  bool    // it is believed all the same; else it is left out
	MM    float64 // as measured
	Other float64 // mm: the band's girth there if the measurement exceeds that, else the distance from what is expected; for a bare frame the excess over the drawing
}

// Doubt is why a measurement is hardly possible.
type Doubt uint8

// The doubts.
const (
	NotPlanked Doubt = iota // the hull is not planked at the frame
	Negative                // it is below zero
	OverBand                // it is more than the whole band
	OffPlan                 // it is far off the plan, and nothing else bears on it
	OffOthers               // it is far off what the others lead one to expect
	OffDrawn                // for a bare frame: it is far off the drawing
)

// Replan follows the bench record of one side of a layer (from 0): from what was glued
// and measured it learns this builder's creep and what remains of every band at every
// frame, and shares that afresh among the strakes still to be laid. If an entry names
// no strake, band or frame of the plan, the error names the entry.
//
// Straying is estimated by Gaussian process regression (Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, chapter 2): what is left at a frame
// varies by the frame's own error and by the creep of the strakes laid there, as
// described by Habit; how large each of these is, is learned from the record. A frame
// that was read carefully is believed accordingly, and those not read are interpolated
// smoothly between their neighbours.
func Replan(k *loft.Planking, layer int, entries []hull.Entry, habit Habit) ([]BandState, error) {
	var record hull.Record
	record.Starboard, record.To = entries, k.Plan.Record.To
	f, err := followAll(k, layer, &record, habit)
	if err != nil {
		var side sideError
		if errors.As(err, &side) {
			err = side.err
		}
		return nil, err
	}
	return f.states(hull.Starboard), nil
}
