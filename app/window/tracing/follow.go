package tracing

import (
	"context"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// follows is the line that leads from the last click to the pointer.
type follows struct {
	key   followKey
	by    *trace.Follower
	work  kit.Latest
	to    trace.Point // the place of the pointer that found was found for
	reach float64
	found trace.Followed
	leads bool // a line leads there
	known bool // it was looked for
}

// followKey is what a follower was made for.
type followKey struct {
	picture      *trace.Picture
	from, before trace.Point
}

// drop ends the search, and shows nothing.
func (f *follows) drop() {
	f.work.End()
	f.leads, f.known = false, false
}

// canFollow tells whether the next click follows a line from the last one.
func (tr *tracer) canFollow() bool {
	_, _, ok := tr.t.Last()
	return ok && tr.follow && tr.snap && tr.tool == traceClicks && !tr.begins()
}

// follower is that from the last click.
func (tr *tracer) follower() *trace.Follower {
	last, before, _ := tr.t.Last()
	if last.Knuckle {
		before = last // from a corner the line leads anywhere
	}
	g, _ := tr.ground()
	if key := (followKey{g.Picture, last.At, before.At}); tr.trail.by == nil || tr.trail.key != key {
		tr.trail.key, tr.trail.by = key, g.Picture.Follow(last.At, before.At)
	}
	return tr.trail.by
}

// followed is the line from the last click to a place: that which is shown, where
// it was found for this place.
func (tr *tracer) followed(to trace.Point) (trace.Followed, bool) {
	by, reach := tr.follower(), tr.reach(to)
	if w := &tr.trail; w.known && w.to == to && w.reach == reach {
		return w.found, w.leads
	}
	tr.trail.work.End()
	return by.To(tr.Life, to, reach)
}

// lead looks for the line that leads to where the pointer is, off the main
// goroutine. What was found before is shown until then.
func (tr *tracer) lead(to trace.Point) {
	if !tr.canFollow() || tr.board.Shift {
		tr.trail.drop()
		return
	}
	by, reach := tr.follower(), tr.reach(to)
	tr.trail.work.Start(tr.Background, func(ctx context.Context) func() {
		found, ok := by.To(ctx, to, reach)
		return func() {
			w := &tr.trail
			w.to, w.reach, w.found, w.leads, w.known = to, reach, found, ok, true
			tr.board.Changed()
		}
	})
}

// drawFollowed shows the line that a click would follow, and whether the frame
// would end there.
func (b *traceBoard) drawFollowed() {
	f := &b.tr.trail
	if !f.leads || !b.snaps() || b.Shift {
		return
	}
	var pts []draw.Point
	for _, p := range f.found.Run {
		pts = append(pts, b.On(p))
	}
	b.haloed(draw.GapInk, 1.6, nil, pts...)
	end := b.On(f.found.End)
	if f.found.Ends {
		b.d.Mark(end, draw.Cross, 13, draw.GapInk)
		b.label(draw.Pt(end.X, end.Y-12), tongue.T("ends here"), draw.GapInk)
		return
	}
	b.d.Mark(end, draw.Square, 7, draw.GapInk)
}
