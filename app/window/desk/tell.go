package desk

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Place tells what lies at a frame so many mm of girth below the upper limit.
func (d *AtHand) Place(f int, down float64) string {
	l := d.Layer()
	text := tongue.T("Frame %s: %s below the %s of %s", d.FrameName(f), d.Units.Length(down), d.UpperName(), d.Units.Length(l.Girths[f]))
	k := StrakeAt(l, f, down)
	if k < 0 {
		return text
	}
	return text + " · " + d.StrakeText(l.Strakes[k], f)
}

// StrakeText tells a strake's width at a frame, and what to do there.
func (d *AtHand) StrakeText(s *loft.Strake, f int) string {
	c := s.At[f]
	if !c.Laid {
		return tongue.T("strake %s has dropped out there", s.ID)
	}
	m := s.Making
	text := tongue.T("%s strake %s: %s, %s to cut, %s on the frame", answer.VerdictMark(m.Verdict.Kind), s.ID, answer.MakingWord(m), d.Units.Length(c.WidthCut), d.Units.Length(c.WidthFrame))
	cuts := d.Cuts(s)
	switch {
	case c.Action == loft.Gap:
		text += tongue.T(", wider than its strip by %s", d.Units.Length(c.Gap))
	case cuts == nil:
		text += tongue.T(", not from a strip")
	case cuts.WidthAt(s, f) < cuts.Strip:
		text += tongue.T(", strip planed to %s", d.Units.Length(cuts.WidthAt(s, f)))
	default:
		text += tongue.T(", full strip")
	}
	if figure := answer.VerdictFigure(m.Verdict, d.FrameName); figure != "" {
		text += "; " + figure
	}
	return text + "; " + answer.CrossingEdges(d.Layer(), s, f)
}

// Cuts gives the straight cuts of a strake of the layer shown, nil where it has none.
// Those last asked for are kept: a strake does not change once it is made.
func (d *AtHand) Cuts(s *loft.Strake) *loft.Cuts {
	if d.cutOf != s {
		d.cuts, d.cutOf = d.Layer().CutsOf(s, s.At), s
	}
	return d.cuts
}

// CutsText tells in a sentence by which straight cuts a strake's strip is planed, and
// with which others; "" of one that is not made from a strip.
func (d *AtHand) CutsText(s *loft.Strake) string {
	c := d.Cuts(s)
	switch {
	case c == nil:
		return ""
	case c.Whole():
		return tongue.T("Its strip stays whole.")
	}
	text := tongue.T("Plane its strip: %s", answer.CutsText(d.Layer(), c, d.Units))
	var ids []string
	for _, other := range d.together(s) {
		if other != s {
			ids = append(ids, other.ID)
		}
	}
	if len(ids) > 0 {
		text += tongue.T("; clamped together with %s", strings.Join(ids, ", "))
	}
	return text + "."
}

// together gives the strakes that a sprung one of the layer shown is cut with, of its
// band: itself among them.
func (d *AtHand) together(s *loft.Strake) []*loft.Strake {
	l := d.Layer()
	b := l.Bands[s.Band-1]
	strakes := l.Strakes[b.First : b.First+len(b.Weights)]
	if d.setsOf != b {
		d.sets = loft.GatherCuts(strakes, func(i int) *loft.Cuts { return l.CutsOf(strakes[i], strakes[i].At) })
		d.setsOf = b
	}
	return loft.SetOf(d.sets, s.ID).Strakes
}

// StrakeAt gives the strake at a frame so many mm down, or -1.
func StrakeAt(l *loft.Layer, f int, down float64) int {
	for k, s := range l.Strakes {
		c := &s.At[f]
		if c.Laid && down >= c.Upper-1e-6 && down <= c.Upper+c.WidthFrame+1e-6 {
			return k
		}
	}
	return -1
}

// Percent writes a strain.
func Percent(v float64) string { return tongue.T("%.2f %%", 100*math.Abs(v)) }

// LineText tells how the strip along a band line lies at a frame.
func (d *Desk) LineText(line, f int) string {
	b := d.Layer().Lines[line+1]
	i := d.Layer().Surface.FrameStation(f)
	if d.Shapeless() {
		return tongue.T("Line %d at frame %s: %s below the %s", line+1, d.FrameName(f), d.Units.Length(b.Down[i]), d.UpperName())
	}
	text := tongue.T("%s at frame %s: %s below the %s, edge-set there %.2f 1/m", d.lineJudged(line), d.FrameName(f),
		d.Units.Length(b.Down[i]), d.UpperName(), Hundredths(b.EdgeSet[i].PerMetre()))
	if off := d.Layer().BattenOff(b); f < len(off) && !math.IsNaN(off[f]) {
		text += tongue.T(", a thin batten falls %s", d.Units.LieOff(off[f]))
	}
	if b := d.Strip(); b != nil && b.Line == line+1 {
		if at := answer.StripAt(b, f, d.Units); at != "" {
			text += tongue.T(", this strip %s", at)
		}
	}
	return text + "; " + answer.VerdictFigure(d.Layer().JudgeLine(b), d.FrameName)
}

// lineJudged begins what is told of a line, from 0: with the verdict on it.
func (d *Desk) lineJudged(line int) string {
	v := d.Layer().JudgeLine(d.Layer().Lines[line+1])
	return tongue.T("%s %s · line %d", answer.VerdictMark(v.Kind), kit.SentenceStart(answer.VerdictWord(v.Kind)), line+1)
}

// Hundredths rounds to 0.01, and never to a nought with a sign.
func Hundredths(v float64) float64 { return math.Round(v*100)/100 + 0 }

// handleText tells where a handle stands.
func (d *Desk) handleText(line, frame int) string {
	down := views.HandleDown(d.Layer(), &d.PlanLayer().Lines[line], line, frame)
	name := tongue.T("Line %d", line+1)
	if !d.Shapeless() {
		name = d.lineJudged(line)
	}
	text := tongue.T("%s at frame %s: %s below the %s", name, d.FrameName(frame), d.Units.Length(down), d.UpperName())
	if b := d.Strip(); b != nil && b.Line == line+1 {
		text += " · " + answer.StripVerdict(b, d.FrameName, d.Units)
	}
	return text
}

// LimitText tells where a limit lies on a frame, and what is left of its girth.
func (d *AtHand) LimitText(l views.Limit, f int) string {
	name, frame := kit.SentenceStart(d.LimitName(l)), d.FrameName(f)
	in, girth := d.Units.Length(d.setIn(l, f, d.limitPlace(l, f))), d.Units.Length(d.Layer().Girths[f])
	if l == views.LowerLimit {
		return tongue.T("%s at frame %s: %s above the lower end of the frame; girth between the limits %s", name, frame, in, girth)
	}
	return tongue.T("%s at frame %s: %s below the upper end of the frame; girth between the limits %s", name, frame, in, girth)
}

// Unknown stands for what cannot be told of a hull without a shape.
const Unknown = "–"
