package loft

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// LimitOrigin is where a limit of a wood's bending comes from.
type LimitOrigin string

// The origins, in order of precedence.
const (
	OfBuilder LimitOrigin = "builder" // a rule of the plan that differs from the usual
	OfWood    LimitOrigin = "wood"    // the wood's own published figures
	OfRatio   LimitOrigin = "ratio"   // the wood's dry limit times the ratio in the usual rules
	OfUsual   LimitOrigin = "usual"   // the usual rule: the wood is not named, or is in no table with its moduli
)

// Bending is how far a layer's wood bends, and where that is from.
type Bending struct {
	BendLimits
	Woods                        []hull.Wood // the woods its species may mean whose bending is known; none where OfUsual applies throughout
	DryFrom, SoakedFrom, HotFrom LimitOrigin // of Dry, Soaked and Hot
}

// BendingOf gives the bending of a species in a plan. The builder's own rule takes
// precedence. Otherwise a dry strip bends up to the strain at which it breaks by the
// beam formula, σ/E with the moduli of rupture and elasticity at 12 percent moisture
// (Wood Handbook, FPL-GTR-190, tables 5-3 and 5-5): real strips bear somewhat more
// before they break, which is kept as a margin of safety. Soaked and heated strips bend
// up to the wood's own figures or, where it has none, up to the dry limit times the
// ratio in the usual rules, which is a rule of thumb. Of several woods with the name,
// the least of each limit is taken. No limit is above the next.
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

// bendingOfWood gives the bending of one wood.
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

// own inserts the builder's rules where they differ from the usual; no other limit may
// exceed a higher one of the builder's, or fall below a lower.
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

// inOrder ensures that no limit is above the next: a limit yields to one of higher
// precedence and, where the precedence is equal, the higher to the lower.
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

// rank is the place of an origin in the order of precedence, the first being the
// highest.
func rank(o LimitOrigin) int {
	return slices.Index([]LimitOrigin{OfBuilder, OfWood, OfRatio, OfUsual}, o)
}

// rulesOf are a plan's rules with the limits for the wood of a layer.
func rulesOf(p *hull.Plan, h *hull.Layer) hull.Trade {
	t, b := p.Rules(), BendingOf(p, h.Stock.Species)
	t.BendDry, t.BendSoaked, t.BendHot = b.Dry, b.Soaked, b.Hot
	return t
}
