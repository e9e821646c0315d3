// Package progress works out what the record of the bench shows: how far the work has
// come, how this builder's strakes vary from the plan, and what follows for the strakes
// still to be laid.
//
//	sides, err := progress.BothSides(planking, 0, &plan.Record, progress.UsualHabit())
//	...
//	for _, band := range sides[hull.Port] {
//		fmt.Println(band.Band, band.Remaining, band.Creep, band.Left)
//	}
//
// [Replan] follows the record of one side, [BothSides] that of both, each learning from
// the other, [CompareSides] compares them, and [Options] finds the ways to make the
// rest of a band fit. [Turns], [Procedure] and [Next] give what is laid next and how;
// [WetStrakes] what still has to dry. A line of the record is written as [Noted] gives
// it, so that no later change of the plan alters what is on the ship.
// [BandState.Outlook] predicts whether the last strake will fit and what to measure
// next; [Learned] and [FromBuilds] carry the variation of a builder's work from build
// to build. [Habit] describes that variation; bounds contain 95 % of cases. Lengths are
// in mm.
package progress
