package paper

import (
	"math"

	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Size is a size of paper, mm, upright. A roll has no height: a page of it is
// as long as what stands on it.
type Size struct {
	Name          string
	Width, Height float64
}

// The sheets of paper (ISO 216; ANSI/ASME Y14.1 and common practice for Legal).
var (
	A4     = Size{"A4", 210, 297}
	A3     = Size{"A3", 297, 420}
	Letter = Size{"Letter", 215.9, 279.4}
	Legal  = Size{"Legal", 215.9, 355.6}
)

// Roll is a roll of paper of that width, mm.
func Roll(width float64) Size { return Size{Name: "roll", Width: width} }

// Measured is what a printed bar of 100 mm measured, mm: X across the paper
// (along its short side, or across the roll), Y along it. 0 is taken as 100.
type Measured struct{ X, Y float64 }

// Setup is how pages are made.
type Setup struct {
	Ship         string   // its name, on every page
	Stamp        Stamp    // which state of its plan this is, on every page
	Size         Size     // of paper; the zero value is A4
	Margin       float64  // that the printer leaves blank on each side, mm of paper; 0 is taken as 8
	Overlap      float64  // of neighbouring pieces, mm; 0 is taken as 10
	PrinterScale Measured // the printer's own error, taken out
}

// The values of settings left at 0.
const (
	usualMargin  = 8
	usualOverlap = 10
)

// filled gives the setup with its defaults, or one sentence on what is wrong.
func (s Setup) filled() (Setup, error) {
	if s.Size == (Size{}) {
		s.Size = A4
	}
	if s.Size.Height != 0 && s.Size.Width > s.Size.Height {
		s.Size.Width, s.Size.Height = s.Size.Height, s.Size.Width
	}
	fill(&s.Margin, usualMargin)
	fill(&s.Overlap, usualOverlap)
	fill(&s.PrinterScale.X, 100)
	fill(&s.PrinterScale.Y, 100)
	switch {
	case !within(s.Margin, 0, 50):
		return s, tongue.Errorf("a margin of %v mm can't be printed: give one of 0.1 to 50 mm", s.Margin)
	case !within(s.Overlap, 5, 40):
		return s, tongue.Errorf("an overlap of %v mm can't be glued: give one of 5 to 40 mm", s.Overlap)
	case !within(s.PrinterScale.X, 90, 110), !within(s.PrinterScale.Y, 90, 110):
		return s, tongue.Errorf("a 100 mm bar of %v by %v mm is more than a printer's error: print without scaling, and measure again",
			s.PrinterScale.X, s.PrinterScale.Y)
	case !within(s.Size.Width, 1, pdf.LongestPage), s.Size.Height != 0 && !within(s.Size.Height, 1, pdf.LongestPage):
		return s, tongue.Errorf("paper of %v by %v mm can't be printed on: give sizes of up to %d mm", s.Size.Width, s.Size.Height, pdf.LongestPage)
	}
	for _, lying := range []bool{false, true} {
		if g := s.page(lying, shortestRoll); g.right()-g.left() < leastWidth || g.bottom()-g.top() < leastHeight {
			return s, tongue.Errorf("paper of %v mm with margins of %v mm has no room for the bars: use paper at least %.0f mm wide",
				s.Size.Width, s.Margin, math.Ceil(leastWidth*1.12+2*s.Margin))
		}
	}
	return s, nil
}

func fill(v *float64, value float64) {
	if *v == 0 {
		*v = value
	}
}

// within is false for what is not a number.
func within(v, least, most float64) bool { return v >= least && v <= most }

// leastWidth and leastHeight are what the bars and a piece of a drawing need
// within the margins, mm.
const (
	leastWidth   = 140
	leastHeight  = 100
	shortestRoll = 200
)

// page is a page before anything is on it.
type page struct {
	width, height float64 // of paper
	mx, my        float64 // true mm to a mm of paper
	margin        float64 // of paper
}

// page gives a page upright or lying on its side; of a roll, long mm of paper.
func (s Setup) page(lying bool, long float64) page {
	p := page{width: s.Size.Width, height: s.Size.Height, mx: s.PrinterScale.X / 100, my: s.PrinterScale.Y / 100, margin: s.Margin}
	if s.isRoll() {
		p.height = long
	}
	if lying {
		p.width, p.height, p.mx, p.my = p.height, p.width, p.my, p.mx
	}
	return p
}

func (s Setup) isRoll() bool { return s.Size.Height == 0 }

// scale is what takes the printer's error out of the page.
func (p page) scale() pdf.Scale { return pdf.Scale{X: 1 / p.mx, Y: 1 / p.my} }

// The sides of what may be printed on, true mm from the page's corner.
func (p page) left() float64   { return p.margin * p.mx }
func (p page) right() float64  { return (p.width - p.margin) * p.mx }
func (p page) top() float64    { return p.margin * p.my }
func (p page) bottom() float64 { return (p.height - p.margin) * p.my }

// windowTop is where drawings begin, below the heading; window is the room
// for them.
func (p page) windowTop() float64 { return p.top() + headHeight + breath }
func (p page) window() (w, h float64) {
	return p.right() - p.left(), p.bottom() - p.footHeight() - breath - p.windowTop()
}

// trimmed is a page of a roll cut to the room that is used, along the roll.
func (p page) trimmed(lying bool, w, h float64) page {
	if lying {
		p.width = math.Max(p.left()+math.Max(w, leastWidth), 0)/p.mx + p.margin
		return p
	}
	foot := p.footHeight()
	p.height = (p.windowTop()+math.Max(h, leastHeight-headHeight-foot)+breath+foot)/p.my + p.margin
	return p
}
