package edit

import (
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// SetMode sets how strake k (from 0) of a band is made; "" leaves it to the
// rules.
func SetMode(layer, band, k int, m hull.Mode) Change {
	return func(p *hull.Plan) error {
		if layer >= len(p.Layers) || band < 0 || band >= len(p.Layers[layer].Bands) || k < 0 || k >= mostStrakes {
			return tongue.Errorf("there is no strake %s", loft.StrakeID(layer+1, band+1, k+1))
		}
		if m != "" && !slices.Contains(hull.Modes(), m) {
			return tongue.Errorf("%q is not a way to make a strake: it is sprung, spiled or block, or left to the rules", m)
		}
		b := &p.Layers[layer].Bands[band]
		modes := make([]hull.Mode, max(len(b.Modes), k+1))
		copy(modes, b.Modes)
		modes[k] = m
		for len(modes) > 0 && modes[len(modes)-1] == "" {
			modes = modes[:len(modes)-1]
		}
		b.Modes = modes
		if len(modes) == 0 {
			b.Modes = nil
		}
		return nil
	}
}

// byRules is the word, beside the modes, that leaves a strake to the rules.
const byRules = "rules"

// ModeSaid gives the change that a text asks for, as 2.05=spiled or 2/1.03=rules.
// The error says what is wrong with it, or that no such strake is laid.
func ModeSaid(k *loft.Planking, text string) (Change, error) {
	id, word, ok := strings.Cut(text, "=")
	id, word = strings.TrimSpace(id), strings.TrimSpace(word)
	m := hull.Mode(word)
	if word == byRules {
		m = ""
	}
	if !ok || m == "" && word != byRules || m != "" && !slices.Contains(hull.Modes(), m) {
		return nil, tongue.Errorf("%q: write it as STRAKE=MODE, as 2.05=spiled; the modes are sprung, spiled, block and rules, which leaves it to the rules", text)
	}
	for i, l := range k.Layers {
		if n := l.StrakeNamed(id); n >= 0 {
			st := l.Strakes[n]
			return SetMode(i, st.Band-1, st.Number-1, m), nil
		}
	}
	return nil, tongue.Errorf("%q: there is no strake %s", text, id)
}
