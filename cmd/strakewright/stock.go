package main

import (
	"context"
	"fmt"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

type stockCmd struct {
	format
	planArg
	Widths    word    `placeholder:"MM,MM" help:"Strip widths to compare, mm, as 4,5,6, or with decimal commas as 4,5;6."`
	Thickness word    `placeholder:"MM,MM" help:"Strip thicknesses to compare with each width, mm (default: as planned)."`
	Species   word    `placeholder:"NAME,NAME" help:"Woods to compare with each width (default: as planned)."`
	Layer     *whole  `placeholder:"N" help:"One layer alone, from 1 outwards; of layer 2 and over, also how far its seams lie off those beneath."`
	Mix       bool    `help:"Find the best mix of the widths for each band, at most three of them."`
	Cutting   bool    `help:"Give the cutting list: the plan's strakes from its strips and sheets at hand and on sale."`
	Swelling  bool    `help:"Show what soaking does to the run of each band."`
	Of        *whole  `name:"run" placeholder:"N" help:"With --swelling: this many strips, in place of a band's own."`
	Laid      *number `placeholder:"PERCENT" help:"With --swelling: moisture of the strips as laid (default: soaked through)."`
	Measured  *number `placeholder:"MM" help:"With --swelling: what the strips were found to run as laid."`
	Formulas  bool    `help:"Show how each figure is reckoned."`
	widths    []float64
	thick     []float64
	species   []string
}

// Run compares strips on the layers asked for, and answers what else was asked.
func (c *stockCmd) Run(s *streams) error {
	if err := c.read(); err != nil {
		return err
	}
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	layers, err := c.layers(k)
	if err != nil {
		return err
	}
	ctx, release := s.interruptible()
	defer release()
	a, err := working(ctx, s, tongue.T("reckoning the strips"), func() (answer.Stock, error) { return c.answer(ctx, k, layers) })
	if err != nil {
		return err
	}
	return c.give(s, a)
}

// answer gives all that was asked for.
func (c *stockCmd) answer(ctx context.Context, k *loft.Planking, layers []int) (answer.Stock, error) {
	a := answer.Stock{Rows: []answer.StockRow{}, Advice: []string{}}
	for _, do := range []func(context.Context, *loft.Planking, []int, *answer.Stock) error{c.compare, c.mix, c.seams, c.swelling, c.cutting} {
		if err := do(ctx, k, layers, &a); err != nil {
			return a, err
		}
	}
	if c.Formulas {
		a.Figures = answer.Figures()
	}
	return a, nil
}

// read reads the lists on the line.
func (c *stockCmd) read() error {
	var err error
	if c.Widths == "" && (c.Mix || !(c.Cutting || c.Swelling || c.Layer != nil || c.Formulas || c.Thickness != "" || c.Species != "")) {
		return misused("--widths is missing: give strip widths in mm, as --widths 4,5,6")
	}
	if c.Widths != "" {
		if c.widths, err = answer.ReadWidths(string(c.Widths)); err != nil {
			return misused("--widths: %w", err)
		}
	}
	if c.Thickness != "" {
		if c.thick, err = answer.ReadThicknesses(string(c.Thickness)); err != nil {
			return misused("--thickness: %w", err)
		}
	}
	c.species = answer.ReadSpecies(string(c.Species))
	switch {
	case !c.Swelling && (c.Of != nil || c.Laid != nil || c.Measured != nil):
		return misused("--run, --laid and --measured go with --swelling: add it")
	case c.Of != nil:
		if err := hull.RunCount.Refuse("--run", float64(*c.Of), ""); err != nil {
			return misuse{err}
		}
	}
	if err := inRange("--laid", c.Laid, hull.MoistureContent, " %"); err != nil {
		return err
	}
	return inRange("--measured", c.Measured, hull.Run, " mm")
}

// layers gives the indices of the layers asked for.
func (c *stockCmd) layers(k *loft.Planking) ([]int, error) {
	if c.Layer != nil {
		n, err := layerOf(k, int(*c.Layer))
		return []int{n}, err
	}
	var out []int
	for i := range k.Layers {
		out = append(out, i)
	}
	return out, nil
}

// compare lays every kind of strip.
func (c *stockCmd) compare(ctx context.Context, k *loft.Planking, layers []int, a *answer.Stock) error {
	if c.widths == nil && c.thick == nil && c.species == nil {
		return nil
	}
	for _, i := range layers {
		t, err := answer.NewTrials(ctx, k, i)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Plan, err)
		}
		kinds, err := answer.Kinds(k.Plan.Layers[i].Stock, c.widths, c.thick, c.species)
		if err != nil {
			return misuse{err}
		}
		var trials []*answer.Trial
		for _, stock := range kinds {
			trial, err := t.Lay(ctx, stock)
			if err != nil {
				return misused("--widths: %w", err)
			}
			trials = append(trials, trial)
		}
		got := answer.StockOf(k, trials)
		a.Rows, a.Advice = append(a.Rows, got.Rows...), append(a.Advice, got.Advice...)
	}
	return nil
}

func (c *stockCmd) mix(ctx context.Context, k *loft.Planking, layers []int, a *answer.Stock) error {
	for _, i := range layers {
		for b := range k.Layers[i].Bands {
			if !c.Mix {
				continue
			}
			m, err := answer.MixOf(ctx, k, i, b, c.widths, nil)
			if err != nil {
				return misused("--widths: %w", err)
			}
			a.Mixes = append(a.Mixes, m)
		}
	}
	return nil
}

// seams are told where one layer is asked for that has another beneath it.
func (c *stockCmd) seams(_ context.Context, k *loft.Planking, layers []int, a *answer.Stock) error {
	if c.Layer == nil || layers[0] == 0 {
		return nil
	}
	s, err := answer.SeamsOf(k, layers[0], nil)
	a.Seams = append(a.Seams, s)
	return err
}

func (c *stockCmd) swelling(_ context.Context, k *loft.Planking, layers []int, a *answer.Stock) error {
	if !c.Swelling {
		return nil
	}
	var ask answer.Wetted
	if c.Of != nil {
		ask.Strips = int(*c.Of)
	}
	if c.Laid != nil {
		laid := float64(*c.Laid)
		ask.Laid = &laid
	}
	if c.Measured != nil {
		ask.Measured = float64(*c.Measured)
	}
	if len(c.widths) == 1 {
		ask.Width = c.widths[0]
	}
	names := c.species
	if names == nil {
		names = []string{""}
	}
	for _, i := range layers {
		for b := range k.Layers[i].Bands {
			if c.Of != nil && b > 0 {
				break // a run told by number is the same in every band
			}
			for _, ask.Species = range names {
				s, err := answer.SwellingOf(k, i, b, ask, nil)
				if err != nil && ask.Species != "" {
					return misused("--species: %w", err)
				}
				if err != nil {
					return tongue.Errorf("%s: %w; or add --species", c.Plan, err)
				}
				a.Swelling = append(a.Swelling, s)
			}
		}
	}
	return nil
}

// cutting cuts all layers, since one takes from the box what the next no longer
// finds, and tells those asked for.
func (c *stockCmd) cutting(ctx context.Context, k *loft.Planking, layers []int, a *answer.Stock) error {
	if !c.Cutting {
		return nil
	}
	all, err := k.CutLayers(ctx)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Plan, err)
	}
	for _, i := range layers {
		a.Cutting = append(a.Cutting, answer.CuttingOf(k, i, all[i], nil))
	}
	return nil
}
