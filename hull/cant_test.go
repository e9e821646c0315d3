package hull

import (
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inPlane moves points into a plane along x.
func inPlane(p Plane, pts ...mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(pts))
	for i, q := range pts {
		out[i] = mgl64.Vec3{p.At(q.Y(), q.Z()), q.Y(), q.Z()}
	}
	return out
}

var section = []mgl64.Vec3{{0, 40, 60}, {0, 42, 45}, {0, 38, 28}, {0, 22, 12}, {0, 3, 5}}

func TestPlaneOfFrame(t *testing.T) {
	for _, want := range []Plane{{X: 50}, {X: -20, Cant: Degrees(30)}, {X: 110, Cant: Degrees(-44)}, {X: 90, Rake: Degrees(20)}, {X: 0, Rake: Degrees(-3)}} {
		f := Frame{Points: inPlane(want, section...)}
		got, ok := f.Plane()
		require.True(t, ok)
		assert.InDelta(t, want.X, got.X, 1e-9)
		assert.InDelta(t, float64(want.Cant), float64(got.Cant), 1e-12)
		assert.InDelta(t, float64(want.Rake), float64(got.Rake), 1e-12)
		assert.Equal(t, want.Cant == 0 && want.Rake == 0, got.Square())

		f.Points[1][0] += 0.04
		_, ok = f.Plane()
		assert.True(t, ok, "within what a ruler tells")
		f.Points[1][0] += 0.3
		_, ok = f.Plane()
		assert.False(t, ok)
	}
	twisted := Frame{Points: inPlane(Plane{}, section...)}
	for i := range twisted.Points {
		p := &twisted.Points[i]
		p[0] = p.Y() * p.Z() / 100
	}
	_, ok := twisted.Plane()
	assert.False(t, ok, "a space curve")
	_, ok = Frame{Points: inPlane(Plane{Cant: Degrees(80)}, section...)}.Plane()
	assert.False(t, ok, "along the keel rather than across")
	_, ok = Frame{}.Plane()
	assert.False(t, ok)
}

func cantedHull(planes ...Plane) *Hull {
	h := &Hull{}
	for i, p := range planes {
		h.Frames = append(h.Frames, Frame{Name: string(rune('A' + i)), Points: inPlane(p, section...)})
	}
	return h
}

func TestCantedFramesAreChecked(t *testing.T) {
	assert.Empty(t, cantedHull(Plane{Cant: Degrees(-20)}, Plane{X: 40}, Plane{X: 80, Rake: Degrees(10)}, Plane{X: 120, Cant: Degrees(30)}).Check())

	// Frame B's plane is 42·tan 45° further aft outboard: past C, which stands at
	// 80.
	found := cantedHull(Plane{}, Plane{X: 40, Cant: Degrees(45)}, Plane{X: 81}, Plane{X: 160}).Check()
	require.Len(t, found, 1)
	assert.Equal(t, "frame C: point 2, at x 81, crosses frame B; correct its x, or remove one of the two frames.", found[0].Error())

	// A stem that clears a canted frame where the two are closest, though not all
	// of the frame.
	h := cantedHull(Plane{}, Plane{X: 40, Cant: Degrees(-45)}, Plane{X: 120}, Plane{X: 160})
	h.Frames[0].Name = "stem"
	for i := range h.Frames[0].Points {
		h.Frames[0].Points[i] = mgl64.Vec3{10 - 0.1*section[i].Z(), 1, section[i].Z()}
	}
	assert.Empty(t, h.Check())
	h.Frames[0].Points[4][0] = 39.5
	found = h.Check()
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Error(), "frame stem: point 5, at x 39.5, crosses frame B")
}

func TestTransomIsAnEndCurve(t *testing.T) {
	h := cantedHull(Plane{}, Plane{X: 60}, Plane{X: 120})
	h.Frames[2].Name = "transom"
	for i := range h.Frames[2].Points {
		p := &h.Frames[2].Points[i]
		p[0] += p.Y() * p.Y() / 200
	}
	assert.Empty(t, h.Check())
	p := NewPlan("", *h)
	assert.Equal(t, BowFirst, p.Hull.Bow)
	h.Frames[0].Name, h.Frames[2].Name = "Transom", "stem"
	p = NewPlan("", *h)
	assert.Equal(t, BowLast, p.Hull.Bow)
	h.Frames[1].Name = "TRANSOM"
	assert.Contains(t, h.Check()[0].Error(), "an end curve must be the first or the last frame")
}

// A canted frame comes through the table of points and the plan file unharmed.
func TestCantedFramesAreKept(t *testing.T) {
	h := cantedHull(Plane{}, Plane{X: 40, Cant: Degrees(10)}, Plane{X: 120, Cant: Degrees(20)})
	p := NewPlan("", *h)
	again, err := ReadPlan(strings.NewReader(written(t, p)), "")
	require.NoError(t, err)
	got, ok := again.Hull.Frames[2].Plane()
	require.True(t, ok)
	assert.InDelta(t, 20*math.Pi/180, float64(got.Cant), 1e-12)
}
