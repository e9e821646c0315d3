package loft

// The trade's figures that no plan holds: the usual values where a builder's own record
// says nothing else, each with its source. Those that a plan may set stand in
// hull.TradeRules; the usual moisture, kerf, overhang and pins are in hull.NewMoisture
// and hull.NewCutting.
const (
	// fibreSaturation is the moisture content, percent of the dry weight, above
	// which wood no longer swells: about 30 for most species (Wood Handbook
	// FPL-GTR-190, chapter 4).
	fibreSaturation = 30

	// UsualTolerance is how far the lines of the two sides may differ, mm: common
	// practice, no source. A plan's record may set another.
	UsualTolerance = 1.0

	// LeastBevel is the least bevel that a plane can make, degrees: common practice,
	// no source.
	LeastBevel = 0.05

	// How much the work of a careful builder varies, as standard deviations: the creep of a
	// strip beyond the plan, mm; the part of it that varies along the hull in common for
	// all strakes, mm; the difference between strakes, mm; the knife's error at one place,
	// mm; the error of the frames' girths that varies smoothly along the hull, and a
	// frame's own, mm; and the hand's error in reading a rule divided in half millimetres,
	// besides the rounding, mm. From memory, no source; measurements soon outweigh them.
	UsualCreep  = 0.15
	UsualAlong  = 0.06
	UsualStrake = 0.045
	UsualKnife  = 0.05
	UsualShape  = 0.08
	UsualFrame  = 0.2
	UsualHand   = 0.045

	// UsualReach is the distance along the hull over which smooth variation stays alike,
	// mm, and UsualSure the uncertainty of the six figures from UsualAlong on: the standard
	// deviation of their natural logarithms. From memory, no source.
	UsualReach = 120
	UsualSure  = 0.5

	// UsualClosing is the accuracy, mm, to which the last strake must match the remaining
	// space in order to close it: common practice, no source.
	UsualClosing = 0.3

	// Likeness is the difference, mm a strip, in one builder's creep from one side or band
	// to the next. From memory, no source.
	Likeness = 0.06
)
