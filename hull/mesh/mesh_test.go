package mesh

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// written is a file that the test writes.
func written(t testing.TB, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "hull")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

// off takes a hull off a sound mesh.
func off(t testing.TB, data []byte, how Options) *Mesh {
	t.Helper()
	m, faults := Check(context.Background(), written(t, data), how)
	require.Empty(t, faults)
	return m
}

// girthOf is the length of a frame's points, joined by the smooth curve that thinning uses.
func girthOf(f *hull.Frame) float64 {
	sum, from := 0.0, 0
	for _, to := range append(append([]int{}, f.Knuckles...), len(f.Points)-1) {
		var some []mgl64.Vec2
		for _, p := range f.Points[from : to+1] {
			some = append(some, mgl64.Vec2{p[1], p[2]})
		}
		slopes := slopesOf(some)
		for i := 1; i < len(some); i++ {
			h := some[i].Sub(some[i-1]).Len()
			last := some[i-1]
			for k := 1; k <= 16; k++ {
				q := hermite(some[i-1], some[i], slopes[i-1].Mul(h), slopes[i].Mul(h), float64(k)/16)
				sum, last = sum+q.Sub(last).Len(), q
			}
		}
		from = to
	}
	return sum
}

// trueGirth is the girth of a shape.
func trueGirth(s sourcetest.Shape, x float64) float64 {
	sum := 0.0
	y0, z0 := s(x, 0)
	for k := 1; k <= 4000; k++ {
		y, z := s(x, float64(k)/4000)
		sum += math.Hypot(y-y0, z-z0)
		y0, z0 = y, z
	}
	return sum
}

// A straight line between two points of a surface departs from it by at most an eighth of
// the second derivative along it times its length squared (the remainder of linear
// interpolation). Over a triangle of Wigley's mesh with sides dx and dz the worst is its
// diagonal: (y_xx·dx² + 2·y_xz·dx·dz + y_zz·dz²)/8, at most with y_xx = 8B/(2L²), y_xz =
// 4B/(L·T), y_zz = B/T². A girth is then off by less than twice that, divided by the
// half-breadths through which it turns; the shares are twice what is found.
func TestWigleysHullComesOffItsMesh(t *testing.T) {
	for _, c := range []struct {
		along, up int
		girth     float64 // share by which it may be off
	}{
		{20, 8, 8e-3}, {60, 24, 9e-4}, {200, 60, 9e-5},
	} {
		t.Run(fmt.Sprintf("%dx%d", c.along, c.up), func(t *testing.T) {
			m := off(t, sourcetest.Skin(sourcetest.Wigley, -300, 300, c.along, c.up, 0).BinarySTL(), Options{})
			require.Len(t, m.Hull.Frames, evenStations)
			dx, dz := 600.0/float64(c.along), 37.5/float64(c.up)
			chord := (8*30/360000.0*dx*dx + 2*4*60/(600*37.5)*dx*dz + 60/(37.5*37.5)*dz*dz) / 8
			worst, farthest := 0.0, 0.0
			for i := range m.Hull.Frames {
				f := &m.Hull.Frames[i]
				want := trueGirth(sourcetest.Wigley, f.X())
				worst = max(worst, math.Abs(girthOf(f)-want)/want)
				for _, p := range f.Points {
					y, _ := sourcetest.Wigley(p[0], p[2]/37.5)
					farthest = max(farthest, math.Abs(y-p[1]))
				}
			}
			t.Logf("girth off by %.2g, points by %.4f mm (chord error %.4f)", worst, farthest, chord)
			assert.Less(t, worst, c.girth)
			assert.Less(t, farthest, chord+1e-4)
		})
	}
}
