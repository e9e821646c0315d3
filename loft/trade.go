package loft

// The trade's figures that are not in a plan: what is usual where the plan, or a
// builder's own record, says nothing else. They stand here together, each with where
// it comes from, so that they can be looked up, and one day be set by a plan.
// The usual moisture, kerf, overhang and pins are the plan's own: hull.NewMoisture
// and hull.NewCutting.
const (
	// LeastShare and MostShare bound a strake's width against its strip: common
	// practice, no source.
	LeastShare = 0.5
	MostShare  = 1.5

	// CreepShare is how much of its width a strip may be short at the greatest
	// girth before another strake is laid: so much the strips creep apart of
	// themselves. From memory, no source; a band's own number overrides it.
	CreepShare = 0.03

	// FitTolerance is how near a strip's width comes to the need, mm, to be called
	// a fit: what a bench knife works to. Common practice, no source.
	FitTolerance = 0.05

	// leastWedge is the gathered gap, mm, under which no wedge is cut: filler
	// closes it. From memory, no source.
	leastWedge = 0.5

	// dryStrain and soakedStrain are the face strains, t·|κn|/2, up to which a strip
	// is bent dry and soaked: from memory, no source; no species is the same, nor
	// any two strips of one. See RuleOfThumb.
	dryStrain    = 0.010
	soakedStrain = 0.020

	// UsualEdgeStrain is the strain of edge-set up to which a strip is sprung, and
	// not cut to its flat shape: from memory, no source.
	UsualEdgeStrain = 0.003

	// stubShare is the share of a strip under which a piece is a stub, which nobody
	// likes to lay: common practice, no source.
	stubShare = 0.25

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
