package trace

import (
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Mark is a point clicked on the outline of a frame.
type Mark struct {
	At       Point // in the picture
	Snapped  bool  // it was snapped to the outline
	Knuckle  bool  // a corner to be kept
	Followed bool  // it was not clicked: it lies on a line that was followed to the next clicked point
}

// Datum is the origin of a frame's figures, as points in its picture: any point
// of the centre line (in the side view, of the vertical at x = 0), and any of
// the base line.
type Datum struct {
	Centre, Base       Point
	HasCentre, HasBase bool
}

// Ground is a picture with its scale, its centre line and its base line.
type Ground struct {
	Picture     *Picture
	Calibration Calibration
	Datum       Datum
}

// Frame is a frame being traced: the points clicked from the upper limit down
// to the rabbet, on one half or on both. A frame named stem or stern is an end
// curve: it is traced in the side view, where the distance to the right is its
// x, and X is its half-breadth.
type Frame struct {
	Name   string
	X      float64 // mm
	Halves [2][]Mark
	Ground int    // index of its picture
	Own    *Datum // if it has a centre and base line of its own
}

// IsEnd reports whether the frame is an end curve.
func (f Frame) IsEnd() bool { return hull.Frame{Name: f.Name}.IsEnd() }

// Trace is the tracing of a hull. Everything done to it can be undone, without
// limit. The zero value is not ready: use New. It is for one goroutine.
type Trace struct {
	now     state
	steps   history.Steps[state]
	changes int
}

// state is everything traced. Its slices are never changed: whoever changes
// something makes a new one.
type state struct {
	grounds []Ground
	frames  []Frame
	ground  int  // chosen, −1 for none
	frame   int  // chosen, −1 for none
	half    int  // being clicked
	done    bool // the current frame is complete: a click begins the next
	bow     hull.BowEnd
}

// New begins a tracing.
func New() *Trace { return &Trace{now: state{ground: -1, frame: -1, bow: hull.BowFirst}} }

// Grounds gives the pictures. They must not be changed.
func (t *Trace) Grounds() []Ground { return t.now.grounds }

// Frames gives the frames in the order in which they were begun. They must not
// be changed.
func (t *Trace) Frames() []Frame { return t.now.frames }

// Ground is the index of the current picture, −1 for none.
func (t *Trace) Ground() int { return t.now.ground }

// Frame is the index of the current frame, −1 for none.
func (t *Trace) Frame() int { return t.now.frame }

// Half is the half being clicked, 0 or 1.
func (t *Trace) Half() int { return t.now.half }

// Done reports whether the current frame is complete.
func (t *Trace) Done() bool { return t.now.done }

// Bow is the end at which the bow lies.
func (t *Trace) Bow() hull.BowEnd { return t.now.bow }

// Empty reports whether nothing has been traced.
func (t *Trace) Empty() bool { return len(t.now.frames) == 0 }

// edit makes a change as one step that can be undone; after an error everything
// is as before.
func (t *Trace) edit(what string, change func(*state) error) error {
	after := t.now
	if err := change(&after); err != nil {
		return err
	}
	t.steps.Made(what, t.now)
	t.now = after
	t.changes++
	return nil
}

// Changes counts the steps made, undone and redone.
func (t *Trace) Changes() int { return t.changes }

// Undo undoes the last step, and says what it was.
func (t *Trace) Undo() (what string, ok bool) { return t.walk(history.Back) }

// Redo redoes the step last undone.
func (t *Trace) Redo() (what string, ok bool) { return t.walk(history.Forward) }

func (t *Trace) walk(d history.Direction) (what string, ok bool) {
	return t.steps.Walk(d, func(to state) state {
		was := t.now
		t.now = to
		t.changes++
		return was
	})
}

// CanUndo reports whether there is a step to undo.
func (t *Trace) CanUndo() bool { return can(&t.steps, history.Back) }

// CanRedo reports whether there is a step to redo.
func (t *Trace) CanRedo() bool { return can(&t.steps, history.Forward) }

func can(s *history.Steps[state], d history.Direction) bool {
	_, ok := s.Can(d)
	return ok
}

// AddPicture adds another picture, which becomes the current one.
func (t *Trace) AddPicture(p *Picture) {
	_ = t.edit(tongue.T("open %s", p.Name), func(s *state) error {
		s.grounds = append(slices.Clip(s.grounds), Ground{Picture: p})
		s.ground, s.frame, s.half, s.done = len(s.grounds)-1, -1, 0, false
		return nil
	})
}

// errNoPicture and errNoFrame say what must come first.
var (
	errNoPicture = tongue.New("open a picture first")
	errNoFrame   = tongue.New("add a frame first")
	errNoPoint   = tongue.New("there is no such point")
)

// withGround changes the current picture.
func (s *state) withGround(change func(*Ground)) error {
	if s.ground < 0 {
		return errNoPicture
	}
	s.grounds = slices.Clone(s.grounds)
	change(&s.grounds[s.ground])
	return nil
}

// withFrame changes the current frame. change must not modify its marks in
// place.
func (s *state) withFrame(change func(*Frame) error) error {
	if s.frame < 0 {
		return errNoFrame
	}
	s.frames = slices.Clone(s.frames)
	return change(&s.frames[s.frame])
}

// Calibrate gives the current picture its scale. The frames traced on it
// follow.
func (t *Trace) Calibrate(c Calibration) error {
	return t.edit(tongue.T("set the scale"), func(s *state) error {
		return s.withGround(func(g *Ground) { g.Calibration = c })
	})
}

// SetCentre puts the centre line through a point of the current picture.
func (t *Trace) SetCentre(at Point) error {
	return t.datum(tongue.T("set the centre line"), func(d *Datum) { d.Centre, d.HasCentre = at, true })
}

// SetBase puts the base line through a point of the current picture.
func (t *Trace) SetBase(at Point) error {
	return t.datum(tongue.T("set the base line"), func(d *Datum) { d.Base, d.HasBase = at, true })
}

// datum changes the lines of the current frame if it has its own, otherwise
// those of the picture.
func (t *Trace) datum(what string, change func(*Datum)) error {
	return t.edit(what, func(s *state) error {
		if s.frame >= 0 && s.frames[s.frame].Own != nil {
			return s.withFrame(func(f *Frame) error {
				own := *f.Own
				change(&own)
				f.Own = &own
				return nil
			})
		}
		return s.withGround(func(g *Ground) { change(&g.Datum) })
	})
}

// SetOwn gives the current frame a centre and base line of its own, at first
// the same as its picture's, or removes them.
func (t *Trace) SetOwn(own bool) error {
	what := tongue.T("give the frame its own centre line")
	if !own {
		what = tongue.T("give the frame the picture's centre line")
	}
	return t.edit(what, func(s *state) error {
		return s.withFrame(func(f *Frame) error {
			f.Own = nil
			if own {
				d := s.grounds[f.Ground].Datum
				f.Own = &d
			}
			return nil
		})
	})
}

// SetBow says at which end the bow lies.
func (t *Trace) SetBow(b hull.BowEnd) {
	_ = t.edit(tongue.T("set the bow"), func(s *state) error { s.bow = b; return nil })
}

// AddFrame begins a frame on the current picture.
func (t *Trace) AddFrame(name string, x float64) error {
	return t.edit(tongue.T("add frame %s", name), func(s *state) error { return s.addFrame(name, x) })
}

func (s *state) addFrame(name string, x float64) error {
	if s.ground < 0 {
		return errNoPicture
	}
	if err := s.free(name, -1); err != nil {
		return err
	}
	s.frames = append(slices.Clip(s.frames), Frame{Name: strings.TrimSpace(name), X: x, Ground: s.ground})
	s.frame, s.half, s.done = len(s.frames)-1, 0, false
	return nil
}

// free says what is wrong with a name for frame i.
func (s *state) free(name string, i int) error {
	name = strings.TrimSpace(name)
	if name == "" {
		return tongue.New("give the frame a name")
	}
	for k, f := range s.frames {
		if k != i && f.Name == name {
			return tongue.Errorf("there is a frame %s already; choose another name", name)
		}
	}
	return nil
}

// Rename gives the current frame another name.
func (t *Trace) Rename(name string) error {
	return t.edit(tongue.T("name the frame %s", name), func(s *state) error {
		if err := s.free(name, s.frame); err != nil {
			return err
		}
		return s.withFrame(func(f *Frame) error { f.Name = strings.TrimSpace(name); return nil })
	})
}

// SetX moves the current frame to another x, mm.
func (t *Trace) SetX(x float64) error {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return tongue.New("give x as a number in mm")
	}
	return t.edit(tongue.T("set x"), func(s *state) error {
		return s.withFrame(func(f *Frame) error { f.X = x; return nil })
	})
}

// RemoveFrame removes the current frame.
func (t *Trace) RemoveFrame() error {
	return t.edit(tongue.T("remove the frame"), func(s *state) error {
		if s.frame < 0 {
			return errNoFrame
		}
		s.frames = slices.Delete(slices.Clone(s.frames), s.frame, s.frame+1)
		s.frame, s.half, s.done = min(s.frame, len(s.frames)-1), 0, false
		return nil
	})
}

// Choose makes a frame current, −1 for none, and with it its picture. It is not
// a step that can be undone.
func (t *Trace) Choose(i int) {
	if i < -1 || i >= len(t.now.frames) {
		return
	}
	if t.now.frame, t.now.half, t.now.done = i, 0, false; i >= 0 {
		t.now.ground = t.now.frames[i].Ground
	}
}

// ChooseGround makes a picture current. It is not a step that can be undone.
func (t *Trace) ChooseGround(i int) {
	if i < 0 || i >= len(t.now.grounds) || i == t.now.ground {
		return
	}
	t.now.ground, t.now.frame, t.now.half, t.now.done = i, -1, 0, false
}

// ChooseHalf says which half of the frame is being clicked, 0 or 1. It is not a
// step that can be undone.
func (t *Trace) ChooseHalf(h int) {
	if h == 0 || h == 1 {
		t.now.half, t.now.done = h, false
	}
}

// marks changes the marks of a half of the current frame; change gets a copy.
func (t *Trace) marks(what string, half int, change func([]Mark) ([]Mark, error)) error {
	return t.edit(what, func(s *state) error {
		return s.withFrame(func(f *Frame) error {
			if half < 0 || half > 1 {
				return errNoPoint
			}
			m, err := change(slices.Clone(f.Halves[half]))
			f.Halves[half] = m
			return err
		})
	})
}

// Click adds the next point of the current frame, on the half being clicked. A
// click across the centre line from that half goes to the other one, so that a
// whole outline can be clicked in one go.
func (t *Trace) Click(at Point, snapped bool) error {
	return t.edit(tongue.T("click a point"), func(s *state) error { return s.click(Mark{At: at, Snapped: snapped}) })
}

// Begin begins a frame on the current picture with a click, as one step.
func (t *Trace) Begin(name string, x float64, at Point, snapped bool) error {
	return t.edit(tongue.T("click the first point of frame %s", name), func(s *state) error {
		if err := s.addFrame(name, x); err != nil {
			return err
		}
		return s.click(Mark{At: at, Snapped: snapped})
	})
}

// Along adds the points through which a line was followed from the last click, as
// one step. If the line ends there the frame is complete, and a corner there is
// kept as a knuckle.
func (t *Trace) Along(f Followed) error {
	return t.edit(tongue.T("click a point"), func(s *state) error {
		marks := thinned(f.Run)
		for i, at := range marks {
			last := i+1 == len(marks)
			if err := s.click(Mark{At: at, Snapped: true, Followed: !last, Knuckle: last && f.Bend}); err != nil {
				return err
			}
		}
		s.done = f.Ends
		return nil
	})
}

// Finish marks the current frame as complete: a click begins the next.
func (t *Trace) Finish() error {
	return t.edit(tongue.T("end the frame"), func(s *state) error {
		if s.frame < 0 {
			return errNoFrame
		}
		s.done = true
		return nil
	})
}

// Last is the last mark of the half being clicked, with the one before it or,
// if there is none, itself.
func (t *Trace) Last() (last, before Mark, ok bool) {
	if t.now.frame < 0 {
		return last, before, false
	}
	marks := t.now.frames[t.now.frame].Halves[t.now.half]
	n := len(marks)
	if n == 0 {
		return last, before, false
	}
	return marks[n-1], marks[max(n-2, 0)], true
}

// click adds a mark to the half to which it belongs.
func (s *state) click(m Mark) error {
	if !m.At.finite() {
		return errNoPoint
	}
	half := s.halfFor(m.At)
	s.half, s.done = half, false
	return s.withFrame(func(f *Frame) error {
		f.Halves[half] = append(slices.Clone(f.Halves[half]), m)
		return nil
	})
}

// halfFor is the half to which a click belongs.
func (s *state) halfFor(at Point) int {
	h := s.half
	if s.frame < 0 {
		return h
	}
	f := &s.frames[s.frame]
	d := s.datumOf(f)
	p, ok := readBy(s.grounds[f.Ground].Calibration, d, at)
	if !ok || f.IsEnd() || !d.HasCentre || math.Abs(p.X) <= onCentre {
		return h
	}
	here, there := s.sideOf(f, h), s.sideOf(f, 1-h)
	if here*p.X < 0 && there*p.X >= 0 {
		return 1 - h
	}
	return h
}

// sideOf is the side of the centre line on which a half is clicked: negative on
// the left, positive on the right, 0 if it is not known.
func (s *state) sideOf(f *Frame, half int) float64 {
	sum := 0.0
	for _, m := range f.Halves[half] {
		if p, ok := readBy(s.grounds[f.Ground].Calibration, s.datumOf(f), m.At); ok {
			sum += p.X
		}
	}
	if math.Abs(sum) <= onCentre {
		return 0
	}
	return sum
}

// Insert inserts a point before point i.
func (t *Trace) Insert(half, i int, at Point, snapped bool) error {
	return t.marks(tongue.T("put in a point"), half, func(m []Mark) ([]Mark, error) {
		if i < 0 || i > len(m) || !at.finite() {
			return nil, errNoPoint
		}
		return slices.Insert(m, i, Mark{At: at, Snapped: snapped}), nil
	})
}

// Move moves point i.
func (t *Trace) Move(half, i int, at Point, snapped bool) error {
	return t.one(tongue.T("move a point"), half, i, func(m *Mark) { m.At, m.Snapped = at, snapped })
}

// SetKnuckle makes point i a corner to be kept, or an ordinary point.
func (t *Trace) SetKnuckle(half, i int, on bool) error {
	what := tongue.T("mark a knuckle")
	if !on {
		what = tongue.T("unmark a knuckle")
	}
	return t.one(what, half, i, func(m *Mark) { m.Knuckle = on })
}

// Remove removes point i.
func (t *Trace) Remove(half, i int) error {
	return t.marks(tongue.T("remove a point"), half, func(m []Mark) ([]Mark, error) {
		if i < 0 || i >= len(m) {
			return nil, errNoPoint
		}
		return slices.Delete(m, i, i+1), nil
	})
}

func (t *Trace) one(what string, half, i int, change func(*Mark)) error {
	return t.marks(what, half, func(m []Mark) ([]Mark, error) {
		if i < 0 || i >= len(m) {
			return nil, errNoPoint
		}
		change(&m[i])
		return m, nil
	})
}
