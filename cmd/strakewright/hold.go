package main

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

type holdCmd struct {
	format
	planArg
	Strake    word    `placeholder:"ID" help:"The strake along whose middle the strip is laid, as 1.05, or in an outer layer as 2/1.05."`
	Line      *whole  `placeholder:"N" help:"Or the band line, from 1 below the first band."`
	Layer     whole   `default:"1" placeholder:"N" help:"The layer of --line, from 1 outwards (default ${default})."`
	Held      word    `placeholder:"F,G,H" help:"The frames where it is held when it is let go at the others (default: three amidships)."`
	Width     *number `placeholder:"MM" help:"Width of the strip, mm (default: that of the strake's strip)."`
	Thickness *number `placeholder:"MM" help:"Thickness of the strip, mm (default: that of the layer)."`
	Modulus   *number `placeholder:"GPA" help:"Modulus of elasticity of its wood along the grain, GPa (default: that published of the layer's species)."`
	Within    number  `default:"0.1" placeholder:"MM" help:"How near to its place it is to lie at every frame, mm (default ${default})."`
	Steps     bool    `help:"Tell also how it is pressed on, from the first frames to the last."`
}

// Run tells where a strip lifts off and must be held.
func (c *holdCmd) Run(s *streams) error {
	k, err := c.plank()
	if err != nil {
		return err
	}
	for _, f := range []struct {
		flag   string
		figure *number
		within hull.Range
		unit   string
	}{
		{"--width", c.Width, hull.StripWidth, " mm"}, {"--thickness", c.Thickness, hull.StripThickness, " mm"},
		{"--modulus", c.Modulus, hull.Stiffness, " GPa"}, {"--within", &c.Within, loft.HoldWithin, " mm"},
	} {
		if err := inRange(f.flag, f.figure, f.within, f.unit); err != nil {
			return err
		}
	}
	sp, layer, woods, err := c.sprung(k)
	if err != nil {
		return err
	}
	asked := answer.HoldAsked{Strake: string(c.Strake), Within: float64(c.Within), Steps: c.Steps}
	if c.Line != nil {
		asked.Line = int(*c.Line)
	}
	if asked.Held, err = c.frames(k); err != nil {
		return err
	}
	ctx, release := interruptible()
	defer release()
	meter := newMeter(s.messages)
	a, err := unlessStopped(ctx, func() (answer.Hold, error) {
		return answer.HoldOf(ctx, k, layer, sp, woods, asked, func(tried, prospect int) {
			if ctx.Err() == nil {
				meter.tell(export.Progress{Done: tried, All: prospect, What: "ways to hold the strip"})
			}
		})
	})
	meter.end()
	switch {
	case err == nil:
		return c.give(s, a)
	case ctx.Err() == nil && c.Held != "":
		return misused("--held %s: %w", c.Held, err)
	}
	return fmt.Errorf("%s: %w", c.Plan, err)
}

// sprung lays the strip over the frames, and tells its layer and woods.
func (c *holdCmd) sprung(k *loft.Planking) (*loft.Springing, int, []hull.Wood, error) {
	if (c.Strake == "") == (c.Line == nil) {
		return nil, 0, nil, misused("say along what the strip is laid: --strake ID or --line N, one of them")
	}
	var layer, first, last int
	var line *loft.Line
	var width float64
	flag := "--strake"
	if c.Line == nil {
		if layer = layerWith(k, string(c.Strake)); layer < 0 {
			return nil, 0, nil, misused("--strake %s: %s has no strake of that ID; they run %s", c.Strake, c.Plan, strakeIDs(k))
		}
		l := k.Layers[layer]
		st := l.Strakes[l.StrakeNamed(string(c.Strake))]
		first, last = st.LaidBetween()
		line, width = st.Centre, st.Strip
	} else {
		var err error
		if layer, err = layerOf(k, int(c.Layer)); err != nil {
			return nil, 0, nil, err
		}
		flag = "--line"
		lines := k.Layers[layer].Lines
		if *c.Line < 1 || int(*c.Line) > len(lines)-2 {
			return nil, 0, nil, misused("--line %d: layer %d has %d between its bands", *c.Line, layer+1, len(lines)-2)
		}
		line, width = lines[*c.Line].Line, k.Plan.Layers[layer].Stock.Width
		first, last = k.Layers[layer].Surface.Planked()
	}
	stock := k.Plan.Layers[layer].Stock
	thickness := stock.Thickness
	set(&width, c.Width)
	set(&thickness, c.Thickness)
	modulus, woods := loft.ModulusOf(k.Plan, stock.Species)
	if c.Modulus != nil {
		modulus, woods = loft.Range{Low: float64(*c.Modulus), High: float64(*c.Modulus)}, nil
	}
	sp, err := k.Layers[layer].Spring(line, first, last, width, thickness, modulus)
	if err != nil {
		return nil, 0, nil, c.faultOf(flag, err)
	}
	return sp, layer, woods, nil
}

// frames reads the frames of --held; nil for none.
func (c *holdCmd) frames(k *loft.Planking) ([]int, error) {
	if c.Held == "" {
		return nil, nil
	}
	var out []int
	for name := range strings.SplitSeq(string(c.Held), ",") {
		frame := k.Plan.Hull.FrameNamed(strings.TrimSpace(name))
		if frame < 0 {
			return nil, misused("--held %s: %s has no frame %s; girths names them all", c.Held, c.Plan, strings.TrimSpace(name))
		}
		out = append(out, frame)
	}
	return out, nil
}
