package answer

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// StripVerdict says whether the strip of a band line lies on it by itself, or else how
// far off at the frame where most: a phrase without a full stop.
func StripVerdict(b *loft.StripBeside, frame func(int) string, u Units) string {
	off, at := b.Most()
	switch {
	case b.Lie.Untold != loft.Told:
		return tongue.T("where this strip would settle cannot be worked out: %s", untoldText(b.Lie.Untold, b.Lie.UntoldAt, frame))
	case at < 0:
		return tongue.T("this strip reaches no planked frame")
	case b.OnLine():
		return tongue.T("left to itself, this strip settles along the line")
	}
	if off < 0 {
		return tongue.T("left to itself, this strip settles %s higher at frame %s", u.Length(-off), frame(at))
	}
	return tongue.T("left to itself, this strip settles %s lower at frame %s", u.Length(off), frame(at))
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
		return tongue.T("lies on the line")
	case off < 0:
		return tongue.T("lies %s above the line", u.Length(-off))
	}
	return tongue.T("lies %s below the line", u.Length(off))
}

// StripText tells in sentences how the strip of a band line lies beside it: the
// verdict, how it lies at a frame (-1 for none), where it ends and that it slides.
func StripText(b *loft.StripBeside, f int, frame func(int) string, u Units) string {
	var held []string
	for _, i := range b.Lie.Held {
		held = append(held, frame(i))
	}
	text := tongue.T("%s (%s x %s, held at frames %s)", capital(StripVerdict(b, frame, u)), u.Number(b.Lie.Width), u.Length(b.Lie.Thickness),
		strings.Join(held, ", "))
	if b.Lie.Untold != loft.Told {
		return tongue.T("%s. Move the handles.", text)
	}
	if at := StripAt(b, f, u); at != "" {
		text += tongue.T("; at frame %s it %s", frame(f), at)
	}
	text += "."
	for _, e := range naturalEnds(b.Lie, frame) {
		text += tongue.T(" It is known as far as frame %s: it ends %s.", e.Frame, e.Why)
	}
	if b.Lie.Slid {
		text += tongue.T(" It slides away from the batten's line: hold it at more frames to keep it there.")
	}
	return text
}
