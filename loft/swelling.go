package loft

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// SoakedThrough is the moisture of a strip that has taken up all the water that makes
// it swell, percent.
const SoakedThrough = fibreSaturation

// shrinkage is the shrinkage of wood at a moisture content, percent of its green size:
// S·(30 − M)/30, with S its shrinkage from green to oven dry (Wood Handbook
// FPL-GTR-190, eq. 4-1); zero at 30 percent and above. Both are in percent; a moisture
// below 0 counts as 0.
func shrinkage(total, moisture float64) float64 {
	dry := fibreSaturation - min(max(moisture, 0), fibreSaturation)
	return total * dry / fibreSaturation
}

// Swelling is the change of a size between two moisture contents (percent), relative to
// its value at the first: 0.05 is 5 percent larger. It follows from Shrinkage without
// further approximation; total is the shrinkage from green to oven dry, percent, below
// 100.
func Swelling(total, from, to float64) float64 {
	return (100-shrinkage(total, to))/(100-shrinkage(total, from)) - 1
}

// changeCoefficient is the change of a size for each percent of moisture, relative to
// the size at 10 percent, which the Wood Handbook tabulates for 6 to 14 percent
// (FPL-GTR-190, table 13-5). It is derived from Shrinkage here, not taken from that
// table.
func changeCoefficient(total float64) float64 {
	const middle = 10
	return total / fibreSaturation / (100 - shrinkage(total, middle))
}

// Range is a figure between two bounds, Low at most High.
type Range struct{ Low, High float64 }

// RangeOf is the range that contains all the figures.
func RangeOf(figures ...float64) Range {
	r := Range{math.Inf(1), math.Inf(-1)}
	for _, f := range figures {
		r.Low, r.High = min(r.Low, f), max(r.High, f)
	}
	return r
}

// holds reports whether a figure lies within the bounds.
func (r Range) holds(f float64) bool { return f >= r.Low && f <= r.High }

// Wetting describes strips of one width as bought, laid wet and then left to dry in the
// room. Widths in mm.
type Wetting struct {
	Strips   int
	Width    float64 // of one strip as bought
	Bought   float64 // moisture as bought, percent
	Laid     float64 // moisture as laid, percent; SoakedThrough where they were soaked through
	Room     float64 // moisture in the end, percent
	Measured float64 // mm, measured width of all strips as laid; 0 where nobody measured
	Creep    float64 // mm a strip by which dry strips exceed their width, as the bench record shows; 0 where it is not known
}

// Run is the effect of wetting on a run of strips of one grain, as ratios and mm.
type Run struct {
	Wood       hull.Wood
	Quarter    bool    // quarter-sawn: the radial shrinkage across the strip; else flat-sawn, the tangential
	Swelling   float64 // as laid relative to as bought, a ratio
	StripLaid  float64 // width of a strip as laid
	RunLaid    float64 // of all strips as laid, without creep
	StripRoom  float64 // width of a strip at rest in the room
	RunRoom    float64
	OpensEach  float64 // by how much each seam opens when the strips dry, if each keeps its place; negative where they press
	LooseLaid  float64 // Measured less RunLaid and the creep: what swelling doesn't account for; 0 where nothing was measured
	LooseStrip float64 // the same for each strip
}

// Wet computes the run of the strips for each wood, flat-sawn and quarter-sawn: strips
// on sale are usually something in between. The error says which figure makes no sense.
func (w Wetting) Wet(woods []hull.Wood) ([]Run, error) {
	if err := w.sound(); err != nil {
		return nil, err
	}
	var out []Run
	for _, wood := range woods {
		for _, quarter := range []bool{true, false} {
			total := wood.Tangential
			if quarter {
				total = wood.Radial
			}
			if !(total > 0 && total < 100) {
				return nil, tongue.Errorf("%s shrinks by %g %%: give it between 0 and 100", wood.Name, total)
			}
			out = append(out, w.run(wood, quarter, total))
		}
	}
	return out, nil
}

// sound refuses figures that make no sense.
func (w Wetting) sound() error {
	if err := hull.RunCount.Refuse(tongue.T("the number of strips"), float64(w.Strips), ""); err != nil {
		return err
	}
	if err := hull.StripWidth.Refuse(tongue.T("the strip's width"), w.Width, " mm"); err != nil {
		return err
	}
	for _, m := range []float64{w.Bought, w.Laid, w.Room} {
		if m == 0 {
			continue // oven dry
		}
		if err := hull.MoistureContent.Refuse(tongue.T("the moisture"), m, " %"); err != nil {
			return err
		}
	}
	if w.Measured > 0 && !hull.Run.Holds(w.Measured) {
		return hull.Run.Refuse(tongue.T("the run as measured"), w.Measured, " mm")
	}
	if !(w.Measured >= 0) || math.IsInf(w.Measured, 0) || math.IsNaN(w.Creep) || math.IsInf(w.Creep, 0) {
		return tongue.Errorf("a run of %g mm with a creep of %g mm is impossible: give the measured run, 0 or more", w.Measured, w.Creep)
	}
	return nil
}

func (w Wetting) run(wood hull.Wood, quarter bool, total float64) Run {
	n := float64(w.Strips)
	r := Run{Wood: wood, Quarter: quarter, Swelling: Swelling(total, w.Bought, w.Laid)}
	r.StripLaid = w.Width * (1 + r.Swelling)
	r.StripRoom = w.Width * (1 + Swelling(total, w.Bought, w.Room))
	r.RunLaid, r.RunRoom = n*r.StripLaid, n*r.StripRoom
	r.OpensEach = r.StripLaid - r.StripRoom
	if w.Measured > 0 {
		r.LooseLaid = w.Measured - r.RunLaid - n*w.Creep
		r.LooseStrip = r.LooseLaid / n
	}
	return r
}

// Share is how much of the measured excess over the width as bought is swelling, and
// how much is loose fit.
type Share struct {
	Over     float64 // mm measured beyond the width of the strips as bought; as a ratio it is Ratio
	Ratio    float64
	Swelling Range // mm, over all runs
	Creep    float64
	Loose    Range // mm: the remainder; negative where the strips were not soaked through, or were pressed together
	Bracket  bool  // whether swelling and creep alone may account for all of it
}

// Share sums up the measurement; false where there was none, or there is no run.
func (w Wetting) Share(runs []Run) (Share, bool) {
	if !(w.Measured > 0) || len(runs) == 0 {
		return Share{}, false
	}
	bought := float64(w.Strips) * w.Width
	s := Share{Over: w.Measured - bought, Ratio: w.Measured/bought - 1, Creep: float64(w.Strips) * w.Creep}
	var swelling, loose []float64
	for _, r := range runs {
		swelling = append(swelling, r.RunLaid-bought)
		loose = append(loose, r.LooseLaid)
	}
	s.Swelling, s.Loose = RangeOf(swelling...), RangeOf(loose...)
	s.Bracket = s.Loose.holds(0)
	return s, true
}
