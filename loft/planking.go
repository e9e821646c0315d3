package loft

import (
	"context"
	"reflect"
	"sync"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Planking is everything that follows from a plan. It is computed whole by
// Plank or Replank and never changed afterwards, so it may be read from any
// goroutine.
type Planking struct {
	Plan   *hull.Plan // the plan it was computed from; must not be changed
	Layers []*Layer   // one for each layer of the plan, from the frames outwards

	cutMu sync.Mutex
	cut   []*CuttingPlan // what CutLayers gave, nil before
}

// Plank computes everything that follows from a plan: the surface each layer
// lies on, the course of every band line, the strakes, their widths, bevels
// and strains, wedges and drop strakes. It is pure: the same plan gives the
// same planking. The error names the layer, band or frame at fault.
func Plank(p *hull.Plan) (*Planking, error) { return PlankContext(context.Background(), p) }

// PlankContext is Plank; it stops when the context ends, with an error that wraps the
// context's.
func PlankContext(ctx context.Context, p *hull.Plan) (*Planking, error) { return plank(ctx, p, nil) }

// Replank computes the same planking as Plank(p), but faster where p shares its hull
// and thicknesses with the plan that k was computed from: the lofted surfaces are then
// reused.
func (k *Planking) Replank(p *hull.Plan) (*Planking, error) {
	return k.ReplankContext(context.Background(), p)
}

// ReplankContext is Replank; it stops when the context ends, with an error that wraps
// the context's.
func (k *Planking) ReplankContext(ctx context.Context, p *hull.Plan) (*Planking, error) {
	return plank(ctx, p, k)
}

// plank computes the planking; when the context ends it stops after the surface or
// strake in hand.
func plank(ctx context.Context, p *hull.Plan, old *Planking) (*Planking, error) {
	surfaces, err := layerSurfaces(ctx, p, old)
	if err != nil {
		return nil, err
	}
	out, crossings := &Planking{Plan: p}, 0
	for i := range p.Layers {
		if err := halt.Asked(ctx, planking); err != nil {
			return nil, err
		}
		var before *Layer
		if old != nil && i < len(old.Layers) {
			before = old.Layers[i]
		}
		l, err := newLayer(ctx, p, i, surfaces[i], before)
		if err != nil {
			return nil, tongue.Errorf("layer %d: %w", i+1, err)
		}
		l.noteExtent(p, surfaces)
		out.Layers = append(out.Layers, l)
		if crossings += len(l.Strakes) * l.Surface.Frames(); crossings > hull.MostCrossings {
			return nil, tongue.Errorf("layer %d: the strakes of the layers up to it cross the frames more than %d times, the limit: give wider strips, fewer frames or fewer layers", i+1, hull.MostCrossings)
		}
	}
	return out, nil
}

// Layer is the layer of an index, from 0; the error says that there is none.
func (k *Planking) Layer(i int) (*Layer, error) {
	if i < 0 || i >= len(k.Layers) {
		return nil, noLayer(k.Plan, i)
	}
	return k.Layers[i], nil
}

const planking = "the planking"

// layerSurfaces lofts the surface under every layer, or reuses that of old where the
// hull and the layers below are the same.
func layerSurfaces(ctx context.Context, p *hull.Plan, old *Planking) ([]*Surface, error) {
	if len(p.Layers) == 0 {
		return nil, tongue.Errorf("the plan has no layer of planking: give it at least one")
	}
	same := old != nil && reflect.DeepEqual(old.Plan.Hull.Frames, p.Hull.Frames) && old.Plan.Hull.Shapeless() == p.Hull.Shapeless() &&
		reflect.DeepEqual(old.Plan.Hull.Limits, p.Hull.Limits)
	out := make([]*Surface, len(p.Layers))
	for i := range p.Layers {
		if err := halt.Asked(ctx, planking); err != nil {
			return nil, err
		}
		if same && i > 0 {
			same = i < len(old.Layers) && old.Plan.Layers[i-1].Stock.Thickness == p.Layers[i-1].Stock.Thickness && sameStretch(old.Plan, p, i-1)
		}
		var err error
		switch {
		case same:
			out[i] = old.Layers[i].Surface
		case p.Hull.Shapeless():
			out[i], err = loftGirths(p, i)
		case i == 0:
			out[i], err = loftHull(&p.Hull)
		default:
			from, to := stretch(p, i-1)
			out[i] = out[i-1].offset(p.Layers[i-1].Stock.Thickness, from, to)
		}
		if err != nil {
			return nil, tongue.Errorf("layer %d: %w", i+1, err)
		}
		out[i] = out[i].laidFrom(p.Laid(i))
	}
	return out, nil
}
