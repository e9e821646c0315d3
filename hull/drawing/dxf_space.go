package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// A DXF drawing may hold the hull in space: lines with heights of their own, each
// frame in its own plane across the length. Its frames are then read as seen from
// the end, with x taken from where they stand and the centre line where the
// breadth is 0.
const (
	spaceFlat  = 1e-4 // share of the hull's length by which a frame may lie off its plane
	fewestHigh = 3    // frames, each in its own plane, that make a drawing one in space
)

// space describes a drawing in space.
type space struct {
	length int                    // the axis along the hull, 0 or 1
	at     map[*dxfEntity]float64 // where a line of a frame stands along that axis, in units of the drawing
	shared map[string]bool        // layers that hold the lines of several frames
}

// spots are the points that define an entity, or nil for one that by its kind lies in
// the plane of the drawing.
func (e *dxfEntity) spots() []mgl64.Vec3 {
	triple := func(of *dxfEntity, code int) (out []mgl64.Vec3) {
		x, y, z := of.numbers(code), of.numbers(code+10), of.numbers(code+20)
		if len(x) != len(y) || len(x) != len(z) {
			return nil
		}
		for i := range x {
			out = append(out, mgl64.Vec3{x[i], y[i], z[i]})
		}
		return out
	}
	switch e.kind {
	case "LINE":
		return append(triple(e, 10), triple(e, 11)...)
	case "SPLINE":
		if e.text(10) == "" {
			return triple(e, 11)
		}
		return triple(e, 10)
	case "POLYLINE":
		var out []mgl64.Vec3
		if flags := int(e.number(70, 0)); flags&8 == 0 || flags&(16|64) != 0 {
			return nil
		}
		for _, v := range e.inner {
			if int(v.number(70, 0))&16 == 0 {
				out = append(out, triple(v, 10)...)
			}
		}
		return out
	}
	return nil
}

// isHigh reports whether a point of an entity lies above or below the plane of the
// drawing.
func (e *dxfEntity) isHigh() bool {
	for _, g := range e.groups {
		if (g.code == 30 || g.code == 31) && strings.Trim(g.value, "0.-+ ") != "" {
			return true
		}
	}
	return slices.ContainsFunc(e.inner, (*dxfEntity).isHigh)
}

// inSpace says how a drawing stands in space; nil for one that lies in a plane, or
// whose lines are not frames.
func inSpace(entities []*dxfEntity, seen func(*dxfEntity) bool) *space {
	if !slices.ContainsFunc(entities, (*dxfEntity).isHigh) {
		return nil // most drawings
	}
	low, high := mgl64.Vec3{math.Inf(1), math.Inf(1), math.Inf(1)}, mgl64.Vec3{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, e := range entities {
		if seen(e) {
			for _, q := range e.spots() {
				for k := range q {
					low[k], high[k] = min(low[k], q[k]), max(high[k], q[k])
				}
			}
		}
	}
	size := high.Sub(low)
	s := &space{at: map[*dxfEntity]float64{}, shared: map[string]bool{}}
	if size[1] > size[0] {
		s.length = 1
	}
	flat := spaceFlat * size[s.length]
	if !(size[2] > flat) || math.IsInf(size[s.length], 0) || math.IsNaN(size[s.length]) {
		return nil
	}
	places, of := []float64{}, map[string]float64{}
	for _, e := range entities {
		pts := e.spots()
		if !seen(e) || len(pts) < 2 {
			continue
		}
		least, most, rise := math.Inf(1), math.Inf(-1), 0.0
		for _, q := range pts {
			least, most = min(least, q[s.length]), max(most, q[s.length])
			rise = max(rise, math.Abs(q[2]-pts[0][2]))
		}
		if most-least > flat {
			continue
		}
		where := math.Round((least+most)/2*1e6) / 1e6
		s.at[e] = where
		if rise > flat && !slices.ContainsFunc(places, func(p float64) bool { return math.Abs(p-where) <= flat }) {
			places = append(places, where)
		}
		layer := e.text(8)
		if had, is := of[layer]; is && math.Abs(had-where) > flat {
			s.shared[layer] = true
		}
		of[layer] = where
	}
	if len(places) < fewestHigh {
		return nil
	}
	return s
}

// fromEnd is the entity as seen from the end of the hull: its breadth along the first
// axis of the drawing, its height along the second.
func (s *space) fromEnd(e *dxfEntity) *dxfEntity {
	out := *e
	out.groups, out.inner = nil, nil
	for _, g := range e.groups {
		tens, kind := g.code/10, g.code%10
		switch {
		case g.code < 10 || g.code > 39 || kind > 3:
		case tens == 1+s.length:
			continue
		case tens == 3:
			g.code = 20 + kind
		default: // the breadth
			g.code = 10 + kind
		}
		out.groups = append(out.groups, g)
	}
	slices.SortStableFunc(out.groups, func(a, b dxfPair) int { return cmp.Compare(a.code, b.code) })
	for _, v := range e.inner {
		out.inner = append(out.inner, s.fromEnd(v))
	}
	return &out
}

// stands says which frame a stroke in space belongs to and where it stands.
type stands struct {
	frame string  // by its layer, or by its place where the layer holds several frames
	x     float64 // mm as drawn
}

// standsAt says so for a line on a layer.
func (s *space) standsAt(e *dxfEntity, unit float64) *stands {
	where := s.at[e]
	layer := e.text(8)
	if s.shared[layer] || layer == "" || layer == "0" {
		layer = strconv.FormatFloat(where, 'f', -1, 64)
	}
	if !fault.Seemly(layer) {
		return nil
	}
	return &stands{frame: shorn(layer), x: where * unit}
}

// spaceNote says how a drawing in space was read, and what in it was ignored.
func spaceNote(aside int) string {
	text := tongue.T("The hull is drawn in three dimensions: each frame is where its lines are, and its middle is where the breadth is 0.")
	if aside > 0 {
		text += tongue.T(" Left out, because they cross no frame: %s.", tongue.Count(aside, "%d line", "%d lines", aside))
	}
	return text
}
