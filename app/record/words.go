package record

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
)

// Change writes a change with its sign.
func Change(u answer.Units, mm float64) string {
	if math.Abs(mm) < 0.005 {
		return "as planned"
	}
	sign := "+"
	if mm < 0 {
		sign = "−"
	}
	return sign + u.Length(math.Abs(mm))
}

// doingNames are how what is done is called.
var doingNames = map[hull.EntryKind]string{
	hull.Cutout: "cut", hull.Soaking: "soaked", hull.Fitted: "fitted", hull.Pinned: "pinned", hull.Glued: "glued", hull.Removed: "taken off",
}

// EntryKindName is how what is done to a strake is called.
func EntryKindName(d hull.EntryKind) string { return doingNames[d] }

// wayNames are how the ways are called.
var wayNames = map[hull.Remedy]string{
	hull.Shave: "shave all alike", hull.Tighter: "bevel tighter", hull.Wider: "wider strips", hull.Narrow: "narrower strips",
	hull.More: "one strake more", hull.Fewer: "one strake less", hull.Wedged: "a wedge", hull.Hidden: "hide it under the upper limit",
	hull.Learned: "plan with the build-up learned",
}

// RemedyName is how a way to make the rest fit is called.
func RemedyName(w hull.Remedy) string { return wayNames[w] }

// Entry tells an entry in a few words.
func Entry(u answer.Units, e hull.Entry) string {
	var text string
	switch e.EntryKind {
	case hull.BareGirth:
		text = fmt.Sprintf("bare frame %s has %s of girth", e.Frame, u.Length(e.MM))
	case hull.LeftOver:
		text = fmt.Sprintf("%s left of band %d at frame %s", u.Length(e.MM), e.Band, e.Frame)
	case hull.AsLaid:
		text = fmt.Sprintf("%s is %s wide at frame %s", e.Strake, u.Length(e.MM), e.Frame)
	case hull.GapAbove:
		text = fmt.Sprintf("gap of %s above %s at frame %s", u.Length(e.MM), e.Strake, e.Frame)
	case hull.Chosen:
		text = fmt.Sprintf("rest of band %d: %s", e.Band, RemedyName(e.Remedy))
	default:
		text = e.Strake + " " + EntryKindName(e.EntryKind)
	}
	if e.To > 0 {
		text += ", read to " + answer.RuleText(e.To, u)
	}
	if e.Layer > 1 {
		text += fmt.Sprintf(", layer %d", e.Layer)
	}
	if e.Wet {
		text += ", wet"
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}
