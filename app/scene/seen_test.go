package scene

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A line that passes behind a plate is seen on both sides of it, to within a pixel; one
// that passes before it is seen whole, and the plate's own outline is, too.
func TestSeenLinesEndWhereTheyAreHidden(t *testing.T) {
	s := &Scene{}
	plate(s, 0, 10, Tag{1, 1}, 0)
	behind, before := mgl64.Vec3{0, 20, 0}, mgl64.Vec3{0, -20, 4}
	for _, y := range []mgl64.Vec3{behind, before} {
		s.Lines = append(s.Lines, Polyline{Kind: SeamLine, Width: 1, Points: []mgl64.Vec3{{-30, y[1], y[2]}, {30, y[1], y[2]}}})
	}
	faces, lines := Seen(s, abeam(), 200, 160) // two pixels to a mm
	assert.Empty(t, faces, "nothing is chosen")
	var hidden, whole [][2]float64
	around := 0.0
	for _, l := range lines {
		switch {
		case l.Edge:
			around += length(l.Points)
		case l.Points[0][1] < 75:
			whole = append(whole, l.Points...)
		default:
			hidden = append(hidden, l.Points...)
		}
	}
	assert.InDelta(t, 4*40, around, 3, "the outline of the plate, and not its diagonal")
	require.Len(t, whole, 2)
	assert.InDelta(t, 40, whole[0][0], 1)
	assert.InDelta(t, 160, whole[1][0], 1)
	require.Len(t, hidden, 4, "two parts")
	for i, x := range []float64{40, 80, 120, 160} {
		assert.InDelta(t, x, hidden[i][0], 1)
	}
}

// Where a roof turns away from the eye its ridge is an edge, and where it does not, none;
// of timber its crease is.
func TestEdgesOfARoof(t *testing.T) {
	roof := func(rise float64, of Material) float64 {
		s := &Scene{}
		for _, p := range []mgl64.Vec3{{-10, 0, 0}, {10, 0, 0}, {-10, rise, 5}, {10, rise, 5}, {-10, 0, 10}, {10, 0, 10}} {
			s.Vertices = append(s.Vertices, Vertex{At: p, Normal: mgl64.Vec3{0, -1, 0}, Of: of})
		}
		s.Triangles = []Triangle{{0, 1, 3, nothing, false}, {0, 3, 2, nothing, false}, {2, 3, 5, nothing, false}, {2, 5, 4, nothing, false}}
		_, lines := Seen(s, abeam(), 200, 160)
		ridge := 0.0
		for _, l := range lines {
			for i := 1; i < len(l.Points); i++ {
				if math.Abs(l.Points[i][1]-70) < 1 && math.Abs(l.Points[i-1][1]-70) < 1 {
					ridge += math.Abs(l.Points[i][0] - l.Points[i-1][0])
				}
			}
		}
		return ridge
	}
	assert.Zero(t, roof(-5, Plank))
	assert.InDelta(t, 40, roof(-5, Timber), 1)
	assert.Zero(t, roof(-0.5, Timber), "it is all but flat")
}

// What lies against the planking from within is not seen through it, however near.
func TestFramesAreNotSeenThroughThePlanking(t *testing.T) {
	s := &Scene{}
	plate(s, 0, 30, Tag{1, 1}, 0)
	plate(s, 0.01, 10, Tag{Built, 1}, 0)
	for i := 4; i < 8; i++ {
		s.Vertices[i].Of = Timber
	}
	_, lines := Seen(s, abeam(), 200, 160)
	around := 0.0
	for _, l := range lines {
		around += length(l.Points)
	}
	assert.InDelta(t, 4*120, around, 3, "the planking's own outline")
}
