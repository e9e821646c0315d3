package edit

import (
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Settle gives the change that takes a remedy for a fold of a layer.
func Settle(layer int, r loft.Remedy) Change {
	return checked(func(p *hull.Plan) error { return loft.Take(p, layer, r) })
}

// LayBetween gives the change that lays a layer between two frames alone; empty
// names stand for those of the hull.
func LayBetween(layer int, from, to string) Change {
	return checked(func(p *hull.Plan) error {
		if layer >= len(p.Layers) {
			return tongue.New("the layer is gone")
		}
		p.Layers[layer].From, p.Layers[layer].To = from, to
		return nil
	})
}

// PlankBlock gives the change that takes block n (from 0) out of a layer.
func PlankBlock(layer, n int) Change {
	return func(p *hull.Plan) error {
		if layer >= len(p.Layers) || n >= len(p.Layers[layer].Blocks) {
			return tongue.New("the block is gone")
		}
		l := &p.Layers[layer]
		if l.Blocks = slices.Delete(slices.Clone(l.Blocks), n, n+1); len(l.Blocks) == 0 {
			l.Blocks = nil
		}
		return nil
	}
}

// checked makes a change and refuses it where the plan could not be read again.
func checked(change Change) Change {
	return func(p *hull.Plan) error {
		if err := change(p); err != nil {
			return err
		}
		if faults := p.Check(); len(faults) > 0 {
			return faults[0]
		}
		return nil
	}
}
