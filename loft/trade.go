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

	// UsualMeasuring, UsualCreep, UsualStrake and UsualReach are how the work of a
	// careful builder with a rule of half millimetres strays: the error of a
	// measurement, mm; the creep of a strip over the plan, mm; how unlike each other
	// strakes come out, mm; and how far along the hull one strake's straying keeps
	// alike, mm. The first three are standard deviations. From memory, no source;
	// what is measured soon outweighs all but the first.
	UsualMeasuring = 0.2
	UsualCreep     = 0.15
	UsualStrake    = 0.08
	UsualReach     = 120

	// Likeness is how far, mm a strip, one builder's creep differs from a side or a
	// band to the next. From memory, no source.
	Likeness = 0.06
)
