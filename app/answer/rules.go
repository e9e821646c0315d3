package answer

import (
	"cmp"
	"io"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Rules is the answer of the command rules: the trade's rules of thumb that a
// plan is worked out by.
type Rules struct {
	Rules   []Rule   `json:"rules"`
	Limits  []Limits `json:"limits"` // how far the wood of each layer bends, by these rules and its own figures
	Written string   `json:"written,omitempty"`
}

// Rule is one of them.
type Rule struct {
	Rule   string  `json:"rule"`
	Says   string  `json:"says"`
	Figure float64 `json:"figure"`
	Usual  float64 `json:"usual"`
	Unit   string  `json:"unit,omitempty"` // "mm"; left out of a ratio
	Source string  `json:"source"`         // of the usual figure; the builder's own has none
}

// RulesOf tells a plan's rules.
func RulesOf(p *hull.Plan) Rules {
	t := p.Rules()
	out := Rules{Rules: []Rule{}, Limits: limitsOf(p)}
	for _, r := range hull.TradeRules() {
		out.Rules = append(out.Rules, Rule{r.Key, r.Says, r.Of(t), r.Usual, r.Unit, r.Source})
	}
	return out
}

// Text writes them as a table; the builder's own are marked.
func (a Rules) Text(w io.Writer) error {
	p := &page{w: w}
	t := table{head: heads("rule", "figure", "usual", "")}
	figure := func(v float64) string { return decimals(v, -1) }
	var says []string
	for _, r := range a.Rules {
		own := ""
		if r.Figure != r.Usual {
			own = tongue.In("figure", "your own")
		}
		t.rows = append(t.rows, []string{r.Rule, figure(r.Figure), figure(r.Usual), own})
		says = append(says, r.Rule+": "+r.Says+unitAfter(r.Unit)+" ("+r.Source+").")
	}
	p.table(t)
	p.list(tongue.T("What the rules say, and the sources of the usual figures:"), says)
	p.gap()
	p.line("The usual figures have no published table behind them: try an offcut of your wood, and set what it shows.")
	p.line("For bending, a rule that you set comes first, then the published figure of the wood, then the usual rule.")
	for _, l := range a.Limits {
		p.gap()
		p.line("Layer %d, %s. %s", l.Layer, cmp.Or(l.Species, tongue.T("no wood named")), l.text)
		var of []string
		for _, w := range l.Woods {
			of = append(of, w.Wood+": "+said(sourceWords, w.Source)+".")
		}
		p.list(tongue.T("Sources of the wood's figures:"), of)
	}
	if a.Written != "" {
		p.line("Written to %s.", a.Written)
	}
	return p.err
}

func unitAfter(unit string) string {
	if unit == "" {
		return ""
	}
	return ", " + unit
}
