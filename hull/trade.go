package hull

import (
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Trade is the trade's rules of thumb by which a plan is worked out, as the
// builder has set them. The zero value stands for NewTrade: see Plan.Rules.
type Trade struct {
	LeastWidth, MostWidth float64 // of a strake at a frame, as shares of its strip's width
	Creep                 float64 // share of its width by which a strip may be short where strakes are counted
	Fit                   float64 // mm
	LeastWedge            float64 // mm
	WedgeOver             float64 // how much longer than its gap a wedge is cut, a ratio
	Stub                  float64 // share of a strip's length
	EdgeStrain            float64 // a ratio
	BendDry, BendSoaked   float64 // face strains, ratios
	BendHot               float64 // face strain, a ratio
	Twist                 float64 // shear strain of a twisted strip's face, a ratio
	WedgeEnd              float64 // share of the hull's length
	WedgeTwist            float64 // degrees in 100 mm
	WedgeLength           float64 // of a wedge over its width, a ratio
	Nib                   float64 // share of a strake's width
	Straight              float64 // mm
	Lies                  float64 // share of a limit
	SheetMargin           float64 // mm
	SheetTilt             float64 // degrees

	extra *extra
}

// TradeRule describes one of them: its name in a plan's file and on the command
// line, what it says, and where its usual figure comes from.
type TradeRule struct {
	Key    string
	Says   string // a phrase that the figure follows
	Unit   string // "mm", or "" for a ratio
	Usual  float64
	Within Range
	Source string
	in     func(*Trade) *float64
}

// tradeSource and thumbSource are the sources of usual figures for which no
// published table is at hand.
const (
	tradeSource = "common practice, no source"
	thumbSource = "a rule of thumb, no source"
)

// TradeRules is the table of all rules, in the order in which they are shown.
// The slice belongs to the caller.
func TradeRules() []TradeRule {
	share := Range{0.05, 1, false}
	strain := Range{0.0001, 0.2, false}
	return []TradeRule{
		{"least_width", tongue.T("least width of a strake, as a share of its strip"), "", 0.5, share, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.LeastWidth }},
		{"most_width", tongue.T("greatest width of a strake, as a share of its strip"), "", 1.5, Range{1, 5, false}, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.MostWidth }},
		{"creep", tongue.T("shortfall, as a share of a strip's width, that adds another strip"), "", 0.03, Range{0, 0.2, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.Creep }},
		{"fit", tongue.T("the most by which a fitting strip's width may differ from the need"), "mm", 0.05, Range{0.001, 1, false}, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.Fit }},
		{"least_wedge", tongue.T("gathered gap below which filler does instead of a wedge"), "mm", 0.5, Range{0.01, 10, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.LeastWedge }},
		{"wedge_over", tongue.T("extra length of a wedge, as a share of its gap's length"), "", 0.1, Range{0, 1, false}, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.WedgeOver }},
		{"stub", tongue.T("length of a stub, as a share of a strip's length, at the most"), "", 0.25, Range{0, 0.5, false}, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.Stub }},
		{"edge_strain", tongue.T("edge strain limit for springing a strip sideways"), "", 0.003, strain, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.EdgeStrain }},
		{"bend_dry", tongue.T("face strain limit for bending a strip dry"), "", 0.01, strain, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.BendDry }},
		{"bend_soaked", tongue.T("face strain limit for bending a strip soaked; above it, heat it"), "", 0.02, strain, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.BendSoaked }},
		{"bend_hot", tongue.T("face strain limit for bending a soaked strip with heat; above it, carve"), "", 0.04, strain, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.BendHot }},
		{"twist", tongue.T("limit for twisting a strip, as shear strain of its face, thickness times twist; above it, carve"), "", 0.06, strain, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.Twist }},
		{"wedge_end", tongue.T("share of the planked length, from either end, within which wedges may lie"), "", 0.3, Range{0, 0.5, false}, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.WedgeEnd }},
		{"wedge_twist", tongue.T("twist in 100 mm, degrees, that lets wedges lie farther from the ends"), "", 30, Range{1, 1000, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.WedgeTwist }},
		{"wedge_length", tongue.T("least length of a wedge, in widths"), "", 8, Range{1, 100, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.WedgeLength }},
		{"nib", tongue.T("least width of a dropped strake's nib, as a share of its strip"), "", 0.5, share, tongue.T(tradeSource), func(t *Trade) *float64 { return &t.Nib }},
		{"straight", tongue.T("how far a straight cut may stray from a strake's true edge"), "mm", 0.15, Range{0.01, 2, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.Straight }},
		{"lies", tongue.T("share of the dry limit below which a strip lies by itself"), "", 0.1, Range{0, 1, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.Lies }},
		{"sheet_margin", tongue.T("margin between strakes and the edge of their sheet"), "mm", 2, Range{0, 100, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.SheetMargin }},
		{"sheet_tilt", tongue.T("greatest angle of a strake off the grain of its sheet, degrees"), "", 2, Range{0, 15, false}, tongue.T(thumbSource), func(t *Trade) *float64 { return &t.SheetTilt }},
	}
}

// NewTrade is the rules with their usual figures.
func NewTrade() Trade {
	var t Trade
	for _, r := range TradeRules() {
		*r.in(&t) = r.Usual
	}
	return t
}

// AsUsual is t with the usual figure for every rule.
func (t Trade) AsUsual() Trade {
	usual := NewTrade()
	usual.extra = t.extra
	return usual
}

// Rules are the rules of thumb by which the plan is worked out.
func (p *Plan) Rules() Trade {
	if p.Trade == (Trade{}) {
		return NewTrade()
	}
	return p.Trade
}

// Of is the rule's figure in t.
func (r *TradeRule) Of(t Trade) float64 { return *r.in(&t) }

// Set gives the rule another figure in t; the error says what it may be.
func (r *TradeRule) Set(t *Trade, figure float64) error {
	if err := r.Within.Refuse(r.Key, figure, unitAfter(r.Unit)); err != nil {
		return err
	}
	*r.in(t) = figure
	return nil
}

func unitAfter(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// TradeRuleNamed finds a rule by its key, in which hyphens may replace
// underscores.
func TradeRuleNamed(key string) (TradeRule, error) {
	var keys []string
	for _, r := range TradeRules() {
		if r.Key == strings.ReplaceAll(key, "-", "_") {
			return r, nil
		}
		keys = append(keys, r.Key)
	}
	return TradeRule{}, tongue.Errorf("there is no rule %q: they are %s", key, strings.Join(keys, ", "))
}

// Check returns an error on a figure outside its range, and on rules that
// contradict each other.
func (t Trade) Check() error {
	for _, r := range TradeRules() {
		if err := r.Within.Refuse(r.Key, r.Of(t), unitAfter(r.Unit)); err != nil {
			return err
		}
	}
	if t.BendSoaked < t.BendDry {
		return tongue.Errorf("a soaked strip bends no less than a dry one: bend_soaked is %s and bend_dry is %s", digits(t.BendSoaked), digits(t.BendDry))
	}
	if t.BendHot < t.BendSoaked {
		return tongue.Errorf("a heated strip bends no less than a soaked one: bend_hot is %s and bend_soaked is %s", digits(t.BendHot), digits(t.BendSoaked))
	}
	return nil
}

// trade reads the rules that differ from the usual.
func (r *planReader) trade(n node) Trade {
	o := r.object(n, tongue.T("the trade's rules"))
	t := NewTrade()
	hot := false
	for _, rule := range TradeRules() {
		if n, ok := o.take(rule.Key); ok {
			hot = hot || rule.Key == "bend_hot"
			*rule.in(&t), _ = r.number(n, tongue.T("%q of %s", rule.Key, o.where), rule.Within)
		}
	}
	if t.BendSoaked < t.BendDry {
		r.fault(n, "make the second at least as great", `"bend_dry" of %s is more than "bend_soaked"`, o.where)
	}
	if !hot { // a plan older than this rule
		t.BendHot = max(t.BendHot, t.BendSoaked)
	}
	if t.BendHot < t.BendSoaked {
		r.fault(n, "make the second at least as great", `"bend_soaked" of %s is more than "bend_hot"`, o.where)
	}
	t.extra = o.rest()
	return t
}

// tradeMember is the member of the plan that holds the rules that differ from
// the usual, if there are any.
func (p *Plan) tradeMember() object {
	t := p.Rules()
	var o object
	for _, r := range TradeRules() {
		if v := r.Of(t); v != r.Usual {
			o = append(o, member{r.Key, v})
		}
	}
	if o = append(o, t.extra.members()...); len(o) == 0 {
		return nil
	}
	return object{{"trade", o}}
}
