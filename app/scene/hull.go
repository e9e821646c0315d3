package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Tinting says what the tint of the planking shows.
type Tinting uint8

// The tintings.
const (
	Bare      Tinting = iota // nothing: just the wood
	ByEdgeSet                // face strain of edge-set: Up where the strake is bent up, Down where down
	ByFit                    // Up where strips are too narrow, Down where they taper
)

// Full gives the value at which a tint of a layer is full, -1 or 1: the face strain of
// edge-set from which its rules have a strake cut to shape, or the share of a strip's
// pitch by which it is too narrow or too wide; 0 where the tinting shows nothing.
func (t Tinting) Full(l *loft.Layer) float64 {
	switch t {
	case ByEdgeSet:
		return l.Rules.EdgeStrain
	case ByFit:
		return fullFit
	}
	return 0
}

// fullFit is the share of a strip's pitch at which the tint of fit is full.
const fullFit = 0.3

// Look is what a scene of the hull shows.
type Look struct {
	Both    bool // both sides
	Tinting Tinting
	Strake  int    // chosen strake, or -1
	Line    int    // chosen band line as an index into the layer's Lines, or -1
	Frame   int    // chosen frame, or -1
	Built   *Scene // what the planking lies on, as made by Structure; nil for planking only
}

// Hull makes the scene of a layer of planking.
func Hull(l *loft.Layer, look Look) *Scene {
	s := &Scene{Mapped: look.Tinting != Bare, Base: look.Built}
	if s.Base != nil {
		s.Floor = s.Base.Floor
	}
	s.Add(skinOf(l, look), look.Both)
	addFrames(s, l, look)
	addLines(s, l, look)
	return s
}

func skinOf(l *loft.Layer, look Look) Skin {
	k := Skin{Chosen: look.Strake}
	tint, frames, u := tintOf(l, look.Tinting), nearestFrames(l), l.Surface.Stations()
	top := l.Lines[0].P
	normals := map[*loft.Line][]mgl64.Vec3{}
	normal := func(e loft.EdgePoint) mgl64.Vec3 {
		if normals[e.Line] == nil {
			normals[e.Line] = make([]mgl64.Vec3, len(u))
		}
		n := &normals[e.Line][e.Station]
		if *n == (mgl64.Vec3{}) {
			j := l.Surface.At(u[e.Station], e.Line.V[e.Station])
			*n = j.Normal()
		}
		return *n
	}
	plate := func(strake int, upper, lower []loft.EdgePoint) {
		p := Plate{Strake: strake, Rungs: make([]Rung, 0, len(upper))}
		for i := range upper {
			r := Rung{Frame: frames[upper[i].Station]}
			for j, e := range []loft.EdgePoint{upper[i], lower[i]} {
				r.At[j], r.Normal[j] = e.Line.P[e.Station], normal(e)
				r.Shut[j] = shutAt(r.At[j], top[e.Station])
			}
			if tint != nil && strake >= 0 {
				r.Tint = tint(strake, upper[i].Station)
			}
			p.Rungs = append(p.Rungs, r)
		}
		k.Plates = append(k.Plates, p)
	}
	for n := range l.Strakes {
		upper, lower := l.Edges(n)
		plate(n, upper, lower)
	}
	for _, w := range l.Wedges {
		var upper, lower []loft.EdgePoint
		for i := l.Surface.FrameStation(w.Laid.First); i <= l.Surface.FrameStation(w.Laid.Last); i++ {
			upper, lower = append(upper, loft.EdgePoint{Line: w.Laid.Upper, Station: i}), append(lower, loft.EdgePoint{Line: w.Laid.Lower, Station: i})
		}
		plate(NoStrake, upper, lower)
	}
	return k
}

// shutAt is how much of the sky the sides of the hull hide from its inside at a point
// below the upper edge abreast of it: a point in the middle of a long trough of that
// half-breadth and depth sees b/√(b²+d²) of it, by the cosine law.
func shutAt(at, top mgl64.Vec3) float64 {
	const most = 0.72 // the far side reflects some light
	down := top.Z() - at.Z()
	if down <= 0 || top.Y() <= 0 {
		return 0
	}
	return most * (1 - top.Y()/math.Hypot(top.Y(), down))
}

// nearestFrames gives the frame nearest to every station.
func nearestFrames(l *loft.Layer) []int16 {
	out := make([]int16, len(l.Surface.Stations()))
	f := 0
	for i := range out {
		for f+1 < len(l.Girths) && l.Surface.FrameStation(f+1)-i <= i-l.Surface.FrameStation(f) {
			f++
		}
		out[i] = int16(f)
	}
	return out
}

// tintOf gives the tint of a strake at a station; nil where there is none.
func tintOf(l *loft.Layer, t Tinting) func(strake, station int) float64 {
	value, full := valueOf(l, t), t.Full(l)
	if value == nil {
		return nil
	}
	return func(k, i int) float64 { return limited(value(k, i) / full) }
}

// valueOf gives what a map shows of a strake at a station, in the unit of Full.
func valueOf(l *loft.Layer, t Tinting) func(strake, station int) float64 {
	switch t {
	case ByEdgeSet:
		return func(k, i int) float64 {
			s := l.Strakes[k]
			return math.Copysign(s.EdgeStrain(i), -float64(s.Centre.EdgeSet[i]))
		}
	case ByFit:
		frames := nearestFrames(l)
		return func(k, i int) float64 {
			c := &l.Strakes[k].At[frames[i]]
			if !c.Laid || c.Pitch <= 0 {
				return 0
			}
			return c.WidthCut/c.Pitch - 1
		}
	}
	return nil
}

func limited(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return math.Max(-1, math.Min(1, v))
}

// addFrames draws the frames over the planking.
func addFrames(s *Scene, l *loft.Layer, look Look) {
	for f := range l.Girths {
		i := l.Surface.FrameStation(f)
		pts := make([]mgl64.Vec3, len(l.Seams))
		for k, seam := range l.Seams {
			pts[k] = seam.P[i]
		}
		frame := Polyline{Points: pts, Kind: FrameLine, Width: 0.9, Dotted: true}
		if f == look.Frame {
			frame = Polyline{Points: pts, Kind: ChosenLine, Width: 1.8}
		}
		s.draw(frame, look.Both)
	}
}

// addLines draws seams, the edges of the chosen strake, band lines and limits.
func addLines(s *Scene, l *loft.Layer, look Look) {
	gap := l.Girths[len(l.Girths)/2] / float64(max(len(l.Strakes), 1))
	for _, r := range l.SeamRuns() {
		s.draw(Polyline{Points: r.Line.P[r.From : r.To+1], Kind: SeamLine, Width: 1, Gap: gap}, look.Both)
	}
	for _, d := range l.Drops {
		st, at := l.Strakes[d.At], l.Surface.FrameStation(d.From)
		s.Draw([]mgl64.Vec3{st.Upper.P[at], st.Lower.P[at]}, SeamLine, 1.2, look.Both)
	}
	if k := look.Strake; k >= 0 && k < len(l.Strakes) {
		upper, lower := l.Edges(k)
		s.Draw(places(upper), ChosenLine, 1.8, look.Both)
		s.Draw(places(lower), ChosenLine, 1.8, look.Both)
	}
	for k, line := range l.Lines {
		kind, width := BandLine, 2.0
		if k == 0 || k == len(l.Lines)-1 {
			kind, width = LimitLine, 1.1
		}
		if k == look.Line {
			kind, width = ChosenLine, 2.4
		}
		s.Draw(line.P, kind, width, look.Both)
	}
}

func places(edge []loft.EdgePoint) []mgl64.Vec3 {
	var out []mgl64.Vec3
	for _, e := range edge {
		out = append(out, e.Line.P[e.Station])
	}
	return out
}

// Peak is a place on the planking where what a map shows is greatest.
type Peak struct {
	At    mgl64.Vec3 // mm, in the middle of the strake
	Value float64    // in the unit of Tinting.Full, with its sign
}

// Peaks gives the places where what a map of a layer shows is greatest, upwards first,
// then downwards; none where it does not reach the first step.
func Peaks(l *loft.Layer, t Tinting) []Peak {
	value := valueOf(l, t)
	if value == nil {
		return nil
	}
	var most [2]Peak
	for k := range l.Strakes {
		upper, lower := l.Edges(k)
		for i := range upper {
			v := value(k, upper[i].Station)
			p := &most[0]
			if v < 0 {
				p = &most[1]
			}
			if math.Abs(v) > math.Abs(p.Value) {
				*p = Peak{mix(upper[i].Line.P[upper[i].Station], lower[i].Line.P[lower[i].Station], 0.5), v}
			}
		}
	}
	var out []Peak
	for _, p := range most {
		if stepOf(limited(p.Value/t.Full(l))) != 0 {
			out = append(out, p)
		}
	}
	return out
}
