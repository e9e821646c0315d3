package answer

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/loft"
)

// notes gives what the builder should know, layer by layer.
func notes(k *loft.Planking) []string {
	out := []string{}
	for _, l := range k.Layers {
		for _, n := range LayerNotes(l, MM{}) {
			if len(k.Layers) > 1 {
				n = tongue.T("layer %d: %s", l.Number, n)
			}
			out = append(out, n)
		}
	}
	return out
}

// notes writes them under a heading.
func (p *page) notes(sentences []string) { p.list(tongue.T("Notes"), sentences) }

// LayerNotes words what the builder should know of a layer, a sentence each.
func LayerNotes(l *loft.Layer, u Units) []string {
	var out []string
	for _, n := range l.Notes {
		out = append(out, NoteText(l, n, u))
	}
	return out
}

// tooNarrow says where strakes are under the least that the rules allow of a strip, and
// what can be done.
func tooNarrow(l *loft.Layer, n loft.TooNarrow, u Units) string {
	under := tongue.T("half a strip")
	if l.Rules.LeastWidth != 0.5 {
		under = tongue.T("%s %% of a strip", decimals(100*l.Rules.LeastWidth, -1))
	}
	at := tongue.T("%s wide at frame %s, %s %% of its strip", told(u, n.Width, 1), l.Surface.FrameName(n.Frame), decimals(100*n.Share, 1))
	text := tongue.T("Strake %s is narrower than %s: %s.", n.Strake, under, at)
	if n.Strakes > 1 {
		text = tongue.T("%d strakes of band %d are narrower than %s: strake %s is the narrowest, %s.", n.Strakes, n.Band, under, n.Strake, at)
	}
	return tongue.T("%s Common practice keeps them wider: end a strake in its neighbour there, give the band fewer strakes, or take a narrower strip.", text)
}

// NoteText words one note.
func NoteText(l *loft.Layer, note loft.Note, u Units) string {
	name := l.Surface.FrameName
	switch n := note.(type) {
	case loft.RunsOut:
		return runsOut(l, n, u)
	case loft.FollowsBatten:
		return followsBatten(l, n)
	case loft.StripSlides:
		return stripSlides(l, n, u)
	case loft.Surplus:
		return tongue.T("Band %d asks for %d strakes, but has room for only %d of at least half a strip: %d are laid.", n.Band, n.Given, n.Laid, n.Laid)
	case loft.TooWide:
		return tongue.T("Band %d needs strakes of %s at frame %s, more than one and a half times the stock: give it more strakes or wider strips.", n.Band, told(u, n.Width, 1), name(n.Frame))
	case loft.TooNarrow:
		return tooNarrow(l, n, u)
	case loft.GapesAllAlong:
		return tongue.T("Band %d has a gap at every frame, of %s at least: allow %s of build-up per strip, or give it another strake.", n.Band, told(u, n.Least, 1), told(u, n.Creep, 2))
	case loft.CreepsApart:
		return tongue.T("Band %d is %s wider at frame %s than its strips, or %s per strip: the strips' own build-up fills that, and no wedge is planned.", n.Band, told(u, n.By, 1), name(n.Frame), told(u, n.Each, 2))
	case loft.FallsShort:
		return fallsShort(l, n, u)
	case loft.LinesCross:
		_, text, _ := strings.Cut(CrossingFault(l, n, u).Error(), ": ") // a note is told with its layer anyhow
		return capital(text)
	case loft.TooClose:
		if n.By < 0 {
			return tongue.T("Band line %d at %s leaves a band beside it less than half a strip; the plan lays it up to %s higher.", n.Line, framesCalled(l, n.Frames), told(u, -n.By, 1))
		}
		return tongue.T("Band line %d at %s leaves a band beside it less than half a strip; the plan lays it up to %s lower.", n.Line, framesCalled(l, n.Frames), told(u, n.By, 1))
	case loft.PartlyPlanked:
		return partlyPlanked(l, n)
	case loft.GirthsAlone:
		return tongue.T("Only girths are known of this hull: edge-set, bend, twist and lie need its shape, and lengths run straight from frame to frame.")
	case loft.NoTurn:
		return noTurn(n)
	case loft.TurnsBetween:
		return turnsBetween(l, n, u)
	case loft.BendUntold:
		return bendUntold(l, n)
	case loft.Folds:
		return foldText(l, n, u)
	case loft.MadeBlock:
		return blockText(l, n, u)
	case loft.LaidBetween:
		return laidBetween(l, n)
	}
	return fmt.Sprintf("%+v", note)
}

// CrossingFault is the fault of a plan two of whose band lines cross.
func CrossingFault(l *loft.Layer, n loft.LinesCross, u Units) fault.Fault {
	return fault.Fault{
		What: tongue.T("layer %d: band lines %d and %d cross: at %s line %d is drawn above line %d; the plan lays it half a strip below instead, up to %s lower",
			l.Number, n.Line-1, n.Line, framesCalled(l, n.Frames), n.Line, n.Line-1, told(u, n.By, 1)),
		Mend: tongue.T("draw line %d below line %d there", n.Line, n.Line-1),
	}
}

func runsOut(l *loft.Layer, n loft.RunsOut, u Units) string {
	name := l.Surface.FrameName
	text := tongue.T("Free line %d runs out under the lower limit at frame %s by %s", n.Line, name(n.At), told(u, n.By, 1))
	if n.Upper {
		text = tongue.T("Free line %d runs out over the upper limit at frame %s by %s", n.Line, name(n.At), told(u, n.By, 1))
	}
	if k := len(n.Frames); k > 1 {
		text += tongue.T(" (at %d frames from %s to %s)", k, name(n.Frames[0]), name(n.Frames[k-1]))
	}
	return tongue.T("%s; there it follows the limit, half a strip from it.", text)
}

func partlyPlanked(l *loft.Layer, n loft.PartlyPlanked) string {
	name := l.Surface.FrameName
	var ends []string
	if n.First > 0 {
		ends = append(ends, tongue.T("from frame %s to %s", name(0), name(n.First)))
	}
	if n.Last < n.End {
		ends = append(ends, tongue.T("from frame %s to %s", name(n.Last), name(n.End)))
	}
	return tongue.T("The hull is planked only from frame %s to %s; filler blocks fill it %s, without strakes, strips or widths.",
		name(n.First), name(n.Last), both(ends))
}

func noTurn(n loft.NoTurn) string {
	const most = 6
	names := strings.Join(n.Frames[:min(len(n.Frames), most)], ", ")
	if len(n.Frames) > most {
		names += tongue.T(" and %d more", len(n.Frames)-most)
	}
	return tongue.T("Frame %s has no turn: its edges count as square.", names)
}

// turnsBetween says where the hull is not known between frames, and which frame
// would tell.
func turnsBetween(l *loft.Layer, n loft.TurnsBetween, u Units) string {
	name := l.Surface.FrameName
	text := tongue.T("Between frames %s and %s the hull turns by %.0f degrees over %s, most at %s below the upper limit of %s, and no frame shows its rounding there: planking may lie up to %s off. Add a frame that meets the centre line at x = %s",
		name(n.Frame), name(n.Frame+1), n.Turn.Degrees(), told(u, n.Length, 0), told(u, n.Down, 0), name(n.Frame), told(u, n.Off, 1), told(u, n.Mend.X, 1))
	if cant := math.Round(n.Mend.Cant.Degrees()); cant != 0 {
		text += tongue.T(", canted by %.0f degrees", cant)
	}
	return text + "."
}

// bendUntold says where the hull must be measured before a strip is bent.
func bendUntold(l *loft.Layer, n loft.BendUntold) string {
	return tongue.Count(len(n.Strakes),
		"How tightly strake %[2]s bends at frame %[1]s is not known from the frames, since the hull turns far more between the last two than before: the radius and the verdict there are guesses. Measure the hull's round at %[1]s along the strake, with a bent wire or a card, before you bend a strip.",
		"How tightly strakes %[2]s bend at frame %[1]s is not known from the frames, since the hull turns far more between the last two than before: the radii and the verdicts there are guesses. Measure the hull's round at %[1]s along the strakes, with a bent wire or a card, before you bend a strip.",
		l.Surface.FrameName(n.Frame), strings.Join(n.Strakes, ", "))
}

// framesCalled names frames, by rising index, with those between the ends of a run
// left out: "frames A to D and G".
func framesCalled(l *loft.Layer, frames []int) string {
	var runs []string
	for i := 0; i < len(frames); {
		j := i
		for j+1 < len(frames) && frames[j+1] == frames[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			runs = append(runs, l.Surface.FrameName(frames[i]))
		case 1:
			runs = append(runs, l.Surface.FrameName(frames[i]), l.Surface.FrameName(frames[j]))
		default:
			runs = append(runs, tongue.T("%s to %s", l.Surface.FrameName(frames[i]), l.Surface.FrameName(frames[j])))
		}
		i = j + 1
	}
	if len(frames) == 1 {
		return tongue.T("frame %s", runs[0])
	}
	if len(runs) == 1 {
		return tongue.T("frames %s", runs[0])
	}
	return tongue.T("frames %s and %s", strings.Join(runs[:len(runs)-1], ", "), runs[len(runs)-1])
}

// fallsShort says where strips do not fill a band, and what is done.
func fallsShort(l *loft.Layer, n loft.FallsShort, u Units) string {
	name := l.Surface.FrameName
	where := tongue.T("at frame %s", name(n.From))
	if n.To > n.From {
		where = tongue.T("from frame %s to %s, by up to %s at %s", name(n.From), name(n.To), told(u, n.By, 1), name(n.At))
	} else {
		where += tongue.T(" by %s", told(u, n.By, 1))
	}
	if len(n.Wider) > 1 {
		return tongue.T("The strips of band %d fall short %s, where no wedge may lie: strakes %s are cut wider, from sheet wood. Add a strake to the band, use wider strips or move its lines to avoid that.", n.Band, where, strings.Join(n.Wider, ", "))
	}
	return tongue.T("The strips of band %d fall short %s, where no wedge may lie: strake %s is cut wider, from sheet wood. Add a strake to the band, use wider strips or move its lines to avoid that.", n.Band, where, n.Wider[0])
}
