package progress

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// benchBand is one band on the bench.
type benchBand struct {
	l        *loft.Layer
	b        *loft.Band
	habit    Habit
	entries  []hull.Entry
	division float64         // mm: of the rule in use, 0 where that is not stated
	along    []float64       // arc length at every frame, mm
	laid     map[int]bool    // strakes glued, from 0
	order    []int           // in the order of gluing
	widths   [][]float64     // [strake][frame]: as planned and, since the last measurement, as shared afresh
	cut      map[int]bool    // strakes whose widths are fixed, since they were cut
	cutBy    map[int]int     // and by which entry
	fresh    bool            // something was measured since the widths were shared
	readings []reading       // those believed
	all      []reading       // those that are possible
	wild     map[int]float64 // mm: how far frames may be off that are off by more than the others
	queries  []Query
	doubted  []Query // queries that more readings may settle
	wet      []int   // entries left out
	way      hull.Remedy
	aim      float64 // mm a strip, the remaining creep where tighter bevels were chosen
}

func (s *benchBand) run() error {
	mid := s.l.Strakes[s.b.First+len(s.b.Weights)/2].Centre
	for i := range s.l.Surface.Frames() {
		s.along = append(s.along, mid.S[s.l.Surface.FrameStation(i)])
	}
	s.laid, s.cut, s.cutBy = map[int]bool{}, map[int]bool{}, map[int]int{}
	for n := range s.b.Weights {
		var row []float64
		for _, c := range s.l.Strakes[s.b.First+n].At {
			row = append(row, c.WidthFrame)
		}
		s.widths = append(s.widths, row)
	}
	for i, e := range s.entries {
		if e.Layer != s.l.Number && e.EntryKind != hull.BareGirth {
			continue
		}
		if err := s.take(i, e); err != nil {
			return tongue.Errorf("entry %d of the record: %w", i+1, err)
		}
	}
	s.doubt()
	s.queries = append(s.queries, s.doubted...)
	return nil
}

// take follows one entry.
func (s *benchBand) take(i int, e hull.Entry) error {
	switch {
	case e.EntryKind == hull.BareGirth:
		return s.girth(i, e)
	case e.EntryKind.OfBand():
		if e.Band < 1 || e.Band > len(s.l.Bands) {
			return tongue.Errorf("there is no band %d in layer %d", e.Band, s.l.Number)
		}
		if e.Band != s.b.Number {
			return nil
		}
		if e.EntryKind == hull.Chosen {
			s.way, s.aim, s.fresh = e.Remedy, e.MM, true
			return nil
		}
		return s.see(i, e, s.laid, true, func(frame int) float64 { return e.MM - s.without(frame, s.laid) })
	}
	n := s.strake(e.Strake)
	if n < 0 {
		if s.l.StrakeNamed(e.Strake) < 0 {
			return tongue.Errorf("there is no strake %s in layer %d", e.Strake, s.l.Number)
		}
		return nil // for another band
	}
	one := map[int]bool{n: true}
	switch e.EntryKind {
	case hull.Cutout:
		s.cutNow(n, i)
	case hull.Glued:
		s.cutNow(n, i)
		if !s.laid[n] {
			s.laid[n] = true
			s.order = append(s.order, n)
		}
	case hull.Removed:
		delete(s.laid, n)
		for j, o := range s.order {
			if o == n {
				s.order = append(s.order[:j:j], s.order[j+1:]...)
				break
			}
		}
	case hull.AsLaid:
		return s.see(i, e, one, false, func(frame int) float64 { return s.wood(n, frame) - e.MM })
	case hull.GapAbove:
		return s.see(i, e, one, false, func(int) float64 { return -e.MM })
	}
	return nil
}

// girth takes the girth of a bare frame: each band's share of it says something about
// the band, and the first band queries it. It is believed only for the first layer,
// which lies on the frames.
func (s *benchBand) girth(i int, e hull.Entry) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	whole := 0.0
	if frame >= 0 {
		for _, b := range s.l.Bands {
			whole += b.Girths[frame]
		}
	}
	switch {
	case s.l.Number != 1 || whole == 0 && s.b.Number != 1 && frame >= 0:
		return nil
	case math.Abs(e.MM-whole) > farOffPlan && whole > 0:
		if s.b.Number == 1 {
			s.query(i, OffDrawn, e.MM-whole)
		}
		return nil
	}
	before := len(s.all)
	err := s.see(i, e, nil, true, func(frame int) float64 { return (e.MM - whole) * s.b.Girths[frame] / whole })
	if len(s.all) > before {
		x := &s.all[before]
		x.division *= s.b.Girths[frame] / whole
		x.offDrawn = 0
		if s.b.Number == 1 {
			x.offDrawn = e.MM - whole
		}
	}
	return err
}

// strake is the index of a strake in the band, or −1.
func (s *benchBand) strake(id string) int {
	n := s.l.StrakeNamed(id) - s.b.First
	if n < 0 || n >= len(s.b.Weights) {
		return -1
	}
	return n
}

// cutNow fixes a strake's widths: those noted when it was cut, or else those that the
// plan, or the last sharing, gave then.
func (s *benchBand) cutNow(n, entry int) {
	if s.cut[n] {
		return
	}
	noted := s.entries[entry].Widths
	if s.fresh && len(noted) == 0 {
		s.doubt()
		s.share(s.regress(s.readings))
	}
	s.cut[n], s.cutBy[n] = true, entry
	for _, w := range noted {
		if i := s.l.Surface.FrameNamed(w.Frame); i >= 0 {
			s.widths[n][i] = w.MM
		}
	}
}

// wood is the girth that the wood of a strake covers along a frame, mm: no more than
// its whole strip, unless it is cut from wider wood. Any creep that the plan adds
// beyond that is not wood.
func (s *benchBand) wood(n, frame int) float64 {
	st := s.l.Strakes[s.b.First+n]
	w := s.widths[n][frame]
	c := &st.At[frame]
	if st.Making.Mode != hull.Sprung || !c.Laid || !(c.WidthCut+c.Creep > 0) {
		return w
	}
	return min(w, c.Pitch*c.WidthFrame/(c.WidthCut+c.Creep))
}

// without is what a frame's girth leaves besides the wood of strakes as they were cut,
// and the wedges beneath them.
func (s *benchBand) without(frame int, laid map[int]bool) float64 {
	left := s.b.Girths[frame]
	for n := range laid {
		left -= s.wood(n, frame) + s.b.WedgeAt(n, frame)
	}
	return left
}

// see keeps a measurement, unless it is impossible; frames says that the frame's own
// girth is included.
func (s *benchBand) see(i int, e hull.Entry, over map[int]bool, frames bool, strays func(frame int) float64) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	if frame < 0 {
		return tongue.Errorf("there is no frame %s", e.Frame)
	}
	switch most := s.b.Girths[frame] + farOff; {
	case e.Wet: // it includes swelling, and will shrink
		s.wet = append(s.wet, i)
	case !s.l.Surface.Planks(frame):
		s.query(i, NotPlanked, 0)
	case e.MM < 0:
		s.query(i, Negative, 0)
	case e.EntryKind != hull.BareGirth && len(over) > 0 && e.MM > most:
		s.query(i, OverBand, s.b.Girths[frame])
	default:
		x := reading{stray: s.there(over, frame), entry: i, strays: strays(frame), division: divisionOf(&e, s.division, s.entries)}
		x.frames = frames
		if x.bare() {
			x.offDrawn = x.strays
		}
		if math.Abs(x.offDrawn) > farOffPlan {
			s.query(i, OffDrawn, x.offDrawn)
			return nil
		}
		s.all = append(s.all, x)
		s.fresh = true
	}
	return nil
}

// there is the deviation of those strakes that are laid at a frame and have not dropped
// out.
func (s *benchBand) there(strakes map[int]bool, frame int) stray {
	out := stray{frame: frame, at: s.along[frame]}
	for n := range strakes {
		if s.widths[n][frame] > 0 {
			out.over = out.over.with(n)
			out.count++
		}
	}
	return out
}

// next is the deviation of one strake still to be laid at a frame.
func (s *benchBand) next(frame int) stray {
	return stray{frame: frame, at: s.along[frame], over: strakeSet{}.with(len(s.b.Weights)), count: 1}
}

// leftAt is the deviation of what is left at a frame.
func (s *benchBand) leftAt(frame int) stray {
	out := s.there(s.laid, frame)
	out.frames = true
	return out
}

func (s *benchBand) query(entry int, why Doubt, other float64) {
	e := s.entries[entry]
	s.queries = append(s.queries, Query{Entry: entry, Doubt: why, Frame: e.Frame, MM: e.MM, Other: other})
}

// toGo is the creep expected of a strake still to be laid, mm, from what was learned.
func (s *benchBand) toGo(creep float64) float64 {
	if s.way == hull.Tighter {
		return min(s.aim, creep)
	}
	return creep
}
