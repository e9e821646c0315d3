// Package progress tells what the record of the bench teaches: how far the work has
// come, how this builder's strakes stray from the plan, and what follows for the
// strakes still to go.
//
//	sides, err := progress.BothSides(planking, 0, &plan.Record, progress.UsualHabit())
//	...
//	for _, band := range sides[hull.Port] {
//		fmt.Println(band.Band, band.Remaining, band.Creep, band.Left)
//	}
//
// [Replan] follows the record of one side, [BothSides] that of both, each taught by
// the other, [CompareSides] sets them against each other, and [Options] finds the ways
// to make the rest of a band fit. [Turns], [Procedure] and [Next] tell what is laid
// next and how; [WetStrakes] what still has to dry. A line of the record is written
// as [Noted] says, so that no later change of the plan alters what is on the ship.
// [BandState.Outlook] foretells whether the last strake will fit and what to measure
// next; [Learned] and [FromBuilds] carry how a builder's work strays from build to
// build. How it may stray is told by [Habit]; bounds hold 95 % of cases.
// Lengths are in mm.
package progress
