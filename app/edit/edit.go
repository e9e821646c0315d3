package edit

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Change is a change to a plan.
type Change = func(*hull.Plan) error

// OnLine gives the change that f makes to a band line.
func OnLine(layer, line int, f func(*hull.BandLine) error) Change {
	return func(p *hull.Plan) error {
		if layer >= len(p.Layers) || line < 0 || line >= len(p.Layers[layer].Lines) {
			return tongue.New("choose a band line first")
		}
		return f(&p.Layers[layer].Lines[line])
	}
}

// MoveHandle puts a handle so many mm of girth below the upper limit and holds
// it there; on a free line, any but the hold handle becomes the aim handle.
func MoveHandle(layer, line, frame int, down float64) Change {
	return func(p *hull.Plan) error {
		return OnLine(layer, line, func(b *hull.BandLine) error {
			if frame < 0 || frame >= len(b.Handles) {
				return tongue.New("choose a frame first")
			}
			b.Handles[frame] = hull.Handle{Down: math.Max(down, 0), Held: true}
			if b.LineType == hull.Free && frame != b.Hold {
				b.Aim = frame
			}
			return nil
		})(p)
	}
}

// SetHeld holds a handle where the line runs, or releases it.
func SetHeld(layer, line, frame int, held bool, course []float64) Change {
	return OnLine(layer, line, func(b *hull.BandLine) error {
		others := 0
		for f, h := range b.Handles {
			if h.Held && f != frame {
				others++
			}
		}
		if !held && others == 0 {
			return tongue.New("a line needs at least one handle held: hold another before this one is released")
		}
		if held && !b.Handles[frame].Held {
			b.Handles[frame].Down = course[frame]
		}
		b.Handles[frame].Held = held
		return nil
	})
}

// SetLineType changes the manner of a line so that it stays where it runs as far
// as its new manner lets it: course is where it crosses every frame.
func SetLineType(layer, line int, m hull.LineType, course []float64) Change {
	return OnLine(layer, line, func(b *hull.BandLine) error {
		if b.LineType == m {
			return nil
		}
		wasFree := b.LineType == hull.Free
		b.LineType = m
		switch m {
		case hull.Free:
			b.Handles[b.Hold].Down, b.Handles[b.Hold].Held = course[b.Hold], true
			if b.Aim >= 0 {
				b.Handles[b.Aim].Down = course[b.Aim]
			}
		case hull.Drawn:
			followCourse(b, course, wasFree)
		case hull.Least:
			followCourse(b, course, wasFree)
			releaseBetween(b)
		}
		return nil
	})
}

// followCourse puts the handles on the course: the released ones, or all.
func followCourse(b *hull.BandLine, course []float64, all bool) {
	for f := range b.Handles {
		if all || !b.Handles[f].Held {
			b.Handles[f].Down = course[f]
		}
		if all {
			b.Handles[f].Held = true
		}
	}
}

// releaseBetween leaves a line that is held everywhere room to find its easiest
// course: it stays held at both ends and at the hold handle.
func releaseBetween(b *hull.BandLine) {
	for _, h := range b.Handles {
		if !h.Held {
			return
		}
	}
	for f := range b.Handles {
		b.Handles[f].Held = f == 0 || f == b.Hold || f == len(b.Handles)-1
	}
}

// SetFollows has a line follow the course of a thin batten, or of the strip itself.
// A hull without a shape refuses the latter: how a strip lies there is not known.
func SetFollows(layer, line int, f hull.Follows) Change {
	return func(p *hull.Plan) error {
		if f == hull.StripItself && p.Hull.Shapeless() {
			return tongue.Errorf("the line cannot follow its strip: %w", loft.ErrShapeless)
		}
		return OnLine(layer, line, func(b *hull.BandLine) error {
			b.Follows = f
			return nil
		})(p)
	}
}

// SetHold moves the hold handle to a frame, where the line runs now.
func SetHold(layer, line, frame int, course []float64) Change {
	return OnLine(layer, line, func(b *hull.BandLine) error {
		b.Hold = frame
		b.Handles[frame] = hull.Handle{Down: course[frame], Held: true}
		if b.Aim == frame {
			b.Aim = -1
		}
		return nil
	})
}

// SetAim moves the aim handle to a frame, where the line runs now; -1 resets
// its direction.
func SetAim(layer, line, frame int, course []float64) Change {
	return OnLine(layer, line, func(b *hull.BandLine) error {
		if frame == b.Hold {
			return tongue.New("a line points through another frame than the one it is pinned at: choose one")
		}
		b.Aim = frame
		if frame >= 0 {
			b.Handles[frame] = hull.Handle{Down: course[frame], Held: true}
		}
		return nil
	})
}

// AddLine splits a band by a line midway between its edges, which cross every
// frame at upper and lower. It is free, held at the frame in the middle; on a hull
// without a shape, where none can be, it is drawn.
func AddLine(layer, band int, upper, lower []float64) Change {
	return func(p *hull.Plan) error {
		l := &p.Layers[layer]
		line := hull.BandLine{LineType: hull.Free, Hold: len(upper) / 2, Aim: -1}
		if p.Hull.Shapeless() {
			line.LineType = hull.Drawn
		}
		for f := range upper {
			line.Handles = append(line.Handles, hull.Handle{Down: (upper[f] + lower[f]) / 2, Held: true})
		}
		old := l.Bands[band]
		half := hull.Band{Strakes: old.Strakes / 2}
		l.Bands[band].Strakes = old.Strakes - half.Strakes
		l.Bands[band].Weights, l.Bands[band].Modes = nil, nil
		l.Bands = slices.Insert(slices.Clone(l.Bands), band+1, half)
		l.Lines = slices.Insert(slices.Clone(l.Lines), band, line)
		return nil
	}
}

// RemoveLine makes one band of the two beside a line.
func RemoveLine(layer, line int) Change {
	return func(p *hull.Plan) error {
		l := &p.Layers[layer]
		if line < 0 || line >= len(l.Lines) {
			return tongue.New("choose a band line first")
		}
		a, b := l.Bands[line], l.Bands[line+1]
		a.Weights, a.Modes = nil, nil
		if a.Strakes > 0 && b.Strakes > 0 {
			a.Strakes += b.Strakes
		} else {
			a.Strakes = 0
		}
		l.Bands = slices.Delete(slices.Clone(l.Bands), line+1, line+2)
		l.Bands[line] = a
		l.Lines = slices.Delete(slices.Clone(l.Lines), line, line+1)
		return nil
	}
}

// mostStrakes is more than any band takes.
const mostStrakes = 200

// SetStrakes sets a band's number of strakes; 0 leaves it to the girth.
func SetStrakes(layer, band, n int) Change {
	return func(p *hull.Plan) error {
		if n < 0 || n > mostStrakes {
			return tongue.Errorf("a band has 0 to %d strakes, not %d", mostStrakes, n)
		}
		p.Layers[layer].Bands[band].Strakes = n
		return nil
	}
}

// SetWeight sets the share of strake k (from 0) of a band of n strakes.
func SetWeight(layer, band, k, n int, w float64) Change {
	return func(p *hull.Plan) error {
		if !(w >= leastShare && w <= mostShare) {
			return tongue.Errorf("a strake's share is %g to %g times that of the others, not %g", leastShare, mostShare, w)
		}
		b := &p.Layers[layer].Bands[band]
		weights := make([]float64, max(n, k+1))
		for i := range weights {
			weights[i] = b.Weight(i)
		}
		weights[k] = w
		b.Weights = weights
		return nil
	}
}

// OnLayer gives the change that f makes to a layer.
func OnLayer(layer int, f func(*hull.Layer)) Change {
	return func(p *hull.Plan) error {
		f(&p.Layers[layer])
		return nil
	}
}

// secondThickness is how thick a new outer layer's strips are, mm: a thin skin
// over a thick one is common practice, no source.
const secondThickness = 0.6

// AddLayer adds a thin layer over the outermost one.
func AddLayer(p *hull.Plan) error {
	last := p.Layers[len(p.Layers)-1]
	stock := hull.Stock{Width: last.Stock.Width, Thickness: math.Min(last.Stock.Thickness, secondThickness), Length: last.Stock.Length, Species: last.Stock.Species}
	p.Layers = append(slices.Clone(p.Layers), hull.Layer{Stock: stock, Edges: hull.Bevelled, Bands: []hull.Band{{}}})
	return nil
}

// RemoveLayer takes away the outermost layer.
func RemoveLayer(p *hull.Plan) error {
	if len(p.Layers) < 2 {
		return tongue.New("a plan has at least one layer of planking")
	}
	p.Layers = slices.Clone(p.Layers[:len(p.Layers)-1])
	return nil
}

// LimitList is the list of a limit's insets.
func LimitList(h *hull.Hull, l views.Limit) *[]hull.Inset {
	if l == views.LowerLimit {
		return &h.Limits.Up
	}
	return &h.Limits.Down
}

// MoveLimit gives the change that sets a limit in at a frame by mm.
func MoveLimit(l views.Limit, frame string, mm float64) Change {
	return func(p *hull.Plan) error {
		list := LimitList(&p.Hull, l)
		*list = WithInset(*list, frame, mm, FrameNames(&p.Hull))
		return nil
	}
}

// ReleaseLimit gives the change that lets a limit run past a frame as its other
// insets have it.
func ReleaseLimit(l views.Limit, frame string) Change {
	return func(p *hull.Plan) error {
		list := LimitList(&p.Hull, l)
		*list = WithoutInset(*list, frame)
		return nil
	}
}

// FrameNames are the names of a hull's frames, in their order.
func FrameNames(h *hull.Hull) []string {
	var out []string
	for i := range h.Frames {
		out = append(out, h.Frames[i].Name)
	}
	return out
}

// InsetAt finds the inset at a frame in a list; -1 where there is none.
func InsetAt(list []hull.Inset, frame string) int {
	return slices.IndexFunc(list, func(in hull.Inset) bool { return in.Frame == frame })
}

// WithInset gives a list with another inset at a frame, in the order of the
// frames, whose names are given.
func WithInset(list []hull.Inset, frame string, mm float64, names []string) []hull.Inset {
	out := slices.Clone(list)
	if i := InsetAt(out, frame); i >= 0 {
		out[i].MM = mm
		return out
	}
	out = append(out, hull.Inset{Frame: frame, MM: mm})
	slices.SortStableFunc(out, func(a, b hull.Inset) int {
		return slices.Index(names, a.Frame) - slices.Index(names, b.Frame)
	})
	return out
}

// WithoutInset gives a list without a frame's inset; nil where none is left, as
// in a plan that never had one.
func WithoutInset(list []hull.Inset, frame string) []hull.Inset {
	var out []hull.Inset
	for _, in := range list {
		if in.Frame != frame {
			out = append(out, in)
		}
	}
	return out
}

// Crossings gives where a computed line crosses every frame, mm down.
func Crossings(l *loft.Layer, line int) []float64 {
	out := make([]float64, len(l.Girths))
	for f := range out {
		out[f] = l.Lines[line].Down[l.Surface.FrameStation(f)]
	}
	return out
}

// LimitsSet gives the change that sets the limits. It is refused where a limit
// has no name, no bay is left to plank or nothing of a frame.
func LimitsSet(to hull.Limits) Change {
	to.Down, to.Up = slices.Clone(to.Down), slices.Clone(to.Up)
	return func(p *hull.Plan) error {
		if to.Upper == "" || to.Lower == "" {
			return tongue.New("give each limit a name, as wale and rabbet")
		}
		h := &p.Hull
		from, last := max(h.FrameNamed(to.From), 0), len(h.Frames)-1
		if to.To != "" {
			last = h.FrameNamed(to.To)
		}
		if from >= last {
			return tongue.Errorf("from frame %s to frame %s there is no bay to plank: choose a later frame for the end", h.Frames[from].Name, h.Frames[max(last, 0)].Name)
		}
		h.Limits = to
		if faults := p.Check(); len(faults) > 0 {
			return faults[0]
		}
		return nil
	}
}
