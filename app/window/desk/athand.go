package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/keep"
)

// AtHand is what is being worked on, what of it is chosen, and in which units it
// is told. It changes nothing by itself.
type AtHand struct {
	Session *app.Session
	Choice  views.Choice
	Units   views.Units

	curves   views.Curves
	curvesOf *loft.Surface
	whole    wholeFrames
	cuts     *loft.Cuts
	cutOf    *loft.Strake
	sets     []loft.CutSet // of a band
	setsOf   *loft.Band
}

func (d *AtHand) Plan() *hull.Plan { return d.Session.Plan() }

func (d *AtHand) Planking() *loft.Planking { return d.Session.Planking() }

func (d *AtHand) Layer() *loft.Layer { return d.Planking().Layers[d.Choice.Layer] }

func (d *AtHand) PlanLayer() *hull.Layer { return &d.Plan().Layers[d.Choice.Layer] }

func (d *AtHand) FrameName(f int) string { return d.Plan().Hull.Frames[f].Name }

// Line gives the chosen band line, or nil.
func (d *AtHand) Line() *hull.BandLine {
	if l := d.PlanLayer(); d.Choice.Line >= 0 && d.Choice.Line < len(l.Lines) {
		return &l.Lines[d.Choice.Line]
	}
	return nil
}

// FrameCurves gives the frames of the layer shown, sampled once a surface.
func (d *AtHand) FrameCurves() views.Curves {
	if l := d.Layer(); d.curvesOf != l.Surface {
		d.curves, d.curvesOf = views.CurvesOf(l), l.Surface
	}
	return d.curves
}

func (d *AtHand) BandNames() []string {
	var out []string
	for k := range d.PlanLayer().Bands {
		out = append(out, fmt.Sprintf("%d", k+1))
	}
	return out
}

// Band is the band of the choice: that of the strake, or the one above the
// line, or the first.
func (d *AtHand) Band() int {
	last := len(d.PlanLayer().Bands) - 1
	switch c := d.Choice; {
	case c.Strake >= 0 && c.Strake < len(d.Layer().Strakes):
		return d.Layer().Strakes[c.Strake].Band - 1
	case c.Line >= 0:
		return min(c.Line, last)
	}
	return 0
}

func (d *AtHand) StrakeNames() []string {
	var out []string
	for _, s := range d.Layer().Strakes {
		name := s.ID
		if s.Garboard {
			name = tongue.T("%s garboard", s.ID)
		}
		out = append(out, name)
	}
	return out
}

// Share is the chosen strake's share of its band, or NaN.
func (d *AtHand) Share() float64 {
	if d.Choice.Strake < 0 {
		return math.NaN()
	}
	s := d.Layer().Strakes[d.Choice.Strake]
	return d.PlanLayer().Bands[s.Band-1].Weight(s.Number - 1)
}

func (d *AtHand) LineNames() []string {
	var out []string
	for k := range d.PlanLayer().Lines {
		out = append(out, tongue.T("%d, under band %d", k+1, k+1))
	}
	return out
}

func (d *AtHand) FrameNames() []string {
	return edit.FrameNames(&d.Plan().Hull)
}

// HandleDown is the girth of the chosen handle, or NaN.
func (d *AtHand) HandleDown() float64 {
	b := d.Line()
	if b == nil || d.Choice.Frame < 0 {
		return math.NaN()
	}
	return views.HandleDown(d.Layer(), b, d.Choice.Line, d.Choice.Frame)
}

func (d *AtHand) LayerNames() []string {
	var out []string
	for k := range d.Plan().Layers {
		s := &d.Plan().Layers[k].Stock
		out = append(out, fmt.Sprintf("%d: %s x %s", k+1, d.Units.Number(s.Width), d.Units.Length(s.Thickness)))
	}
	return out
}

// Strake is the chosen strake, or nil.
func (d *AtHand) Strake() *loft.Strake {
	if l := d.Layer(); d.Choice.Strake >= 0 && d.Choice.Strake < len(l.Strakes) {
		return l.Strakes[d.Choice.Strake]
	}
	return nil
}

// Course is where the chosen line crosses every frame.
func (d *AtHand) Course() []float64 { return edit.Crossings(d.Layer(), d.Choice.Line+1) }

// Shapeless tells whether only the girths of the hull are known.
func (d *AtHand) Shapeless() bool { return d.Plan().Hull.Shapeless() }

// OnFrame keeps a girth between the limits.
func (d *AtHand) OnFrame(f int, down float64) float64 {
	return max(0, min(down, d.Layer().Girths[f]))
}

func (d *AtHand) UpperName() string {
	return LimitCalled(d.Plan().Hull.Limits.Upper, tongue.T("upper limit"))
}

// DownAt gives the girth below the upper limit of the place of a frame nearest
// to a point of a view.
func (d *AtHand) DownAt(f int, p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) float64 {
	project := func(q mgl64.Vec3) (x, y float64) {
		at := place(f, q)
		return at.X, at.Y
	}
	return d.Layer().Surface.DownAt(f, project, p.X, p.Y)
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

// Folder is the plan's folder, or else the one the program was started in.
func (d *AtHand) Folder() string {
	if p := d.Session.Path(); p != "" {
		if abs, err := filepath.Abs(filepath.Dir(p)); err == nil {
			return abs
		}
	}
	if dir, err := os.Getwd(); err == nil {
		return dir
	}
	return string(filepath.Separator)
}

// FileName is a name for the plan's files, without an ending.
func (d *AtHand) FileName() string {
	if p := d.Session.Path(); p != "" {
		return keep.Title(p)
	}
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, d.Session.Title())
	return name
}

// LimitName names a limit as the plan does, in the reader's language.
func (d *AtHand) LimitName(l views.Limit) string {
	if l == views.LowerLimit {
		return LimitCalled(d.Plan().Hull.Limits.Lower, tongue.T("lower limit"))
	}
	return d.UpperName()
}

// LimitCalled gives the name of a limit, or what it is where it has none.
func LimitCalled(name, otherwise string) string {
	if name == "" {
		return otherwise
	}
	return hull.LimitWord(name)
}
