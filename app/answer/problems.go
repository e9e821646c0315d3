package answer

import (
	"cmp"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Weight is how much a problem matters to whoever planks the hull.
type Weight uint8

// The weights, the gravest first.
const (
	Mend       Weight = iota // the plan cannot be planked as it stands
	LookAt                   // it can, otherwise than was asked or than is usual
	GoodToKnow               // nothing is wrong
)

// Place is where a problem lies: indices of the planking's layers, the plan's band
// lines, the layer's strakes and the hull's frames; -1 where it names none.
type Place struct{ Layer, Line, Strake, Frame int }

// Problem is what the builder should know of a planking.
type Problem struct {
	Weight Weight
	Kind   string // what those of one kind are called together
	Text   string // a sentence
	At     Place
}

// Problems tells what the builder should know, the gravest first; those of one weight
// stand by layer and as they are found, those of a kind together. Folds, blocks and
// layers laid between frames of their own are told with what can be done about them,
// and not here.
func Problems(k *loft.Planking, u Units) []Problem {
	var out []Problem
	for i, l := range k.Layers {
		head := ""
		if len(k.Layers) > 1 {
			head = tongue.T("Layer %d. ", l.Number)
		}
		for _, n := range l.Notes {
			if p, ok := problemOf(n, i); ok {
				p.Text = head + NoteText(l, n, u)
				out = append(out, p)
			}
		}
		out = append(out, forcedProblems(l, i, head)...)
		for _, w := range l.Wedges {
			out = append(out, Problem{GoodToKnow, wedgeKind(w), head + wedgeBelow(l, &w, u), Place{i, -1, strakeAt(l, w.Below), w.To}})
		}
		for _, d := range l.Drops {
			out = append(out, Problem{GoodToKnow, tongue.T("Strakes that end"), head + capital(dropText(l, &d, u)) + ".", Place{i, -1, d.At, d.From}})
		}
	}
	slices.SortStableFunc(out, func(a, b Problem) int { return cmp.Compare(a.Weight, b.Weight) })
	return together(out)
}

// forcedProblems tells of each band line along which no strip lies.
func forcedProblems(l *loft.Layer, layer int, head string) (out []Problem) {
	for i := range l.Lines[1 : len(l.Lines)-1] {
		if v := l.JudgeLine(l.Lines[i+1]); v.Kind == loft.NeedsSheet || v.Kind == loft.NeedsBlock {
			out = append(out, Problem{LookAt, tongue.T("Lines along which no strip lies"), head + forcedLine(l, i, v), Place{layer, i, -1, v.Frame}})
		}
	}
	return out
}

// forcedLine says that no strip lies along a band line, from 0.
func forcedLine(l *loft.Layer, line int, v loft.Verdict) string {
	return tongue.T("Line %d: %s.", line+1, VerdictText(v, l.Surface.FrameName))
}

// together puts those of a kind and weight after the first of them.
func together(all []Problem) []Problem {
	var out []Problem
	taken := make([]bool, len(all))
	for i, p := range all {
		for j := i; j < len(all); j++ {
			if !taken[j] && all[j].Weight == p.Weight && all[j].Kind == p.Kind {
				taken[j] = true
				out = append(out, all[j])
			}
		}
	}
	return out
}

// problemOf weighs a note, and tells where it lies; not ok for those that are told with
// their remedies.
func problemOf(note loft.Note, layer int) (p Problem, ok bool) {
	p.At = Place{layer, -1, -1, -1}
	is := func(w Weight, kind string, line, frame int) (Problem, bool) {
		p.Weight, p.Kind, p.At.Line, p.At.Frame = w, kind, line, frame
		return p, true
	}
	switch n := note.(type) {
	case loft.TooWide:
		return is(Mend, tongue.T("Strakes too wide for the strip"), -1, n.Frame)
	case loft.TooNarrow:
		return is(LookAt, tongue.T("Strakes too narrow for the strip"), -1, n.Frame)
	case loft.LinesCross:
		return is(Mend, tongue.T("Lines that cross"), n.Line-1, first(n.Frames))
	case loft.TooClose:
		return is(Mend, tongue.T("Lines drawn too close"), n.Line-1, first(n.Frames))
	case loft.RunsOut:
		return is(Mend, tongue.T("Lines that leave the planking"), n.Line-1, n.At)
	case loft.Surplus:
		return is(LookAt, tongue.T("Strakes without room"), -1, -1)
	case loft.GapesAllAlong:
		return is(LookAt, tongue.T("Bands with a gap all along"), -1, -1)
	case loft.FallsShort:
		return is(LookAt, tongue.T("Strakes to cut wider than the strip"), -1, n.At)
	case loft.StripSlides:
		return is(LookAt, tongue.T("Strips that slide"), n.Line-1, n.At)
	case loft.FollowsBatten:
		return is(LookAt, tongue.T("Lines that follow the thin batten"), n.Line-1, -1)
	case loft.TurnsBetween:
		return is(LookAt, tongue.T("Bays with too few frames"), -1, n.Frame)
	case loft.BendUntold:
		return is(LookAt, tongue.T("Bends that the frames do not tell"), -1, n.Frame)
	case loft.NoTurn:
		return is(LookAt, tongue.T("Frames without a turn"), -1, -1)
	case loft.CreepsApart:
		return is(GoodToKnow, tongue.T("Bands that the strips' own build-up fills"), -1, n.Frame)
	case loft.PartlyPlanked:
		return is(GoodToKnow, tongue.T("What is planked"), -1, -1)
	case loft.GirthsAlone:
		return is(GoodToKnow, tongue.T("What is known of the hull"), -1, -1)
	case loft.Folds, loft.MadeBlock, loft.LaidBetween:
		return p, false
	}
	return is(LookAt, tongue.T("Other remarks"), -1, -1)
}

func first(frames []int) int {
	if len(frames) == 0 {
		return -1
	}
	return frames[0]
}

func wedgeKind(w loft.Wedge) string {
	if w.Stealer {
		return tongue.T("Stealers")
	}
	return tongue.T("Wedges")
}

// strakeAt is the index of a strake by its name, -1 where there is none.
func strakeAt(l *loft.Layer, id string) int {
	return slices.IndexFunc(l.Strakes, func(s *loft.Strake) bool { return s.ID == id })
}

// wedgeBelow tells in a sentence between which frames a wedge or stealer lies.
func wedgeBelow(l *loft.Layer, w *loft.Wedge, u Units) string {
	name, long, wide := l.Surface.FrameName, told(u, w.Length, 0), told(u, w.Width, 1)
	if w.Stealer {
		return tongue.T("Stealer below strake %s, from frame %s to frame %s: %s long, %s wide.", w.Below, name(w.From), name(w.To), long, wide)
	}
	return tongue.T("Wedge below strake %s, from frame %s to frame %s: %s long, %s wide.", w.Below, name(w.From), name(w.To), long, wide)
}
