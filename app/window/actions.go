package window

import (
	"context"
	"errors"
	"fmt"

	"strakewright/hull"
	"strakewright/loft"
)

func (d *desk) setManner(m hull.Manner) {
	if d.line() != nil {
		d.edit(fmt.Sprintf("change the manner of line %d", d.choice.Line+1), setManner(d.choice.Layer, d.choice.Line, m, d.course()))
	}
}

// chosenHandle tells whether a handle is chosen, and says so if not.
func (d *desk) chosenHandle() bool {
	if d.line() == nil || d.choice.Frame < 0 {
		d.say("Choose a band line and a frame first.")
		return false
	}
	return true
}

func (d *desk) hold(on bool) {
	if !d.chosenHandle() {
		return
	}
	what := "hold"
	if !on {
		what = "release"
	}
	d.edit(fmt.Sprintf("%s line %d at frame %s", what, d.choice.Line+1, d.frameName(d.choice.Frame)),
		setHeld(d.choice.Layer, d.choice.Line, d.choice.Frame, on, d.course()))
}

func (d *desk) holdHere() {
	if d.chosenHandle() {
		d.edit("set the hold handle", setHold(d.choice.Layer, d.choice.Line, d.choice.Frame, d.course()))
	}
}

func (d *desk) aimAt(frame int) {
	if d.chosenHandle() {
		d.edit("set the aim handle", setAim(d.choice.Layer, d.choice.Line, frame, d.course()))
	}
}

// addLine splits the band of the chosen strake, or the one below the chosen line.
func (d *desk) addLine() {
	band := d.band()
	if d.choice.Line >= 0 {
		band = d.choice.Line + 1
	}
	l := d.layer()
	if d.edit("add a band line", addLine(d.choice.Layer, band, crossings(l, band), crossings(l, band+1))) {
		d.choose(d.choice.WithLine(band))
	}
}

func (d *desk) removeLine() {
	if d.line() == nil {
		d.say("Choose a band line first.")
		return
	}
	d.edit(fmt.Sprintf("remove line %d", d.choice.Line+1), removeLine(d.choice.Layer, d.choice.Line))
}

// laid finds every band line of the layer shown; the plan is put in place only
// if nobody has stopped it.
func (d *desk) laid(bands int) {
	p, layer := d.plan(), d.choice.Layer
	var found *hull.Plan
	d.work("Laying the band lines…", func(ctx context.Context) error {
		q, err := loft.FairLines(ctx, p, layer, bands)
		found = q
		return err
	}, func() {
		d.edit("lay all band lines", func(now *hull.Plan) error {
			if layer >= len(now.Layers) {
				return errors.New("the layer is gone")
			}
			now.Layers[layer] = found.Layers[layer]
			return nil
		})
	})
}

// chooseBand chooses the first strake of a band.
func (d *desk) chooseBand(band int) {
	for k, s := range d.layer().Strakes {
		if s.Band == band+1 {
			d.choose(d.choice.WithStrake(k))
			return
		}
	}
}

func (d *desk) setStrakes(n int) bool {
	return d.edit(fmt.Sprintf("set the strakes of band %d", d.band()+1), setStrakes(d.choice.Layer, d.band(), n))
}

func (d *desk) setShare(w float64) bool {
	if d.choice.Strake < 0 {
		return false
	}
	s := d.layer().Strakes[d.choice.Strake]
	n := d.layer().Bands[s.Band-1].Strakes
	return d.edit("set the share of strake "+s.ID, setWeight(d.choice.Layer, s.Band-1, s.Number-1, n, w))
}

// showLayer shows a layer and chooses its first line.
func (d *desk) showLayer(k int) {
	c := d.choice.WithStrake(-1)
	c.Layer = k
	if len(d.plan().Layers[k].Lines) > 0 {
		c.Line = 0
	}
	d.choose(c)
}

func (d *desk) addLayer() {
	if d.edit("add a layer", addLayer) {
		d.showLayer(len(d.plan().Layers) - 1)
	}
}
