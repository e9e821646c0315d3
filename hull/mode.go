package hull

import "github.com/strakewright/strakewright/assets/tongue"

// Mode is how a strake is made.
type Mode string

// The modes. The zero value leaves the choice to the rules.
const (
	Sprung Mode = "sprung" // a strip, straight or tapered, bent into its place
	Spiled Mode = "spiled" // its flat shape, cut from sheet wood
	Block  Mode = "block"  // carved from solid wood
)

// Modes lists them, the easiest first.
func Modes() []Mode { return []Mode{Sprung, Spiled, Block} }

// Mode is how the builder has chosen to make strake k (from 0) of the band; ""
// leaves it to the rules.
func (b Band) Mode(k int) Mode {
	if k < len(b.Modes) {
		return b.Modes[k]
	}
	return ""
}

// modes reads a list with a mode for each strake of a band.
func (r *planReader) modes(o *fields) []Mode {
	n, ok := o.take("modes")
	if !ok {
		return nil
	}
	var out []Mode
	items, _ := r.items(n, tongue.T("\"modes\" of %s", o.where), mostStrakes)
	for k, n := range items {
		text, ok := r.string(n, tongue.T("mode %d of %s", k+1, o.where))
		switch m := Mode(text); {
		case !ok:
		case m == "" || m == Sprung || m == Spiled || m == Block:
			out = append(out, m)
		default:
			r.fault(n, `give "sprung", "spiled" or "block", or "" to leave it to the rules`, "mode %d of %s is %q", k+1, o.where, text)
		}
	}
	return out
}

// modesMember is the member that holds a list of modes, or nothing for none.
func (b Band) modesMember() object {
	if len(b.Modes) == 0 {
		return nil
	}
	out := list{}
	for _, m := range b.Modes {
		out = append(out, string(m))
	}
	return object{{"modes", out}}
}
