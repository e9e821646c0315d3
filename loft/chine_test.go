package loft

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestFramesOfThreePoints: a straight-sided hull with one chine has three points a
// frame, the middle one a knuckle. Its sides and bottom stay straight across, and its
// girths are exact.
func TestFramesOfThreePoints(t *testing.T) {
	var h hull.Hull
	for i, half := range []float64{14, 20, 24, 25, 23, 18} {
		x := 40 * float64(i)
		h.Frames = append(h.Frames, hull.Frame{Name: string(rune('A' + i)), Knuckles: []int{1}, Points: []mgl64.Vec3{{x, half + 4, 40}, {x, half, 12}, {x, 0, 4}}})
	}
	p := hull.NewPlan("punt", h)
	require.Empty(t, p.Check())
	k, err := Plank(p)
	require.NoError(t, err)
	s := k.Layers[0].Surface
	for i, f := range h.Frames {
		a, b := f.Points[0].Sub(f.Points[1]).Len(), f.Points[1].Sub(f.Points[2]).Len()
		assert.InDelta(t, a+b, s.Girth(i), 1e-9)
		side := s.AtDown(i, a/2)
		assert.InDelta(t, 0, side.Sub(f.Points[0].Add(f.Points[1]).Mul(0.5)).Len(), 1e-6)
		bottom := s.AtDown(i, a+b/2)
		assert.InDelta(t, 0, bottom.Sub(f.Points[1].Add(f.Points[2]).Mul(0.5)).Len(), 1e-6)
	}
}

// TestShallowChinesInLine: an exact hull with a shallow chine, given by points of which
// one at every frame stands on the chine, is lofted exactly there once the corners in
// line are kept. With a chine all along, 0.2 µm remain, from girths by Gauss points and
// the cubic through five points a panel. Where the chine dies out, 5 µm remain, as they
// do with a chine marked by hand all along, because the cubic along the hull crosses
// the place where the third derivative of its angle jumps. Smoothed, the loft was 0.1
// to 0.3 mm off.
func TestShallowChinesInLine(t *testing.T) {
	always := func(degrees float64) func(float64) float64 { return func(float64) float64 { return degrees } }
	for _, c := range []struct {
		name    string
		degrees func(x float64) float64
		within  float64 // mm
		fewest  int     // frames in which it is kept
	}{
		{"12 degrees", always(12), 2e-4, 13},
		{"18 degrees", always(18), 2e-4, 13},
		{"24 degrees", always(24), 2e-4, 13},
		{"from 30 degrees it dies out", func(x float64) float64 { return 30 * math.Pow(max(0, (90-x)/270), 3) }, 5e-3, 6},
		{"it starts amidships", func(x float64) float64 { return 24 * math.Pow(max(0, (90+x)/270), 3) }, 5e-3, 6},
	} {
		for _, xs := range [][]float64{bodies.EvenStations, bodies.UnevenStations} {
			e := bodies.Chined(c.degrees)
			h := hull.Hull{Frames: bodies.ChinedFrames(&e, xs, 5)}
			was := farthestOff(t, &e, h.Frames)
			notes := h.KeepChines()
			is := farthestOff(t, &e, h.Frames)
			t.Logf("%s: %.4f mm, %.5f mm; %q", c.name, was, is, notes)
			assert.Len(t, notes, 1, c.name)
			assert.Greater(t, was, 0.05, c.name)
			assert.Less(t, is, c.within, c.name)
			kept := 0
			for _, f := range h.Frames {
				if len(f.Knuckles) > 0 {
					kept++
					assert.Equal(t, []int{5}, f.Knuckles, "%s: the point on the chine", c.name)
				}
			}
			assert.GreaterOrEqual(t, kept, c.fewest, c.name)
		}
	}
}

// shaken scatters the points of frames by a standard deviation in mm; if negative, it
// rounds them to that step.
func shaken(frames []hull.Frame, r *rand.Rand, mm float64) []hull.Frame {
	for i := range frames {
		for k := range frames[i].Points {
			p := &frames[i].Points[k]
			for axis := 1; axis < 3; axis++ {
				if mm < 0 {
					p[axis] = math.Round(p[axis]/-mm) * -mm
				} else {
					p[axis] += mm * r.NormFloat64()
				}
			}
		}
	}
	return frames
}

// TestTracedChine: a chine of 18 degrees is found in points with the scatter of a
// tracing, 0.05 mm, or of a table in tenths: in at least 19 of 20 frames, for points 5
// mm apart. That scatter turns the polygon at each point by 2.4 degrees, as a standard
// deviation.
func TestTracedChine(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 18))
	e := bodies.Chined(func(float64) float64 { return 18 })
	for _, off := range []float64{0.05, -0.1} {
		found := 0
		for range 20 {
			h := hull.Hull{Frames: shaken(bodies.ChinedFrames(&e, bodies.EvenStations, 4), r, off)}
			found += len(h.KeepChines())
			for _, f := range h.Frames {
				for _, k := range f.Knuckles {
					assert.Equal(t, 4, k)
				}
			}
		}
		assert.GreaterOrEqual(t, found, 19, "%g mm", off)
	}
}

// TestSmoothHullsHaveNoChine: no corners are kept on smooth hulls, whether their points
// are few or many, exact, scattered as in a tracing, or rounded. A hull whose bilge is
// shorter than the spacing of its points is left out: its points are those of a chine.
func TestSmoothHullsHaveNoChine(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	tried := 0
	none := func(frames []hull.Frame, what string) {
		h := hull.Hull{Frames: frames}
		assert.Empty(t, h.KeepChines(), what)
		tried++
	}
	for _, points := range []int{6, 8, 10, 14, 21, 40} {
		for _, off := range []float64{0, 0.05, 0.2, -0.25, -0.5} {
			for _, e := range bodies.Exacts() {
				for _, xs := range [][]float64{bodies.EvenStations, bodies.UnevenStations, bodies.FiveStations} {
					none(shaken(e.Frames(xs, points), r, off), fmt.Sprintf("%s, %d points, %g mm", e.Name, points, off))
				}
			}
			for _, radius := range []float64{8, 14, 25, 40} {
				for _, rise := range []float64{5, 15, 30, 50, 65} {
					frames, arc := bodies.Bilged(bodies.EvenStations, radius, hull.Degrees(rise), points)
					if f := frames[6].Points; arc < f[0].Sub(f[1]).Len() {
						continue
					}
					none(shaken(frames, r, off), fmt.Sprintf("bilge of %g mm, rise %g degrees, %d points, %g mm", radius, rise, points, off))
				}
			}
		}
	}
	assert.Greater(t, tried, 600)
}
