package answer

import (
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/progress"
)

// DoubtText says why a measurement can hardly be right.
func DoubtText(q progress.Query, u Units) string {
	switch q.Doubt {
	case progress.NotPlanked:
		return tongue.T("frame %s is not planked", q.Frame)
	case progress.Negative:
		return tongue.T("%s is below zero", told(u, q.MM, 1))
	case progress.OverBand:
		return tongue.T("%s is more than the whole band, %s at frame %s", told(u, q.MM, 1), told(u, q.Other, 1), q.Frame)
	case progress.OffPlan:
		return tongue.T("%s at frame %s is %s off the plan", told(u, q.MM, 1), q.Frame, told(u, q.Other, 1))
	case progress.OffDrawn:
		if q.Other < 0 {
			return tongue.T("%s of girth at bare frame %s is %s less than the drawing gives", told(u, q.MM, 1), q.Frame, told(u, -q.Other, 1))
		}
		return tongue.T("%s of girth at bare frame %s is %s more than the drawing gives", told(u, q.MM, 1), q.Frame, told(u, q.Other, 1))
	}
	return tongue.T("%s at frame %s is %s off the run of its neighbours", told(u, q.MM, 1), q.Frame, told(u, q.Other, 1))
}

// QueryText says of a measurement, by what it is called, that it is questioned, and
// whether it is believed all the same; why is its DoubtText.
func QueryText(entry, why string, kept bool) string {
	if kept {
		return tongue.T("%s is doubtful, but kept: %s; measure again, and strike it out if it is wrong", entry, why)
	}
	return tongue.T("%s is doubtful, and left out: %s; measure again", entry, why)
}

// choosing words an option.
type choosing struct {
	*progress.Option
	u Units
}

// OptionText says what is done in an option, as a builder says it.
func OptionText(o *progress.Option, u Units) string {
	c := choosing{o, u}
	switch o.Remedy {
	case hull.Shave:
		return tongue.T("Shave: share what is left equally among the remaining strakes")
	case hull.Tighter:
		if o.Square {
			return tongue.T("Bevel: plane the layer's square edges until they close")
		}
		return tongue.T("Bevel tighter: plane the edges of the remaining strakes until they close")
	case hull.Wider:
		return tongue.T("Wider strips: %s", c.relaid())
	case hull.Narrow:
		return tongue.T("Narrower strips: %s", c.relaid())
	case hull.More:
		return tongue.T("One strake more: add %s on both sides", o.Strake)
	case hull.Fewer:
		return tongue.T("One strake less: leave out %s on both sides", o.Strake)
	case hull.Wedged:
		return tongue.T("Wedge: leave the strips whole there and fill the gap")
	case hull.Hidden:
		return tongue.T("Hide it under the %s: %s takes up the whole difference, the others stay as planned", c.upper(), o.Strake)
	case hull.Learned:
		return tongue.T("Plan with what was learned: %s of build-up per strip", told(u, o.Creep, 2))
	}
	return string(o.Remedy)
}

// OptionOutcome says what follows from an option, in numbers.
func OptionOutcome(o *progress.Option, u Units) string {
	c, t := choosing{o, u}, o.After
	switch o.Remedy {
	case hull.Shave:
		return tongue.T("Each changes by at most %s against the plan; %s.", told(u, t.Change, 2), c.outcome())
	case hull.Tighter:
		return tongue.T("Without the %s that each builds up, the %d to go take %s less in all; %s.",
			told(u, o.Creeps, 2), t.Strakes, told(u, o.Creeps*float64(t.Strakes), 1), c.outcome())
	case hull.Wider, hull.Narrow:
		return tongue.T("The most that comes off a strip is %s in place of %s, the widest gap %s in place of %s; %s.",
			told(u, t.Shave, 1), number(u, o.Before.Shave, 1), told(u, t.Gap, 1), number(u, o.Before.Gap, 1), c.outcome())
	case hull.More, hull.Fewer:
		return c.recounted()
	case hull.Wedged:
		return c.wedged()
	case hull.Hidden:
		return tongue.T("%s changes by up to %s, where the %s covers it; %s.", o.Strake, told(u, t.Change, 1), c.upper(), c.outcome())
	case hull.Learned:
		return tongue.T("The whole layer is planned with %s a strip in place of %s, on both sides: %s over the %d strakes of this band; %s.",
			told(u, o.Creep, 2), number(u, o.Was, 2), told(u, (o.Creep-o.Was)*float64(o.Strakes), 1), o.Strakes, c.outcome())
	}
	return c.outcome() + "."
}

func (c choosing) frame(i int) string { return c.Of().Hull.Frames[i].Name }

func (c choosing) upper() string { return hull.LimitWord(c.Of().Hull.Limits.Upper) }

// relaid lists the strakes with other strips, or counts them where all are alike.
func (c choosing) relaid() string {
	var ids []string
	alike := true
	for _, r := range c.Relaid {
		ids = append(ids, tongue.T("%s of %s", r.ID, told(c.u, r.Width, -1)))
		alike = alike && r.Width == c.Relaid[0].Width
	}
	if alike && len(ids) > 2 {
		return tongue.T("%d of the strakes to go of %s", len(ids), told(c.u, c.Relaid[0].Width, -1))
	}
	return strings.Join(ids, ", ")
}

// outcome tells widths, gaps and strips as they come out.
func (c choosing) outcome() string {
	u, t := c.u, c.After
	var parts []string
	switch {
	case t.Gap <= t.Rules.Fit*float64(t.Strakes):
		parts = append(parts, tongue.T("no gaps"))
	case t.GapAll > t.Rules.Fit*float64(t.Strakes):
		parts = append(parts, tongue.T("gaps all along, %s to %s in all (most at frame %s)", number(u, t.GapAll, 1), told(u, t.Gap, 1), c.frame(t.GapAt)))
	default:
		parts = append(parts, tongue.T("gaps of %s in all at frame %s", told(u, t.Gap, 1), c.frame(t.GapAt)))
	}
	if t.Shave > t.Rules.Fit {
		parts = append(parts, tongue.T("at most %s comes off a strip (%s at frame %s)", told(u, t.Shave, 1), t.ShaveID, c.frame(t.ShaveAt)))
	}
	narrow := tongue.T("the narrowest place is %s (%s at frame %s)", told(u, t.Narrowest, 1), t.NarrowestID, c.frame(t.NarrowestAt))
	if t.Least < t.Rules.LeastWidth {
		narrow += tongue.T(", under %s", shareOfStrip(t.Rules.LeastWidth))
	}
	parts = append(parts, narrow)
	if t.Most > t.Rules.MostWidth {
		parts = append(parts, tongue.T("the widest needs %.1f times its strip", t.Most))
	}
	parts = append(parts, tongue.T("%d strakes to go from %s", t.Strakes, strips(t.Strips)))
	return strings.Join(parts, "; ")
}

// shareOfStrip names a share of a strip's width.
func shareOfStrip(share float64) string {
	if share == 0.5 {
		return tongue.T("half its strip")
	}
	return tongue.T("%s %% of its strip", decimals(100*share, -1))
}

// recounted tells of one strake more or less.
func (c choosing) recounted() string {
	t, before := c.After, c.Before
	text := tongue.T("The narrowest place is %s in place of %s, the widest gap %s in place of %s; %s",
		told(c.u, t.Narrowest, 1), number(c.u, before.Narrowest, 1), told(c.u, t.Gap, 1), number(c.u, before.Gap, 1), c.outcome())
	if c.Renumbered {
		if c.Remedy == hull.More {
			text += tongue.T("; the number of every strake below goes 1 higher: re-mark those already numbered")
		} else {
			text += tongue.T("; the number of every strake below goes 1 lower: re-mark those already numbered")
		}
	}
	return text + "."
}

// wedged tells the wedges.
func (c choosing) wedged() string {
	var list []string
	for _, w := range c.After.Wedges {
		wide, long := told(c.u, w.Width, 1), told(c.u, w.Length, 0)
		if w.Stealer {
			list = append(list, tongue.T("a stealer below %s, %s wide at frame %s and %s long from where it opens towards frame %s", w.Below, wide, c.frame(w.To), long, c.frame(w.From)))
		} else {
			list = append(list, tongue.T("a wedge below %s, %s wide at frame %s and %s long from where it opens towards frame %s", w.Below, wide, c.frame(w.To), long, c.frame(w.From)))
		}
	}
	return tongue.T("It takes %s; %s.", strings.Join(list, tongue.T(", and ")), c.outcome())
}
