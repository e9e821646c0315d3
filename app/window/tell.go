package window

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// place tells what lies at a frame so many mm of girth below the upper limit.
func (d *atHand) place(f int, down float64) string {
	l := d.layer()
	text := fmt.Sprintf("Frame %s: %s below the %s of %s", d.frameName(f), d.units.Length(down), d.upperName(), d.units.Length(l.Girths[f]))
	k := strakeAt(l, f, down)
	if k < 0 {
		return text
	}
	return text + " · " + d.strakeText(l.Strakes[k], f)
}

// strakeText tells a strake's width at a frame, and what to do there.
func (d *atHand) strakeText(s *loft.Strake, f int) string {
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
func (d *atHand) lineText(line, f int) string {
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

// handleText tells where a handle stands.
func (d *atHand) handleText(line, frame int) string {
	down := views.HandleDown(d.layer(), &d.planLayer().Lines[line], line, frame)
	return fmt.Sprintf("Line %d at frame %s: %s below the %s", line+1, d.frameName(frame), d.units.Length(down), d.upperName())
}

// limitText tells where a limit lies on a frame, and what is left of its girth.
func (d *atHand) limitText(l views.Limit, f int) string {
	in, end := d.setIn(l, f, d.limitPlace(l, f)), "below the upper end of the frame"
	if l == views.LowerLimit {
		end = "above the lower end of the frame"
	}
	return fmt.Sprintf("%s at frame %s: %s %s; girth between the limits %s", sentenceStart(d.limitName(l)), d.frameName(f),
		d.units.Length(in), end, d.units.Length(d.layer().Girths[f]))
}

// change writes a change with its sign.
func (d *atHand) change(mm float64) string {
	if math.Abs(mm) < 0.005 {
		return "as planned"
	}
	sign := "+"
	if mm < 0 {
		sign = "−"
	}
	return sign + d.units.Length(math.Abs(mm))
}

// withUnit is a length written in mm.
var withUnit = regexp.MustCompile(`-?\d+(\.\d+)? mm\b`)

// inUnits writes the lengths of a sentence that is told in mm in the units
// shown.
func (d *atHand) inUnits(text string) string {
	if d.units == views.Millimetres {
		return text
	}
	return withUnit.ReplaceAllStringFunc(text, func(s string) string {
		mm, err := strconv.ParseFloat(strings.TrimSuffix(s, " mm"), 64)
		if err != nil {
			return s
		}
		return d.units.Length(mm)
	})
}

// doingNames are how what is done is called.
var doingNames = map[hull.Doing]string{
	hull.Cutout: "cut", hull.Soaking: "soaked", hull.Fitted: "fitted", hull.Pinned: "pinned", hull.Glued: "glued", hull.Removed: "taken off",
}

// wayNames are how the ways are called.
var wayNames = map[hull.Way]string{
	hull.Shave: "shave all alike", hull.Tighter: "bevel tighter", hull.Wider: "wider strips", hull.Narrow: "narrower strips",
	hull.More: "one strake more", hull.Fewer: "one strake less", hull.Wedged: "a wedge", hull.Hidden: "hide it under the upper limit",
	hull.Learned: "plan with the creep learned",
}

// entryText tells an entry in a few words.
func (d *atHand) entryText(e hull.Entry) string {
	u := d.units
	var text string
	switch e.Doing {
	case hull.LeftOver:
		text = fmt.Sprintf("%s left of band %d at frame %s", u.Length(e.MM), e.Band, e.Frame)
	case hull.AsLaid:
		text = fmt.Sprintf("%s is %s wide at frame %s", e.Strake, u.Length(e.MM), e.Frame)
	case hull.GapAbove:
		text = fmt.Sprintf("gap of %s above %s at frame %s", u.Length(e.MM), e.Strake, e.Frame)
	case hull.Chosen:
		text = fmt.Sprintf("rest of band %d: %s", e.Band, wayNames[e.Way])
	default:
		text = e.Strake + " " + doingNames[e.Doing]
	}
	if e.Layer > 1 {
		text += fmt.Sprintf(", layer %d", e.Layer)
	}
	if e.Wet {
		text += ", wet"
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}

// signed writes a length with its sign.
func (d *atHand) signed(mm float64) string {
	if mm < 0 {
		return "−" + d.units.Length(-mm)
	}
	return d.units.Length(mm)
}

// unknown stands for what cannot be told of a hull without a shape.
const unknown = "–"
