package trace

import (
	"context"
	"math"
	"sync"
)

// Settings for following lines. Lengths in pixels.
const (
	leastFollowed = 6.0  // the least distance between two points
	aboutWay      = 60.0 // margin of the picture examined around the two points,
	aboutShare    = 0.35 // plus this share of their distance
	thickestHere  = 1.6  // half the width from which a line is followed on a smaller copy
	guessedWidths = 8    // widths of the line at its end, where it is not clearly visible, that are a guess,
	leastGuessed  = 24.0 // and at least this many pixels
	unlikeStroke  = 0.35 // by how much a line may differ from what it was taken for
)

// Followed is the run of a line between two points of a picture, in pixels.
type Followed struct {
	Run  []Point // from the first to the last, closely spaced, along the middle of the line
	End  Point   // the last of it
	Ends bool    // the line ends there
	Bend bool    // there is a corner there
	// Unsure says that lines run together for so long before the end that the last part
	// is a guess: it should be checked, or followed with a click in between.
	Unsure bool
}

// Follower follows the lines that lead from a point of a picture. Several
// goroutines may use it, one after another.
type Follower struct {
	p     *Picture
	from  Point
	ahead Point // roughly; zero where any direction will do

	lock      sync.Mutex
	lines     []lineAt // around the start; found once
	looked    bool
	low, high Point // what the search covers
	like      lineAt
	smaller   *Follower // on a copy half as wide and high
	search    *laneSearch
}

// Follow starts following lines from a point. If before is not that point
// itself, the run continues in the direction from before, and does not turn
// back.
func (p *Picture) Follow(from, before Point) *Follower {
	return &Follower{p: p, from: from, ahead: from.minus(before)}
}

// To gives the run of the line from the start to another point, or to the end
// of the line if that lies within reach pixels of it, and whether there is a
// line that leads there. The context ends it.
func (f *Follower) To(ctx context.Context, to Point, reach float64) (Followed, bool) {
	f.lock.Lock()
	defer f.lock.Unlock()
	reach = min(max(reach, leastReach), mostReach)
	if !to.finite() || !f.from.finite() || !f.p.Holds(to) || !f.p.Holds(f.from) || f.from.distance(to) < leastFollowed+reach {
		return Followed{}, false
	}
	k, ok := f.lineFor(to, reach)
	if !ok {
		return Followed{}, false
	}
	if k.half >= thickestHere && len(f.p.levels) > 1 {
		found, ok := f.onSmaller(ctx, to, reach)
		if !ok {
			return found, false
		}
		if fine, ok := f.refined(found, k.stroke, to, reach); ok {
			return fine, true
		}
		return found, true
	}
	r, ok := f.runBy(ctx, k, to, reach)
	if !ok {
		return Followed{}, false
	}
	// the line was identified by its first or last part; if the whole differs from
	// that, it is followed once more
	if s, ok := f.p.measured(r); ok && unlike(k.stroke, s.stroke) {
		if again, ok := f.runBy(ctx, s, to, reach); ok {
			r = again
		}
	}
	if !r.seen() {
		return Followed{}, false
	}
	out := f.ended(r, to, reach)
	return out, out.End.distance(to) <= 1.5*reach // otherwise it does not lead to where it should
}

// onSmaller follows the line on a copy of the picture half as wide and high: there a
// thick line is found as reliably, and bends as gently, as a thin one does here.
func (f *Follower) onSmaller(ctx context.Context, to Point, reach float64) (Followed, bool) {
	if f.smaller == nil {
		half := &Picture{Name: f.p.Name, levels: f.p.levels[1:]}
		f.smaller = &Follower{p: half, from: f.from.times(0.5), ahead: f.ahead.times(0.5)}
		if len(f.lines) == 1 && f.lines[0].at.minus(f.from) == f.ahead {
			f.smaller.ahead = Point{} // look found it, which the smaller one does for itself
		}
	}
	out, ok := f.smaller.To(ctx, to.times(0.5), reach/2)
	for i := range out.Run {
		out.Run[i] = out.Run[i].times(2)
	}
	out.End = out.End.times(2)
	return out, ok
}

// refined draws what was found on the smaller copy onto the middle of the line here, where
// lines that run together can be separated for longer; it does not do so where the line is
// not visible here, or leads away from what was found.
func (f *Follower) refined(found Followed, k stroke, to Point, reach float64) (Followed, bool) {
	if len(found.Run) < 4 {
		return found, false
	}
	r := f.p.middled(found.Run, k, true)
	if !r.seen() {
		return found, false
	}
	out := f.ended(r, to, reach)
	return out, out.End.distance(found.End) <= 2*(k.half+2)
}

// unlike reports whether two strokes differ by more than one line does along
// its length.
func unlike(a, b stroke) bool {
	c := max(a.contrast(), b.contrast())
	return math.Abs(a.half-b.half) > unlikeStroke*max(a.half, b.half) || math.Abs((a.paper-a.ink)-(b.paper-b.ink)) > unlikeStroke*c
}

// How far around the start lines are sought, and how far from it the end of a line
// that begins there may be.
const (
	lookReach = 10.0
	startsAt  = 2.0
)

// look finds the lines around the start. If one ends there, it is the one
// meant, not the one on which it ends.
func (f *Follower) look() {
	f.looked = true
	if f.ahead == (Point{}) {
		ends := f.p.endsAbout(f.from, lookReach)
		if len(ends) > 0 && ends[0].how != endBend && ends[0].at.distance(f.from) <= startsAt {
			f.lines, f.ahead = []lineAt{ends[0].line}, ends[0].line.at.minus(f.from)
			return
		}
	}
	f.lines = f.p.linesAbout(f.from, leastReach+2)
}

// lineFor decides which line to look for: the nearest of those around the start,
// or otherwise the one at the destination.
func (f *Follower) lineFor(to Point, reach float64) (lineAt, bool) {
	if !f.looked {
		f.look()
	}
	if len(f.lines) > 0 {
		least := f.lines[0]
		for _, l := range f.lines {
			if l.at.distance(f.from) < least.at.distance(f.from) {
				least = l
			}
		}
		return least, true
	}
	return f.p.clearLine(to, reach)
}

// runBy follows a line of one stroke.
func (f *Follower) runBy(ctx context.Context, k lineAt, to Point, reach float64) (middleRun, bool) {
	s := f.searchFor(k, to)
	way, ok := s.way(ctx, f.from, to, f.ahead, reach)
	if !ok || len(way) < 2 {
		return middleRun{}, false
	}
	way[0] = f.from
	return f.p.middled(way, k.stroke, true), true
}

// searchFor gives a search for a stroke over a part of the picture that holds the
// path: the existing one if that does.
func (f *Follower) searchFor(k lineAt, to Point) *laneSearch {
	more := aboutWay + aboutShare*f.from.distance(to)
	low := Point{min(f.from.X, to.X) - more, min(f.from.Y, to.Y) - more}
	high := Point{max(f.from.X, to.X) + more, max(f.from.Y, to.Y) + more}
	if f.search != nil && f.like == k && f.low.X <= low.X && f.low.Y <= low.Y && f.high.X >= high.X && f.high.Y >= high.Y {
		return f.search
	}
	// room for where the pointer may go next
	f.low, f.high = low.minus(Point{more, more}.times(0.5)), high.plus(Point{more, more}.times(0.5))
	f.like, f.search = k, newLaneSearch(f.p.newPlane(f.low, f.high), k)
	return f.search
}

// ended ends a run at the end of its line, if that is meant, or otherwise at
// its point nearest to the destination.
func (f *Follower) ended(r middleRun, to Point, reach float64) Followed {
	unseen := float64(len(r.places)-len(r.sure().places)) * runSpacing
	out := Followed{Unsure: unseen > max(guessedWidths*2*r.half, leastGuessed)}
	if run, how := f.p.endBeyond(r, reach); how != goesOn && run[len(run)-1].distance(to) <= reach {
		out.Run, out.End, out.Ends, out.Bend = run, run[len(run)-1], how != endBend, how == endBend
		out.Unsure = out.Unsure || r.strays(run)
		return out
	}
	out.Run = r.smoothEnd().upTo(to)
	if r.strays(out.Run) {
		out.Run, out.Unsure = r.upTo(to), true
	}
	out.End = out.Run[len(out.Run)-1]
	return out
}

// strays reports whether another run, which continues as this one did before it became
// unclear, leaves the ink along which this one lies.
func (r middleRun) strays(run []Point) bool {
	most := r.half + r.slack()
	for i := len(run) - 1; i > len(run)/2; i -= 2 {
		least := math.Inf(1)
		for _, q := range r.places[len(r.places)/2:] {
			least = min(least, q.distance(run[i]))
		}
		end := r.places[len(r.places)-1]
		if least > most && end.minus(r.places[len(r.places)-2]).dot(run[i].minus(end)) < 0 {
			return true
		}
	}
	return false
}

// upTo gives a run up to its point nearest to another, or slightly beyond.
func (r middleRun) upTo(to Point) []Point {
	n := len(r.places)
	best := n - 1
	for i := n / 2; i < n; i++ {
		if r.places[i].distance(to) < r.places[best].distance(to) {
			best = i
		}
	}
	run := r.places[: best+1 : best+1]
	d := r.ahead(best, 2)
	on := to.minus(r.places[best]).dot(d)
	if on = min(max(on, -runSpacing/2), 2*runSpacing); math.Abs(on) > 0.1 && len(run) > 2 {
		if on < 0 {
			run = run[:len(run)-1]
		}
		run = append(run, r.places[best].plus(d.times(on)))
	}
	return run
}
