package hull

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Spread is how far one builder's work with one wood and strip strays from what
// was intended, as learned at the bench. Lengths in mm; those from Shape to
// Reading are standard deviations.
type Spread struct {
	Species          string
	Width, Thickness float64 // of the strip

	Creep   float64 // per strip, beyond its width: the mean
	CreepSD float64 // and its uncertainty: its standard deviation
	Shape   float64 // error of the frames' girths that changes smoothly along the hull
	Frame   float64 // a frame's own error of girth
	Knife   float64 // the knife's error, independent for each strake at each frame
	Along   float64 // creep that varies along the hull, the same for all strakes
	Strake  float64 // each strake's own smooth straying
	Reading float64 // the hand's error in reading, apart from the rule's rounding
	Sure    float64 // the uncertainty of these: the standard deviation of their natural logarithms

	Builds   int // hulls from which it was learned
	Readings int // measurements from which it was learned

	extra *extra
}

// Limits of what a spread holds.
const (
	mostSpreads  = 100 // in a record
	mostBuilds   = 10000
	mostReadings = 100 * mostEntries
)

// strayed is the range of a standard deviation at the bench, mm, and sureness that
// of the logarithm of one. None is 0: nothing is cut, laid or read without error.
var (
	strayed  = Range{0, 100, true}
	sureness = Range{0, 10, true}
)

// spreadFigure is a figure of a spread by its key in the file.
type spreadFigure struct {
	key    string
	v      *float64
	within Range
	unit   string
}

const millimetres = " mm"

// figures are all of them, size those of the strip, strays those of the work.
func (s *Spread) figures() []spreadFigure { return append(s.size(), s.strays()...) }

func (s *Spread) size() []spreadFigure {
	return []spreadFigure{{"width", &s.Width, StripWidth, millimetres}, {"thickness", &s.Thickness, StripThickness, millimetres}}
}

func (s *Spread) strays() []spreadFigure {
	const mm = millimetres
	return []spreadFigure{
		{"creep", &s.Creep, Creep, mm}, {"creep_sd", &s.CreepSD, strayed, mm},
		{"shape", &s.Shape, strayed, mm}, {"frame", &s.Frame, strayed, mm}, {"knife", &s.Knife, strayed, mm}, {"along", &s.Along, strayed, mm},
		{"strake", &s.Strake, strayed, mm}, {"reading", &s.Reading, strayed, mm}, {"sure", &s.Sure, sureness, ""},
	}
}

// spreadCount is a whole number of a spread, likewise.
type spreadCount struct {
	key    string
	n      *int
	within Range
}

func (s *Spread) counts() []spreadCount {
	return []spreadCount{{"builds", &s.Builds, Range{0, mostBuilds, false}}, {"readings", &s.Readings, Range{0, mostReadings, false}}}
}

// Check returns an error on a figure that is impossible at the bench: one for which
// a file would be refused.
func (s *Spread) Check() error {
	for _, f := range s.figures() {
		if err := f.within.Refuse(tongue.T("%q of a spread", f.key), *f.v, f.unit); err != nil {
			return err
		}
	}
	for _, c := range s.counts() {
		if err := c.within.Refuse(tongue.T("%q of a spread", c.key), float64(*c.n), ""); err != nil {
			return err
		}
	}
	return nil
}

// Of reports whether a spread is for such strips: of the same species, however it
// is written, and size.
func (s *Spread) Of(strips Stock) bool {
	const apart = 0.005 // mm: a smaller difference is the rounding of inches
	return SameWood(s.Species, strips.Species) && math.Abs(s.Width-strips.Width) < apart && math.Abs(s.Thickness-strips.Thickness) < apart
}

// Strips are the strips that a spread is for; it does not know their length.
func (s *Spread) Strips() Stock {
	return Stock{Species: s.Species, Width: s.Width, Thickness: s.Thickness}
}

// SameWood reports whether two names mean the same species, however they are
// written.
func SameWood(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// strip describes the wood and strip in a few words.
func (s *Spread) strip() string {
	wood := s.Species
	if strings.TrimSpace(wood) == "" {
		wood = tongue.T("a wood without a name")
	}
	return tongue.T("%s, %s by %s mm", fault.Name(wood), digits(s.Width), digits(s.Thickness))
}

// spread reads one.
func (r *jsonReader) spread(n node, where string) Spread {
	o := r.object(n, where)
	s := Spread{Species: o.string("species")}
	for _, f := range s.figures() {
		*f.v = o.number(f.key, f.within)
	}
	for _, c := range s.counts() {
		if n, ok := o.take(c.key); ok {
			*c.n, _ = r.whole(n, tongue.T("%q of %s", c.key, where), c.within)
		}
	}
	s.extra = o.rest()
	return s
}

// object is the spread as written.
func (s *Spread) object() object {
	o := object{{"species", s.Species}}
	for _, f := range s.figures() {
		o = append(o, member{f.key, *f.v})
	}
	for _, c := range s.counts() {
		o = append(o, member{c.key, *c.n})
	}
	return append(o, s.extra.members()...)
}
