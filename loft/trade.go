package loft

// The trade's figures that no plan holds: what is usual where a builder's own record
// says nothing else, each with where it comes from. Those that a plan may set
// stand in hull.TradeRules; the usual moisture, kerf, overhang and pins are
// hull.NewMoisture and hull.NewCutting.
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

	// How the work of a careful builder strays, as standard deviations: the creep of a
	// strip over the plan, mm; what of it changes along the hull alike for all
	// strakes, mm; how unlike each other strakes come out, mm; the knife's at one
	// place, mm; the error of the frames' girths that changes smoothly along the hull,
	// and a frame's own, mm; and the hand's in reading a rule of halves, besides the
	// rounding, mm. From memory, no source; what is measured
	// soon outweighs them.
	UsualCreep  = 0.15
	UsualAlong  = 0.06
	UsualStrake = 0.045
	UsualKnife  = 0.05
	UsualShape  = 0.08
	UsualFrame  = 0.2
	UsualHand   = 0.045

	// UsualReach is how far along the hull what strays smoothly keeps alike, mm, and
	// UsualSure how sure the six from UsualAlong on are: the standard deviation of
	// their natural logarithms. From memory, no source.
	UsualReach = 120
	UsualSure  = 0.5

	// UsualClosing is how near, mm, the last strake must come to what is left for it
	// to close: common practice, no source.
	UsualClosing = 0.3

	// Likeness is how far, mm a strip, one builder's creep differs from a side or a
	// band to the next. From memory, no source.
	Likeness = 0.06
)
