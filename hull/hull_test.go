package hull

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// lugger is a small hull that the tests spoil.
func lugger() Hull {
	return Hull{
		Bow:    BowFirst,
		Limits: Limits{Upper: "sheer", Lower: "rabbet"},
		Frames: []Frame{
			{Name: "A", Points: []mgl64.Vec3{{20, 8, 60}, {20, 7, 40}, {20, 5, 20}, {20, 2, 5}}, Knuckles: []int{2}},
			{Name: "B", Points: []mgl64.Vec3{{120, 25, 50}, {120, 24, 30}, {120, 20, 12}, {120, 2, 4}}, Knuckles: []int{2}},
			{Name: "C", Points: []mgl64.Vec3{{220, 12, 56}, {220, 10, 36}, {220, 6, 16}, {220, 2, 4}}},
		},
	}
}

// someHull draws hulls that keep every rule.
func someHull(t *rapid.T) *Hull {
	figure := rapid.Float64Range(0, 1)
	n := rapid.IntRange(3, 8).Draw(t, "frames")
	x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
	h := &Hull{Limits: Limits{Upper: "sheer", Lower: "rabbet"}}
	for i := range n {
		f := Frame{Name: fmt.Sprintf("%c %s", 'A'+i, rapid.StringMatching(`[a-zé",;0-9]{1,5}`).Draw(t, "name"))}
		x += 30 + 100*figure.Draw(t, "step")
		m := rapid.IntRange(4, 12).Draw(t, "points")
		for j := range m {
			f.Points = append(f.Points, mgl64.Vec3{x, 5 * figure.Draw(t, "y"), -10*float64(j) - 5*figure.Draw(t, "z")})
			if j > 0 && j < m-1 && figure.Draw(t, "kind") < 0.2 {
				f.Knuckles = append(f.Knuckles, j)
			}
		}
		h.Frames = append(h.Frames, f)
	}
	if rapid.Bool().Draw(t, "ends") {
		h.Frames[n-1].Name = "stem"
		for j := range h.Frames[n-1].Points {
			h.Frames[n-1].Points[j][0] += 20 * figure.Draw(t, "rake")
		}
	}
	h.Bow, _ = bowOf(h.Frames)
	return h
}

// failing is a writer that always fails.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestHullCheck(t *testing.T) {
	h := lugger()
	assert.Nil(t, h.Check())
	h.Frames[1].Points[1][2] = math.NaN()
	require.Len(t, h.Check(), 1)
	assert.EqualError(t, h.Check()[0], "frame B: the z of point 2 is not finite; give a number.")
}

func TestHullCheckKnuckles(t *testing.T) {
	h := lugger()
	h.Frames[1].Knuckles = []int{4}
	require.Len(t, h.Check(), 1)
	assert.EqualError(t, h.Check()[0], "frame B: it has a knuckle at point 5 of 4; name points of the frame.")
}

// woundUp has as many points as are read, each frame coiled so that every
// stretch lies beside many others. What checking it costs in steps is tested by
// the tests of the program, on the same hull.
func woundUp() *Hull {
	h := &Hull{}
	for i := range 100 {
		f := Frame{Name: fmt.Sprint(i)}
		for j := range mostFramePoints {
			r, a := 200-0.19*float64(j), 0.2*float64(j)
			f.Points = append(f.Points, mgl64.Vec3{10 * float64(i), 300 + r*math.Sin(a), r * math.Cos(a)})
		}
		h.Frames = append(h.Frames, f)
	}
	return h
}

func TestLargestPointsAreChecked(t *testing.T) {
	require.Empty(t, woundUp().Check())
}

// BenchmarkLargestPoints checks a hull with the most points that are read.
func BenchmarkLargestPoints(b *testing.B) {
	h := woundUp()
	for b.Loop() {
		if faults := h.Check(); len(faults) > 0 {
			b.Fatal(faults[0])
		}
	}
}

// A frame folded at any of its stretches is found, wherever the fold is.
func TestFoldsAreFoundAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := someHull(t)
		i := rapid.IntRange(0, len(h.Frames)-2).Draw(t, "frame")
		pts := h.Frames[i].Points
		// A loop: two points exchanged make the outline cross itself, or turn back on
		// itself.
		j := rapid.IntRange(1, len(pts)-3).Draw(t, "point")
		low := pts[j].Sub(mgl64.Vec3{0, 0, 40})
		h.Frames[i].Points = slices.Insert(slices.Clone(pts), j+1, low, pts[j].Add(mgl64.Vec3{0, 0, -1e-3}))
		require.NotEmpty(t, h.Check())
	})
}
