package drawing

import (
	"context"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// Lines say how frames are taken off a drawing of waterlines and buttocks, at the
// stations of the options. Lengths are in mm at the model's size; x is measured along
// the drawing to the right, from the mark of the origin if there is one, otherwise as
// drawn.
type Lines struct {
	Shows      Shown       // what lines are when no name says
	Waterlines Even        // heights of the waterlines; not used where names give them
	Buttocks   Even        // half-breadths of the buttocks, likewise
	Bow        hull.BowEnd // empty to take it from the names of stem and stern, or else to put it at the least x
}

// Shown is what a drawing shows.
type Shown string

// The kinds of drawing; where none is given it is decided by the names in the
// drawing.
const (
	ShowsFrames     Shown = "frames"
	ShowsWaterlines Shown = "waterlines" // a half-breadth plan
	ShowsButtocks   Shown = "buttocks"   // a sheer plan
)

// Even is an even spacing, starting at the first; none where Every is 0.
type Even struct{ From, Every float64 }

// views are the two plans of a drawing of lines, by their names in marks: the one
// that shows half-breadths, and the one that shows heights.
const (
	BreadthView = "breadth"
	HeightView  = "height"
)

// lines are the options of a drawing of lines.
func (k Options) lines() Lines {
	if k.Lines == nil {
		return Lines{}
	}
	return *k.Lines
}

// IsLine reports whether it is a waterline or a buttock.
func (o *Outline) IsLine() bool { return o.Mark == WaterlineMark || o.Mark == ButtockMark }

// isFrame reports whether it is the outline of a frame seen from the end.
func (o *Outline) isFrame() bool { return o.Mark == "" && o.Frame != "" && !o.Profile }

// showsLines reports whether the hull is taken off waterlines and buttocks: the
// option overrides the names, and frames take precedence over other lines.
func showsLines(outlines []Outline, shows Shown) bool {
	if shows != "" {
		return shows != ShowsFrames
	}
	return slices.ContainsFunc(outlines, func(o Outline) bool { return o.IsLine() }) &&
		!slices.ContainsFunc(outlines, func(o Outline) bool { return o.isFrame() })
}

// Names of waterlines and buttocks, with or without their height or half-breadth, of
// the limits in the two plans, and of what only plans of lines hold.
const figure = `(-?\d+(?:[.,]\d+)?) ?(mm|cm|in)?`

var (
	waterlineName = regexp.MustCompile(`(?i)^(?:water[-_ ]?lines?|w\.? ?l\.?)(?:[-_ ]*(?:z[-_ ]|at )?` + figure + `)?$`)
	buttockName   = regexp.MustCompile(`(?i)^(?:(?:buttocks?(?:[-_ ]lines?)?|b\.? ?l\.?)(?:[-_ ]*(?:y[-_ ]|at )?` + figure + `)?|b[-_ ]+(\d+(?:[.,]\d+)?) ?(mm|cm|in)?)$`)
	viewName      = regexp.MustCompile(`(?i)^(?:(half[-_ ]breadth)|sheer)[-_ ]plan$`)
	limitName     = regexp.MustCompile(`(?i)^(half[-_ ]?breadth|height)s?[-_ ]of[-_ ](?:the[-_ ])?(sheer|deck|upper|rabbet|keel)$`)
	limitTail     = regexp.MustCompile(`(?i)^(sheer|deck|upper|wale|rabbet|keel|profile)[-_ ](?:half[-_ ]?)?(breadth|height)(?:[-_ ]y[-_ ](\d+(?:[.,]\d+)?) ?(mm|cm|in)?)?$`)
	plainLimit    = regexp.MustCompile(`(?i)^(?:(deck)(?:[-_ ]?line)?|(keel|profile)(?:[-_ ]?line)?)$`)
	originName    = regexp.MustCompile(`(?i)^origin(?:[-_ ](breadth|height))?$`)
	unitTold      = regexp.MustCompile(`(?i)\d ?(?:mm|cm|in)$`)
	bareFigure    = regexp.MustCompile(`(?i)^` + figure + `$`)
)

// lineNamed reads what the name of a line in such a plan says.
func lineNamed(name string) (o Outline, ok bool) {
	if m := waterlineName.FindStringSubmatch(name); m != nil {
		o.Mark = WaterlineMark
		o.X, o.Placed = lengthOf(m[1], m[2])
		return o, true
	}
	if m := buttockName.FindStringSubmatch(name); m != nil {
		o.Mark = ButtockMark
		if o.X, o.Placed = lengthOf(m[1], m[2]); m[3] != "" {
			o.X, o.Placed = lengthOf(m[3], m[4])
		}
		return o, true
	}
	if m := viewName.FindStringSubmatch(name); m != nil {
		o.Mark = ButtockMark
		if m[1] != "" {
			o.Mark = WaterlineMark
		}
		return o, true
	}
	if m := limitName.FindStringSubmatch(name); m != nil {
		return limitLine(m[2], m[1]), true
	}
	if m := limitTail.FindStringSubmatch(name); m != nil {
		o = limitLine(m[1], m[2])
		o.Siding, _ = lengthOf(m[3], m[4])
		return o, true
	}
	if m := originName.FindStringSubmatch(name); m != nil {
		return Outline{Mark: OriginMark, Frame: strings.ToLower(m[1])}, true
	}
	return o, false
}

// limitLine is a limit of the planking, or the keel that stands for one, in a
// plan.
func limitLine(what, of string) Outline {
	o := Outline{Mark: RabbetMark, Frame: BreadthView}
	switch strings.ToLower(what) {
	case "sheer", "deck", "upper", "wale":
		o.Mark = UpperMark
	}
	if strings.EqualFold(of, HeightView) {
		o.Frame = HeightView
	}
	return o
}

// within gives what a name says within a group of waterlines or buttocks, where it
// is only a height or half-breadth, such as 12.5, or deck or keel.
func (o *Outline) within(group Outline, name string) bool {
	if !group.IsLine() || group.Placed {
		return false
	}
	if m := bareFigure.FindStringSubmatch(name); m != nil {
		o.Mark = group.Mark
		o.X, o.Placed = lengthOf(m[1], m[2])
		return true
	}
	m := plainLimit.FindStringSubmatch(name)
	if m == nil {
		return false
	}
	o.Mark, o.Frame = RabbetMark, group.view()
	if m[1] != "" {
		o.Mark = UpperMark
	}
	return true
}

// view is the plan in which a waterline or buttock is drawn.
func (o *Outline) view() string {
	if o.Mark == ButtockMark {
		return HeightView
	}
	return BreadthView
}

// ofView reports whether it is a mark of which each plan has its own.
func (o *Outline) ofView() bool {
	return o.Mark == UpperMark || o.Mark == RabbetMark || o.Mark == OriginMark
}

// fewestLines is how many lines named as waterlines or buttocks make a drawing of
// lines.
const fewestLines = 2

// doubtful turns one or two lines so named in a drawing of frames into lines of other
// names, which they may equally be.
func doubtful(lines map[lineKey]*namedLine) {
	n := 0
	for key := range lines {
		if key.mark == WaterlineMark || key.mark == ButtockMark {
			n += max(len(lines[key].pieces), 1)
		}
	}
	if n >= fewestLines {
		return
	}
	for _, l := range lines {
		if o := &l.outline; o.IsLine() {
			o.Mark, o.X, o.Placed = "", 0, false
		}
	}
}

// Joined makes the hull from two drawings that belong together, a half-breadth plan and
// a sheer plan; what the first says about its scale overrides the second. It stops as
// HullOf does.
func Joined(ctx context.Context, a, b *Drawing, how Options) (*Drawing, []fault.Fault, error) {
	lines := slices.Clone(a.Outlines)
	for _, o := range b.Outlines {
		if o.Mark == "" && !o.Profile {
			o.Mark = Unused // meaningless in lines of the hull
		}
		o.Line = 0
		lines = append(lines, o)
	}
	d, found, err := HullOf(ctx, lines, how.Or(a.Told).Or(b.Told))
	if d != nil {
		d.Unit, d.Told = a.Unit, a.Told.Or(b.Told)
	}
	return d, found, err
}

// understood gives each line its meaning in a drawing of the given or detected
// kind: in one of waterlines and buttocks, lines without another meaning are
// such lines too.
func understood(outlines []Outline, shows Shown) []Outline {
	if !showsLines(outlines, shows) {
		return outlines
	}
	out := slices.Clone(outlines)
	for i := range out {
		o := &out[i]
		if o.Mark != "" || o.Frame != "" {
			continue
		}
		m := plainLimit.FindStringSubmatch(o.Name)
		switch {
		case m != nil && m[1] != "":
			o.Mark = UpperMark
		case m != nil:
			o.Mark, o.Frame = RabbetMark, HeightView
		case shows == ShowsWaterlines && len(o.Points) > 1:
			o.Mark = WaterlineMark
		case shows == ShowsButtocks && len(o.Points) > 1:
			o.Mark = ButtockMark
		}
	}
	return out
}

// within gives where frames are taken, in increasing order: nil where no stations are
// given. low and high are the ends of what is drawn. Even stations begin at From or, where
// that is 0, at the first multiple of their spacing.
func (s *Stations) within(low, high float64, f *fault.List) []float64 {
	const slack = 1e-6
	mend := tongue.T("choose stations from x %s to %s mm, between which the lines are drawn", fault.Figure(low), fault.Figure(high))
	beyond := func(x float64) bool { return x < low-slack || x > high+slack }
	var out []float64
	switch {
	case s == nil:
		return nil
	case len(s.List) > 0:
		out = slices.Compact(slices.Sorted(slices.Values(s.List)))
		for _, x := range out {
			if beyond(x) {
				f.Add(0, "", mend, "the station at x %s mm lies beyond the lines", fault.Figure(x))
			}
		}
	case s.Every > 0:
		if (high-low)/s.Every > hull.MostFrames {
			f.Add(0, "", "space them farther apart", "stations every %s mm are more than the limit of %d", fault.Figure(s.Every), hull.MostFrames)
			return nil
		}
		k := math.Ceil((low - slack - s.From) / s.Every)
		if s.From != 0 {
			k = max(k, 0)
		}
		for x := s.From + k*s.Every; !beyond(x); x = s.From + k*s.Every {
			out = append(out, min(max(x, low), high))
			k++
		}
		if len(out) == 0 {
			f.Add(0, "", mend, "no station every %s mm from x %s mm lies between the ends of the lines", fault.Figure(s.Every), fault.Figure(s.From))
		}
	default:
		f.Add(0, "", "give a distance above 0", "stations every %s mm do not advance along the lines", fault.Figure(s.Every))
	}
	return out
}
