package hull

import (
	"math"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Range is the figures from Low to High, without Low itself if Open.
type Range struct {
	Low, High float64
	Open      bool
}

// Physical limits of what the builder may give, in one table for plan files, the
// flags of commands and the fields of the window. Those of the wood are wider
// than anything sold for models: they are there to catch slips of unit and of
// typing, and to limit the work that a plan asks for. Common practice, no
// source.
var (
	StripWidth      = Range{0.1, 1000, false}      // mm
	StripThickness  = Range{0.05, 100, false}      // mm: the thinnest veneer is a few tenths
	stripLength     = Range{1, Largest, false}     // mm
	sheetSize       = Range{1, Largest, false}     // mm, along or across the grain
	stripCount      = Range{0, 10000, false}       // strips or sheets of one kind
	stripPrice      = Range{0, 1e6, false}         // of one, in any currency
	Creep           = Range{-500, 500, false}      // mm a strip; in any case less than half a strip
	StrakeCount     = Range{0, mostStrakes, false} // of a band; 0 fits it to the girth
	strakeWeight    = Range{0.001, 100, false}     // of a strake's share
	bandCount       = Range{1, mostBands, false}   // of a layer
	LinedBands      = Range{1, 20, false}          // bands lined off at once
	layerNumber     = Range{1, mostLayers, false}
	MoistureContent = Range{0, 200, true}             // percent of the dry weight: green wood may hold more water than wood
	shrinkage       = Range{0, 30, true}              // percent of the green size
	rupture         = Range{1, 500, false}            // MPa
	Stiffness       = Range{0.1, 50, false}           // GPa
	faceStrain      = Range{0.0001, 0.2, false}       // a ratio
	unbroken        = Range{0, 100, false}            // percent
	kerfWidth       = Range{0, 100, false}            // mm
	Overhang        = Range{0, 1000, false}           // mm
	buttCount       = Range{0, 100, false}            // strakes or frames between butts
	pinCount        = Range{0, 100, false}            // pins or treenails at a frame
	Down            = Range{-Largest, Largest, false} // mm of girth below the upper limit, or above it
	inwards         = Range{0, Largest, false}        // mm of girth that a limit is set in by
	FrameGirth      = Range{0, Largest, true}         // mm
	Measurement     = Range{-1000, Largest, false}    // mm, on the bench
	RuleDivision    = Range{0.001, 100, false}        // mm between the divisions of a rule
	Run             = Range{0, Largest, true}         // mm that strips run to side by side
	RunCount        = Range{1, mostStrakes, false}    // strips side by side
	Tolerance       = Range{0, 1000, false}           // mm
	FairWithin      = Range{0, 100, true}             // mm that a point may move to be fair
	DrawingScale    = Range{1e-4, 1e4, false}         // of a drawing or a model
	RollWidth       = Range{100, 2000, false}         // mm of paper
	BlockThickness  = Range{0.1, 1000, false}         // mm of a filler block
)

// Limits of what is taken for a hull. Those in mm are generous: they are there
// to catch slips of unit and of typing.
const (
	fewestFrames    = 3
	MostFrames      = 1000
	fewestPoints    = 4      // of a frame; one fewer for a frame that is straight but for a knuckle
	mostFramePoints = 1000   // of a frame, so that the search for folds stays quick
	Largest         = 100000 // mm, 100 m: nothing on a bench is larger
	shortestHull    = 40     // mm: below this the figures are taken to be in metres or inches
	leastGirth      = 15     // mm, of the largest frame; likewise
	PoleGirth       = 0.1    // mm: below this a frame is a pole, on which no strake has a width
	planar          = 0.01   // mm: how far the x of a frame's points may differ
	Apart           = 0.001  // mm: how far apart two points must be
	rounding        = 1e-6   // mm: a half-breadth this little below zero is zero
	MostPoints      = 100000 // points of all frames
)

// Limits of the work that a plan asks for.
const (
	mostLayers  = 10
	mostBands   = 50
	mostStrakes = 500

	// MostCrossings is how many frames the strakes of all layers may cross
	// together: that of 100 strakes in each of two layers over 250 frames.
	MostCrossings = 50000
	// MostKinds is how many kinds of strips are compared at once, and MostMixed how
	// many widths are tried together for a mix.
	MostKinds, MostMixed = 100, 12
)

// Holds reports whether a figure lies in the range; NaN does not.
func (r Range) Holds(v float64) bool {
	return v <= r.High && (v > r.Low || (v == r.Low && !r.Open))
}

// String says what may be given: "from 0.1 to 1000".
func (r Range) String() string {
	if r.Open {
		return tongue.T("above %s and at most %s", digits(r.Low), digits(r.High))
	}
	return tongue.T("from %s to %s", digits(r.Low), digits(r.High))
}

// Refuse returns an error on a figure outside the range, which says what may be
// given, or nil; what names it, and unit follows the figures, such as " mm".
func (r Range) Refuse(what string, v float64, unit string) error {
	if r.Holds(v) {
		return nil
	}
	given := tongue.T("%s is %s%s", what, digits(v), unit)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		given = tongue.T("%s is not finite", what)
	}
	return tongue.Errorf("%s: give it %s%s", given, r, unit)
}

// digits writes a figure in plain digits where it has few.
func digits(v float64) string {
	if a := math.Abs(v); a >= 1e-4 && a < 1e10 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fault.Figure(v)
}

// Check returns an error on strips of a size that strips do not have.
func (s Stock) Check() error {
	return checkStrip(s.Width, s.Thickness, s.Length)
}

func checkStrip(width, thickness, length float64) error {
	for _, size := range []struct {
		what   string
		v      float64
		within Range
	}{{"width", width, StripWidth}, {"thickness", thickness, StripThickness}, {"length", length, stripLength}} {
		if err := size.within.Refuse(tongue.T("the strip's %s", size.what), size.v, " mm"); err != nil {
			return err
		}
	}
	return nil
}

// CheckFigures returns an error on the first figure of the plan, other than
// those of its hull, that is physically impossible: one for which a plan file
// would be refused. It costs next to nothing, so that every edit can be checked
// with it.
func (p *Plan) CheckFigures() error {
	for i := range p.Layers {
		if err := p.Layers[i].checkFigures(); err != nil {
			return tongue.Errorf("layer %d: %w", i+1, err)
		}
		if n, over := p.Layers[i].crosses(len(p.Hull.Frames)); over {
			return tongue.Errorf("layer %d: its %d strakes over %d frames exceed the limit of %d crossings: give fewer strakes or fewer frames", i+1, n, len(p.Hull.Frames), MostCrossings)
		}
	}
	for _, list := range [][]Strips{p.Box, p.Shop} {
		for _, s := range list {
			if err := checkStrip(s.Width, s.Thickness, s.Length); err != nil {
				return err
			}
			if err := stripPrice.Refuse(tongue.T("the price of a strip"), s.Price, ""); err != nil {
				return err
			}
			if s.Count != AsMany && !stripCount.Holds(float64(s.Count)) {
				return tongue.Errorf("there are %d strips of one kind: give them %s", s.Count, stripCount)
			}
		}
	}
	if err := p.checkSheets(); err != nil {
		return err
	}
	for _, side := range Sides() {
		for _, e := range p.Record.Of(side) {
			if err := Measurement.Refuse(tongue.T("what was measured"), e.MM, " mm"); err != nil {
				return err
			}
			if e.To != 0 {
				if err := RuleDivision.Refuse(tongue.T("the division of the rule"), e.To, " mm"); err != nil {
					return err
				}
			}
		}
	}
	if to := p.Record.To; to != 0 {
		if err := RuleDivision.Refuse(tongue.T("the division of the rule"), to, " mm"); err != nil {
			return err
		}
	}
	for i := range p.Record.Spreads {
		if err := p.Record.Spreads[i].Check(); err != nil {
			return err
		}
	}
	if err := p.Rules().Check(); err != nil {
		return err
	}
	return p.checkWood()
}

// crosses gives the least number of strakes of a layer, and reports whether these alone
// cross more than MostCrossings of the given number of frames. A band whose count is left
// to its girth has at least one; the planking finds how many, and keeps to the same limit.
func (l *Layer) crosses(frames int) (strakes int, over bool) {
	for _, b := range l.Bands {
		strakes += max(b.Strakes, 1)
	}
	return strakes, strakes*frames > MostCrossings
}

// checkFigures does so for a layer.
func (l *Layer) checkFigures() error {
	if err := l.Stock.Check(); err != nil {
		return err
	}
	for i, b := range l.Bands {
		if err := StrakeCount.Refuse(tongue.T("the number of strakes of band %d", i+1), float64(b.Strakes), ""); err != nil {
			return err
		}
		for _, w := range b.Strips {
			if err := StripWidth.Refuse(tongue.T("the strip's width"), w, " mm"); err != nil {
				return err
			}
		}
		for _, w := range b.Weights {
			if err := strakeWeight.Refuse(tongue.T("the share of a strake"), w, ""); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkWood does so for species, moisture, cutting and the record's tolerance.
func (p *Plan) checkWood() error {
	type figure struct {
		what   string
		v      float64
		within Range
		unit   string
	}
	figures := []figure{{tongue.T("the tolerance"), p.Record.Tolerance, Tolerance, " mm"}}
	for _, w := range p.Woods {
		figures = append(figures, figure{tongue.T("the radial shrinkage"), w.Radial, shrinkage, " %"}, figure{tongue.T("the tangential shrinkage"), w.Tangential, shrinkage, " %"})
		for _, f := range w.bendingFigures() {
			if *f.figure != 0 { // it is known
				figures = append(figures, figure{tongue.T("%q of a wood", f.key), *f.figure, f.within, f.unit})
			}
		}
	}
	if m := p.Moisture; m != (Moisture{}) {
		figures = append(figures, figure{tongue.T("the moisture as bought"), m.Bought, MoistureContent, " %"}, figure{tongue.T("the moisture in the room"), m.Room, MoistureContent, " %"})
	}
	c := p.Cutting
	figures = append(figures,
		figure{tongue.T("the kerf"), c.Kerf, kerfWidth, " mm"}, figure{tongue.T("the overhang"), c.Overhang, Overhang, " mm"},
		figure{tongue.T("the number of strakes between butts"), float64(c.Between), buttCount, ""}, figure{tongue.T("the shift of butts"), float64(c.Shift), buttCount, ""},
		figure{tongue.T("the number of pins"), float64(c.Pins), pinCount, ""}, figure{tongue.T("the number of treenails"), float64(c.Treenails), pinCount, ""})
	for _, f := range figures {
		if err := f.within.Refuse(f.what, f.v, f.unit); err != nil {
			return err
		}
	}
	if _, err := c.Starts(); err != nil {
		return tongue.Errorf("where the laying starts: %w", err)
	}
	return nil
}
