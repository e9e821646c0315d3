package desk

import (
	"context"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/loft"
)

// Marched is what strips come to that are marched out into the bands of a layer.
// It is never changed.
type Marched struct {
	Layer *loft.Layer
	Ways  []loft.March
	Err   error // why there are none
}

// march is whether strips are shown so, and what was found of them last.
type march struct {
	on     bool
	last   *Marched // or nil
	latest kit.Latest
}

// Marching tells whether strips are shown marched out from the free lines.
func (d *Desk) Marching() bool { return d.march.on }

// ShowMarch has them shown, or no longer.
func (d *Desk) ShowMarch(on bool) {
	d.march.on = on
	if !on {
		d.march.latest.End()
		d.march.last = nil
	}
	d.Refresh()
}

// Marched is what was found of the layer shown; nil while that is not known, and
// where it is not shown.
func (d *Desk) Marched() *Marched {
	if m := d.march.last; m != nil && m.Layer == d.Layer() {
		return m
	}
	return nil
}

// marchOut finds it behind what goes on, once a drag is over.
func (d *Desk) marchOut() {
	if !d.march.on || d.Grip != nil || d.Marched() != nil {
		return
	}
	k, layer, of := d.Planking(), d.Choice.Layer, d.Layer()
	d.march.latest.Start(d.Background, func(ctx context.Context) func() {
		ways, err := k.March(ctx, layer)
		return func() {
			d.march.last = &Marched{of, ways, err}
			d.Refresh()
		}
	})
}
