package answer

import (
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// told writes a length with its unit: in mm with so many decimals, or with as many
// as it has where that is below 0; in another unit as its reader has it.
func told(u Units, x float64, decimals int) string {
	if u.Name() != millimetres {
		return tongue.Figure(u.Length(x))
	}
	return tongue.Figure(strconv.FormatFloat(x, 'f', decimals, 64)) + " " + millimetres
}

// number is told without the unit.
func number(u Units, x float64, decimals int) string {
	if u.Name() != millimetres {
		return tongue.Figure(u.Number(x))
	}
	return tongue.Figure(strconv.FormatFloat(x, 'f', decimals, 64))
}

const millimetres = "mm"

// cautions are common practice, deferring to makers' sheets and local rules.
var cautions = map[progress.Caution]string{
	progress.MindBlades: tongue.Mark("Cut on a support along a straight edge, lightly and several times, fingers behind the blade, away from yourself; planing and sanding make dust: extract it and wear a mask. Some hardwoods sensitise."),
	progress.MindHeat:   tongue.Mark("Hot water, steam and bending irons burn: gloves or tongs, and keep leads and water apart. Makers' sheets and local rules come first."),
	progress.MindPins:   tongue.Mark("Never pin through the end of a strip: it splits. Keep eyes clear of pins that spring."),
	progress.MindGlue:   tongue.Mark("Air the room, wear gloves, keep flames away from solvents, and read the maker's sheet."),
	progress.MindDrills: tongue.Mark("Drill with the work held fast, and protect your eyes."),
}

// CautionText says what must be minded; "" for nothing.
func CautionText(c progress.Caution) string { return tongue.T(cautions[c]) }

// laying words what is told of a strake to be laid.
type laying struct {
	*progress.Job
	u Units
}

// TaskText says what is to be done in a step, in the strake's own numbers; "" for a
// step of the builder's own.
func TaskText(j *progress.Job, t progress.Task, u Units) string {
	w := laying{j, u}
	switch t.Key {
	case progress.StepTaper:
		return w.taper()
	case progress.StepSoak:
		return w.soak()
	case progress.StepPin:
		return tongue.T("Pin it at %s, %s in all, %d at each; leave the free end %s over-long, so that it does not split.",
			strings.Join(w.names(w.PinnedAt), ", "), tongue.Count(t.Pins, "%d pin", "%d pins", t.Pins), w.PinsEach, told(u, w.Overhang, -1))
	case progress.StepDry:
		if t.Skip {
			return tongue.T("No drying: it goes on dry.")
		}
		return tongue.T("Leave it pinned until it is dry through, then measure its width at %s: a wet strip still shrinks.", w.someFrames())
	case progress.StepNumber:
		return tongue.T("Write %s %s on its inner face, with an arrow towards the bow.%s", w.Strake.ID, said(sideWords, string(w.Side)), w.pieces())
	case progress.StepTakeOff:
		return tongue.T("Draw the pins and take it off; it keeps its bend. Leave the free end over-long until you fit it.")
	case progress.StepBevel:
		return w.bevel()
	case progress.StepFit:
		return tongue.T("Fit it dry against its neighbour over its whole length; it should be %s. Let no light show, and push nothing sideways; trim the free end now.", w.widths())
	case progress.StepGlue:
		return w.glue()
	case progress.StepTreenail:
		if w.Treenails == 0 {
			return tongue.T("No treenails are planned.")
		}
		return tongue.T("Draw the pins when the glue has set, and drive the treenails: %s.", tongue.Count(w.Treenails, "%d treenail", "%d treenails", w.Treenails))
	case progress.StepNext:
		if w.Next == nil {
			return tongue.T("It is the last.")
		}
		return tongue.T("%s %s is next.", w.Next.ID, said(sideWays, string(w.Next.Side)))
	}
	return ""
}

func (w laying) frame(i int) string { return w.Layer.Surface.FrameName(i) }

func (w laying) names(frames []int) []string {
	var out []string
	for _, f := range frames {
		out = append(out, w.frame(f))
	}
	return out
}

func (w laying) pieces() string {
	if w.Pieces < 2 {
		return ""
	}
	return tongue.T(" Lay it in %d pieces: number each, from the first frame on.", w.Pieces)
}

// widths tells how wide it is, bevelled, at every frame: of a strip no wider than
// that takes up.
func (w laying) widths() string {
	var list []string
	for _, f := range w.Frames {
		wide := w.On[f].WidthCut
		if w.Cuts != nil {
			wide = min(wide, w.On[f].Pitch)
		}
		list = append(list, tongue.T("%s at %s", number(w.u, wide, 1), w.frame(f)))
	}
	return tongue.T("%s %s wide", strings.Join(list, ", "), w.u.Name())
}

func (w laying) taper() string {
	if nibs := NibsText(w.Layer, w.Strake, w.u); nibs != "" {
		return w.shaping() + " " + nibs
	}
	return w.shaping()
}

// shaping is taper without the nibs.
func (w laying) shaping() string {
	var text string
	why := VerdictFigure(w.Strake.Making.Verdict, w.frame)
	if w.Strake.Making.Reason == loft.ByChoice {
		why = MakingText(w.Strake.Making, w.frame)
	}
	switch {
	case w.IsMade(hull.Spiled):
		return tongue.T("Cut it and its twin for the other side from sheet %s thick, by the flat sheets, the grain along it (%s): %s.", w.thick(), why, w.widths())
	case w.IsMade(hull.Block):
		return tongue.T("Carve it and its twin for the other side from a block, to the frames and to a thickness of %s (%s): %s.", w.thick(), why, w.widths())
	}
	switch {
	case w.Cuts == nil:
		return tongue.T("No taper: it is not made from a strip.")
	case w.Cuts.Whole():
		text = tongue.T("No taper: leave the %s strip whole.", told(w.u, w.Strake.Strip, -1))
	default:
		clamp, from := w.together()
		text = tongue.T("%s: %s, from %s, before you bevel the edges.", clamp, CutsText(w.Layer, w.Cuts, w.u), from) + straysText(w.Layer, w.Cuts, w.u)
	}
	if w.Gap > 0 {
		text += tongue.T(" It is too narrow by up to %s (frame %s): leave it whole there.", told(w.u, w.Gap, 1), w.frame(w.GapAt))
	}
	return text
}

// thick is the thickness of its layer.
func (w laying) thick() string { return told(w.u, w.Layer.Thickness(), -1) }

// wet lists the spans that are bent wet or hot.
func (w laying) wet() string {
	var out []string
	for _, s := range w.Wet {
		out = append(out, tongue.T("frames %s to %s (%s)", w.frame(s.From), w.frame(s.To), said(howWords, s.How)))
	}
	return strings.Join(out, ", ")
}

func (w laying) soak() string {
	switch {
	case w.IsMade(hull.Block):
		return tongue.T("No soaking: it is carved to its shape.")
	case w.Shapeless:
		return tongue.T("Girths alone do not show how it bends: try an offcut against the frames, and soak it where it does not spring on easily.")
	case len(w.Wet) == 0:
		return tongue.T("Nothing to soak: it %s, %s; dry, this wood is bent up to %s (%s).", VerdictWord(w.Strake.Making.Bend.Kind), w.bend(), percent(w.Wood.Dry), tongue.T(originWords[w.Wood.DryFrom]))
	}
	text := tongue.T("Soak it for %s: %s, over the %s up to which this wood is bent dry (%s).", w.wet(), w.bend(), percent(w.Wood.Dry), tongue.T(originWords[w.Wood.DryFrom]))
	if form := FormText(w.Bend.Form, w.u); form != "" {
		text += tongue.T(" It is bent %s there: take one a little smaller, for wood springs back.", form)
	}
	return text + w.hot()
}

// hot tells of what is bent with heat.
func (w laying) hot() string {
	var text string
	if w.Heated() {
		text = tongue.T(" Where it says heated, bend it hot as well: soaked alone this wood is bent up to %s (%s).", percent(w.Wood.Soaked), tongue.T(originWords[w.Wood.SoakedFrom]))
	}
	if w.Bend.Strain > stretches && w.Heated() {
		text += tongue.T(" Hold a metal strap tight along its outer face: %s.", tongue.T(strapWords))
	}
	if w.Bend.Strain > w.Wood.Hot {
		text += tongue.T(" No strip of this wood takes it, hot or not, over %s (%s): carve it there, or thin it.", percent(w.Wood.Hot), tongue.T(originWords[w.Wood.HotFrom]))
	}
	return text
}

// stretches is the strain to which steamed wood can be stretched before it breaks,
// at the most, a ratio: Peck, Bending Solid Wood to Form, USDA Agriculture
// Handbook 125, from memory.
const stretches = 0.02

// strapWords says why a strap is held along a hot bend.
const strapWords = "steamed wood can be pressed together by a quarter of its length, but stretched by only 1 to 2 % before it breaks (compare Peck, Bending Solid Wood to Form, USDA Agriculture Handbook 125)"

// bend tells the hardest bend.
func (w laying) bend() string {
	if w.Bend.Radius == 0 {
		return tongue.T("it is flat")
	}
	if w.Bend.Guessed() {
		return tongue.T("the least radius, near frame %s, is not known from the frames, but may be about %s: measure it there", w.frame(w.Bend.Near), told(w.u, w.Bend.Radius, 0))
	}
	return tongue.T("the least radius is %s near frame %s, a face strain of %.2f %%", told(w.u, w.Bend.Radius, 0), w.frame(w.Bend.Near), 100*w.Bend.Strain)
}

// someFrames names the ends and the middle.
func (w laying) someFrames() string {
	n := len(w.Frames)
	if n < 3 {
		return tongue.T("its frames")
	}
	return tongue.T("%s, %s and %s", w.frame(w.Frames[0]), w.frame(w.Frames[n/2]), w.frame(w.Frames[n-1]))
}

func (w laying) bevel() string {
	var text string
	switch {
	case len(w.Bevels) > 0:
		text = tongue.T("Plane %s; positive takes wood from the inner corner, negative from the outer.", w.bevels())
		if w.Square {
			text += tongue.T(" All other edges of this layer stay square.")
		}
	case w.Square:
		text = tongue.T("No bevel: this layer's edges stay square.")
	default:
		text = tongue.T("No bevel: the edges stay square.")
	}
	return text + w.hoodsText()
}

// bevels tells, for each edge that is bevelled, how much and where.
func (w laying) bevels() string {
	var parts []string
	for _, b := range w.Bevels {
		limit := w.Limits.Lower
		if b.Upper {
			limit = w.Limits.Upper
		}
		at := w.frame(b.At)
		if b.Limit {
			at += tongue.T(", to the %s", hull.LimitWord(limit))
		}
		if b.Upper {
			parts = append(parts, tongue.T("the upper edge by up to %.1f° off square (frame %s)", b.Most.Degrees(), at))
		} else {
			parts = append(parts, tongue.T("the lower edge by up to %.1f° off square (frame %s)", b.Most.Degrees(), at))
		}
	}
	return both(parts)
}

func (w laying) glue() string {
	text := tongue.T("Glue it to the frames only, %s from %s to %s, and pin it at each: %s.",
		tongue.Count(len(w.Frames), "%d frame", "%d frames", len(w.Frames)), w.frame(w.Frames[0]), w.frame(w.Frames[len(w.Frames)-1]),
		tongue.Count(w.Pins, "%d pin", "%d pins", w.Pins))
	if n := w.Pieces - 1; n > 0 {
		text += tongue.Count(n, " Hold both ends of its %d butt.", " Hold both ends of its %d butts.", n)
	}
	for i := range w.Layer.Wedges {
		if g := &w.Layer.Wedges[i]; g.Below == w.Strake.ID {
			text += " " + WedgeText(w.Layer, g, w.u)
		}
	}
	return text
}

// NextText tells in one sentence what is laid next: the piece, its taper, its
// bevels and its bend.
func NextText(j *progress.Job, u Units) string {
	w := laying{j, u}
	side := said(sideWays, string(w.Side))
	what := tongue.T("strake %s %s", w.Strake.ID, side)
	if w.Strake.Garboard {
		what = tongue.T("the garboard, %s, %s", w.Strake.ID, side)
	}
	strip := told(u, w.Strake.Strip, -1)
	text := tongue.T("Next is %s, from a strip of %s", what, strip)
	switch {
	case w.IsMade(hull.Block):
		text = tongue.T("Next is %s, carved from a block", what)
	case w.IsMade(hull.Spiled) && w.Pieces > 1:
		text = tongue.T("Next is %s, cut from sheet in %d pieces", what, w.Pieces)
	case w.IsMade(hull.Spiled):
		text = tongue.T("Next is %s, cut from sheet", what)
	case w.Pieces > 1:
		text = tongue.T("Next is %s, in %d pieces from strips of %s", what, w.Pieces, strip)
	}
	return text + ": " + strings.Join([]string{w.taperClause(), w.bevelClause(), w.bendClause()}, "; ") + "."
}

func (w laying) taperClause() string {
	switch {
	case w.Cuts == nil:
		at := func(f int) string { return told(w.u, w.On[f].WidthCut, 1) }
		first, last, least := w.Frames[0], w.Frames[len(w.Frames)-1], w.Narrowest()
		return tongue.T("its width is %s at %s and %s at %s, %s at its narrowest (%s)", at(first), w.frame(first), at(last), w.frame(last), at(least), w.frame(least))
	case w.Cuts.Whole():
		return tongue.T("leave it whole")
	}
	return tongue.T("plane it: %s", CutsText(w.Layer, w.Cuts, w.u))
}

func (w laying) bevelClause() string {
	if len(w.Bevels) == 0 {
		return tongue.T("its edges stay square")
	}
	return tongue.T("bevel %s", w.bevels())
}

func (w laying) bendClause() string {
	switch {
	case w.Shapeless:
		return tongue.T("girths alone do not show how it bends")
	case w.IsMade(hull.Block):
		return tongue.T("it is not bent")
	case len(w.Wet) > 0:
		return tongue.T("bend it at %s%s: %s", w.wet(), comma(FormText(w.Bend.Form, w.u)), w.bend())
	case w.Bend.Radius == 0:
		return tongue.T("it needs no bend")
	}
	return tongue.T("it %s: %s", VerdictWord(w.Strake.Making.Bend.Kind), w.bend())
}
