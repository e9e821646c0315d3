package answer

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// tellingForce is the least force that is told, N: less is written 0.0.
const tellingForce = 0.05

// StripTold tells of a strip on show over the frames: what it asks for, where it is
// held, how far it stands off at most, and where it must be pressed hardest; a sentence
// each.
func StripTold(l *loft.Layer, sp *loft.Springing, s *loft.Sprung, u Units) []string {
	name := l.Surface.FrameName
	out := []string{tongue.T("Held at %s.", framesCalled(l, s.Held))}
	if !s.Converged {
		return append(out, tongue.T("It does not stay so, but springs out from between its holds."))
	}
	out = append([]string{VerdictMark(l.JudgeSprung(s).Kind) + " " + sprungVerdict(l, s)}, out...)
	var off, hardest, aside *loft.SprungFrame
	var short []int
	for i := range s.At {
		f := &s.At[i]
		switch {
		case !f.Reached():
			short = append(short, f.Frame)
		case off == nil || f.LiftOff > off.LiftOff:
			off = f
		}
		if hardest == nil || f.Press.High > hardest.Press.High {
			hardest = f
		}
		if aside == nil || sideways(f.Side) > sideways(aside.Side) {
			aside = f
		}
	}
	if off != nil && off.LiftOff >= loft.HoldWithin.Low {
		text := tongue.T("It lifts off most at %s: %s", name(off.Frame), told(u, off.LiftOff, 2))
		if len(short) > 0 {
			text += tongue.T("; it falls short of %s", framesCalled(l, short))
		}
		out = append(out, text+".")
	}
	switch {
	case sp.Modulus.High == 0:
		out = append(out, tongue.T("The force is not known: there is no modulus of elasticity for its wood."))
	case hardest != nil && hardest.Press.High >= tellingForce:
		text := tongue.T("It needs the hardest press at %s: %s", name(hardest.Frame), force(hardest.Press))
		if sideways(aside.Side) >= tellingForce {
			text += tongue.T("; sideways at %s: %s", name(aside.Frame), sideForce(aside.Side))
		}
		out = append(out, text+".")
	}
	return out
}

// StripOver tells of the strip at one frame.
func StripOver(l *loft.Layer, sp *loft.Springing, f *loft.SprungFrame, u Units) string {
	out := tongue.T("Frame %s", l.Surface.FrameName(f.Frame))
	switch {
	case !f.Reached():
		return tongue.T("%s: the strip does not reach so far", out)
	case f.Held:
		out += tongue.T(": held")
	case f.LiftOff < loft.HoldWithin.Low:
		out += tongue.T(": let go, and lying on it")
	default:
		out += tongue.T(": let go, and %s off it", told(u, f.LiftOff, 2))
	}
	if math.Abs(f.Stray) >= loft.HoldWithin.Low {
		if f.Stray < 0 {
			out += tongue.T(", %s above its line", told(u, -f.Stray, 2))
		} else {
			out += tongue.T(", %s below its line", told(u, f.Stray, 2))
		}
	}
	if sp.Modulus.High == 0 {
		return out
	}
	if f.Press.High >= tellingForce {
		out += tongue.T(", pressed on with %s", force(f.Press))
	}
	if f.Bears.High >= tellingForce {
		out += tongue.T(", borne with %s", force(f.Bears))
	}
	if sideways(f.Side) >= tellingForce {
		out += tongue.T(", kept from slipping with %s", sideForce(f.Side))
	}
	return out
}

// StripNewtons tells a force as it is written at an arrow: for the stiffest of the
// woods it may be of.
func StripNewtons(n float64) string { return decimals(math.Abs(n), 1) + " N" }

// sideForce tells a force along the frame.
func sideForce(r loft.Range) string {
	if r.High > 0 {
		return tongue.T("%s downwards", force(upright(r)))
	}
	return tongue.T("%s upwards", force(upright(r)))
}
