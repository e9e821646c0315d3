package loft

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// LimitOrigin says where a limit of a wood's bending comes from.
type LimitOrigin string

// The origins, from the one that goes before the others.
const (
	OfBuilder LimitOrigin = "builder" // a rule of the plan that is not as usual
	OfWood    LimitOrigin = "wood"    // the wood's own published figures
	OfRatio   LimitOrigin = "ratio"   // as many times the wood's dry limit as the usual rules have it
	OfUsual   LimitOrigin = "usual"   // the usual rule: the wood is not named, or in no table with its moduli
)

// Bending is how far a layer's wood bends, and where that is from.
type Bending struct {
	BendLimits
	Woods                        []hull.Wood // that its species names, of those whose bending is known; none where OfUsual stands for all
	DryFrom, SoakedFrom, HotFrom LimitOrigin // of Dry, Soaked and Hot
}

// BendingOf gives it for a species by a plan. The builder's own rule goes before
// all. Else a dry strip bends up to the strain at which it breaks by the beam
// formula, σ/E with the moduli of rupture and elasticity at 12 percent moisture
// (Wood Handbook, FPL-GTR-190, tables 5-3 and 5-5): real strips bear somewhat more
// before they break, which is kept as safety. A soaked and a heated one bend up to
// the wood's own figures, or where it has none as many times the dry limit as
// the usual rules have it, which is a rule of thumb. Of several woods that bear
// the name it is the least of each. No limit is above the next.
func BendingOf(p *hull.Plan, species string) Bending {
	own, usual := p.Rules(), hull.NewTrade()
	b := Bending{BendLimitsOf(usual), nil, OfUsual, OfUsual, OfUsual}
	known := slices.DeleteFunc(slices.Clone(p.Woods), func(w hull.Wood) bool { return w.Breaks() == 0 && w.Soaked == 0 && w.Heated == 0 })
	for i, w := range WoodsNamed(species, known, hull.UsualWoods()) {
		if one := bendingOfWood(w, usual); i == 0 {
			b = one
		} else {
			b.atMost(one)
		}
		b.Woods = append(b.Woods, w)
	}
	b.own(own, usual)
	return b
}

// bendingOfWood is that of one wood.
func bendingOfWood(w hull.Wood, usual hull.Trade) Bending {
	b := Bending{BendLimitsOf(usual), nil, OfUsual, OfUsual, OfUsual}
	if dry := w.Breaks(); dry > 0 {
		b.Dry, b.DryFrom = dry, OfWood
		b.Soaked, b.SoakedFrom = dry*usual.BendSoaked/usual.BendDry, OfRatio
		b.Hot, b.HotFrom = dry*usual.BendHot/usual.BendDry, OfRatio
	}
	if w.Heated > 0 {
		b.Hot, b.HotFrom = w.Heated, OfWood
	}
	if w.Soaked > 0 {
		b.Soaked, b.SoakedFrom = w.Soaked, OfWood
	}
	b.inOrder()
	return b
}

// atMost takes the lesser of each limit.
func (b *Bending) atMost(other Bending) {
	if other.Dry < b.Dry {
		b.Dry, b.DryFrom = other.Dry, other.DryFrom
	}
	if other.Soaked < b.Soaked {
		b.Soaked, b.SoakedFrom = other.Soaked, other.SoakedFrom
	}
	if other.Hot < b.Hot {
		b.Hot, b.HotFrom = other.Hot, other.HotFrom
	}
}

// own puts the builder's rules in, where they are not as usual; of the others none
// goes over a higher one of the builder's, or under a lower.
func (b *Bending) own(own, usual hull.Trade) {
	set := func(into *float64, from *LimitOrigin, figure, usually float64) {
		if figure != usually {
			*into, *from = figure, OfBuilder
		}
	}
	set(&b.Dry, &b.DryFrom, own.BendDry, usual.BendDry)
	set(&b.Soaked, &b.SoakedFrom, own.BendSoaked, usual.BendSoaked)
	set(&b.Hot, &b.HotFrom, own.BendHot, usual.BendHot)
	b.inOrder()
}

// inOrder has no limit above the next: a limit yields to one that goes before its
// own origin, and the higher one to the lower where neither does.
func (b *Bending) inOrder() {
	order := func(low, high *float64, lowFrom, highFrom LimitOrigin) {
		switch {
		case *low <= *high:
		case rank(highFrom) < rank(lowFrom):
			*low = *high
		default:
			*high = *low
		}
	}
	order(&b.Soaked, &b.Hot, b.SoakedFrom, b.HotFrom)
	order(&b.Dry, &b.Soaked, b.DryFrom, b.SoakedFrom)
	order(&b.Soaked, &b.Hot, b.SoakedFrom, b.HotFrom)
}

// rank is the place of an origin, the first the one that goes before all.
func rank(o LimitOrigin) int {
	return slices.Index([]LimitOrigin{OfBuilder, OfWood, OfRatio, OfUsual}, o)
}

// rulesOf are a plan's rules as they hold for the wood of a layer.
func rulesOf(p *hull.Plan, h *hull.Layer) hull.Trade {
	t, b := p.Rules(), BendingOf(p, h.Stock.Species)
	t.BendDry, t.BendSoaked, t.BendHot = b.Dry, b.Soaked, b.Hot
	return t
}
