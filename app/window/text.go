package window

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"strakewright/hull/fault"
	"strakewright/hull/visible"
	"strakewright/loft"
)

// sentence writes an error as one sentence. A file's name at its head stays as it
// is written, since Fold.csv and fold.csv are two files.
func sentence(err error) string {
	s := visible.Text(strings.TrimSpace(err.Error()))
	if s == "" {
		return "Something went wrong."
	}
	if r, n := utf8.DecodeRuneInString(s); !beginsWithFile(err, s) {
		s = string(unicode.ToUpper(r)) + s[n:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// beginsWithFile tells whether a message begins with the name of a file: that of
// a fault, or what stands before the first colon and looks like one.
func beginsWithFile(err error, s string) bool {
	var fault fault.Fault
	if errors.As(err, &fault) && fault.File != "" && strings.HasPrefix(s, visible.Text(fault.File)) {
		return true
	}
	head, _, ok := strings.Cut(s, ": ")
	return ok && (strings.ContainsAny(head, `./\`) || !strings.Contains(head, " "))
}

// place tells what lies at a frame so many mm of girth below the upper limit.
func (d *desk) place(f int, down float64) string {
	l := d.layer()
	text := fmt.Sprintf("Frame %s: %s below the %s of %s", d.frameName(f), d.units.Length(down), d.upperName(), d.units.Length(l.Girths[f]))
	k := strakeAt(l, f, down)
	if k < 0 {
		return text
	}
	return text + " · " + d.strakeText(l.Strakes[k], f)
}

// strakeText tells a strake's width at a frame, and what to do there.
func (d *desk) strakeText(s *loft.Strake, f int) string {
	c := s.At[f]
	if !c.Laid {
		return "strake " + s.ID + " has dropped out there"
	}
	text := fmt.Sprintf("strake %s: %s to cut, %s on the frame", s.ID, d.units.Length(c.WidthCut), d.units.Length(c.WidthFrame))
	switch c.Action {
	case loft.Taper:
		text += ", taper by " + d.units.Length(c.Pitch-c.WidthCut)
	case loft.Gap:
		text += ", gap of " + d.units.Length(c.Gap)
	default:
		text += ", full strip"
	}
	return text + fmt.Sprintf(", bevels %.1f° above and %.1f° below", c.BevelUpper.Degrees(), c.BevelLower.Degrees())
}

// strakeAt gives the strake at a frame so many mm down, or -1.
func strakeAt(l *loft.Layer, f int, down float64) int {
	for k, s := range l.Strakes {
		c := &s.At[f]
		if c.Laid && down >= c.Upper-1e-6 && down <= c.Upper+c.WidthFrame+1e-6 {
			return k
		}
	}
	return -1
}

// percent writes a strain.
func percent(v float64) string { return fmt.Sprintf("%.2f %%", 100*math.Abs(v)) }

// lineText tells how the strip along a band line lies at a frame.
func (d *desk) lineText(line, f int) string {
	b := d.layer().Lines[line+1]
	i := d.layer().Surface.FrameStation(f)
	if d.shapeless() {
		return fmt.Sprintf("Line %d at frame %s: %s below the %s", line+1, d.frameName(f), d.units.Length(b.Down[i]), d.upperName())
	}
	text := fmt.Sprintf("Line %d at frame %s: %s below the %s, edge-set %.2f 1/m", line+1, d.frameName(f),
		d.units.Length(b.Down[i]), d.upperName(), hundredths(b.EdgeSet[i].PerMetre()))
	if f < len(b.LieOff) && !math.IsNaN(b.LieOff[f]) {
		text += fmt.Sprintf(", a strip held straight falls %s", d.units.LieOff(b.LieOff[f]))
	}
	return text
}

// hundredths rounds to 0.01, and never to a nought with a sign.
func hundredths(v float64) float64 { return math.Round(v*100)/100 + 0 }
