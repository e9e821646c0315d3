package paper

import (
	"time"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Stamp tells the sheets of one state of a plan from those of another, on every page.
type Stamp struct {
	Revision string    // alike for alike plans alone; "" for none
	Date     time.Time // of that state; the zero time for none
}

// lines are the revision and the date, as they stand on a page.
func (s Stamp) lines() []string {
	var out []string
	if s.Revision != "" {
		out = append(out, tongue.T("revision %s", s.Revision))
	}
	if !s.Date.IsZero() {
		out = append(out, tongue.Day(s.Date.Format(time.DateOnly)))
	}
	return out
}

// line is all of it after the ship's name, which gives way where there is little room.
func (s Stamp) line(ship string, size, room float64) string {
	out := ""
	for i, l := range s.lines() {
		if i > 0 {
			out += ", "
		}
		out += l
	}
	if out == "" {
		return ""
	}
	if ship != "" {
		if ship = draw.Fit(ship, size, room-draw.TextWidth(", "+out, size)); ship != "…" {
			return ship + ", " + out
		}
	}
	return out
}

// Stamped is a sheet with its ship, revision and date in a line below it.
func Stamped(s draw.Sheet, ship string, stamp Stamp) draw.Sheet {
	line := stamp.line(ship, smallSize, 1e3)
	if line == "" {
		return s
	}
	out := s
	out.Drawing = draw.Drawing{}
	out.Drawing.Add(&s.Drawing, draw.Pt(0, 0))
	out.Height = s.Height + 2*smallSize
	out.Drawing.Text(draw.Pt(0, out.Height-0.5*smallSize), line, draw.Ink, smallSize, draw.Left)
	out.Width = max(s.Width, draw.TextWidth(line, smallSize))
	return out
}
