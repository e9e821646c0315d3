package hull

import (
	"bytes"
	"io"
	"math"
	"slices"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// anyPlace is what is read as a coordinate; the hull's own rules are narrower.
var anyPlace = Range{-1e9, 1e9, false}

// ReadPlan reads a plan file. Keys that this version does not know are kept at
// every level, and Write writes them back. A handle that a line lacks is read
// as released, at the girth between its neighbours; if a line does not name its
// hold handle (which only a free line must), it is the first.
//
// The error is the first Fault of the file, which names the file as name.
func ReadPlan(r io.Reader, name string) (*Plan, error) {
	p, found := CheckPlan(r, name)
	if len(found) > 0 {
		return nil, found[0]
	}
	return p, nil
}

// CheckPlan reads as ReadPlan does and returns every fault found, in the order
// of the lines, and the plan as far as it could be read, or nil.
func CheckPlan(r io.Reader, name string) (*Plan, []fault.Fault) {
	f := fault.List{File: name}
	text, ok := plaintext.Read(r, largestPlanFile, &f)
	if !ok {
		return nil, f.Sorted()
	}
	return parsePlan(text, name)
}

// parsePlan reads the text of a plan file.
func parsePlan(text []byte, name string) (*Plan, []fault.Fault) {
	r := &planReader{jsonReader{List: fault.List{File: name}, text: text}}
	p := r.plan()
	return p, r.Sorted()
}

// planReader reads one plan file.
type planReader struct{ jsonReader }

func (r *planReader) plan() *Plan {
	start := len(r.text) - len(bytes.TrimLeft(r.text, " \t\r\n"))
	if start == len(r.text) || r.text[start] != '{' {
		r.Add(0, "", "take the hull off into a plan first", "this is not a plan file")
		return nil
	}
	if !r.wellFormed() {
		return nil
	}
	o := r.object(node{bytes.TrimSpace(r.text), start}, tongue.T("the plan"))
	if !r.version(o) {
		return nil
	}
	p := &Plan{Title: o.string("title")}
	if n, ok := o.need("hull"); ok {
		p.Hull = r.hull(n)
	}
	if n, ok := o.need("layers"); ok {
		layers, ok := r.items(n, `"layers"`, mostLayers)
		if ok && len(layers) == 0 {
			r.fault(n, "add one", "the plan has no layer")
		}
		for i, l := range layers {
			p.Layers = append(p.Layers, r.layer(l, tongue.T("layer %d", i+1), &p.Hull))
		}
	}
	r.timber(o, p)
	p.Trade = NewTrade()
	if n, ok := o.take("trade"); ok {
		p.Trade = r.trade(n)
	}
	if n, ok := o.take("record"); ok {
		p.Record = r.record(n, p.Hull.Frames)
	}
	p.extra = o.rest()
	return p
}

// version reports whether the plan is of a version that is read.
func (r *planReader) version(o *fields) bool {
	n, ok := o.take("version")
	if !ok {
		r.Add(0, "", `check that it is a plan file; if it is, add "version": 1`, `there is no "version"`)
		return false
	}
	v, err := strconv.ParseFloat(string(n.raw), 64)
	switch {
	case n.kind() != '0' || err != nil || v < 1 || v != math.Trunc(v):
		r.fault(n, "check that it is a plan file", "there is no version %s", n.told())
		return false
	case v > planVersion:
		r.fault(n, "open it with a newer program", "the plan has version %s, but this program reads up to %d", fault.Figure(v), planVersion)
		return false
	}
	return true
}

func (r *planReader) hull(n node) Hull {
	o := r.object(n, tongue.T("the hull"))
	h := Hull{Bow: BowEnd(o.oneOf("bow", false, string(BowFirst), string(BowLast)))}
	limits, limited := o.take("limits")
	if limited {
		h.Limits = r.limits(limits)
	}
	if n, ok := o.take("girths"); ok {
		if _, both := o.left["frames"]; both {
			r.fault(n, "keep one of them", "the hull has frames and girths")
		}
		r.girths(n, &h)
	} else {
		r.frames(o, &h)
	}
	if limited {
		r.checkLimits(limits, &h)
	}
	if end, named := bowOf(h.Frames); named && h.Bow != "" && h.Bow != end {
		r.fault(o.self, "correct one of them", "the plan puts the bow %s, but the end curves lie the other way", h.Bow)
	}
	h.Settle()
	h.extra = o.rest()
	return h
}

// frames reads the frames of a hull.
func (r *planReader) frames(o *fields, h *Hull) {
	var at [][]node // for each frame: itself, then its points
	torn := map[int]bool{}
	if n, ok := o.need("frames"); ok {
		frames, ok := r.items(n, `"frames"`, MostFrames)
		for i, n := range frames {
			f, points, ok := r.frame(n, tongue.T("frame %d", i+1))
			h.Frames = append(h.Frames, f)
			at = append(at, append([]node{n}, points...))
			if !ok {
				torn[i] = true
			}
		}
		if ok {
			h.CheckIn(Places{
				Line: func(frame, point int) int { return plaintext.LineAt(r.text, at[frame][point+1].at) },
				Unit: nowhere.Unit,
				Torn: torn,
			}, &r.List)
		}
	}
}

// frame reads a frame, and gives the places of its points in the file; ok is
// false where some could not be read.
func (r *planReader) frame(n node, where string) (f Frame, at []node, ok bool) {
	o := r.object(n, where)
	f.Name = o.string("name")
	if name := f.Name; name != "" && fault.Seemly(name) {
		o.where = tongue.T("frame %s", name)
	}
	n, ok = o.need("points")
	if !ok {
		return f, nil, false
	}
	points, ok := r.items(n, tongue.T("\"points\" of %s", o.where), mostFramePoints)
	for j, n := range points {
		p, sound := r.point(n, tongue.T("point %d of %s", j+1, o.where))
		if !sound {
			ok = false
			continue
		}
		f.Points = append(f.Points, p)
		at = append(at, n)
	}
	if n, has := o.take("knuckles"); has {
		f.Knuckles = r.knuckles(n, o.where, len(points))
	}
	f.extra = o.rest()
	return f, at, ok
}

func (r *planReader) point(n node, what string) (p mgl64.Vec3, ok bool) {
	figures, ok := r.items(n, what, 3)
	if !ok {
		return p, false
	}
	if len(figures) != 3 {
		r.fault(n, "give x, y and z", "%s has %d figures", what, len(figures))
		return p, false
	}
	for k, axis := range []string{"x", "y", "z"} {
		v, sound := r.number(figures[k], tongue.T("%s of %s", axis, what), anyPlace)
		p[k], ok = v, ok && sound
	}
	return p, ok
}

// knuckles reads the indices of the corners of a frame with the given number of
// points. Those on its first and last point mean nothing and are ignored.
func (r *planReader) knuckles(n node, where string, points int) []int {
	items, _ := r.items(n, tongue.T("\"knuckles\" of %s", where), mostFramePoints)
	var out []int
	for i, n := range items {
		k, ok := r.whole(n, tongue.T("knuckle %d of %s", i+1, where), Range{0, float64(max(points-1, 0)), false})
		switch {
		case !ok:
			return nil
		case len(out) > 0 && k <= out[len(out)-1]:
			r.fault(n, "list them by rising number", "the knuckles of %s do not rise", where)
			return nil
		case k > 0 && k < points-1:
			out = append(out, k)
		}
	}
	return out
}

func (r *planReader) layer(n node, where string, h *Hull) Layer {
	o := r.object(n, where)
	l := Layer{Edges: Edges(o.oneOf("edges", false, string(Bevelled), string(Square)))}
	if l.Edges == "" {
		l.Edges = Bevelled
	}
	if n, ok := o.need("stock"); ok {
		s := r.object(n, tongue.T("the stock of %s", where))
		l.Stock = Stock{
			Width:     s.number("width", StripWidth),
			Thickness: s.number("thickness", StripThickness),
			Length:    s.number("length", stripLength),
			Species:   s.string("species"),
			extra:     s.rest(),
		}
	}
	if n, ok := o.take("creep"); ok {
		l.Creep, _ = r.number(n, tongue.T("\"creep\" of %s", where), Down)
		if half := l.Stock.Width / 2; half > 0 && !(l.Creep < half && l.Creep > -half) {
			r.fault(n, "give less than half the stock's width", "\"creep\" of %s is %s mm a strip", where, n.told())
		}
	}
	if n, ok := o.need("bands"); ok {
		bands, sound := r.items(n, tongue.T("\"bands\" of %s", where), mostBands)
		if sound && len(bands) == 0 {
			r.fault(n, "add one", "%s has no band", where)
		}
		for i, n := range bands {
			l.Bands = append(l.Bands, r.band(n, tongue.T("band %d of %s", i+1, where)))
		}
		if strakes, over := l.crosses(len(h.Frames)); over {
			r.fault(n, "give fewer strakes or fewer frames", "the %d strakes of %s over %d frames exceed the limit of %d crossings", strakes, where, len(h.Frames), MostCrossings)
		}
	}
	r.lines(o, &l, h.Frames)
	r.laid(o, &l, h)
	l.extra = o.rest()
	return l
}

func (r *planReader) band(n node, where string) Band {
	o := r.object(n, where)
	b := Band{}
	if n, ok := o.take("strakes"); ok {
		b.Strakes, _ = r.whole(n, tongue.T("\"strakes\" of %s", where), StrakeCount)
	}
	b.Weights = r.numbers(o, "weights", "weight", strakeWeight)
	b.Strips = r.numbers(o, "strips", "strip", StripWidth)
	b.Modes = r.modes(o)
	b.extra = o.rest()
	return b
}

// numbers reads a list with a number for each strake of a band.
func (r *planReader) numbers(o *fields, key, each string, within Range) []float64 {
	n, ok := o.take(key)
	if !ok {
		return nil
	}
	var out []float64
	items, _ := r.items(n, tongue.T("%q of %s", key, o.where), mostStrakes)
	for k, n := range items {
		x, _ := r.number(n, tongue.T("%s %d of %s", each, k+1, o.where), within)
		out = append(out, x)
	}
	return out
}

// lines reads the band lines of a layer, one fewer than its bands.
func (r *planReader) lines(o *fields, l *Layer, frames []Frame) {
	n, ok := o.take("lines")
	if !ok {
		n = o.self
	}
	var lines []node
	if ok {
		if lines, ok = r.items(n, tongue.T("\"lines\" of %s", o.where), mostBands); !ok {
			return
		}
	}
	if want := len(l.Bands) - 1; len(l.Bands) > 0 && len(lines) != want {
		r.fault(n, "give one line fewer than there are bands", "%s has %s and %s between them", o.where, tongue.Count(len(l.Bands), "%d band", "%d bands", len(l.Bands)), tongue.Count(len(lines), "%d line", "%d lines", len(lines)))
	}
	for i, n := range lines {
		l.Lines = append(l.Lines, r.bandLine(n, tongue.T("line %d of %s", i+1, o.where), frames))
	}
}

// batten is the word for ThinBatten, which a plan may leave out.
const batten = "batten"

func (r *planReader) bandLine(n node, where string, frames []Frame) BandLine {
	o := r.object(n, where)
	b := BandLine{Aim: -1, LineType: LineType(o.oneOf("manner", true, string(Drawn), string(Free), string(Least)))}
	if o.oneOf("follows", false, batten, string(StripItself)) == string(StripItself) {
		b.Follows = StripItself
	}
	if n, ok := o.take("hold"); ok {
		b.Hold = r.frameNamed(n, "hold", where, frames)
	} else if b.LineType == Free {
		r.fault(o.self, "name the frame of its hold handle", "%s is free and has no \"hold\"", where)
	}
	if n, ok := o.take("aim"); ok {
		b.Aim = r.frameNamed(n, "aim", where, frames)
		if b.Aim == b.Hold && b.Aim >= 0 {
			r.fault(n, "name another frame, or leave the aim out", "the hold and aim handles of %s lie on one frame", where)
		}
	}
	if n, ok := o.need("handles"); ok {
		b.Handles = r.handles(n, where, frames)
		if len(frames) > 0 && b.LineType != Free && !slices.ContainsFunc(b.Handles, func(h Handle) bool { return h.Held }) {
			r.fault(n, "hold at least one", "%s is %s and has no held handle", where, b.LineType)
		}
	}
	b.extra = o.rest()
	return b
}

// frameNamed reads the name of a frame of the hull and gives its index, or -1.
func (r *planReader) frameNamed(n node, key, where string, frames []Frame) int {
	name, ok := r.string(n, tongue.T("%q of %s", key, where))
	if !ok {
		return -1
	}
	i := slices.IndexFunc(frames, func(f Frame) bool { return f.Name == name })
	if i < 0 {
		r.fault(n, "name a frame of the hull", "%q of %s is %s, and there is no such frame", key, where, n.told())
	}
	return i
}

// handles reads the handles of a line, in any order, and returns one a frame.
func (r *planReader) handles(n node, where string, frames []Frame) []Handle {
	items, ok := r.items(n, tongue.T("\"handles\" of %s", where), MostFrames)
	if !ok {
		return nil
	}
	out, given := make([]Handle, len(frames)), make([]bool, len(frames))
	for i, n := range items {
		what := tongue.T("handle %d of %s", i+1, where)
		o := r.object(n, what)
		at := -1
		if name, ok := o.need("frame"); ok {
			at = r.frameNamed(name, "frame", what, frames)
		}
		h := Handle{Held: true}
		if n, ok := o.take("held"); ok {
			h.Held = r.truth(n, tongue.T("\"held\" of %s", what))
		}
		h.Down = r.down(o, h.Held, at, frames)
		h.extra = o.rest()
		switch {
		case at < 0:
		case given[at]:
			r.fault(n, "remove one of them", "%s has two handles on frame %s", where, fault.Name(frames[at].Name))
		default:
			out[at], given[at] = h, true
		}
	}
	if len(items) == 0 && len(frames) > 0 {
		r.fault(n, "give it one a frame", "%s has no handles", where)
	}
	fillHandles(out, given, frames)
	return out
}

// down reads how far down a handle lies; a held one must lie on its frame,
// whose girth on an outer layer may be half as great again as its own.
func (r *planReader) down(o *fields, held bool, at int, frames []Frame) float64 {
	n, ok := o.need("down")
	if !ok {
		return 0
	}
	what := tongue.T("\"down\" of %s", o.where)
	v, ok := r.number(n, what, Down)
	if !ok || !held || at < 0 {
		return v
	}
	if girth := outlineLength(frames[at].Points); v < 0 || (v > 1.5*girth && v > girth+50) {
		r.fault(n, "give the girth from the upper limit down to the line", "%s is %s mm, but frame %s has a girth of %s mm", what, fault.Figure(v), fault.Name(frames[at].Name), fault.Figure(girth))
	}
	return v
}

// fillHandles puts released handles where none were given: at the girth between
// their neighbours, or that of the nearest.
func fillHandles(handles []Handle, given []bool, frames []Frame) {
	for i := range handles {
		if given[i] {
			continue
		}
		a, b := i, i
		for a >= 0 && !given[a] {
			a--
		}
		for b < len(given) && !given[b] {
			b++
		}
		switch {
		case a >= 0 && b < len(given):
			share := (frames[i].X() - frames[a].X()) / (frames[b].X() - frames[a].X())
			if !(share >= 0 && share <= 1) {
				share = 0.5 // the frames are out of order, which has been reported
			}
			handles[i].Down = handles[a].Down + share*(handles[b].Down-handles[a].Down)
		case a >= 0:
			handles[i].Down = handles[a].Down
		case b < len(given):
			handles[i].Down = handles[b].Down
		}
	}
}

func (r *planReader) truth(n node, what string) bool {
	if k := n.kind(); k != 't' && k != 'f' {
		r.fault(n, "write true or false", "%s is %s", what, n.told())
	}
	return n.kind() == 't'
}
