package main

import (
	"context"
	"strings"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
)

// meshFlags tell how a mesh is taken off; half is told as of a drawing.
type meshFlags struct {
	Stations stations `placeholder:"X,X,…" help:"For a mesh or a drawing of waterlines: where to take frames, mm at model size along its own axis (default: twenty even ones). For a drawing of frames: their places, in order."`
	Every    *number  `placeholder:"MM" help:"Or the distance between them."`
	From     *number  `placeholder:"X" help:"Where --every begins (default: multiples of it; for a drawing of frames 0)."`
	Length   axis     `placeholder:"x|y|z" help:"For a mesh: its axis along the keel (default: the longest)."`
	Up       axis     `placeholder:"x|y|z" help:"For a mesh: its axis upwards, as -y if it points down (default: by its shape)."`
	Unit     unit     `placeholder:"mm|cm|m|in|ft" help:"For a mesh: its unit (default: the file's, or mm)."`
	Scale    scale    `placeholder:"1:N" help:"For a mesh: the scale of the model, as 1:48 for a mesh at full size."`
	Bow      bow      `placeholder:"first|last" help:"For a mesh or a drawing of waterlines: the end of its length with the bow (default first, the least)."`
}

// options are the flags as a mesh is told them.
func (f meshFlags) options(d drawingFlags) mesh.Options {
	how := mesh.Options{Length: mesh.Axis(f.Length), Up: mesh.Axis(f.Up), Unit: float64(f.Unit), Scale: float64(f.Scale),
		Half: mesh.Half(d.Half), Bow: hull.BowEnd(f.Bow), Stations: f.Stations}
	if f.Every != nil {
		how.Every = float64(*f.Every)
	}
	if f.From != nil {
		from := float64(*f.From)
		how.From = &from
	}
	return how
}

// along are the stations of a drawing's frames; nil where none are told.
func (f meshFlags) along() *drawing.Stations {
	switch {
	case len(f.Stations) > 0:
		return &drawing.Stations{List: f.Stations}
	case f.Every == nil:
		return nil
	case f.From == nil:
		return &drawing.Stations{Every: float64(*f.Every)}
	}
	return &drawing.Stations{From: float64(*f.From), Every: float64(*f.Every)}
}

// sliced tells whether a source is a mesh, to be sliced, and refuses what it cannot
// be told.
func (f meshFlags) sliced(path string, d drawingFlags) (bool, error) {
	told := f.options(d)
	told.Stations, told.Every, told.From, told.Bow = nil, 0, nil, "" // a drawing may have these as well
	switch is := source.IsMesh(path); {
	case f.Every != nil && (*f.Every == 0 || (is && *f.Every < 0)):
		return false, misused("--every %g: give a spacing above zero, in mm", float64(*f.Every))
	case f.Every != nil && len(f.Stations) > 0:
		return false, misused("--every does not go with --stations")
	case f.From != nil && f.Every == nil:
		return false, misused("--from goes only with --every")
	case strings.HasPrefix(string(f.Length), "-"):
		return false, misused("--length %s: write x, y or z, and say with --bow which way it runs", f.Length)
	case f.Length != "" && strings.HasSuffix(string(f.Up), string(f.Length)):
		return false, misused("--up %s: that is its --length", f.Up)
	case !is && told.Told():
		return false, misused("%s is not a mesh, so it takes no axes or unit", path)
	case is && (d.ofLines() || d.With != ""):
		return false, misused("%s is a mesh, so it takes no waterlines or buttocks", path)
	case is && (d.Level != "" || d.Upright):
		return false, misused("%s is a mesh: its frames are at their heights, so leave out --level and --upright", path)
	case is && (d.Drawn != 0 || d.Model != 0 || d.Factor != 0 || d.Table != ""):
		return false, misused("%s is a mesh: scale it with --unit and --scale; it has no table beside it", path)
	default:
		return is, nil
	}
}

// slicing has a mesh sliced, with its progress told, until it is stopped.
func (f meshFlags) slicing(s *streams, d drawingFlags, work func(ctx context.Context, how mesh.Options) error) error {
	ctx, release := s.interruptible()
	defer release()
	meter := newMeter(s.messages)
	defer meter.end()
	how := f.options(d)
	how.Progress = func(share float64) {
		if ctx.Err() == nil {
			meter.tell(export.Progress{Done: int(100 * share), All: 100, What: tongue.T("hundredth parts of the mesh read")})
		}
	}
	err := work(ctx, how)
	if ctx.Err() != nil {
		return errStopped
	}
	return err
}

// stations is a flag's value that is a list of places, as 0,20,40.5.
type stations []float64

// Decode reads the places after a flag.
func (v *stations) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	for part := range strings.SplitSeq(text, ",") {
		x, err := readNumber(strings.TrimSpace(part))
		if err != nil {
			return err
		}
		*v = append(*v, x)
	}
	return nil
}

// axis is a flag's value that is an axis.
type axis mesh.Axis

// Decode reads the axis after a flag.
func (a *axis) Decode(ctx *kong.DecodeContext) error {
	return oneOf(ctx, (*string)(a), "%q is not an axis: write %s or %s", "x", "y", "z", "-x", "-y", "-z")
}

// bow is a flag's value that is an end of the hull.
type bow hull.BowEnd

// Decode reads the end after a flag.
func (b *bow) Decode(ctx *kong.DecodeContext) error {
	return oneOf(ctx, (*string)(b), "%q is not an end of the hull: write %s or %s", string(hull.BowFirst), string(hull.BowLast))
}

// unit is a flag's value that is a unit, in mm.
type unit float64

// Decode reads the unit after a flag.
func (u *unit) Decode(ctx *kong.DecodeContext) error {
	var name string
	if err := oneOf(ctx, &name, "%q is not a unit: write %s or %s", "mm", "cm", "m", "in", "ft"); err != nil {
		return err
	}
	*u = unit(mesh.Units[name])
	return nil
}

// oneOf reads one of a few words after a flag; none tells a word that is none of them,
// with those before the last and the last.
//
//tongue:says 2
func oneOf(ctx *kong.DecodeContext, to *string, none string, words ...string) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	for _, w := range words {
		if text == w {
			*to = w
			return nil
		}
	}
	last := len(words) - 1
	return tongue.Errorf(none, text, strings.Join(words[:last], ", "), words[last])
}
