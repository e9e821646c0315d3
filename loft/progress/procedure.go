package progress

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
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

// Turns gives every strake of both sides in the order of laying, layer by layer from
// the frames outwards, as in the plan: each strake goes onto both sides before the
// next, so that the frames are not pulled to one side. A strake that is laid nowhere
// has no turn.
func Turns(k *loft.Planking) []Turn {
	glued := map[hull.Side]map[string]bool{}
	for _, side := range hull.Sides() {
		glued[side] = gluedIDs(k.Plan.Record.Of(side))
	}
	var out []Turn
	for _, l := range k.Layers {
		for _, n := range l.LayingOrder(k.Cutting()) {
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
		switch e.EntryKind {
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
	StepTaper    = "taper"
	StepSoak     = "soak"
	StepPin      = "pin"
	StepDry      = "dry"
	StepNumber   = "number"
	StepTakeOff  = "take off"
	StepBevel    = "bevel"
	StepFit      = "fit"
	StepGlue     = "glue"
	StepTreenail = "peg"
	StepNext     = "next"
)

// UsualSteps are the steps of laying a strake usual in the trade: common practice, no
// source.
func UsualSteps() []hull.Step {
	out := make([]hull.Step, len(usualSteps))
	for i, s := range usualSteps {
		out[i] = hull.Step{Key: s.key, Name: tongue.T(s.name)}
	}
	return out
}

var usualSteps = []struct{ key, name string }{
	{StepTaper, tongue.Mark("Taper in a set")},
	{StepSoak, tongue.Mark("Soak")},
	{StepPin, tongue.Mark("Pin at alternate frames")},
	{StepDry, tongue.Mark("Let it dry")},
	{StepNumber, tongue.Mark("Number it")},
	{StepTakeOff, tongue.Mark("Take it off")},
	{StepBevel, tongue.Mark("Bevel the edges")},
	{StepFit, tongue.Mark("Fit it dry")},
	{StepGlue, tongue.Mark("Glue on the frames")},
	{StepTreenail, tongue.Mark("Treenail")},
	{StepNext, tongue.Mark("The next one")},
}

// Caution is what a builder must take care of in a step: common practice, deferring to
// makers' sheets and local rules.
type Caution uint8

// The cautions.
const (
	NoCaution Caution = iota
	MindBlades
	MindHeat
	MindPins
	MindGlue
	MindDrills
)

// Task is a step of laying one strake. A builder's own step has a name alone.
type Task struct {
	Key, Name string
	Caution   Caution
	Pins      int // that the step needs
	Treenails int
	Skip      bool // there is nothing to do in it for this strake
}

// Bevel is the greatest bevel of an edge.
type Bevel struct {
	Upper bool // the upper edge; else the lower
	Most  hull.Angle
	At    int  // the frame
	Limit bool // it meets the wale or the keel there
}

// Job is one strake to be laid on one side, with the data for its steps.
type Job struct {
	Layer     *loft.Layer
	Strake    *loft.Strake
	Side      hull.Side
	On        []loft.Crossing // at every frame, as shared afresh
	Frames    []int           // at which it is laid
	Pieces    int             // number of pieces in which it is laid
	Cuts      *loft.Cuts      // by which its strip is planed; nil if it is not made from a strip
	Tapers    []int           // frames at which its strip is planed narrower
	Gap       float64         // mm, the most by which its strip is too narrow; 0 if nowhere
	GapAt     int             // that frame
	Shapeless bool            // only girths of the hull are known: its bend is not known
	Bend      loft.Bend
	Wood      loft.Bending    // how far its layer's wood bends
	Wet       []loft.BendSpan // those that are bent wet or hot
	Limits    hull.Limits     // of the hull
	Square    bool            // the edges of its layer are bevelled only at wale and rabbet
	Bevels    []Bevel         // edges with a bevel large enough to plane
	Hoods     []loft.HoodEnd  // its ends at or by the centre plane
	PinnedAt  []int           // frames at which it is held to dry
	PinsEach  int             // at each
	Overhang  float64         // mm by which a free end is left over-long
	Pins      int             // with one set at every frame
	Treenails int
	Next      *Turn // what comes after it; nil for nothing
	Steps     []Task

	plan *loft.Planking
	rest []RestStrake // of its band, still to be laid, where these are shared afresh
}

// Procedure gives, step by step, how a strake is laid on one side: its widths as shared
// afresh if the states of that side (as BothSides gives them) are given, else as
// planned. Steps are those of the record, in its order and by its names; the usual ones
// if it has none. The error says that there is no such strake.
func Procedure(k *loft.Planking, side hull.Side, id string, states []BandState) (*Job, error) {
	j, err := newJob(k, side, id, states)
	if err != nil {
		return nil, err
	}
	steps := k.Plan.Record.Steps
	if len(steps) == 0 {
		steps = UsualSteps()
	}
	for _, s := range steps {
		t := j.task(s.Key)
		t.Key = s.Key
		switch i := slices.IndexFunc(usualSteps, func(u struct{ key, name string }) bool { return u.key == s.Key }); {
		case s.Name != "" && (i < 0 || s.Name != usualSteps[i].name):
			t.Name = s.Name
		case t.Name != "":
		case i >= 0:
			t.Name = usualSteps[i].name
		default:
			t.Name = s.Key
		}
		if s.Key == StepTaper && t.Name == usualSteps[0].name {
			t.Name = j.shaping()
		}
		j.Steps = append(j.Steps, t)
	}
	return j, nil
}

func newJob(k *loft.Planking, side hull.Side, id string, states []BandState) (*Job, error) {
	for i, l := range k.Layers {
		n := l.StrakeNamed(id)
		if n < 0 {
			continue
		}
		st := l.Strakes[n]
		cutting := k.Cutting()
		j := &Job{Layer: l, Strake: st, Side: side, On: st.At, Shapeless: k.Plan.Hull.Shapeless(), Limits: k.Plan.Hull.Limits,
			Square: k.Plan.Layers[i].Edges == hull.Square, PinsEach: cutting.Pins, Overhang: cutting.Overhang, plan: k}
		for s := range states {
			if states[s].Layer != l.Number || states[s].plan != k {
				continue
			}
			rest := states[s].Rest()
			for _, r := range rest {
				if r.ID == id {
					j.On, j.rest = r.On, rest
				}
			}
		}
		j.Wood = loft.BendingOf(k.Plan, k.Plan.Layers[i].Stock.Species)
		if st.To > st.From {
			j.Bend = l.BendOf(st)
		}
		j.hold(k, n)
		j.Cuts = l.CutsOf(st, j.On)
		j.measure()
		j.Next = after(Turns(k), id, side)
		return j, nil
	}
	return nil, tongue.Errorf("there is no strake %s", id)
}

// shaping names the step that gives a strake its shape, as it is made.
func (j *Job) shaping() string {
	switch j.Strake.Making.Mode {
	case hull.Spiled:
		return tongue.T("Cut it from sheet")
	case hull.Block:
		return tongue.T("Carve it")
	}
	return usualSteps[0].name
}

// Sprung reports whether it is laid from strip.
func (j *Job) Sprung() bool { return j.Strake.Making.Mode == hull.Sprung }

// hold counts pieces, pins and treenails.
func (j *Job) hold(k *loft.Planking, n int) {
	for _, p := range k.Butted(j.Layer.Number - 1).Pieces {
		if p.Strake == n && p.Side == j.Side {
			j.Pieces++
			j.Pins += p.Pins
			j.Treenails += p.Treenails
		}
	}
}

// measure finds where it tapers, has a gap, is bent wet, bevelled and pinned.
func (j *Job) measure() {
	for f, c := range j.On {
		if !c.Laid {
			continue
		}
		j.Frames = append(j.Frames, f)
		if j.tapersAt(f) {
			j.Tapers = append(j.Tapers, f)
		}
		if c.Gap > j.Gap && j.Sprung() {
			j.Gap, j.GapAt = c.Gap, f
		}
	}
	for _, s := range j.Bend.Spans {
		if s.How != loft.Dry && !j.IsMade(hull.Block) {
			j.Wet = append(j.Wet, s)
		}
	}
	for i, f := range j.Frames { // every other frame from the first, and the last
		if i%2 == 0 || i == len(j.Frames)-1 {
			j.PinnedAt = append(j.PinnedAt, f)
		}
	}
	n := j.Layer.StrakeNamed(j.Strake.ID)
	for _, upper := range []bool{true, false} {
		if most, at := j.bevelMost(upper); at >= 0 && math.Abs(most.Degrees()) >= loft.LeastBevel {
			j.Bevels = append(j.Bevels, Bevel{Upper: upper, Most: most, At: at, Limit: j.Layer.AtLimit(n, at, upper)})
		}
	}
	for _, h := range j.Layer.HoodEndsOf(j.Strake.ID) {
		if h.Lies != loft.HoodOff {
			j.Hoods = append(j.Hoods, h)
		}
	}
}

// tapersAt reports whether its strip is planed narrower at a frame.
func (j *Job) tapersAt(f int) bool {
	return j.Cuts != nil && j.Cuts.WidthAt(j.Strake, f) < j.Cuts.Strip-1e-9
}

// bevelMost is the greatest bevel of an edge, and where.
func (j *Job) bevelMost(upper bool) (hull.Angle, int) {
	most, at := hull.Angle(0), -1
	for _, f := range j.Frames {
		b := j.On[f].BevelLower
		if upper {
			b = j.On[f].BevelUpper
		}
		if at < 0 || math.Abs(float64(b)) > math.Abs(float64(most)) {
			most, at = b, f
		}
	}
	return most, at
}

// IsMade reports whether the strake is made in a mode.
func (j *Job) IsMade(m hull.Mode) bool { return j.Strake.Making.Mode == m }

// Cut reports whether it is cut or carved to its shape, and not sprung from a strip.
func (j *Job) Cut() bool { return j.IsMade(hull.Spiled) || j.IsMade(hull.Block) }

// Heated reports whether a part of it is bent hot.
func (j *Job) Heated() bool {
	return slices.ContainsFunc(j.Wet, func(s loft.BendSpan) bool { return s.How == loft.Heated })
}

// Narrowest is the frame at which it is cut narrowest.
func (j *Job) Narrowest() int {
	least, at := math.Inf(1), 0
	for _, f := range j.Frames {
		if w := j.On[f].WidthCut; w < least {
			least, at = w, f
		}
	}
	return at
}

// task gives a usual step; an empty one for any other key.
func (j *Job) task(key string) Task {
	switch key {
	case StepTaper:
		switch {
		case j.IsMade(hull.Spiled):
			return Task{Name: tongue.T("Cut it from sheet"), Caution: MindBlades}
		case j.IsMade(hull.Block):
			return Task{Name: tongue.T("Carve it"), Caution: MindBlades}
		}
		return Task{Caution: MindBlades, Skip: j.Cuts == nil || j.Cuts.Count == 0}
	case StepSoak:
		if len(j.Wet) == 0 && (!j.Shapeless || j.IsMade(hull.Block)) {
			return Task{Skip: true}
		}
		return Task{Caution: MindHeat}
	case StepPin:
		return Task{Pins: len(j.PinnedAt) * j.PinsEach, Caution: MindPins}
	case StepDry:
		return Task{Skip: j.dry()}
	case StepBevel:
		if len(j.Bevels) == 0 && len(j.Hoods) == 0 {
			return Task{Skip: true}
		}
		return Task{Caution: MindBlades}
	case StepFit:
		return Task{Caution: MindBlades}
	case StepGlue:
		return Task{Pins: j.Pins, Caution: MindGlue}
	case StepTreenail:
		if j.Treenails == 0 {
			return Task{Skip: true}
		}
		return Task{Treenails: j.Treenails, Caution: MindDrills}
	}
	return Task{}
}

// dry reports whether no part of it is to be soaked.
func (j *Job) dry() bool {
	return len(j.Wet) == 0 && !j.Shapeless || j.Strake.Making.Mode == hull.Block
}

// after is the next turn not yet taken after a given one, going round to the first.
func after(turns []Turn, id string, side hull.Side) *Turn {
	from := slices.IndexFunc(turns, func(t Turn) bool { return t.ID == id && t.Side == side })
	for i := 1; i < len(turns) && from >= 0; i++ {
		if t := turns[(from+i)%len(turns)]; !t.Laid {
			return &t
		}
	}
	return nil
}

// NextTurn is the first that is not yet taken; ok is false where all is laid.
func NextTurn(k *loft.Planking) (turn Turn, ok bool) {
	turns := Turns(k)
	if i := slices.IndexFunc(turns, func(t Turn) bool { return !t.Laid }); i >= 0 {
		return turns[i], true
	}
	return Turn{}, false
}

// Next is what is laid next, without its steps; ok is false where all is laid.
// States of a side are as BothSides gives them, and may be nil.
func Next(k *loft.Planking, states map[hull.Side][]BandState) (turn Turn, job *Job, ok bool) {
	turn, ok = NextTurn(k)
	if !ok {
		return Turn{}, nil, false
	}
	j, err := newJob(k, turn.Side, turn.ID, states[turn.Side])
	if err != nil || len(j.Frames) == 0 {
		return Turn{}, nil, false // a turn belongs to a strake that is laid
	}
	return turn, j, true
}

// Caution is the caution of the hardest of its steps.
func (j *Job) Caution() Caution {
	switch {
	case len(j.Wet) > 0:
		return MindHeat
	case j.Cuts != nil && j.Cuts.Count > 0 || j.Cut():
		return MindBlades
	}
	return MindPins
}
