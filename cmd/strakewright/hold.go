package main

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

type holdCmd struct {
	format
	planArg
	Strake    word    `placeholder:"ID" help:"The strake along whose middle the strip is laid, as 1.05, or in an outer layer as 2/1.05."`
	Line      *whole  `placeholder:"N" help:"Or the band line, from 1 below the first band."`
	Frame     word    `placeholder:"NAME" help:"Or along the unstressed line from this frame, as in lie."`
	Down      *number `placeholder:"MM" help:"Girth from the upper limit down to the start of that line, mm."`
	Aim       *number `placeholder:"DEG" help:"Its heading there in degrees (default: as in lie)."`
	Layer     whole   `default:"1" placeholder:"N" help:"The layer of --line or --frame, from 1 outwards (default ${default})."`
	Held      word    `placeholder:"F,G,H" help:"The frames that hold it, while it is let go at the others (default: three amidships)."`
	Width     *number `placeholder:"MM" help:"Width of the strip, mm (default: that of the strake's strip)."`
	Thickness *number `placeholder:"MM" help:"Thickness of the strip, mm (default: that of the layer)."`
	Modulus   *number `placeholder:"GPA" help:"Modulus of elasticity of its wood along the grain, GPa (default: the published one of the layer's species)."`
	Within    number  `default:"0.1" placeholder:"MM" help:"How near to its place it must lie at every frame, mm (default ${default})."`
	Steps     bool    `help:"Show also how to press it on, from the first frames to the last."`
}

// Run tells where a strip lifts off and must be held.
func (c *holdCmd) Run(s *streams) error {
	k, err := c.plank(s)
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
		{"--down", c.Down, hull.Down, " mm"}, {"--modulus", c.Modulus, hull.Stiffness, " GPa"}, {"--within", &c.Within, loft.HoldWithin, " mm"},
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
	ctx, release := s.interruptible()
	defer release()
	meter := newMeter(s.messages)
	a, err := unlessStopped(ctx, func() (answer.Hold, error) {
		return answer.HoldOf(ctx, k, layer, sp, woods, asked, func(tried, prospect int) {
			if ctx.Err() == nil {
				meter.tell(export.Progress{Done: tried, All: prospect, What: tongue.T("ways to hold the strip")})
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
	ways := 0
	for _, given := range []bool{c.Strake != "", c.Line != nil, c.Frame != ""} {
		if given {
			ways++
		}
	}
	if ways != 1 || (c.Frame != "") != (c.Down != nil) || c.Aim != nil && c.Frame == "" {
		return nil, 0, nil, misused("name one course for the strip: --strake ID, or --line N, or --frame NAME with --down MM")
	}
	layer, flag := layerWith(k, string(c.Strake)), "--strake"
	if c.Strake == "" {
		var err error
		if layer, err = layerOf(k, int(c.Layer)); err != nil {
			return nil, 0, nil, err
		}
	} else if layer < 0 {
		return nil, 0, nil, misused("--strake %s: %s has no strake of that ID; they run %s", c.Strake, c.Plan, strakeIDs(k))
	}
	l, stock := k.Layers[layer], k.Plan.Layers[layer].Stock
	modulus, woods := loft.ModulusOf(k.Plan, stock.Species)
	if c.Modulus != nil {
		modulus, woods = loft.Range{Low: float64(*c.Modulus), High: float64(*c.Modulus)}, nil
	}
	width, thickness := stock.Width, stock.Thickness
	if c.Strake != "" {
		width = l.Strakes[l.StrakeNamed(string(c.Strake))].Strip
	}
	set(&width, c.Width)
	set(&thickness, c.Thickness)
	var sp *loft.Springing
	var err error
	switch first, last := l.Surface.Planked(); {
	case c.Strake != "":
		st := l.Strakes[l.StrakeNamed(string(c.Strake))]
		first, last = st.LaidBetween()
		sp, err = l.Spring(st.Centre, first, last, width, thickness, modulus)
	case c.Line != nil:
		flag = "--line"
		if *c.Line < 1 || int(*c.Line) > len(l.Lines)-2 {
			return nil, 0, nil, misused("--line %d: layer %d has %d between its bands", *c.Line, layer+1, len(l.Lines)-2)
		}
		sp, err = l.Spring(l.Lines[*c.Line].Line, first, last, width, thickness, modulus)
	default:
		flag = "--frame"
		var lie *loft.Lie
		if lie, err = c.lie(k, l.Surface); err == nil {
			sp, err = l.SpringLie(lie, width, thickness, modulus)
		}
	}
	if err != nil {
		return nil, 0, nil, c.faultOf(flag, err)
	}
	return sp, layer, woods, nil
}

// lie is the unstressed line from --frame.
func (c *holdCmd) lie(k *loft.Planking, s *loft.Surface) (*loft.Lie, error) {
	frame := k.Plan.Hull.FrameNamed(string(c.Frame))
	if frame < 0 {
		return nil, tongue.Errorf("%s has no frame %s; girths names them all", c.Plan, c.Frame)
	}
	var aim *hull.Angle
	if c.Aim != nil {
		if d := float64(*c.Aim); !(d > -90 && d < 90) {
			return nil, tongue.Errorf("a heading of %g degrees: give one between -90 and 90", d)
		}
		a := hull.Degrees(float64(*c.Aim))
		aim = &a
	}
	return s.Lie(frame, float64(*c.Down), aim)
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
