package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/fair"
)

// planArg is the plan that a command reads.
type planArg struct {
	Plan string `arg:"" help:"A plan, or a hull source to take as a new plan."`
}

// plank computes everything that follows from the plan.
func (a planArg) plank(s *streams) (*loft.Planking, error) {
	app.Tidy(a.Plan)
	done := sparing()
	p, _, err := source.Open(a.Plan)
	done()
	if err != nil {
		return nil, err
	}
	k, err := plankingOf(s, p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", a.Plan, err)
	}
	return k, nil
}

// plankingOf is loft.Plank that says what goes on, and stops as soon as it is asked to.
func plankingOf(s *streams, p *hull.Plan) (*loft.Planking, error) {
	ctx, release := interruptible()
	defer release()
	return working(ctx, s, tongue.T("planking the hull"), func() (*loft.Planking, error) { return loft.PlankContext(ctx, p) })
}

// faultOf tells an error about what a flag asked for: the plan is at fault where
// its hull has no shape to tell it from, else the flag.
func (a planArg) faultOf(flag string, err error) error {
	if errors.Is(err, loft.ErrShapeless) {
		return fmt.Errorf("%s: %w", a.Plan, err)
	}
	return misused("%s: %w", flag, err)
}

type takeOffCmd struct {
	format
	drawingFlags
	meshFlags
	Source  string  `arg:"" help:"A hull source: a table or list of points, of offsets or of girths, as text or in a workbook, a drawing of the frames or of waterlines and buttocks, or a mesh."`
	Fair    bool    `help:"Fair the frames: each point moves by --within at most, to where they run smoothly."`
	Within  *number `placeholder:"MM" help:"How far --fair may move a point, in mm (default for a table of offsets: its rounding, half its last unit)."`
	Output  word    `name:"output" short:"o" required:"" placeholder:"PLAN" help:"The plan to write."`
	Replace bool    `help:"Overwrite an existing file."`
}

// Run makes a plan of the source and writes it.
func (c *takeOffCmd) Run(s *streams) error {
	p, notes, err := c.hull(s)
	if err != nil {
		return err
	}
	if c.Fair || c.Within != nil {
		note, err := c.fair(s, &p.Hull)
		if err != nil {
			return err
		}
		notes = append(notes, note)
	}
	k, err := plankingOf(s, p)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Source, err)
	}
	lost, err := app.Write(string(c.Output), p, c.Replace)
	if err != nil {
		return refused(err, string(c.Output))
	}
	s.tell(lost)
	return c.give(s, answer.TakeOffOf(k, c.Source, string(c.Output), notes))
}

// hull takes the hull off the source.
func (c *takeOffCmd) hull(s *streams) (p *hull.Plan, notes []string, err error) {
	defer sparing()()
	sliced, err := c.sliced(c.Source, c.drawingFlags)
	if err != nil || !sliced {
		if err == nil {
			p, notes, err = source.TakeOff(c.Source, c.taking(c.along(), hull.BowEnd(c.Bow)))
		}
		return p, notes, err
	}
	err = c.slicing(s, c.drawingFlags, func(ctx context.Context, how mesh.Options) (err error) {
		p, notes, err = source.TakeOffMesh(ctx, c.Source, how)
		return err
	})
	return p, notes, err
}

// fair moves the points of the frames within their rounding, or what is given,
// to where they are fair, and tells by how much.
func (c *takeOffCmd) fair(s *streams, h *hull.Hull) (note string, err error) {
	within := h.Rounding
	if c.Within != nil {
		if err := inRange("--within", c.Within, hull.FairWithin, " mm"); err != nil {
			return "", err
		}
		within = float64(*c.Within)
	}
	switch {
	case within == 0:
		return "", misused("--fair: %s is not a table of offsets, so it gives no limit for fairing; add --within MM", c.Source)
	case h.Shapeless():
		return "", tongue.Errorf("%s: the frames cannot be faired: %w", c.Source, loft.ErrShapeless)
	}
	ctx, release := interruptible()
	defer release()
	f, err := working(ctx, s, tongue.T("fairing the frames"), func() (fair.Faired, error) { return fair.Fair(ctx, h.Frames, within) })
	if err != nil {
		return "", fmt.Errorf("%s: %w", c.Source, err)
	}
	most, atLimit := 0.0, 0
	for _, m := range f.Moves {
		most = max(most, m.Out, -m.Out)
		if m.AtLimit {
			atLimit++
		}
	}
	h.Frames = f.Frames
	note = tongue.T("fairing moved %d points, by %.3f mm at most, to be fair within the rounding of the table", len(f.Moves), most)
	if c.Within != nil {
		note = tongue.T("fairing moved %d points, by %.3f mm at most, to be fair within %g mm", len(f.Moves), most, within)
	}
	if atLimit > 0 {
		note += tongue.T("; %d of them would go further", atLimit)
	}
	return note + ".", nil
}

// refused tells how to write over a file that exists.
func refused(err error, path string) error {
	if errors.Is(err, fs.ErrExist) {
		return tongue.Errorf("%s already exists; choose another name, or add --replace to overwrite it", path)
	}
	return err
}

type checkCmd struct {
	format
	drawingFlags
	meshFlags
	Source  string `arg:"" name:"plan-or-source" help:"A plan or a hull source."`
	Misfits bool   `help:"Show how far every frame lies off the smooth run of its neighbours, and which are suspect."`
}

// Run tells what was read and every fault.
func (c *checkCmd) Run(s *streams) error {
	kind, p, notes, faults, err := c.read(s)
	if err != nil {
		return err
	}
	a := answer.SourceOf(c.Source, kind, p, notes, faults)
	if c.Misfits && len(faults) == 0 {
		found, err := misfits(s, &p.Hull)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Source, err)
		}
		a.Misfits = found
	}
	if err := c.give(s, a); err != nil {
		return err
	}
	for _, f := range faults {
		fmt.Fprintf(s.messages, "strakewright: %s\n", sentence(f))
	}
	if len(faults) > 0 {
		return errTold
	}
	return nil
}

// read reads the source.
func (c *checkCmd) read(s *streams) (kind string, p *hull.Plan, notes []string, faults []fault.Fault, err error) {
	defer sparing()()
	sliced, err := c.sliced(c.Source, c.drawingFlags)
	if err != nil || !sliced {
		if err == nil {
			kind, p, notes, faults = app.Check(c.Source, c.taking(c.along(), hull.BowEnd(c.Bow)))
		}
		return kind, p, notes, faults, err
	}
	err = c.slicing(s, c.drawingFlags, func(ctx context.Context, how mesh.Options) error {
		kind, p, notes, faults = app.CheckMesh(ctx, c.Source, how)
		return nil
	})
	return kind, p, notes, faults, err
}

// misfits measures the frames against the run of their neighbours.
func misfits(s *streams, h *hull.Hull) ([]answer.Misfit, error) {
	if h.Shapeless() {
		return nil, tongue.Errorf("its frames cannot be compared with their neighbours: %w", loft.ErrShapeless)
	}
	ctx, release := interruptible()
	defer release()
	found, err := working(ctx, s, tongue.T("measuring the misfits"), func() ([]fair.Misfit, error) { return fair.Misfits(ctx, h.Frames) })
	return answer.MisfitsOf(h, found), err
}

type girthsCmd struct {
	format
	planArg
}

// Run tells the girths.
func (c *girthsCmd) Run(s *streams) error {
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	return c.give(s, answer.GirthsOf(k))
}

type lieCmd struct {
	format
	planArg
	Frame word    `required:"" placeholder:"NAME" help:"The frame to start on."`
	Down  number  `required:"" placeholder:"MM" help:"Girth from the upper limit down to the start, mm."`
	Aim   *number `placeholder:"DEG" help:"Heading at the start in degrees, from square to the frame towards rising x, positive downwards (default: the one that keeps closest to the same fraction of the girth)."`
	Layer whole   `default:"1" placeholder:"N" help:"The layer to lie on, from 1 outwards (default ${default})."`

	Thickness word    `placeholder:"MM,MM" help:"Show also how a strip of that thickness lies, beside a thin batten; several side by side as 0.5,1,2 (default with one of the flags below: that of the layer's stock)."`
	Width     *number `placeholder:"MM" help:"Its width (default: that of the layer's stock)."`
	Species   word    `placeholder:"NAME" help:"Its wood (default: that of the layer's stock)."`
	Held      word    `placeholder:"FRAMES" help:"The frames that hold it, two or more with commas between (default: the start and the two nearest)."`
}

// Run finds the unstressed line.
func (c *lieCmd) Run(s *streams) error {
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	if err := inRange("--down", &c.Down, hull.Down, " mm"); err != nil {
		return err
	}
	layer, err := layerOf(k, int(c.Layer))
	if err != nil {
		return err
	}
	frame := k.Plan.Hull.FrameNamed(string(c.Frame))
	if frame < 0 {
		return misused("--frame %s: %s has no frame of that name; girths names them all", c.Frame, c.Plan)
	}
	var aim *hull.Angle
	if c.Aim != nil {
		a := hull.Degrees(float64(*c.Aim))
		aim = &a
		if d := float64(*c.Aim); !(d > -90 && d < 90) {
			return misused("--aim %g: give a heading between -90 and 90 degrees", d)
		}
	}
	surface, wrong := k.Layers[layer].Surface, "--down"
	if first, last := surface.Planked(); frame < first || frame > last {
		wrong = "--frame"
	}
	lie, err := surface.Lie(frame, float64(c.Down), aim)
	if err != nil {
		return c.faultOf(wrong, err)
	}
	out := answer.LieOf(k, layer, lie)
	if c.Thickness != "" || c.Width != nil || c.Species != "" || c.Held != "" {
		strips, err := c.strips(k, layer, frame, aim)
		if err != nil {
			return err
		}
		if len(strips) == 1 {
			out.Strip = &strips[0]
		} else {
			out.Strips = strips
		}
	}
	return c.give(s, out)
}

// strips finds how the strips asked for lie of themselves.
func (c *lieCmd) strips(k *loft.Planking, layer, frame int, aim *hull.Angle) ([]answer.NaturalLie, error) {
	stock := k.Plan.Layers[layer].Stock
	if err := inRange("--width", c.Width, hull.StripWidth, " mm"); err != nil {
		return nil, err
	}
	if c.Width != nil {
		stock.Width = float64(*c.Width)
	}
	thick := []float64{stock.Thickness}
	if c.Thickness != "" {
		var err error
		if thick, err = answer.ReadThicknesses(string(c.Thickness)); err != nil {
			return nil, misused("--thickness: %w", err)
		}
	}
	if c.Species != "" {
		stock.Species = string(c.Species)
	}
	var held []int
	if c.Held != "" {
		for name := range strings.SplitSeq(string(c.Held), ",") {
			i := k.Plan.Hull.FrameNamed(strings.TrimSpace(name))
			if i < 0 {
				return nil, misused("--held %s: %s has no frame %q; girths names them all", c.Held, c.Plan, strings.TrimSpace(name))
			}
			held = append(held, i)
		}
	}
	var out []answer.NaturalLie
	for _, stock.Thickness = range thick {
		n, err := k.Layers[layer].Surface.NaturalLie(loft.RibbonOf(k.Plan, stock), frame, float64(c.Down), aim, held)
		if err != nil {
			return nil, c.faultOf("--held", err)
		}
		out = append(out, answer.NaturalOf(k, n, stock.Species))
	}
	return out, nil
}

// layerOf gives the index of a layer told from 1.
func layerOf(k *loft.Planking, n int) (int, error) {
	if n < 1 || n > len(k.Layers) {
		return 0, misused("--layer %d: the plan has layers 1 to %d", n, len(k.Layers))
	}
	return n - 1, nil
}

type lineCmd struct {
	format
	planArg
	Bands   *whole `placeholder:"N" help:"How many bands (default: the plan's own number, but at least 2)."`
	To      *whole `placeholder:"N" help:"Search all numbers of bands from --bands to this one."`
	Front   bool   `help:"Show up to seven ways, each better than any other in strakes, drops and wedges, edge-set or wood lost."`
	Take    *whole `placeholder:"N" help:"The way of that number in --front (default: 1, the recommended one)."`
	Layer   *whole `placeholder:"N" help:"One layer alone, from 1 outwards (default: all)."`
	Follow  string `enum:"plan,batten,strip" default:"plan" placeholder:"WHAT" help:"What free lines follow, and lie-off is measured from: batten, the unstressed line of a thin batten; strip, the lie of the layer's own strip by its width and thickness (default: as in the plan)."`
	Start   word   `placeholder:"PLACE" help:"Where laying begins, to work outward: a strake as 1.05, or a line as \"line 2\" (default: the free line)."`
	Now     bool   `help:"Only show the plan's lines as they are, with their verdicts."`
	Output  word   `name:"output" short:"o" placeholder:"PLAN" help:"Write the plan with its lines moved to this file (default: only show it)."`
	Replace bool   `help:"Overwrite an existing file."`
}

// Run lines off every layer asked for, in whole strips and with little edge-set.
func (c *lineCmd) Run(s *streams) error {
	if err := c.check(); err != nil {
		return err
	}
	seen := app.See(c.Plan)
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	if c.Now {
		return c.give(s, answer.LinesOf(k))
	}
	layers, err := c.layers(k)
	if err != nil {
		return err
	}
	ctx, release := interruptible()
	defer release()
	p := c.following(k.Plan, layers)
	if k, err = k.ReplankContext(ctx, p); err != nil {
		return fmt.Errorf("%s: %w", c.Plan, err)
	}
	var fronts []answer.Front
	for _, layer := range layers {
		ways, err := c.waysOf(ctx, s, p, layer)
		if err != nil {
			return err
		}
		front, err := answer.FrontOf(k, layer, ways, nil)
		if err != nil {
			return err
		}
		fronts = append(fronts, front)
		take := 1
		if c.Take != nil {
			take = int(*c.Take)
		}
		if take < 1 || take > len(ways) {
			return misused("--take %d: choose a plan from 1 to %d", take, len(ways))
		}
		p = ways[take-1].Plan
	}
	if p, err = c.begun(s, c.following(p, layers)); err != nil {
		return err
	}
	if k, err = k.ReplankContext(ctx, p); err != nil {
		return fmt.Errorf("%s: %w", c.Plan, err)
	}
	a := answer.LinesOf(k)
	if c.Front {
		a.Fronts = fronts
	}
	if a.Written, err = s.written(c.Output, p, c.Replace, seen); err != nil {
		return err
	}
	return c.give(s, a)
}

// check refuses numbers of bands that are none, before the plan is read.
func (c *lineCmd) check() error {
	if c.Now && (c.Bands != nil || c.To != nil || c.Front || c.Take != nil || c.Start != "" || c.Output != "") {
		return misused("--now shows the lines as they are: leave out what would lay them anew or write them")
	}
	for _, f := range []struct {
		flag string
		n    *whole
	}{{"--bands", c.Bands}, {"--to", c.To}} {
		if f.n == nil {
			continue
		}
		if err := hull.LinedBands.Refuse(f.flag, float64(*f.n), ""); err != nil {
			return misuse{err}
		}
	}
	if c.Bands != nil && c.To != nil && *c.To < *c.Bands {
		return misused("--to %d: it is less than --bands %d", *c.To, *c.Bands)
	}
	return nil
}

// layers are the indices of those to be lined off.
func (c *lineCmd) layers(k *loft.Planking) ([]int, error) {
	if c.Layer != nil {
		layer, err := layerOf(k, int(*c.Layer))
		return []int{layer}, err
	}
	if c.Take != nil && len(k.Layers) > 1 {
		return nil, misused("--take %d: the plan has %d layers; name one with --layer", *c.Take, len(k.Layers))
	}
	var all []int
	for i := range k.Layers {
		all = append(all, i)
	}
	return all, nil
}

// waysOf searches the ways to line off a layer, and tells how far it is.
func (c *lineCmd) waysOf(ctx context.Context, s *streams, p *hull.Plan, layer int) ([]loft.Lining, error) {
	from := max(len(p.Layers[layer].Bands), 2)
	if c.Bands != nil {
		from = int(*c.Bands)
	}
	to := from
	if c.To != nil {
		to = max(int(*c.To), from)
	}
	meter := newMeter(s.messages)
	defer meter.end()
	ways, err := unlessStopped(ctx, func() ([]loft.Lining, error) {
		return loft.LineOff(ctx, p, layer, from, to, func(tried, prospect int) {
			if ctx.Err() == nil {
				meter.tell(export.Progress{Done: tried, All: prospect, What: tongue.T("ways to line off")})
			}
		})
	})
	if err != nil {
		return nil, misused("--bands: %w", err)
	}
	return ways, nil
}

// following has the lines of layers follow what --follow says.
func (c *lineCmd) following(p *hull.Plan, layers []int) *hull.Plan {
	if c.Follow == "plan" {
		return p
	}
	follows := hull.ThinBatten
	if c.Follow == string(hull.StripItself) {
		follows = hull.StripItself
	}
	p = p.Clone()
	for _, layer := range layers {
		for k := range p.Layers[layer].Lines {
			p.Layers[layer].Lines[k].Follows = follows
		}
	}
	return p
}

// begun has the laying begin where --start says.
func (c *lineCmd) begun(s *streams, p *hull.Plan) (*hull.Plan, error) {
	if c.Start == "" {
		return p, nil
	}
	q := *p
	if q.Cutting == (hull.Cutting{}) {
		q.Cutting = hull.NewCutting()
	}
	q.Cutting.Laying, q.Cutting.Start = hull.Outward, string(c.Start)
	if _, err := q.Cutting.Starts(); err != nil {
		return nil, misused("--start: %w", err)
	}
	k, err := plankingOf(s, &q)
	if err != nil {
		return nil, err
	}
	if err := k.CheckStart(); err != nil {
		return nil, misused("--start: %w", err)
	}
	return &q, nil
}

// written writes a plan where it is to go, and gives the file's name; nothing
// where no file is named.
func (s *streams) written(output word, p *hull.Plan, replace bool, seen app.Seen) (string, error) {
	path := string(output)
	if path == "" {
		return "", nil
	}
	lost, err := app.Write(path, p, replace, seen)
	if err != nil {
		return "", refused(err, path)
	}
	s.tell(lost)
	return path, nil
}

type strakesCmd struct {
	format
	planArg
	March   bool     `help:"Lay strips of constant width edge to edge, outwards from the free line of each band, and show the first that is forced sideways, and where."`
	Mode    []string `sep:"none" placeholder:"STRAKE=MODE" help:"Make a strake your own way, as 2.05=spiled: sprung, spiled or block, or rules to leave it to the rules; repeatable."`
	Output  word     `name:"output" short:"o" placeholder:"PLAN" help:"Write the plan with these modes to this file (default: only show it)."`
	Replace bool     `help:"Overwrite an existing file."`
}

// Run tells the strake table, with the modes that are asked for, or how strips march
// out.
func (c *strakesCmd) Run(s *streams) error {
	seen := app.See(c.Plan)
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	p := k.Plan.Clone()
	for _, text := range c.Mode {
		change, err := edit.ModeSaid(k, text)
		if err == nil {
			err = change(p)
		}
		if err != nil {
			return misused("--mode: %w", err)
		}
	}
	if k, err = k.Replank(p); err != nil {
		return fmt.Errorf("%s: %w", c.Plan, err)
	}
	a := answer.StrakesOf(k)
	if a.Written, err = s.written(c.Output, p, c.Replace, seen); err != nil {
		return err
	}
	if !c.March {
		return c.give(s, a)
	}
	ctx, release := interruptible()
	defer release()
	m, err := working(ctx, s, tongue.T("laying strips outwards"), func() (answer.March, error) { return answer.MarchOf(ctx, k) })
	if err != nil {
		return fmt.Errorf("%s: %w", c.Plan, err)
	}
	return c.give(s, m)
}
