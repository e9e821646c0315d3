package main

import (
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
)

type rulesCmd struct {
	format
	planArg
	Set     []string `sep:"none" placeholder:"RULE=FIGURE" help:"Give a rule your own figure, as least_width=0.4; repeatable."`
	Usual   bool     `help:"Use the usual figures for all other rules."`
	Output  word     `name:"output" short:"o" placeholder:"PLAN" help:"Write the plan with these rules to this file (default: only show it)."`
	Replace bool     `help:"Overwrite an existing file."`
}

// Run tells the rules, or sets some of them.
func (c *rulesCmd) Run(s *streams) error {
	seen := app.See(c.Plan)
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	p := k.Plan.Clone()
	if p.Trade, err = c.changed(p.Rules()); err != nil {
		return err
	}
	if k, err = k.Replank(p); err != nil {
		return misused("--set: %w", err)
	}
	a := answer.RulesOf(k.Plan)
	if a.Written, err = s.written(c.Output, p, c.Replace, seen); err != nil {
		return err
	}
	return c.give(s, a)
}

// changed gives the rules as the flags have them.
func (c *rulesCmd) changed(t hull.Trade) (hull.Trade, error) {
	if c.Usual {
		t = t.AsUsual()
	}
	for _, text := range c.Set {
		key, figure, ok := strings.Cut(text, "=")
		if !ok {
			return t, misused("--set %s: write it as RULE=FIGURE, as least_width=0.4", text)
		}
		rule, err := hull.TradeRuleNamed(strings.TrimSpace(key))
		if err != nil {
			return t, misused("--set %s: %w", text, err)
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
		if err != nil {
			return t, misused("--set %s: %q is not a number", text, figure)
		}
		if err := rule.Set(&t, v); err != nil {
			return t, misused("--set: %w", err)
		}
	}
	if err := t.Check(); err != nil {
		return t, misused("--set: %w", err)
	}
	return t, nil
}
