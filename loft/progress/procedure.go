package progress

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strakewright/hull"
	"strakewright/loft"
)

// Turn is one strake's turn to be laid on one side.
type Turn struct {
	Layer  int // from 1
	Strake int // its index in the layer
	ID     string
	Side   hull.Side
	Order  int  // from 1, through both sides of all layers
	Laid   bool // it is glued
}

// Turns gives every strake of both sides in the order of laying, layer by layer
// from the frames outwards, as the plan says it: each strake goes onto both
// sides before the next, so that the frames are pulled neither way. A strake that is nowhere laid has no turn.
func Turns(k *loft.Planking) []Turn {
	glued := map[hull.Side]map[string]bool{}
	for _, side := range hull.Sides() {
		glued[side] = gluedIDs(k.Plan.Record.Of(side))
	}
	var out []Turn
	for _, l := range k.Layers {
		for _, n := range loft.LayingOrder(len(l.Strakes), k.Cutting().Laying) {
			if l.Strakes[n].To <= l.Strakes[n].From {
				continue
			}
			for _, side := range hull.Sides() {
				id := l.Strakes[n].ID
				out = append(out, Turn{Layer: l.Number, Strake: n, ID: id, Side: side, Order: len(out) + 1, Laid: glued[side][id]})
			}
		}
	}
	return out
}

// gluedIDs are the strakes that lie on a side.
func gluedIDs(entries []hull.Entry) map[string]bool {
	out := map[string]bool{}
	for _, e := range entries {
		switch e.Doing {
		case hull.Glued:
			out[e.Strake] = true
		case hull.Removed:
			delete(out, e.Strake)
		}
	}
	return out
}

// The usual steps of laying a strake, by their keys.
const (
	StepTaper   = "taper"
	StepSoak    = "soak"
	StepPin     = "pin"
	StepDry     = "dry"
	StepNumber  = "number"
	StepTakeOff = "take off"
	StepBevel   = "bevel"
	StepFit     = "fit"
	StepGlue    = "glue"
	StepPeg     = "peg"
	StepNext    = "next"
)

// UsualSteps are the steps of laying a strake as the trade takes them: common
// practice, no source.
func UsualSteps() []hull.Step {
	out := make([]hull.Step, len(usualSteps))
	for i, s := range usualSteps {
		out[i] = hull.Step{Key: s.key, Name: s.name}
	}
	return out
}

var usualSteps = []struct{ key, name string }{
	{StepTaper, "Taper in a set"},
	{StepSoak, "Soak"},
	{StepPin, "Pin at alternate frames"},
	{StepDry, "Let it dry"},
	{StepNumber, "Number it"},
	{StepTakeOff, "Take it off"},
	{StepBevel, "Bevel the edges"},
	{StepFit, "Fit it dry"},
	{StepGlue, "Glue on the frames"},
	{StepPeg, "Peg"},
	{StepNext, "The next one"},
}

// Task is a step with the figures of one strake. A builder's own step has
// neither.
type Task struct {
	Key, Name string
	Figure    string // what is to be done, in this strake's own numbers
	Caution   string // common practice; may be empty
	Pins      int    // that the step takes
	Pegs      int
	Skip      bool // there is nothing to do in it for this strake
}

// Procedure tells, step by step, how a strake is laid on one side: its widths
// as shared afresh where the states of that side (as BothSides gives them) are
// given, else as planned. Steps are those of the record, in its order and by its
// names; the usual ones where it has none. The error says that there is no such
// strake.
func Procedure(k *loft.Planking, side hull.Side, id string, states []BandState, bend loft.BendLimits) ([]Task, error) {
	j, err := newJob(k, side, id, states, bend)
	if err != nil {
		return nil, err
	}
	steps := k.Plan.Record.Steps
	if len(steps) == 0 {
		steps = UsualSteps()
	}
	var out []Task
	for _, s := range steps {
		t := j.task(s.Key)
		t.Key = s.Key
		switch i := slices.IndexFunc(usualSteps, func(u struct{ key, name string }) bool { return u.key == s.Key }); {
		case s.Name != "":
			t.Name = s.Name
		case i >= 0:
			t.Name = usualSteps[i].name
		default:
			t.Name = s.Key
		}
		out = append(out, t)
	}
	return out, nil
}

// job is one strake to be laid.
type job struct {
	k       *loft.Planking
	l       *loft.Layer
	cutting hull.Cutting
	side    hull.Side
	st      *loft.Strake
	on      []loft.Crossing // as shared afresh
	bend    loft.Bend
	frames  []int // at which it is laid
	pins    int   // with one set at every frame
	pegs    int
	pieces  int
	limits  loft.BendLimits
}

func newJob(k *loft.Planking, side hull.Side, id string, states []BandState, limits loft.BendLimits) (*job, error) {
	for i, l := range k.Layers {
		n := l.StrakeNamed(id)
		if n < 0 {
			continue
		}
		st := l.Strakes[n]
		j := &job{k: k, l: l, cutting: k.Cutting(), side: side, st: st, on: st.At, limits: limits}
		for s := range states {
			if states[s].Layer != l.Number || states[s].plan != k {
				continue
			}
			for _, r := range states[s].Rest() {
				if r.ID == id {
					j.on = r.On
				}
			}
		}
		for f, c := range j.on {
			if c.Laid {
				j.frames = append(j.frames, f)
			}
		}
		if st.To > st.From {
			j.bend = st.Bend(k.Plan.Layers[i].Stock.Thickness, limits)
		}
		j.hold(n)
		return j, nil
	}
	return nil, fmt.Errorf("there is no strake %s", id)
}

// hold counts pieces, pins and pegs.
func (j *job) hold(n int) {
	for _, p := range j.l.Butt(j.cutting, j.k.Longest(j.l.Number-1)).Pieces {
		if p.Strake == n && p.Side == j.side {
			j.pieces++
			j.pins += p.Pins
			j.pegs += p.Pegs
		}
	}
}

func (j *job) frame(i int) string { return j.l.Surface.FrameName(i) }

// Cautions of the steps: common practice, deferring to makers' sheets and local
// rules.
const (
	cautionKnife = "Cut on a support along a straight edge, lightly and several times, fingers behind the blade, away from yourself; planing and sanding make dust: extract it and wear a mask. Some hardwoods sensitise."
	cautionHot   = "Hot water, steam and bending irons burn: gloves or tongs, and keep leads and water apart. Makers' sheets and local rules come first."
	cautionPins  = "Never pin through the end of a strip: it splits. Keep eyes clear of pins that spring."
	cautionGlue  = "Air the room, wear gloves, keep flames away from solvents, and read the maker's sheet."
	cautionDrill = "Drill with the work held fast, and protect your eyes."
)

// task gives a usual step; an empty one for any other key.
func (j *job) task(key string) Task {
	switch key {
	case StepTaper:
		return j.taper()
	case StepSoak:
		return j.soak()
	case StepPin:
		return j.pin()
	case StepDry:
		return j.dry()
	case StepNumber:
		return Task{Figure: fmt.Sprintf("Write %s %s on its inner face, with an arrow towards the bow.%s", j.st.ID, j.side, j.piecesTold())}
	case StepTakeOff:
		return Task{Figure: "Draw the pins and take it off; it keeps its bend. Leave the free end over-long until it is fitted."}
	case StepBevel:
		return j.bevel()
	case StepFit:
		return Task{Figure: "Fit it dry against its neighbour over its whole length; it is to be " + j.widthsTold() + ". No light may show, and nothing may be pushed sideways; trim the free end now.", Caution: cautionKnife}
	case StepGlue:
		return j.glue()
	case StepPeg:
		return j.peg()
	case StepNext:
		return j.next()
	}
	return Task{}
}

func (j *job) piecesTold() string {
	if j.pieces < 2 {
		return ""
	}
	return fmt.Sprintf(" It is laid in %d pieces: number each, from the first frame on.", j.pieces)
}

// widthsTold tells what it is cut to at every frame.
func (j *job) widthsTold() string {
	var list []string
	for _, f := range j.frames {
		list = append(list, fmt.Sprintf("%.1f at %s", j.on[f].WidthCut, j.frame(f)))
	}
	return strings.Join(list, ", ") + " mm wide"
}

// tapers lists the frames at which the strip is planed narrower, with what it
// is cut to there.
func (j *job) tapers() []string {
	var out []string
	for _, f := range j.frames {
		if c := j.on[f]; c.Action == loft.Taper {
			out = append(out, fmt.Sprintf("%.1f mm at %s", c.WidthCut, j.frame(f)))
		}
	}
	return out
}

func (j *job) taper() Task {
	tapers := j.tapers()
	t := Task{Caution: cautionKnife}
	gap, at := 0.0, 0
	for _, f := range j.frames {
		if j.on[f].Gap > gap {
			gap, at = j.on[f].Gap, f
		}
	}
	if len(tapers) == 0 {
		t.Figure, t.Skip = fmt.Sprintf("Nothing to taper: the %g mm strip stays whole.", j.st.Strip), true
	} else {
		t.Figure = fmt.Sprintf("Clamp it with its twin for the other side and plane both from %g mm to %s.", j.st.Strip, strings.Join(tapers, ", "))
	}
	if gap > 0 {
		t.Figure += fmt.Sprintf(" It is too narrow by up to %.1f mm (frame %s): leave it whole there.", gap, j.frame(at))
	}
	return t
}

// wet lists the spans that are bent wet or hot.
func (j *job) wet() []string {
	var out []string
	for _, s := range j.bend.Spans {
		if s.How != loft.Dry {
			out = append(out, fmt.Sprintf("frames %s to %s (%s)", j.frame(s.From), j.frame(s.To), s.How))
		}
	}
	return out
}

func (j *job) heated() bool {
	return slices.ContainsFunc(j.bend.Spans, func(s loft.BendSpan) bool { return s.How == loft.Heated })
}

func (j *job) soak() Task {
	if j.k.Plan.Hull.Shapeless() {
		return Task{Figure: "How it bends cannot be told of a hull of which only girths are known: try an offcut against the frames, and soak it where it does not spring on easily.", Caution: cautionHot}
	}
	wet := j.wet()
	if len(wet) == 0 {
		return Task{Figure: fmt.Sprintf("Nothing to soak: it springs on dry, %s; that limit is a rule of thumb.", j.bendTold()), Skip: true}
	}
	t := Task{Caution: cautionHot, Figure: fmt.Sprintf("Soak it for %s: %s.", strings.Join(wet, ", "), j.bendTold())}
	if j.heated() {
		t.Figure += " Where it says heated, bend it hot as well."
	}
	return t
}

// bendTold tells the hardest bend.
func (j *job) bendTold() string {
	if j.bend.Radius == 0 {
		return "it is flat"
	}
	return fmt.Sprintf("the least radius is %.0f mm near frame %s, a face strain of %.2f %%", j.bend.Radius, j.frame(j.bend.Near), 100*j.bend.Strain)
}

// alternate are every other frame from the first, and the last.
func (j *job) alternate() []int {
	var out []int
	for i, f := range j.frames {
		if i%2 == 0 || i == len(j.frames)-1 {
			out = append(out, f)
		}
	}
	return out
}

func (j *job) pin() Task {
	at := j.alternate()
	var names []string
	for _, f := range at {
		names = append(names, j.frame(f))
	}
	t := Task{Pins: len(at) * j.cutting.Pins, Caution: cautionPins}
	t.Figure = fmt.Sprintf("Pin it at %s, %s in all, %d at each; the free end stays %g mm over-long, so that it does not split.",
		strings.Join(names, ", "), countOf(t.Pins, "pin"), j.cutting.Pins, j.cutting.Overhang)
	return t
}

func (j *job) dry() Task {
	if len(j.wet()) == 0 && !j.k.Plan.Hull.Shapeless() {
		return Task{Figure: "Nothing to dry: it goes on dry.", Skip: true}
	}
	return Task{Figure: fmt.Sprintf("Leave it pinned until it is dry through, then measure its width at %s: what is measured wet will still shrink.", j.someFrames())}
}

// someFrames names the ends and the middle.
func (j *job) someFrames() string {
	if len(j.frames) < 3 {
		return "its frames"
	}
	return fmt.Sprintf("%s, %s and %s", j.frame(j.frames[0]), j.frame(j.frames[len(j.frames)/2]), j.frame(j.frames[len(j.frames)-1]))
}

// bevelMost is the greatest bevel of an edge, and where.
func (j *job) bevelMost(of func(loft.Crossing) hull.Angle) (hull.Angle, int) {
	most, at := hull.Angle(0), -1
	for _, f := range j.frames {
		if b := of(j.on[f]); at < 0 || math.Abs(float64(b)) > math.Abs(float64(most)) {
			most, at = b, f
		}
	}
	return most, at
}

func upperBevel(c loft.Crossing) hull.Angle { return c.BevelUpper }
func lowerBevel(c loft.Crossing) hull.Angle { return c.BevelLower }

func (j *job) bevel() Task {
	if j.k.Plan.Layers[j.l.Number-1].Edges == hull.Square {
		return Task{Figure: "Nothing to bevel: this layer's edges stay square.", Skip: true}
	}
	parts := j.bevelParts()
	if len(parts) == 0 {
		return Task{Figure: "Nothing to bevel: the edges stay square.", Skip: true}
	}
	return Task{Caution: cautionKnife, Figure: "Plane " + strings.Join(parts, " and ") + "; positive takes wood from the inner corner, negative from the outer."}
}

// bevelParts tells, for each edge that is bevelled, how much and where.
func (j *job) bevelParts() []string {
	const least = 0.05 // degrees that a plane can make
	var parts []string
	for _, e := range []struct {
		name string
		of   func(loft.Crossing) hull.Angle
	}{{"upper", upperBevel}, {"lower", lowerBevel}} {
		if most, at := j.bevelMost(e.of); at >= 0 && math.Abs(most.Degrees()) >= least {
			parts = append(parts, fmt.Sprintf("the %s edge by up to %.1f° off square (frame %s)", e.name, most.Degrees(), j.frame(at)))
		}
	}
	return parts
}

func (j *job) glue() Task {
	t := Task{Pins: j.pins, Caution: cautionGlue}
	t.Figure = fmt.Sprintf("Glue it on the frames only, %s from %s to %s, and pin it at each: %s.",
		countOf(len(j.frames), "frame"), j.frame(j.frames[0]), j.frame(j.frames[len(j.frames)-1]), countOf(j.pins, "pin"))
	if n := j.pieces - 1; n > 0 {
		t.Figure += fmt.Sprintf(" Both ends of its %s are held.", countOf(n, "butt"))
	}
	return t
}

func (j *job) peg() Task {
	if j.pegs == 0 {
		return Task{Figure: "No pegs are planned.", Skip: true}
	}
	return Task{Figure: fmt.Sprintf("Draw the pins when the glue has set, and peg it: %s.", countOf(j.pegs, "peg")), Pegs: j.pegs, Caution: cautionDrill}
}

func (j *job) next() Task {
	turns := Turns(j.k)
	from := slices.IndexFunc(turns, func(t Turn) bool { return t.ID == j.st.ID && t.Side == j.side })
	for i := 1; i < len(turns); i++ {
		if t := turns[(from+i)%len(turns)]; !t.Laid && from >= 0 {
			return Task{Figure: fmt.Sprintf("%s to %s is next.", t.ID, t.Side)}
		}
	}
	return Task{Figure: "It is the last."}
}

// Next tells in one sentence what is laid next: the piece, its taper, its bevels
// and its bend; the caution is that of the hardest of its steps. ok is false
// where all is laid. States of a side are as BothSides gives them, and may be nil.
func Next(k *loft.Planking, states map[hull.Side][]BandState, bend loft.BendLimits) (turn Turn, sentence, caution string, ok bool) {
	turns := Turns(k)
	i := slices.IndexFunc(turns, func(t Turn) bool { return !t.Laid })
	if i < 0 {
		return Turn{}, "", "", false
	}
	turn = turns[i]
	j, err := newJob(k, turn.Side, turn.ID, states[turn.Side], bend)
	if err != nil || len(j.frames) == 0 {
		return Turn{}, "", "", false // a turn is of a strake that is laid
	}
	return turn, j.sentence(), j.caution(), true
}

// sentence sums the strake up.
func (j *job) sentence() string {
	what := "strake " + j.st.ID
	if j.st.Garboard {
		what = "the garboard, " + j.st.ID + ","
	}
	text := fmt.Sprintf("Next is %s to %s, from a strip of %g mm", what, j.side, j.st.Strip)
	if j.pieces > 1 {
		text = fmt.Sprintf("Next is %s to %s, in %d pieces from strips of %g mm", what, j.side, j.pieces, j.st.Strip)
	}
	return text + ": " + strings.Join([]string{j.taperWord(), j.bevelWord(), j.bendWord()}, "; ") + "."
}

// taperWord tells the taper in a clause.
func (j *job) taperWord() string {
	least, at, tapered := math.Inf(1), 0, false
	for _, f := range j.frames {
		c := j.on[f]
		tapered = tapered || c.Action == loft.Taper
		if c.WidthCut < least {
			least, at = c.WidthCut, f
		}
	}
	if !tapered {
		return "it stays as wide as it is"
	}
	first, last := j.frames[0], j.frames[len(j.frames)-1]
	return fmt.Sprintf("taper it to %.1f mm at %s and %.1f mm at %s, %.1f mm at its narrowest (%s)",
		j.on[first].WidthCut, j.frame(first), j.on[last].WidthCut, j.frame(last), least, j.frame(at))
}

// bevelWord tells the bevels in a clause.
func (j *job) bevelWord() string {
	if j.k.Plan.Layers[j.l.Number-1].Edges == hull.Square {
		return "its edges stay square"
	}
	parts := j.bevelParts()
	if len(parts) == 0 {
		return "its edges stay square"
	}
	return "bevel " + strings.Join(parts, " and ")
}

// bendWord tells the bend in a clause.
func (j *job) bendWord() string {
	if j.k.Plan.Hull.Shapeless() {
		return "how it bends cannot be told, only girths being known"
	}
	wet := j.wet()
	if len(wet) == 0 {
		if j.bend.Radius == 0 {
			return "it is bent nowhere"
		}
		return "it bends dry: " + j.bendTold()
	}
	return "bend it at " + strings.Join(wet, ", ") + ": " + j.bendTold()
}

// caution is that of the hardest step.
func (j *job) caution() string {
	if len(j.wet()) > 0 {
		return cautionHot
	}
	if len(j.tapers()) > 0 {
		return cautionKnife
	}
	return cautionPins
}
