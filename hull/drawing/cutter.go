package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// cutSheet is what was read from all pieces.
type cutSheet struct {
	frames []string
	of     map[string]*contour
	line   map[string]int
}

// cut gives the outlines of the frames that are drawn as pieces to be cut: for each the
// planked part of its sides, its centre line at 0, its height set by what all have in
// common. Anything inside a piece is ignored.
func (t *tracing) cut(how Options) []Outline {
	s := &cutSheet{of: map[string]*contour{}, line: map[string]int{}}
	byFrame := map[string][]*Outline{}
	for i := range t.drawing.Outlines {
		o := &t.drawing.Outlines[i]
		switch {
		case o.Mark == Unused || len(o.Points) == 0:
		case o.Mark != "" || o.Profile:
			t.Add(o.Line, o.Frame, "remove it, or set it to not used", "%s does not go with frames drawn as pieces to cut, whose places on their sheet have no meaning", o.Title())
		case o.Frame == "":
			t.sort(o, 1) // to be reported
		default:
			if byFrame[o.Frame] == nil {
				s.frames = append(s.frames, o.Frame)
			}
			byFrame[o.Frame] = append(byFrame[o.Frame], o)
		}
	}
	if len(t.Found) > 0 {
		return nil
	}
	for _, name := range s.frames {
		if t.stopped() || t.close < 0 {
			return nil
		}
		t.piece(s, name, byFrame[name], how)
	}
	if len(t.Found) > 0 && how.Level != LevelUntold {
		return nil
	}
	level, ok := t.levels(s, how.Level)
	if !ok {
		return nil
	}
	t.pieceNotes(s, how)
	return s.outlines(byFrame, level)
}

// piece reads the contour of a frame.
func (t *tracing) piece(s *cutSheet, name string, drawn []*Outline, how Options) {
	var strokes []stroke
	for _, o := range drawn {
		strokes = append(strokes, o.stroke(1))
	}
	chains := joined(strokes, false)
	slices.SortStableFunc(chains, func(a, b chain) int { return cmp.Compare(math.Abs(areaOf(b.pts)), math.Abs(areaOf(a.pts))) })
	line := drawn[0].Line
	s.line[name] = line
	i := slices.IndexFunc(chains, func(c chain) bool { return c.closed })
	if i < 0 {
		t.Add(line, name, "join its ends, or leave out --level", "the outline of a piece to cut must be closed, and this one is open")
		return
	}
	for k := range chains {
		if k != i && !inside(chains[k].pts[len(chains[k].pts)/2], chains[i].pts) {
			t.Add(chains[k].line, name, "rename the line that is not its outline, call it unused, or remove it", "a second line under its name lies outside its outline")
			return
		}
	}
	k, why := chains[i].read(how.Upright, how.Level, &t.close)
	if why.what != "" {
		t.Add(line, name, why.mend, "%s", why.what)
		return
	}
	s.of[name] = &k
}

// levelWords describe what is taken to lie at one height, and a frame that lacks it.
var levelWords = map[Level]struct{ same, lacks string }{
	SlotBelow:  {tongue.Mark("the closed ends of the slots that come in from below"), tongue.Mark("slot that comes in from below on its centre line")},
	SlotAbove:  {tongue.Mark("the closed ends of the slots that come in from above"), tongue.Mark("slot that comes in from above on its centre line")},
	DeckLevel:  {tongue.Mark("the upper ends of the planking, where the sides meet the deck"), ""},
	FootLevel:  {tongue.Mark("the lower ends of the planking"), ""},
	DrawnLevel: {tongue.Mark("all frames as they are drawn, side by side"), ""},
}

// levels are the heights, as drawn, that all frames have in common.
func (t *tracing) levels(s *cutSheet, by Level) (map[string]float64, bool) {
	if by == LevelUntold {
		t.Add(0, "", "set what all have at one height: with --level slot-below, slot-above, deck, foot or drawn, or in the window", "the place of a piece on its sheet does not give the height of its frame%s", s.common())
		return nil, false
	}
	words, known := levelWords[by]
	if !known {
		t.Add(0, "", "say slot-below, slot-above, deck, foot or drawn", "there is no height %s that frames have in common", fault.Name(string(by)))
		return nil, false
	}
	out := map[string]float64{}
	for _, name := range s.frames {
		k := s.of[name]
		has := true
		switch by {
		case SlotBelow:
			out[name], has = k.below.end, k.below.ok
		case SlotAbove:
			out[name], has = k.above.end, k.above.ok
		case DeckLevel:
			out[name] = k.deck
		case FootLevel:
			out[name] = k.foot
		case DrawnLevel:
			if k.quarters != 0 {
				t.Add(s.line[name], name, "turn it upright in the drawing, or choose something else that all have at one height", "it is drawn turned by %d degrees, so it is not at its height", 90*k.quarters)
				return nil, false
			}
		}
		if !has {
			t.Add(s.line[name], name, "choose something else that all have at one height", "it has no %s", tongue.T(words.lacks))
			return nil, false
		}
	}
	if by == DrawnLevel && !s.overlap() {
		t.Add(0, "", "choose something else that all have at one height", "the pieces overlap on their sheet, so they are not all at their heights")
		return nil, false
	}
	return out, true
}

// common names the slots that all frames have, for a message.
func (s *cutSheet) common() string {
	below, above := len(s.of) == len(s.frames), len(s.of) == len(s.frames)
	for _, k := range s.of {
		below, above = below && k.below.ok, above && k.above.ok
	}
	switch {
	case below && above:
		return tongue.T("; all have slots from below and above on their centre lines")
	case below:
		return tongue.T("; all have a slot from below on their centre lines")
	case above:
		return tongue.T("; all have a slot from above on their centre lines")
	}
	return ""
}

// overlap reports whether all frames share some height, as in one row.
func (s *cutSheet) overlap() bool {
	low, high := math.Inf(-1), math.Inf(1)
	for _, k := range s.of {
		low, high = max(low, k.foot), min(high, k.deck)
	}
	return low < high
}

// outlines are those of all frames, with their centre line.
func (s *cutSheet) outlines(drawn map[string][]*Outline, level map[string]float64) []Outline {
	out := []Outline{{Mark: CentreMark, Points: []mgl64.Vec2{{0, 0}}}}
	for _, name := range s.frames {
		placed := *drawn[name][0]
		for _, o := range drawn[name] {
			if o.Placed {
				placed = *o
			}
		}
		k := s.of[name]
		for i, c := range []*chain{k.right, k.left} {
			if c == nil {
				continue
			}
			m := c.moved(mgl64.Vec2{0, level[name]}, 1)
			m = m.moved(mgl64.Vec2{}, 1-2*float64(i))
			o := m.outline(Outline{Frame: name, X: placed.X, Placed: placed.Placed, Layer: placed.Layer})
			o.Line = s.line[name]
			out = append(out, o)
		}
	}
	return out
}

// pieceNotes notes what was assumed about the pieces.
func (t *tracing) pieceNotes(s *cutSheet, how Options) {
	note := func(format string, args ...any) {
		t.drawing.Notes = append(t.drawing.Notes, fmt.Sprintf(format, args...))
	}
	note("Taken to be at one height: %s. If they are not, the frames are too high or too low: choose something else.", tongue.T(levelWords[how.Level].same))
	var turned, wider, halves, tabs, slots, whole []string
	scale := how.Scale()
	for _, name := range s.frames {
		k, called := s.of[name], fault.Name(name)
		if k.quarters > 0 {
			turned = append(turned, tongue.T("%s by %d degrees", called, 90*k.quarters))
		}
		if k.wider {
			wider = append(wider, called)
		}
		if k.right == nil || k.left == nil {
			halves = append(halves, called)
		}
		switch {
		case k.tab:
			tabs = append(tabs, called)
		case k.below.ok:
			slots = append(slots, fmt.Sprintf("%s (%s)", called, fault.Figure(math.Round(k.below.half*scale*100)/100)))
		default:
			whole = append(whole, called)
		}
		for i := range k.notches {
			k.notches[i].wide, k.notches[i].below = k.notches[i].wide*scale, k.notches[i].below*scale
		}
		t.bridged(&t.notches, name, k.notches)
	}
	if len(turned) > 0 {
		note("Laid upright, by their shapes: %s.", few(turned))
	}
	if len(wider) > 0 {
		note("By their shapes these might be the other way up; they are taken as wider above than below: %s.", few(wider))
	}
	if len(halves) > 0 {
		note("Half frames, whose straight edge is taken for the centre line: %s.", few(halves))
	}
	if len(slots) > 0 {
		note("The planking ends below at the edges of the slot for the keel, at these distances in mm from the centre line: %s.", few(slots))
	}
	if len(tabs) > 0 {
		note("The planking ends below where a tab projects on the centre line: %s.", few(tabs))
	}
	if len(whole) > 0 {
		note("The planking ends below on the centre line: %s.", few(whole))
	}
	note("It ends above at the corner where each side meets the deck.")
}
