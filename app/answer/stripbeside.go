package answer

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/loft"
)

// StripVerdict says whether the strip of a band line lies on it by itself, or else how
// far off at the frame where most: a phrase without a full stop.
func StripVerdict(b *loft.StripBeside, frame func(int) string, u Units) string {
	off, at := b.Most()
	switch {
	case b.Lie.Untold != loft.Told:
		return "the lie of the strip itself cannot be found: " + untoldText(b.Lie.Untold, b.Lie.UntoldAt, frame)
	case at < 0:
		return "the strip itself reaches no planked frame"
	case math.Abs(off) <= loft.LiesOnLine:
		return "the strip lies here by itself"
	}
	return fmt.Sprintf("%s off where the strip lies at frame %s", u.Length(math.Abs(off)), frame(at))
}

// StripAt says how the strip of a band line lies to it at a frame; "" where that is
// not told.
func StripAt(b *loft.StripBeside, f int, u Units) string {
	if f < 0 || f >= len(b.Off) || math.IsNaN(b.Off[f]) {
		return ""
	}
	off := b.Off[f]
	switch {
	case u.Number(math.Abs(off)) == u.Number(0):
		return "the strip itself lies on it"
	case off < 0:
		return "the strip itself lies " + u.Length(-off) + " above it"
	}
	return "the strip itself lies " + u.Length(off) + " below it"
}

// StripText tells in sentences how the strip of a band line lies beside it: the
// verdict, how it lies at a frame (-1 for none), where it ends and that it slides.
func StripText(b *loft.StripBeside, f int, frame func(int) string, u Units) string {
	var held []string
	for _, i := range b.Lie.Held {
		held = append(held, frame(i))
	}
	text := fmt.Sprintf("The strip itself, %s x %s, held at frames %s: %s", u.Number(b.Lie.Width), u.Length(b.Lie.Thickness),
		strings.Join(held, ", "), StripVerdict(b, frame, u))
	if b.Lie.Untold != loft.Told {
		return text + ". Move the handles."
	}
	if at := StripAt(b, f, u); at != "" {
		text += fmt.Sprintf("; at frame %s %s", frame(f), at)
	}
	text += "."
	for _, e := range naturalEnds(b.Lie, frame) {
		text += fmt.Sprintf(" It is followed as far as frame %s: it ends %s.", e.Frame, e.Why)
	}
	if b.Lie.Slid {
		text += " It finds no rest near the batten's line and slides: hold it at more frames."
	}
	return text
}
