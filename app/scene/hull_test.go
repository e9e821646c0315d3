package scene

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/loft"
)

// planked is the layer of Wigley's hull in two bands.
func planked(t testing.TB) *loft.Layer {
	t.Helper()
	return apptest.Planked(t, 2).Layers[0]
}

func TestHullIsPlankedOutwardsOnBothSides(t *testing.T) {
	l := planked(t)
	s := Hull(l, Look{Both: true, Strake: -1, Line: -1, Frame: -1})
	port, starboard := 0, 0
	for _, v := range s.Vertices {
		assert.InDelta(t, 1, v.Normal.Len(), 1e-9)
		if math.Abs(v.At.Y()) < 1 {
			continue
		}
		if v.At.Y() > 0 {
			port++
		} else {
			starboard++
		}
		assert.Greater(t, v.Normal.Y()*v.At.Y(), -1e-9, "outwards at %v", v.At)
		assert.True(t, v.Tint >= -1 && v.Tint <= 1)
	}
	assert.Equal(t, port, starboard)
}

func TestHullTagsItsStrakesAndFrames(t *testing.T) {
	l := planked(t)
	s := Hull(l, Look{Strake: 3, Line: -1, Frame: 4})
	strakes, frames, chosen := map[int16]bool{}, map[int16]bool{}, 0
	for _, tr := range s.Triangles {
		strakes[tr.Tag.Strake], frames[tr.Tag.Frame] = true, true
		if tr.Chosen {
			chosen++
			assert.Equal(t, int16(3), tr.Tag.Strake)
		}
	}
	assert.Len(t, strakes, len(l.Strakes))
	assert.Len(t, frames, 13)
	assert.Positive(t, chosen)
	var r Renderer
	c := Facing(s, math.Pi, 0.1).Fit(s, 600, 200)
	r.Render(s, c, &Light, 600, 200)
	i := l.Surface.FrameStation(6)
	mid := l.Seams[2].P[i].Add(l.Seams[3].P[i]).Mul(0.5)
	q := mgl64.TransformCoordinate(mid, c.matrix(600, 200))
	tag, ok := r.Pick(int(q[0]), int(q[1]))
	require.True(t, ok)
	assert.Equal(t, Tag{2, 6}, tag)
}

func TestTintsTellTheSide(t *testing.T) {
	l := planked(t)
	edge, fit := tintOf(l, ByEdgeSet), tintOf(l, ByFit)
	assert.Nil(t, tintOf(l, Bare))
	for k, s := range l.Strakes {
		for f := range s.At {
			i := l.Surface.FrameStation(f)
			c := &s.At[f]
			if !c.Laid {
				continue
			}
			if set := float64(s.Centre.EdgeSet[i]); math.Abs(set) > 1e-9 {
				assert.Equal(t, set > 0, edge(k, i) < 0, "bent downwards is the tint of Down")
			}
			if over := c.WidthCut - c.Pitch; math.Abs(over) > 1e-9 {
				assert.Equal(t, over > 0, fit(k, i) > 0, "too narrow is the tint of Up")
			}
		}
	}
	assert.Equal(t, 0.0, limited(math.NaN()))
	assert.Equal(t, 1.0, limited(7))
}

// BenchmarkHullScene makes the scene of a planked hull, as at every move of a
// handle.
func BenchmarkHullScene(b *testing.B) {
	l := planked(b)
	for b.Loop() {
		Hull(l, Look{Both: true, Strake: -1, Line: -1, Frame: -1})
	}
}
