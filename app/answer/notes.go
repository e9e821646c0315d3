package answer

import (
	"fmt"

	"strakewright/loft"
)

// notes gives what the builder should know, layer by layer.
func notes(k *loft.Planking) []string {
	out := []string{}
	for _, l := range k.Layers {
		for _, n := range l.Notes {
			if len(k.Layers) > 1 {
				n = fmt.Sprintf("layer %d: %s", l.Number, n)
			}
			out = append(out, n)
		}
	}
	return out
}

// notes writes them under a heading.
func (p *page) notes(sentences []string) { p.list("Notes", sentences) }
