package trace

import (
	"context"
	"math"
	"sync"
)

// How lines are followed. Lengths in pixels.
const (
	leastFollowed = 6.0  // so far apart two places must be
	aboutWay      = 60.0 // so far about the two places the picture is looked at,
	aboutShare    = 0.35 // and so much of their distance more
	thickestHere  = 2.0  // half the width of a line from which on it is followed on a smaller copy
	unlikeStroke  = 0.35 // by how much a line may differ from what it was taken for
)

// Followed is the run of a line between two places of a picture, in pixels.
type Followed struct {
	Run  []Point // from the first to the last, close together, on the middle of the line
	End  Point   // the last of it
	Ends bool    // the line ends there
	Bend bool    // there is a corner there
}

// Follower follows the lines that lead from a place of a picture. It can be used
// by several goroutines, one after another.
type Follower struct {
	p     *Picture
	from  Point
	ahead Point // roughly; zero where any way will do

	lock      sync.Mutex
	lines     []lineAt // about the place; found once
	looked    bool
	low, high Point // what the search holds
	like      lineAt
	smaller   *Follower // on a copy half as wide and high
	search    *laneSearch
}

// Follow begins to follow lines from a place. Where before is not the place
// itself, the way leads on from there and does not turn back.
func (p *Picture) Follow(from, before Point) *Follower {
	return &Follower{p: p, from: from, ahead: from.minus(before)}
}

// To gives the run of the line from the place to another one, or to the end of
// the line where that lies within reach pixels of it, and whether there is a
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
		return f.onSmaller(ctx, to, reach)
	}
	r, ok := f.runBy(ctx, k, to, reach)
	if !ok {
		return Followed{}, false
	}
	// it was taken for a line as the first or the last part of it looks; where
	// the whole is another, it is followed once more
	if s, ok := f.p.measured(r); ok && unlike(k.stroke, s.stroke) {
		if again, ok := f.runBy(ctx, s, to, reach); ok {
			r = again
		}
	}
	if !r.seen() {
		return Followed{}, false
	}
	out := f.ended(r, to, reach)
	return out, out.End.distance(to) <= 1.5*reach // else where it leads to is not what is meant
}

// onSmaller follows the line on a copy of the picture half as wide and high: a thick
// line lies there as surely, and bends as gently as a thin one does here.
func (f *Follower) onSmaller(ctx context.Context, to Point, reach float64) (Followed, bool) {
	if f.smaller == nil {
		half := &Picture{Name: f.p.Name, levels: f.p.levels[1:]}
		f.smaller = &Follower{p: half, from: f.from.times(0.5), ahead: f.ahead.times(0.5)}
		if len(f.lines) == 1 && f.lines[0].at.minus(f.from) == f.ahead {
			f.smaller.ahead = Point{} // it was found by look, which the smaller one does for itself
		}
	}
	out, ok := f.smaller.To(ctx, to.times(0.5), reach/2)
	for i := range out.Run {
		out.Run[i] = out.Run[i].times(2)
	}
	out.End = out.End.times(2)
	return out, ok
}

// unlike tells whether two strokes differ more than one line does along itself.
func unlike(a, b stroke) bool {
	c := max(a.contrast(), b.contrast())
	return math.Abs(a.half-b.half) > unlikeStroke*max(a.half, b.half) || math.Abs((a.paper-a.ink)-(b.paper-b.ink)) > unlikeStroke*c
}

// How far about the place lines are looked for, and how far off it the end of a line
// may be that begins there.
const (
	lookReach = 10.0
	startsAt  = 2.0
)

// look finds the lines about the place. Where one ends there, it is the one
// meant, and not that on which it ends.
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

// lineFor tells what line to look for: the nearest of those about where it begins,
// or else that at the place gone to.
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
// way: the one at hand where that does.
func (f *Follower) searchFor(k lineAt, to Point) *laneSearch {
	more := aboutWay + aboutShare*f.from.distance(to)
	low := Point{min(f.from.X, to.X) - more, min(f.from.Y, to.Y) - more}
	high := Point{max(f.from.X, to.X) + more, max(f.from.Y, to.Y) + more}
	if f.search != nil && f.like == k && f.low.X <= low.X && f.low.Y <= low.Y && f.high.X >= high.X && f.high.Y >= high.Y {
		return f.search
	}
	// room for where the pointer goes next
	f.low, f.high = low.minus(Point{more, more}.times(0.5)), high.plus(Point{more, more}.times(0.5))
	f.like, f.search = k, newLaneSearch(f.p.newPlane(f.low, f.high), k)
	return f.search
}

// ended ends a run at the end of its line, where that is meant, or else at the
// place of it nearest to where it is to go.
func (f *Follower) ended(r middleRun, to Point, reach float64) Followed {
	if run, how := f.p.endBeyond(r, reach); how != goesOn && run[len(run)-1].distance(to) <= reach {
		return Followed{Run: run, End: run[len(run)-1], Ends: how != endBend, Bend: how == endBend}
	}
	run := r.smoothEnd().upTo(to)
	return Followed{Run: run, End: run[len(run)-1]}
}

// upTo gives a run up to the place of it nearest to another, or a little on.
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
