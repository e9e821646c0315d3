package welcome

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// The demo's band line is forced for the task as follows: through handles held where
// its strip lies by itself, but for one, which stands too high.
const (
	forcedLayer, forcedLine = 0, 0
	forcedFrame             = "I"
	forcedBy                = 14.0 // mm towards the upper limit
)

// forcedHeld are the frames at which the line is held besides: its hold and aim
// handles, and enough others that it runs where the strip lies once the forced handle
// does.
var forcedHeld = []string{"stem", "F", "L", "R", "T", "stern"}

// reach is how near to where the strip lies the forced handle is let go of to stay
// there, mm: on a screen of 1366 pixels the demo has some two pixels a millimetre, and
// the newcomer is to see the line drop into its place.
const reach = 2.0

// task is the freeing of the demo's line.
type task struct {
	desk  *desk.Desk
	of    *app.Session // the demo it is about
	frame int          // of the forced handle
	free  float64      // mm, where that would lie by itself
}

// newTask forces the line of the demo at hand, as one step, and chooses the handle
// that is to be dragged.
func newTask(d *desk.Desk) (*task, error) {
	t := &task{desk: d, of: d.Session, frame: d.Plan().Hull.FrameNamed(forcedFrame)}
	lie, err := lieOf(d.Planking())
	if err != nil {
		return nil, err
	}
	t.free = lie[t.frame].Natural
	if err := d.Session.Edit(tongue.T("force line 1 upwards at frame %s", forcedFrame), force(lie, t.frame)); err != nil {
		return nil, err
	}
	d.Choose(d.Choice.WithLine(forcedLine).WithFrame(t.frame))
	return t, nil
}

// lieOf is where the strip of the line lies by itself at every frame.
func lieOf(k *loft.Planking) ([]loft.NaturalAt, error) {
	b := k.Layers[forcedLayer].StripBeside(forcedLine + 1)
	if k.Plan.Hull.FrameNamed(forcedFrame) < 0 || b == nil || b.Lie.Untold != loft.Told {
		return nil, tongue.New("this plan has no line for the task: open the demo plan")
	}
	return b.Lie.Frames, nil
}

// force is the change that has the line run as easily as it can through handles where
// its strip lies, and one that does not.
func force(lie []loft.NaturalAt, frame int) func(*hull.Plan) error {
	return func(p *hull.Plan) error {
		b := &p.Layers[forcedLayer].Lines[forcedLine]
		b.LineType, b.Follows = hull.Least, hull.StripItself
		for f := range b.Handles {
			if at := lie[f].Natural; !math.IsNaN(at) {
				b.Handles[f].Down = at
			}
			b.Handles[f].Held = f == frame || slices.Contains(forcedHeld, p.Hull.Frames[f].Name)
		}
		b.Handles[frame].Down = lie[frame].Natural - forcedBy
		return nil
	}
}

// pull takes a handle that is dragged to where the strip lies, once it is near.
func (t *task) pull(line, frame int, down float64) float64 {
	if t.there() && line == forcedLine && frame == t.frame && math.Abs(down-t.free) <= reach {
		return t.free
	}
	return down
}

// there tells whether the demo that the task is about, and its line, are at hand.
func (t *task) there() bool {
	d := t.desk
	return d.Session == t.of && d.Choice.Layer == forcedLayer && d.Choice.Line == forcedLine && d.Line() != nil
}

// verdict says how the strip lies to the line, and whether it lies there by itself;
// "" while it is not known.
func (t *task) verdict() (says string, lies bool) {
	d := t.desk
	if !t.there() {
		return "", false
	}
	b := d.Strip()
	if b == nil {
		return "", false
	}
	return answer.StripVerdict(b, d.FrameName, d.Units), b.OnLine()
}
