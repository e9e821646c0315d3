package sheets

import (
	"context"
	"errors"
	"fmt"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Progress is told how many of how many steps are done, and what comes next.
type Progress func(done, of int, what string)

// step is one of the calls that make the booklet.
type step struct {
	what string
	draw func() ([]draw.Sheet, error)
}

// All gives every sheet of a planking in the order of the work, which is that of the
// booklet: the wood to buy, the numbering maps, the filler blocks, then for each layer
// marking, the sheet wood, strakes, wedges, bevels and bending, and at last the order of
// laying. It stops between
// steps when the context ends, with the context's error; progress may be nil.
// Other errors are those of fillerBlocks and loft.Planking.CutLayers.
func All(ctx context.Context, k *loft.Planking, s Settings, progress Progress) ([]draw.Sheet, error) {
	cut := s.Cut
	steps := []step{{tongue.T("wood to buy"), func() (_ []draw.Sheet, err error) {
		if cut == nil {
			if cut, err = k.CutLayers(ctx); err != nil {
				return nil, err
			}
		}
		return shopping(k, cut, s), nil
	}}}
	steps = append(steps, mapSteps(k, s)...)
	for _, b := range s.blocks(k) {
		steps = append(steps, step{tongue.T("filler blocks"), func() ([]draw.Sheet, error) {
			drawn, err := fillerBlocks(k, b.From, b.To, b.Spacing, s.inset(k), s)
			if none := nothingLeft(""); s.Blocks == nil && errors.As(err, &none) {
				return nil, nil // nobody asked for one, and the bay has no room for any
			}
			return drawn, err
		}})
	}
	for layer := 1; layer <= len(k.Layers); layer++ {
		steps = append(steps, layerSteps(k, layer, s, &cut)...)
	}
	steps = append(steps, step{tongue.T("order of laying"), func() ([]draw.Sheet, error) { return tickOff(k, cut, s), nil }})
	var out []draw.Sheet
	for i, st := range steps {
		if err := ctx.Err(); err != nil {
			return nil, tongue.Errorf("the sheets are not finished: %w", err)
		}
		if progress != nil {
			progress(i, len(steps), st.what)
		}
		made, err := st.draw()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", st.what, err)
		}
		out = append(out, made...)
	}
	if progress != nil {
		progress(len(steps), len(steps), "")
	}
	return out, nil
}

// mapSteps draw the numbering maps.
func mapSteps(k *loft.Planking, s Settings) []step {
	var out []step
	for layer := 1; layer <= len(k.Layers); layer++ {
		out = append(out, step{tongue.T("numbering map, layer %d", layer), func() ([]draw.Sheet, error) {
			return numberMaps(k, layer, s), nil
		}})
	}
	return out
}

// layerSteps draw what there is of every layer; cut is known when they are taken.
func layerSteps(k *loft.Planking, layer int, s Settings, cut *[]*loft.CuttingPlan) []step {
	var out []step
	for _, kind := range []struct {
		what string
		draw func(*loft.Planking, int, Settings) []draw.Sheet
	}{
		{tongue.T("tick strips"), tickStrips},
		{tongue.T("frame marking cards"), markingCards},
		{tongue.T("sheet wood"), func(_ *loft.Planking, layer int, s Settings) []draw.Sheet {
			return sheetWood((*cut)[layer-1], layer, s)
		}},
		{tongue.T("flat strakes"), flatStrakes},
		{"wedges", wedgePatterns},
		{tongue.T("drop strakes"), dropped},
		{"bevels", bevelSheets},
		{tongue.T("bending card"), bendingCard},
	} {
		out = append(out, step{tongue.T("%s, layer %d", kind.what, layer), func() ([]draw.Sheet, error) {
			return kind.draw(k, layer, s), nil
		}})
	}
	return out
}
