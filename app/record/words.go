package record

import (
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Change writes a change with its sign.
func Change(u answer.Units, mm float64) string {
	if math.Abs(mm) < 0.005 {
		return tongue.T("as planned")
	}
	sign := "+"
	if mm < 0 {
		sign = "−"
	}
	return sign + u.Length(math.Abs(mm))
}

// doingNames are how what is done is called.
var doingNames = map[hull.EntryKind]string{
	hull.Cutout: tongue.Mark("cut"), hull.Soaking: tongue.Mark("soaked"), hull.Fitted: tongue.Mark("fitted"), hull.Pinned: tongue.Mark("pinned"), hull.Glued: tongue.Mark("glued"), hull.Removed: tongue.Mark("taken off"),
}

// EntryKindName is how what is done to a strake is called.
func EntryKindName(d hull.EntryKind) string { return tongue.T(doingNames[d]) }

// wayNames are how the ways are called.
var wayNames = map[hull.Remedy]string{
	hull.Shave: tongue.Mark("shave all alike"), hull.Tighter: tongue.Mark("bevel tighter"), hull.Wider: tongue.Mark("wider strips"), hull.Narrow: tongue.Mark("narrower strips"),
	hull.More: tongue.Mark("one strake more"), hull.Fewer: tongue.Mark("one strake less"), hull.Wedged: tongue.Mark("a wedge"), hull.Hidden: tongue.Mark("hide it under the upper limit"),
	hull.Learned: tongue.Mark("plan with the build-up learned"),
}

// RemedyName is how a way to make the rest fit is called.
func RemedyName(w hull.Remedy) string { return tongue.T(wayNames[w]) }

// Entry tells an entry in a few words.
func Entry(u answer.Units, e hull.Entry) string {
	var text string
	switch e.EntryKind {
	case hull.BareGirth:
		text = tongue.T("bare frame %s has %s of girth", e.Frame, u.Length(e.MM))
	case hull.LeftOver:
		text = tongue.T("%s left of band %d at frame %s", u.Length(e.MM), e.Band, e.Frame)
	case hull.AsLaid:
		text = tongue.T("%s is %s wide at frame %s", e.Strake, u.Length(e.MM), e.Frame)
	case hull.GapAbove:
		text = tongue.T("gap of %s above %s at frame %s", u.Length(e.MM), e.Strake, e.Frame)
	case hull.Chosen:
		text = tongue.T("rest of band %d: %s", e.Band, RemedyName(e.Remedy))
	default:
		text = e.Strake + " " + EntryKindName(e.EntryKind)
	}
	if e.To > 0 {
		text += tongue.T(", read to %s", answer.RuleText(e.To, u))
	}
	if e.Layer > 1 {
		text += tongue.T(", layer %d", e.Layer)
	}
	if e.Wet {
		text += tongue.T(", wet")
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}
