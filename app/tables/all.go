package tables

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Settings are the builder's choices.
type Settings struct {
	Overhang float64 // mm that every strake is cut longer at its free end, to hold it by
	Layer    int     // from 1; 0 for all
}

// sides are the two sides of a hull, whose strakes are cut alike.
var sides = []string{"starboard", "port"}

// All makes every table: the strakes layer by layer and side by side, then
// bevels, wedges, drop strakes, the cutting list, and the strips, sheets and blocks
// that it is cut from.
// cuts are what Cut gives for the same settings.
func All(k *loft.Planking, s Settings, cuts []*loft.CuttingPlan) []Table {
	var out []Table
	for _, l := range s.layers(k) {
		for _, side := range sides {
			out = append(out, strakes(k, l, side))
		}
	}
	return append(out, bevels(k, s), wedges(k, s), drops(k, s), cuttingList(k, s, cuts), strips(k, s, cuts), sheetWood(k, s, cuts))
}

func (s Settings) check(k *loft.Planking) error {
	if s.Layer < 0 || s.Layer > len(k.Layers) {
		return tongue.Errorf("there is no layer %d: the plan has layers 1 to %d", s.Layer, len(k.Layers))
	}
	if !(s.Overhang >= 0) || math.IsInf(s.Overhang, 1) {
		return tongue.Errorf("an overhang of %g mm is impossible: give 0 or more", s.Overhang)
	}
	for _, l := range s.layers(k) {
		if strip := stockOf(k, l).Length; strip > 0 && s.Overhang >= strip {
			return tongue.Errorf("an overhang of %g mm is longer than the strips of layer %d, which are %g mm: give less", s.Overhang, l.Number, strip)
		}
	}
	return nil
}

// layers are those asked for.
func (s Settings) layers(k *loft.Planking) []*loft.Layer {
	if s.Layer == 0 {
		return k.Layers
	}
	return k.Layers[s.Layer-1 : s.Layer]
}
