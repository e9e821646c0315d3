package window

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// atHand is what is being worked on, what of it is chosen, and in which units it
// is told. It changes nothing by itself.
type atHand struct {
	s      *app.Session
	choice views.Choice
	units  views.Units

	curves   views.Curves
	curvesOf *loft.Surface
	whole    wholeFrames
}

func (d *atHand) plan() *hull.Plan { return d.s.Plan() }

func (d *atHand) planking() *loft.Planking { return d.s.Planking() }

func (d *atHand) layer() *loft.Layer { return d.planking().Layers[d.choice.Layer] }

func (d *atHand) planLayer() *hull.Layer { return &d.plan().Layers[d.choice.Layer] }

func (d *atHand) frameName(f int) string { return d.plan().Hull.Frames[f].Name }

// line gives the chosen band line, or nil.
func (d *atHand) line() *hull.BandLine {
	if l := d.planLayer(); d.choice.Line >= 0 && d.choice.Line < len(l.Lines) {
		return &l.Lines[d.choice.Line]
	}
	return nil
}

// frameCurves gives the frames of the layer shown, sampled once a surface.
func (d *atHand) frameCurves() views.Curves {
	if l := d.layer(); d.curvesOf != l.Surface {
		d.curves, d.curvesOf = views.CurvesOf(l), l.Surface
	}
	return d.curves
}

func (d *atHand) bandNames() []string {
	var out []string
	for k := range d.planLayer().Bands {
		out = append(out, fmt.Sprintf("%d", k+1))
	}
	return out
}

// band is the band of the choice: that of the strake, or the one above the
// line, or the first.
func (d *atHand) band() int {
	last := len(d.planLayer().Bands) - 1
	switch c := d.choice; {
	case c.Strake >= 0 && c.Strake < len(d.layer().Strakes):
		return d.layer().Strakes[c.Strake].Band - 1
	case c.Line >= 0:
		return min(c.Line, last)
	}
	return 0
}

func (d *atHand) strakeNames() []string {
	var out []string
	for _, s := range d.layer().Strakes {
		name := s.ID
		if s.Garboard {
			name += " garboard"
		}
		out = append(out, name)
	}
	return out
}

// share is the chosen strake's share of its band, or NaN.
func (d *atHand) share() float64 {
	if d.choice.Strake < 0 {
		return math.NaN()
	}
	s := d.layer().Strakes[d.choice.Strake]
	return d.planLayer().Bands[s.Band-1].Weight(s.Number - 1)
}

func (d *atHand) lineNames() []string {
	var out []string
	for k := range d.planLayer().Lines {
		out = append(out, fmt.Sprintf("%d, under band %d", k+1, k+1))
	}
	return out
}

func (d *atHand) frameNames() []string {
	return frameNames(&d.plan().Hull)
}

// handleDown is the girth of the chosen handle, or NaN.
func (d *atHand) handleDown() float64 {
	b := d.line()
	if b == nil || d.choice.Frame < 0 {
		return math.NaN()
	}
	return views.HandleDown(d.layer(), b, d.choice.Line, d.choice.Frame)
}

func (d *atHand) layerNames() []string {
	var out []string
	for k := range d.plan().Layers {
		s := &d.plan().Layers[k].Stock
		out = append(out, fmt.Sprintf("%d: %s x %s", k+1, d.units.Number(s.Width), d.units.Length(s.Thickness)))
	}
	return out
}

// strake is the chosen strake, or nil.
func (d *atHand) strake() *loft.Strake {
	if l := d.layer(); d.choice.Strake >= 0 && d.choice.Strake < len(l.Strakes) {
		return l.Strakes[d.choice.Strake]
	}
	return nil
}

// course is where the chosen line crosses every frame.
func (d *atHand) course() []float64 { return crossings(d.layer(), d.choice.Line+1) }

// shapeless tells whether only the girths of the hull are known.
func (d *atHand) shapeless() bool { return d.plan().Hull.Shapeless() }

// onFrame keeps a girth between the limits.
func (d *atHand) onFrame(f int, down float64) float64 {
	return max(0, min(down, d.layer().Girths[f]))
}

func (d *atHand) upperName() string {
	if n := d.plan().Hull.Limits.Upper; n != "" {
		return n
	}
	return "upper limit"
}

// downAt gives the girth below the upper limit of the place of a frame nearest
// to a point of a view.
func (d *atHand) downAt(f int, p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) float64 {
	project := func(q mgl64.Vec3) (x, y float64) {
		at := place(f, q)
		return at.X, at.Y
	}
	return d.layer().Surface.DownAt(f, project, p.X, p.Y)
}

// stillThere drops what of a choice a planking does not have.
func stillThere(c views.Choice, k *loft.Planking) views.Choice {
	if c.Layer >= len(k.Layers) {
		c = views.Choice{Layer: len(k.Layers) - 1, Strake: -1, Line: -1, Frame: c.Frame, Limit: c.Limit}
	}
	l := k.Layers[c.Layer]
	if c.Strake >= len(l.Strakes) {
		c.Strake = len(l.Strakes) - 1
	}
	if lines := len(l.Lines) - 2; c.Line >= lines {
		c.Line = lines - 1
	}
	if c.Frame >= len(l.Girths) {
		c.Frame = len(l.Girths) - 1
	}
	return c
}

// folder is the plan's folder, or else the one the program was started in.
func (d *atHand) folder() string {
	if p := d.s.Path(); p != "" {
		if abs, err := filepath.Abs(filepath.Dir(p)); err == nil {
			return abs
		}
	}
	if dir, err := os.Getwd(); err == nil {
		return dir
	}
	return string(filepath.Separator)
}

// fileName is a name for the plan's files, without an ending.
func (d *atHand) fileName() string {
	if p := d.s.Path(); p != "" {
		return strings.TrimSuffix(filepath.Base(p), filepath.Ext(p))
	}
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, d.s.Title())
	return name
}

// limitName names a limit as the plan does.
func (d *atHand) limitName(l views.Limit) string {
	if l == views.LowerLimit {
		return limitCalled(d.plan().Hull.Limits.Lower, "lower limit")
	}
	return d.upperName()
}

// limitCalled gives the name of a limit, or what it is where it has none.
func limitCalled(name, otherwise string) string {
	if name == "" {
		return otherwise
	}
	return name
}
