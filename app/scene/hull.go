package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Tinting says what the tint of the planking tells.
type Tinting uint8

// The tintings.
const (
	ByEdgeSet Tinting = iota // face strain of edge-set: Up where the strake is bent up, Down where down
	ByFit                    // Up where strips are too narrow, Down where they taper
	Bare                     // nothing
)

// fullStrain is the face strain of edge-set at which the tint is full:
// "a few tenths of a percent" fights the glue (a rule of thumb, from memory,
// no source).
const fullStrain = 0.003

// fullFit is the share of a strip's pitch at which the tint of fit is full.
const fullFit = 0.25

// Look is what a scene of the hull shows.
type Look struct {
	Both    bool // both sides
	Tinting Tinting
	Strake  int // chosen strake, or -1
	Line    int // chosen band line as an index into the layer's Lines, or -1
	Frame   int // chosen frame, or -1
}

// Hull makes the scene of a layer of planking.
func Hull(l *loft.Layer, look Look) *Scene {
	s := &Scene{}
	s.Add(skinOf(l, look), look.Both)
	addFrames(s, l, look)
	addLines(s, l, look)
	return s
}

func skinOf(l *loft.Layer, look Look) Skin {
	k := Skin{Chosen: look.Strake}
	tint, frames, u := tintOf(l, look.Tinting), nearestFrames(l), l.Surface.Stations()
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
		p := Plate{Strake: strake}
		for i := range upper {
			r := Rung{Frame: frames[upper[i].Station]}
			for j, e := range []loft.EdgePoint{upper[i], lower[i]} {
				r.At[j], r.Normal[j] = e.Line.P[e.Station], normal(e)
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

func tintOf(l *loft.Layer, t Tinting) func(strake, station int) float64 {
	switch t {
	case ByEdgeSet:
		return func(k, i int) float64 {
			s := l.Strakes[k]
			c := float64(s.Centre.EdgeSet[i])
			width := s.Upper.P[i].Sub(s.Lower.P[i]).Len()
			return limited(-c * width / 2 / fullStrain)
		}
	case ByFit:
		frames := nearestFrames(l)
		return func(k, i int) float64 {
			c := &l.Strakes[k].At[frames[i]]
			if !c.Laid || c.Pitch <= 0 {
				return 0
			}
			return limited((c.WidthCut/c.Pitch - 1) / fullFit)
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
		kind, width := FrameLine, 1.0
		if f == look.Frame {
			kind, width = ChosenLine, 1.8
		}
		s.Draw(pts, kind, width, look.Both)
	}
}

// addLines draws seams, the edges of the chosen strake, band lines and limits.
func addLines(s *Scene, l *loft.Layer, look Look) {
	for _, r := range l.SeamRuns() {
		s.Draw(r.Line.P[r.From:r.To+1], SeamLine, 1, look.Both)
	}
	for _, d := range l.Drops {
		st, at := l.Strakes[d.At], l.Surface.FrameStation(d.From)
		s.Draw([]mgl64.Vec3{st.Upper.P[at], st.Lower.P[at]}, SeamLine, 1.4, look.Both)
	}
	if k := look.Strake; k >= 0 && k < len(l.Strakes) {
		upper, lower := l.Edges(k)
		s.Draw(places(upper), ChosenLine, 1.8, look.Both)
		s.Draw(places(lower), ChosenLine, 1.8, look.Both)
	}
	for k, line := range l.Lines {
		kind, width := BandLine, 2.0
		if k == 0 || k == len(l.Lines)-1 {
			kind = LimitLine
		}
		if k == look.Line {
			kind, width = ChosenLine, 2.8
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
