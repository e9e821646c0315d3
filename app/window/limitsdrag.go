package window

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// wholeFrames are the frames beyond the limits too, made once for as long as the
// hull keeps its frames.
type wholeFrames struct {
	of     []hull.Frame
	lines  *loft.Outlines
	curves views.Curves
}

// wholeLines gives the whole frames of the hull.
func (d *desk) wholeLines() *loft.Outlines {
	frames := d.plan().Hull.Frames
	if w := &d.whole; w.lines == nil || len(w.of) != len(frames) || &w.of[0] != &frames[0] {
		o, err := loft.OutlinesOf(&d.plan().Hull)
		if err != nil {
			panic(err) // a hull that is planked has outlines
		}
		d.whole = wholeFrames{frames, o, views.WholeCurves(o, len(frames))}
	}
	return d.whole.lines
}

// wholeCurves gives the whole frames to be drawn beyond the limits; nil where
// there is nothing beyond.
func (d *desk) wholeCurves() views.Curves {
	if d.plan().Hull.Limits.Whole() {
		return nil
	}
	d.wholeLines()
	return d.whole.curves
}

// limitName names a limit as the plan does.
func (d *desk) limitName(l views.Limit) string {
	if l == views.LowerLimit {
		return limitCalled(d.plan().Hull.Limits.Lower, "lower limit")
	}
	return d.upperName()
}

// wholeGirth is the girth of a frame from end to end, mm.
func (d *desk) wholeGirth(f int) float64 {
	if d.shapeless() {
		return d.plan().Hull.Girths[f].Girth
	}
	return d.wholeLines().Girth(f)
}

// setInAt gives how far both limits are set in at a frame, mm.
func (d *desk) setInAt(f int) (down, up float64) {
	downs, ups := loft.Insets(&d.plan().Hull)
	return downs[f], ups[f]
}

// withinFrame keeps an inset on its frame, clear of the other limit.
func (d *desk) withinFrame(l views.Limit, f int, mm float64) float64 {
	down, up := d.setInAt(f)
	other := up
	if l == views.LowerLimit {
		other = down
	}
	return max(0, min(mm, loft.RoomFor(d.wholeGirth(f), other)))
}

// aimLimit turns the pointer's place into one on the whole frame.
func (d *desk) aimLimit(p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) {
	g := d.grip
	nearest := func(p draw.Point) float64 {
		return d.wholeLines().Nearest(g.frame, func(q mgl64.Vec3) (x, y float64) {
			at := place(g.frame, q)
			return at.X, at.Y
		}, p.X, p.Y)
	}
	if math.IsNaN(g.slip) {
		// An outer layer's limit is drawn off the frame, and the frame may be seen
		// end on: what counts is how far the pointer goes from where it took hold.
		g.slip = d.limitPlace(g.limit, g.frame) - nearest(g.from)
	}
	d.moveLimit(nearest(p) + g.slip)
}

// limitPlace gives where a limit lies on a frame, mm of girth from its first point.
func (d *desk) limitPlace(l views.Limit, f int) float64 {
	down, up := d.setInAt(f)
	if l == views.LowerLimit {
		return d.wholeGirth(f) - up
	}
	return down
}

// moveLimit takes the limit held to a girth below the first point of its frame.
func (d *desk) moveLimit(at float64) {
	g := d.grip
	if g == nil {
		return
	}
	d.tryTo(g, d.withinFrame(g.limit, g.frame, d.setIn(g.limit, g.frame, at)))
}

// setIn gives how far a limit is set in that lies so much girth below the first
// point of a frame.
func (d *desk) setIn(l views.Limit, f int, at float64) float64 {
	if l == views.LowerLimit {
		return d.wholeGirth(f) - at
	}
	return at
}

// limitText tells where a limit lies on a frame, and what is left of its girth.
func (d *desk) limitText(l views.Limit, f int) string {
	in, end := d.setIn(l, f, d.limitPlace(l, f)), "below the upper end of the frame"
	if l == views.LowerLimit {
		end = "above the lower end of the frame"
	}
	return fmt.Sprintf("%s at frame %s: %s %s; girth between the limits %s", sentenceStart(d.limitName(l)), d.frameName(f),
		d.units.Length(in), end, d.units.Length(d.layer().Girths[f]))
}

// nudgeLimit moves the chosen limit at the chosen frame by mm, downwards positive.
func (d *desk) nudgeLimit(mm float64) {
	l, f := d.choice.Limit, d.choice.Frame
	if first, last := d.layer().Surface.Planked(); f < first || f > last {
		d.status(fmt.Sprintf("Frame %s is not planked.", d.frameName(f)))
		return
	}
	in := d.withinFrame(l, f, d.setIn(l, f, d.limitPlace(l, f)+mm))
	if d.edit(fmt.Sprintf("nudge the %s at frame %s", d.limitName(l), d.frameName(f)), moveLimit(l, d.frameName(f), in)) {
		d.status(d.limitText(l, f))
	}
}

// limitList is the list of a limit's insets.
func limitList(h *hull.Hull, l views.Limit) *[]hull.Inset {
	if l == views.LowerLimit {
		return &h.Limits.Up
	}
	return &h.Limits.Down
}

// moveLimit gives the change that sets a limit in at a frame by mm.
func moveLimit(l views.Limit, frame string, mm float64) change {
	return func(p *hull.Plan) error {
		list := limitList(&p.Hull, l)
		*list = withInset(*list, frame, mm, frameNames(&p.Hull))
		return nil
	}
}

// releaseLimit gives the change that lets a limit run past a frame as its other
// insets have it.
func releaseLimit(l views.Limit, frame string) change {
	return func(p *hull.Plan) error {
		list := limitList(&p.Hull, l)
		*list = withoutInset(*list, frame)
		return nil
	}
}

func frameNames(h *hull.Hull) []string {
	var out []string
	for i := range h.Frames {
		out = append(out, h.Frames[i].Name)
	}
	return out
}

// limitMenu is what can be done with the chosen limit.
func (d *desk) limitMenu() *fyne.Menu {
	l, f := d.choice.Limit, d.choice.Frame
	m := fyne.NewMenu("")
	if f >= 0 {
		name := d.frameName(f)
		release := fyne.NewMenuItem(fmt.Sprintf("Release the %s at frame %s", d.limitName(l), name), func() {
			d.edit(fmt.Sprintf("release the %s at frame %s", d.limitName(l), name), releaseLimit(l, name))
		})
		release.Disabled = !slices.ContainsFunc(*limitList(&d.plan().Hull, l), func(in hull.Inset) bool { return in.Frame == name })
		m.Items = append(m.Items, release)
	}
	m.Items = append(m.Items, fyne.NewMenuItem("Limits…", func() { d.setLimits() }))
	return m
}
