package sight

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Doubt is why a reading is not given.
type Doubt uint8

// The doubts.
const (
	NoDoubt    Doubt = iota
	NotPlanked       // the hull is not planked at the frame
	Hidden           // the frame turns away from the camera there
	Astray           // the mark lies off the outline of the frame
	Twofold          // the frame is seen there twice, at two girths
	NoAbove          // strakes are laid above, and their edge is not marked
	NoBelow          // strakes are laid below, and their edge is not marked
	TooWide          // its error is greater than allowed
	OtherFrame       // the places of one frame alone say nothing about another
	Crossed          // the lower edge is seen above the upper one
)

// Reading is what is left of the band at a frame.
type Reading struct {
	Frame int
	Left  float64 // mm
	Error float64 // mm, a standard error
	Off   float64 // px: how far the mark lies off the frame's outline, the farther of two
	Doubt Doubt   // why it is not to be used; the figures above may then be 0
}

// twentieth is the number of standard errors exceeded in one of twenty cases.
const twentieth = 1.96

// Bound is the error, mm, that the reading stays within in 95 of 100 cases.
func (r Reading) Bound() float64 { return twentieth * r.Error }

// Given reports whether the reading may be used.
func (r Reading) Given() bool { return r.Doubt == NoDoubt }

// Seen is the result of reading a picture.
type Seen struct {
	Readings  []Reading // by frame
	Slips     []int     // known places that the others contradict, left out: indices of Marks.Known
	Unclear   []int     // one of these is a slip, but the others do not show which
	Lost      bool      // the known places do not fit together at all: there are no readings
	OtherSide bool      // they would fit the ship's other side
	Loose     float64   // factor by which the errors exceed those stated, as the known places show; 1 where they do not
	Spare     int       // number of observations beyond those the camera needs: with none, a slip is not seen
	Out       []float64 // px: distance of every known place, as seen, from its mark

	t *taken // nil where the camera is not found
	s ship
}

// At is where a place of a frame, at a given girth, mm, below the upper limit, is seen
// in the picture; ok is false where it turns away from the camera, and where the camera
// is not found.
func (s *Seen) At(frame int, down float64) (at Pixel, ok bool) {
	if s.t == nil {
		return at, false
	}
	p, n := s.s.outline(frame, OnFrame).at(down)
	if k, held := s.t.a.frames[frame]; held {
		p = p.Add(s.t.shifts[k])
	}
	v, ok := s.t.see(p)
	return Pixel{v.at[0], v.at[1]}, ok && v.toward.Dot(n) < 0
}

// Fewest known places that determine a camera.
const (
	fewestOfFrame = 4
	fewestInSpace = 6
)

// Read projects the marks in a picture of one side back onto the frames, and gives what
// is left there of a band (from 0) of a layer (from 0). The states are those of the
// layer's bands on that side, as package progress gives them. The error says what the
// marks lack.
func Read(k *loft.Planking, side hull.Side, layer, band int, states []progress.BandState, m Marks, care Care) (*Seen, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	if band < 0 || band >= len(l.Bands) {
		return nil, tongue.Errorf("there is no band %d in layer %d", band+1, l.Number)
	}
	if k.Plan.Hull.Shapeless() {
		return nil, tongue.New("only the girths of this hull are known: reading a picture needs the shape of its frames")
	}
	r := &reader{s: shipOf(k, layer, side), band: band, states: states, m: m, care: care}
	return r.read()
}

// reader reads one picture.
type reader struct {
	s      ship
	band   int
	states []progress.BandState
	m      Marks
	care   Care
}

func (r *reader) read() (*Seen, error) {
	if !(r.m.Picture.Width > 0) || !(r.m.Picture.Height > 0) {
		return nil, tongue.New("the size of the picture is missing")
	}
	only, err := r.enough()
	if err != nil {
		return nil, err
	}
	seen, err := r.observed(r.s)
	if err != nil {
		return nil, err
	}
	a := newAdjustment(r.m.Picture, seen, r.care.Stands)
	t, ok := a.solveSparing(settles)
	out := &Seen{Loose: 1, Spare: a.over(), Lost: !ok}
	if only >= 0 {
		out.Spare = 2*len(seen) - 8 // a plane's homography takes eight
	}
	if !ok {
		return out, nil
	}
	out.Slips, out.Unclear = t.slips, t.unclear
	slices.Sort(out.Slips)
	r.told(out, &t, seen, only)
	if out.Lost || len(out.Unclear) > 0 {
		return out, nil
	}
	out.t, out.s = &t, r.s
	r.readings(out, &t, only)
	return out, nil
}

// told reports how well the known places fit.
func (r *reader) told(out *Seen, t *taken, seen []observed, only int) {
	within := 0
	for i := range seen {
		v, _, ok := t.a.follow(t.solution, &seen[i])
		off := math.Inf(1)
		if ok {
			off = v.at.Sub(seen[i].at).Len()
		}
		out.Out = append(out.Out, off)
		if ok && !r.m.Known[i].Beyond && v.toward.Dot(r.normal(i)) > 0 {
			within++
		}
	}
	over := t.a.over()
	if t.misfit > reachOf(wideChance, over) {
		out.Loose = math.Sqrt(t.misfit / float64(over))
	}
	// Fits as loose as this belong to other places than those named; and a nearly flat side
	// fits the other one seen from inside.
	if out.Lost = out.Loose > lost || only < 0 && 2*within > len(seen); out.Lost {
		out.OtherSide = r.fitsAcross(t.misfit)
	}
}

// fitsAcross reports whether the known places fit the ship's other side better, with
// the ends of the frames bare or covered: what is laid there is not known here.
func (r *reader) fitsAcross(misfit float64) bool {
	for _, end := range []Face{OnFrame, OnPlank} {
		other := *r
		other.m.Known = slices.Clone(r.m.Known)
		for i := range other.m.Known {
			if k := &other.m.Known[i]; k.Face == "" && (k.What == UpperLimit || k.What == Rabbet) {
				k.Face = end
			}
		}
		seen, err := other.observed(r.s.across())
		if err != nil {
			return false
		}
		if s, ok := newAdjustment(r.m.Picture, seen, r.care.Stands).found(); ok && s.misfit < misfit {
			return true
		}
	}
	return false
}

// normal is the outward normal of the hull at a known place.
func (r *reader) normal(i int) mgl64.Vec3 {
	k := r.m.Known[i]
	down, _, _ := r.girth(k)
	_, n := r.s.outline(k.Frame, r.face(k)).at(down)
	return n
}

// face is the face on which a known place is seen. The record at hand does not cover
// the other side, so there everything except seams counts as seen on the frame.
func (r *reader) face(k Known) Face {
	switch {
	case k.Face != "":
		return k.Face
	case k.Beyond && k.What != SeamBelow:
		return OnFrame
	}
	return UsualFace(r.s.l, r.states, k.What, k.Frame)
}

// lost is the factor by which errors must exceed those stated for the known places to
// fit nothing.
const lost = 4

// enough reports whether the known places determine a camera, and to which one frame
// they belong if they are all of one; −1 where they are of several.
func (r *reader) enough() (only int, err error) {
	of := map[int]int{}
	most := -1
	for _, k := range r.m.Known {
		if of[k.Frame]++; most < 0 || of[k.Frame] > of[most] {
			most = k.Frame
		}
	}
	switch n := len(r.m.Known); {
	case len(of) == 1 && n >= fewestOfFrame:
		return most, nil
	case len(of) > 1 && n >= fewestInSpace:
		return -1, nil
	case len(of) == 1:
		return -1, tongue.Errorf("%d known places of one frame do not fix the camera's position: mark %d of it, or %d over several frames", n, fewestOfFrame, fewestInSpace)
	default:
		return -1, tongue.Errorf("%d known places do not fix the camera's position: mark %d over several frames, or %d of one", n, fewestInSpace, fewestOfFrame)
	}
}

// settles reports whether the observations are enough for a camera.
func settles(a *adjustment) bool {
	of := map[int]bool{}
	for _, o := range a.seen {
		of[o.frame] = true
	}
	if len(of) == 1 {
		return len(a.seen) >= fewestOfFrame
	}
	return len(a.seen) >= fewestInSpace
}

// observed are the known places as they stand on a ship.
func (r *reader) observed(s ship) ([]observed, error) {
	var out []observed
	for i, k := range r.m.Known {
		down, spread, err := r.girth(k)
		if err != nil {
			return nil, tongue.Errorf("known place %d: %w", i+1, err)
		}
		side := s
		if k.Beyond {
			side = s.across()
		}
		on := side.outline(k.Frame, r.face(k))
		p, _ := on.at(down)
		out = append(out, observed{at: k.vec(), cov: k.cov(), place: p, along: on.tangent(down).Mul(spread), frame: k.Frame})
	}
	return out, nil
}

// girth is where a known place lies, mm below the upper limit, and its standard error:
// that of a seam is known as well as the space left beside it.
func (r *reader) girth(k Known) (down, spread float64, err error) {
	surface := r.s.l.Surface
	if k.Frame < 0 || k.Frame >= surface.Frames() {
		return 0, 0, tongue.Errorf("there is no frame %d", k.Frame)
	}
	switch k.What {
	case UpperLimit:
		return 0, 0, nil
	case Rabbet:
		return surface.Girth(k.Frame), 0, nil
	case AtGirth:
		if !(k.Girth >= 0 && k.Girth <= surface.Girth(k.Frame)) {
			return 0, 0, tongue.Errorf("%.2f mm of girth is not on frame %s, whose girth is %.2f mm", k.Girth, surface.FrameName(k.Frame), surface.Girth(k.Frame))
		}
		return k.Girth, 0, nil
	case SeamBelow:
		return r.seam(k)
	}
	return 0, 0, tongue.Errorf("%q is not a place on a frame", k.What)
}

// seam is where the record places the lower edge of a strake.
func (r *reader) seam(k Known) (down, spread float64, err error) {
	l := r.s.l
	if k.Strake < 0 || k.Strake >= len(l.Strakes) {
		return 0, 0, tongue.Errorf("there is no strake %d", k.Strake)
	}
	st := l.Strakes[k.Strake]
	for i := range r.states {
		s := &r.states[i]
		if s.Layer != l.Number || s.Band != st.Band {
			continue
		}
		if !slices.Contains(s.Laid, st.ID) || !st.At[k.Frame].Laid {
			return 0, 0, tongue.Errorf("strake %s is not laid at frame %s, as the record has it", st.ID, l.Surface.FrameName(k.Frame))
		}
		const certain = 1.96 // standard deviations that hold 95 % of cases
		return s.Seams[k.Strake-l.Bands[st.Band-1].First+1][k.Frame], s.LeftBound[k.Frame] / certain, nil
	}
	return 0, 0, tongue.Errorf("nothing is known of strake %s on that side", st.ID)
}

// readings reads frame by frame.
func (r *reader) readings(out *Seen, t *taken, only int) {
	of := map[int]map[Of]Edge{}
	var frames []int
	for _, e := range r.m.Edges {
		if of[e.Frame] == nil {
			of[e.Frame] = map[Of]Edge{}
			frames = append(frames, e.Frame)
		}
		of[e.Frame][e.Of] = e
	}
	slices.Sort(frames)
	for _, f := range frames {
		reading := r.reading(t, f, of[f], only)
		reading.Frame = f
		reading.Error *= out.Loose
		if reading.Given() && reading.Bound() > r.care.Most {
			reading.Doubt = TooWide
		}
		out.Readings = append(out.Readings, reading)
	}
}

// reading reads what is left at one frame.
func (r *reader) reading(t *taken, frame int, edges map[Of]Edge, only int) (out Reading) {
	l := r.s.l
	if !l.Surface.Planks(frame) {
		return Reading{Doubt: NotPlanked}
	}
	if only >= 0 && frame != only {
		return Reading{Doubt: OtherFrame}
	}
	var at [2]*place
	for i, of := range []Of{Above, Below} {
		e, marked := edges[of]
		if !marked {
			continue
		}
		p := t.back(e.Mark, r.s.outline(frame, e.Face), only < 0)
		out.Off = max(out.Off, p.off)
		if out.Doubt == NoDoubt {
			out.Doubt = p.doubt
		}
		at[i] = &p
	}
	if out.Doubt != NoDoubt {
		return out
	}
	above, below := r.laid(frame)
	switch {
	case at[0] == nil && above:
		return Reading{Doubt: NoAbove}
	case at[1] == nil && below:
		return Reading{Doubt: NoBelow}
	}
	station := l.Surface.FrameStation(frame)
	from, to := l.Lines[r.band].Down[station], l.Lines[r.band+1].Down[station]
	variance := 0.0
	for i, p := range at {
		switch {
		case p == nil: // the band's own edge, as marked on the frame
			variance += r.care.Stands * r.care.Stands
		case i == 0:
			from = p.down
		default:
			to = p.down
		}
	}
	out.Left = to - from
	out.Error = math.Sqrt(variance + t.apart(at[0], at[1]))
	if out.Left < -3*out.Error {
		out.Doubt = Crossed
	}
	out.Left = max(out.Left, 0)
	return out
}

// laid reports whether strakes are laid at a frame from the band's upper edge down, and
// from its lower edge up.
func (r *reader) laid(frame int) (above, below bool) {
	l := r.s.l
	b := l.Bands[r.band]
	for i := range r.states {
		s := &r.states[i]
		if s.Layer != l.Number || s.Band != b.Number {
			continue
		}
		n := len(b.Weights)
		run := func(strake func(i int) *loft.Strake) bool {
			any := false
			for i := range n {
				st := strake(i)
				if !slices.Contains(s.Laid, st.ID) {
					return any
				}
				any = any || st.At[frame].Laid
			}
			return any
		}
		above = run(func(i int) *loft.Strake { return l.Strakes[b.First+i] })
		below = run(func(i int) *loft.Strake { return l.Strakes[b.First+n-1-i] })
	}
	return above, below
}
