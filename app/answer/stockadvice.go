package answer

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Units tells lengths and areas as their reader wants them.
type Units interface {
	Name() string // of the unit of length, as it is written after a number
	Number(mm float64) string
	Length(mm float64) string // the number with the name
	Area(mm2 float64) string
}

// MM is how the shell and the paper tell them: lengths in mm, areas in cm2.
type MM struct{}

// Name is mm.
func (MM) Name() string { return millimetres }

// Number writes mm to a hundredth.
func (MM) Number(x float64) string { return mm(x) }

// Length writes mm to a hundredth.
func (MM) Length(x float64) string { return mm(x) + " " + millimetres }

// Area writes square centimetres to a tenth.
func (MM) Area(mm2 float64) string { return tongue.T("%s cm2", decimals(mm2/100, 1)) }

// kindName names a kind of strip.
func kindName(s hull.Stock, u Units) string {
	name := tongue.T("strips %s wide and %s thick", u.Length(s.Width), u.Length(s.Thickness))
	if s.Species != "" {
		name += tongue.T(" of %s", s.Species)
	}
	return name
}

// TrialAdvice says in one sentence which kind leaves the least to shave and to
// fill, with the number and where it needs no taper; and in another how
// its hardest bend is made, or that it cannot be told.
func TrialAdvice(k *loft.Planking, trials []*Trial, u Units) string {
	best := trials[0]
	for _, t := range trials[1:] {
		if t.Shave+t.Fill < best.Shave+best.Fill {
			best = t
		}
	}
	text := tongue.T("%s leave %s to shave and %s to fill on one side", capital(kindName(best.Stock, u)), u.Area(best.Shave), u.Area(best.Fill))
	if next := secondBest(trials, best); next != nil {
		text = tongue.T("Of these, %s leave the least to shave and to fill, %s on one side against %s with the next best, %s wide", kindName(best.Stock, u),
			u.Area(best.Shave+best.Fill), u.Area(next.Shave+next.Fill), u.Length(next.Stock.Width))
	}
	text += tongue.T(", but take %d strakes a side and %d strips: ", len(best.Layer.Strakes), best.Strips()) + taperAdvice(k, trials, best, u) + "."
	switch {
	case k.Plan.Hull.Shapeless():
		text += tongue.T(" Girths alone do not show how hard they are bent: try one strip against the frames first.")
	case best.Row.How != loft.Dry:
		name := best.Layer.Surface.FrameName
		if worst := best.hardestBend(); worst != nil {
			text += tongue.T(" Its tightest bend, strake %s: %s%s. Try one strip first.", worst.ID, VerdictText(worst.Making.Bend, name), comma(FormText(best.Layer.BendOf(worst).Form, u)))
		}
	}
	return text
}

// hardestBend is the strake whose bend asks for most; nil where none is bent.
func (t *Trial) hardestBend() *loft.Strake {
	var worst *loft.Strake
	for _, st := range t.Layer.Strakes {
		if st.To > st.From && (worst == nil || st.Making.Bend.Harder(worst.Making.Bend)) {
			worst = st
		}
	}
	return worst
}

// comma puts a comma before what is said, if anything is.
func comma(text string) string {
	if text == "" {
		return ""
	}
	return ", " + text
}

// secondBest is the next best of another width, or nil.
func secondBest(trials []*Trial, best *Trial) *Trial {
	var next *Trial
	for _, t := range trials {
		if t.Stock.Width != best.Stock.Width && (next == nil || t.Shave+t.Fill < next.Shave+next.Fill) {
			next = t
		}
	}
	return next
}

// taperAdvice tells where a kind needs no taper, and if it needs some towards
// both ends, which other kind does not.
func taperAdvice(k *loft.Planking, trials []*Trial, best *Trial, u Units) string {
	if free := taperFree(k, best); free != "" {
		return tongue.T("no strake needs a taper %s", free)
	}
	some := tongue.T("%d of them", best.Row.Tapered)
	if best.Row.Tapered == len(best.Layer.Strakes) {
		some = tongue.T("all strakes")
	}
	text := tongue.T("%s taper, at both ends too, by %s at the most", some, u.Length(best.Row.TaperMost))
	for _, t := range trials {
		if free := taperFree(k, t); free != "" {
			return text + tongue.T("; %s wide, none needs a taper %s", u.Length(t.Stock.Width), free)
		}
	}
	return text
}

// taperFree tells where no strake needs a taper, as "abaft frame K"; empty
// where strakes taper at both ends.
func taperFree(k *loft.Planking, t *Trial) string {
	first, last := -1, -1 // frames with a taper
	from, to := t.Layer.Surface.Planked()
	for i := from; i <= to; i++ {
		if t.tapersAt(i) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return tongue.T("anywhere")
	}
	name := func(f int) string { return k.Plan.Hull.Frames[f].Name }
	bowLast := k.Plan.Hull.Bow == hull.BowLast
	var out []string
	if first > from {
		out = append(out, beyond(bowLast, name(first)))
	}
	if last < to {
		out = append(out, beyond(!bowLast, name(last)))
	}
	return either(out)
}

// beyond tells which end of the hull begins at a frame.
func beyond(abaft bool, frame string) string {
	if abaft {
		return tongue.T("abaft frame %s", frame)
	}
	return tongue.T("before frame %s", frame)
}

// tapersAt tells whether a strake tapers at a frame.
func (t *Trial) tapersAt(frame int) bool {
	for _, st := range t.Layer.Strakes {
		if c := st.At[frame]; c.Laid && c.Action == loft.Taper {
			return true
		}
	}
	return false
}
