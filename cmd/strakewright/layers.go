package main

import (
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

type layersCmd struct {
	format
	planArg
	Layer     *whole   `placeholder:"N" help:"The layer to change, from 1 outwards."`
	From      word     `placeholder:"FRAME" help:"Lay it from this frame."`
	To        word     `placeholder:"FRAME" help:"Lay it to this frame, of greater x."`
	All       bool     `help:"Lay it on the whole planked hull."`
	Thickness *number  `placeholder:"MM" help:"Use strips of this thickness for it."`
	Block     []string `sep:"none" placeholder:"FROM,TO[,UPPER[,LOWER]]" help:"Make part of it a block of solid wood: between two frames and, in mm below the upper limit, two girths; repeatable."`
	Planks    bool     `help:"Remove all blocks from it."`
	Settle    string   `enum:"thin,end,block," default:"" placeholder:"WAY" help:"Settle each of its folds: thin (thinner strips), end (lay it between other frames) or block."`
	Output    word     `name:"output" short:"o" placeholder:"PLAN" help:"Write the changed plan to this file (default: only show it)."`
	Replace   bool     `help:"Overwrite an existing file."`
}

// Run tells where the layers are laid and where they fold, or changes one.
func (c *layersCmd) Run(s *streams) error {
	seen := app.See(c.Plan)
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	if c.changes() {
		if k, err = c.changed(s, k); err != nil {
			return err
		}
	}
	a := answer.LayersOf(k)
	if a.Written, err = s.written(c.Output, k.Plan, c.Replace, seen); err != nil {
		return err
	}
	return c.give(s, a)
}

// changes tells whether a flag asks for a change.
func (c *layersCmd) changes() bool {
	return c.Layer != nil || c.From != "" || c.To != "" || c.All || c.Thickness != nil || len(c.Block) > 0 || c.Planks || c.Settle != ""
}

// changed is the planking with the layer as the flags have it.
func (c *layersCmd) changed(s *streams, k *loft.Planking) (*loft.Planking, error) {
	if c.Layer == nil {
		return nil, misused("name the layer to change with --layer, as --layer 1")
	}
	layer, err := layerOf(k, int(*c.Layer))
	if err != nil {
		return nil, err
	}
	p := k.Plan.Clone()
	if err := c.change(&p.Layers[layer]); err != nil {
		return nil, err
	}
	if k, err = replanked(s, k, p); err != nil || c.Settle == "" {
		return k, err
	}
	return c.settled(s, k, layer)
}

// change makes the changes that are told outright.
func (c *layersCmd) change(l *hull.Layer) error {
	if c.All {
		l.From, l.To = "", ""
	}
	if c.From != "" {
		l.From = string(c.From)
	}
	if c.To != "" {
		l.To = string(c.To)
	}
	if c.Thickness != nil {
		if err := inRange("--thickness", c.Thickness, hull.StripThickness, " mm"); err != nil {
			return err
		}
		l.Stock.Thickness = float64(*c.Thickness)
	}
	if c.Planks {
		l.Blocks = nil
	}
	for _, text := range c.Block {
		b, err := blockOf(text)
		if err != nil {
			return err
		}
		l.Blocks = append(l.Blocks, b)
	}
	return nil
}

// blockOf reads a block: two frames and up to two girths.
func blockOf(text string) (b hull.Solid, err error) {
	parts := strings.Split(text, ",")
	if len(parts) < 2 || len(parts) > 4 {
		return b, misused("--block %s: write it as FROM,TO or FROM,TO,UPPER,LOWER, as A,C,40,60", text)
	}
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	b.From, b.To = parts[0], parts[1]
	for i, into := range []*float64{&b.Upper, &b.Lower}[:len(parts)-2] {
		if *into, err = strconv.ParseFloat(parts[2+i], 64); err != nil {
			return b, misused("--block %s: %q is not a number", text, parts[2+i])
		}
	}
	return b, nil
}

// replanked is the planking of a plan that a flag changed.
func replanked(s *streams, k *loft.Planking, p *hull.Plan) (*loft.Planking, error) {
	if faults := p.Check(); len(faults) > 0 {
		return nil, misuse{faults[0]}
	}
	ctx, release := s.interruptible()
	defer release()
	out, err := working(ctx, s, "planking the hull", func() (*loft.Planking, error) { return k.ReplankContext(ctx, p) })
	if err != nil {
		return nil, misuse{err}
	}
	return out, nil
}

// settled takes one way out of the folds of a layer: the thinnest strips asked for
// by any, the one run of frames, or a block for each.
func (c *layersCmd) settled(s *streams, k *loft.Planking, layer int) (*loft.Planking, error) {
	p := k.Plan.Clone()
	taken := 0
	for _, n := range k.Layers[layer].Notes {
		f, ok := n.(loft.Folds)
		if !ok {
			continue
		}
		r := remedyBy(f, c.Settle)
		if r == nil {
			return nil, misused("--settle %s: that does not settle the fold at frame %s; use block", c.Settle, k.Layers[layer].Surface.FrameName(f.At))
		}
		if t, thinner := r.(loft.Thinner); thinner && t.Thickness > p.Layers[layer].Stock.Thickness {
			continue // another fold asks for less
		}
		if err := loft.Take(p, layer, r); err != nil {
			return nil, tongue.Errorf("--settle: %w", err)
		}
		taken++
	}
	if taken == 0 {
		return nil, misused("--settle: layer %d does not fold anywhere", layer+1)
	}
	return replanked(s, k, p)
}

// remedyBy is the remedy of a fold by its name in the shell; nil where there is none.
func remedyBy(f loft.Folds, way string) loft.Remedy {
	for _, r := range f.Remedies() {
		switch r.(type) {
		case loft.Thinner:
			if way == "thin" {
				return r
			}
		case loft.EndLayer:
			if way == "end" {
				return r
			}
		case loft.SolidWood:
			if way == "block" {
				return r
			}
		}
	}
	return nil
}
