package mesh

import (
	"context"
	"math"
	"slices"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// extent is the extent of a mesh, in its own unit.
type extent struct {
	low, high mgl64.Vec3
	triangles int64
	flat      int64 // triangles with no area
}

// extentOf makes one pass through a mesh.
func extentOf(ctx context.Context, s surface) (extent, error) {
	e := extent{low: mgl64.Vec3{math.Inf(1), math.Inf(1), math.Inf(1)}, high: mgl64.Vec3{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}
	err := s.each(ctx, func(t *triangle) error {
		e.triangles++
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			e.flat++
		}
		for i := range t {
			for k, v := range t[i] {
				e.low[k], e.high[k] = min(e.low[k], v), max(e.high[k], v)
			}
		}
		return nil
	})
	return e, err
}

// longest is the axis along which the mesh is longest.
func (e *extent) longest() int {
	size := e.high.Sub(e.low)
	l := 0
	for k := range size {
		if size[k] > size[l] {
			l = k
		}
	}
	return l
}

// evenStations is how many evenly spaced stations are taken where none are
// given.
const evenStations = 20

// stationsOf gives where the mesh is sliced: in increasing order, within it, in mm;
// low and high are its ends.
func stationsOf(how *Options, low, high float64, f *fault.List) []float64 {
	var out []float64
	slack := sameShare * (high - low) // rounding of a station at an end
	switch {
	case len(how.Stations) > 0:
		out = slices.Clone(how.Stations)
		slices.Sort(out)
		out = slices.Compact(out)
		for _, x := range out {
			if x < low-slack || x > high+slack {
				f.Add(0, "", tongue.T("the mesh runs from x %s to %s mm", fault.Figure(low), fault.Figure(high)), "the station at x %s mm lies beyond it", fault.Figure(x))
			}
		}
	case how.Every > 0:
		if (high-low)/how.Every > hull.MostFrames {
			f.Add(0, "", "space them farther apart", "stations every %s mm are more than the limit of %d", fault.Figure(how.Every), hull.MostFrames)
			return nil
		}
		from := math.Ceil((low-slack)/how.Every) * how.Every
		if how.From != nil {
			from = *how.From
		}
		first := max(math.Ceil((low-slack-from)/how.Every), 0)
		for k := first; from+k*how.Every <= high+slack; k++ {
			out = append(out, from+k*how.Every)
		}
	default:
		for k := range evenStations {
			out = append(out, low+(high-low)*(float64(k)+0.5)/evenStations)
		}
	}
	if len(out) > hull.MostFrames {
		f.Add(0, "", "leave some out", "there are %d stations, more than the limit of %d", len(out), hull.MostFrames)
		return nil
	}
	for i := range out {
		out[i] = min(max(out[i], low), high)
	}
	return out
}

// cut is a straight piece of a section, where a triangle is cut across the length, in mm.
type cut [2]mgl64.Vec2

// slicer cuts triangles at stations.
type slicer struct {
	length   int     // axis
	mm       float64 // factor by which the mesh is scaled
	stations []float64
	sections [][]cut
	cuts     int
	low      float64 // first end of the mesh, mm
}

// sliced cuts a mesh at stations; mm is the scale factor.
func sliced(ctx context.Context, s surface, length int, mm, low float64, stations []float64) ([][]cut, error) {
	c := &slicer{length: length, mm: mm, low: low, stations: stations, sections: make([][]cut, len(stations))}
	return c.sections, s.each(ctx, c.visit)
}

// visit cuts a triangle. A corner on a station counts as beyond it, so that each
// triangle is cut at two edges or at none, and two that share an edge are cut there
// at one place. At the first end of the mesh, with nothing before it, it counts as
// short of the station.
func (c *slicer) visit(t *triangle) error {
	var p triangle
	for i := range t {
		p[i] = t[i].Mul(c.mm)
	}
	x := [3]float64{p[0][c.length], p[1][c.length], p[2][c.length]}
	low, high := min(x[0], x[1], x[2]), max(x[0], x[1], x[2])
	for i := sort.SearchFloat64s(c.stations, low); i < len(c.stations) && c.stations[i] <= high; i++ {
		at := c.stations[i]
		var piece cut
		n := 0
		for k := range 3 {
			a, b := k, (k+1)%3
			if c.beyond(x[a], at) == c.beyond(x[b], at) {
				continue
			}
			if n < 2 {
				piece[n] = c.crossing(p[a], p[b], at)
			}
			n++
		}
		if n != 2 || piece[0] == piece[1] {
			continue
		}
		if c.cuts++; c.cuts > mostCut {
			return fault.Fault{What: tongue.T("its sections have more than the %d pieces that are read", mostCut), Mend: tongue.T("use fewer stations, or export it coarser")}
		}
		if len(c.sections[i]) >= mostSection {
			return fault.Fault{What: tongue.T("its section at x %s has more than the %d pieces that are read", fault.Figure(at), mostSection), Mend: tongue.T("use other stations, or export it coarser")}
		}
		c.sections[i] = append(c.sections[i], piece)
	}
	return nil
}

func (c *slicer) beyond(x, at float64) bool {
	if at <= c.low {
		return x > at
	}
	return x >= at
}

// crossing is where an edge crosses a station; it is the same computed from
// either end.
func (c *slicer) crossing(a, b mgl64.Vec3, at float64) mgl64.Vec2 {
	if a[c.length] > b[c.length] {
		a, b = b, a
	}
	share := (at - a[c.length]) / (b[c.length] - a[c.length])
	across := func(k int) float64 {
		if share >= 1 {
			return b[k]
		}
		return a[k] + (b[k]-a[k])*share
	}
	i, j := othersThan(c.length)
	return mgl64.Vec2{across(i), across(j)}
}

// othersThan gives the other two axes.
func othersThan(axis int) (i, j int) {
	switch axis {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	}
	return 0, 1
}
