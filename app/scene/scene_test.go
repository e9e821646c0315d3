package scene

import (
	"image/color"
	"math"
	"strconv"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// plate is a square of two triangles in the plane y = depth, facing -y.
func plate(s *Scene, depth, half float64, tag Tag, tint float64) {
	base := int32(len(s.Vertices))
	for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		s.Vertices = append(s.Vertices, Vertex{
			At: mgl64.Vec3{c[0] * half, depth, c[1] * half}, Normal: mgl64.Vec3{0, -1, 0}, Tint: tint,
		})
	}
	s.Triangles = append(s.Triangles,
		Triangle{base, base + 1, base + 2, tag, false}, Triangle{base, base + 2, base + 3, tag, false})
}

// abeam looks square along +y with two pixels per mm.
func abeam() Camera { return Camera{Zoom: 2, Depth: 100} }

func TestNearerPlateHidesFartherInEitherOrder(t *testing.T) {
	near, far := Tag{1, 1}, Tag{2, 2}
	for name, order := range map[string][2]float64{"far first": {10, -10}, "near first": {-10, 10}} {
		t.Run(name, func(t *testing.T) {
			s := Scene{Mapped: true}
			for _, y := range order {
				if y < 0 {
					plate(&s, y, 10, near, -1)
				} else {
					plate(&s, y, 30, far, 1)
				}
			}
			var r Renderer
			img := r.Render(&s, abeam(), &Light, 200, 160)
			got, ok := r.Pick(100, 80)
			require.True(t, ok)
			assert.Equal(t, near, got, "in the middle")
			got, ok = r.Pick(100+40, 80)
			require.True(t, ok)
			assert.Equal(t, far, got, "beside the near plate")
			_, ok = r.Pick(2, 2)
			assert.False(t, ok, "empty ground")
			assert.Equal(t, Light.Ground, img.RGBAAt(2, 2))
			c := img.RGBAAt(100, 80)
			assert.Greater(t, c.B, c.R, "blue, as the near plate's tint")
		})
	}
}

func TestHiddenLineIsHidden(t *testing.T) {
	var s Scene
	plate(&s, 0, 20, Tag{1, 1}, 0)
	s.Draw([]mgl64.Vec3{{-60, 20, 0}, {60, 20, 0}}, ChosenLine, 3, false)   // behind
	s.Draw([]mgl64.Vec3{{-60, -20, 10}, {60, -20, 10}}, BandLine, 3, false) // in front
	var r Renderer
	img := r.Render(&s, abeam(), &Light, 300, 100)
	assert.NotEqual(t, Light.Lines[ChosenLine], img.RGBAAt(150, 50), "behind the plate")
	assert.Equal(t, Light.Lines[ChosenLine], img.RGBAAt(150+60, 50), "beside it")
	assert.Equal(t, Light.Lines[BandLine], img.RGBAAt(150, 50-20), "before it")
}

func TestLineInThePlankingIsSeen(t *testing.T) {
	for _, yaw := range []float64{0, 0.5, 1.2, -1.3} {
		var s Scene
		plate(&s, 0, 20, Tag{1, 1}, 0)
		s.Draw([]mgl64.Vec3{{0, 0, -15}, {0, 0, 15}}, ChosenLine, 3, false)
		var r Renderer
		img := r.Render(&s, abeam().Turned(yaw, 0.2), &Light, 200, 200)
		assert.Equal(t, Light.Lines[ChosenLine], img.RGBAAt(100, 100), "yaw %v", yaw)
	}
}

// The formula is written out by hand: right = (cos yaw, sin yaw, 0), and up is
// square to it and to the direction to the eye.
func TestKnownPointProjectsWhereGeometrySays(t *testing.T) {
	c := Camera{Target: mgl64.Vec3{5, -3, 2}, Yaw: 0.7, Pitch: 0.4, Zoom: 3, PanX: 11, PanY: -6, Depth: 50}
	for _, p := range []mgl64.Vec3{{5, -3, 2}, {12, 4, -1}, {-8, 2, 9}} {
		q := mgl64.TransformCoordinate(p, c.matrix(400, 300))
		d := p.Sub(c.Target)
		right := d[0]*math.Cos(0.7) + d[1]*math.Sin(0.7)
		away := -d[0]*math.Sin(0.7) + d[1]*math.Cos(0.7)
		up := d[2]*math.Cos(0.4) + away*math.Sin(0.4)
		deep := away*math.Cos(0.4) - d[2]*math.Sin(0.4)
		assert.InDelta(t, 200+11+3*right, q[0], 1e-9)
		assert.InDelta(t, 150-6-3*up, q[1], 1e-9)
		assert.InDelta(t, (50+deep)/100, q[2], 1e-9)
	}
}

func TestZoomKeepsThePixelUnderThePointer(t *testing.T) {
	c := Camera{Yaw: 0.3, Pitch: 0.2, Zoom: 2, PanX: 4, PanY: 9, Depth: 80}
	p := mgl64.Vec3{10, 5, -7}
	before := mgl64.TransformCoordinate(p, c.matrix(300, 200))
	after := mgl64.TransformCoordinate(p, c.Zoomed(1.7, before[0], before[1], 300, 200).matrix(300, 200))
	assert.InDelta(t, before[0], after[0], 1e-9)
	assert.InDelta(t, before[1], after[1], 1e-9)
}

func TestFitShowsTheWholeScene(t *testing.T) {
	s := wigley(11, 8)
	for _, yaw := range []float64{0, 0.8, -2} {
		c := Facing(s, yaw, 0.3).Fit(s, 500, 200)
		m := c.matrix(500, 200)
		for i := range s.Vertices {
			q := mgl64.TransformCoordinate(s.Vertices[i].At, m)
			require.True(t, q[0] >= 0 && q[0] <= 500 && q[1] >= 0 && q[1] <= 200 && q[2] >= 0 && q[2] <= 1)
		}
	}
}

func TestLookingStraightDownIsDefined(t *testing.T) {
	s := wigley(11, 8)
	var r Renderer
	r.Render(s, Facing(s, 0, 0).Turned(0, 9).Fit(s, 300, 200), &Dark, 300, 200)
	seen := 0
	for x := range 300 {
		if _, ok := r.Pick(x, 100); ok {
			seen++
		}
	}
	// The row's middle is half a pixel off the centre line: half-breadth 0.5 pixels
	// of 30 mm at 0.45 pixels per mm.
	assert.InDelta(t, 0.9*300*math.Sqrt(1-0.5/(30*0.45)), seen, 2, "the length along the middle row")
}

func TestChosenStrakeStandsOut(t *testing.T) {
	mean := func(chosen int) color.RGBA {
		s := &Scene{}
		k := wigleySkin(11, 8)
		k.Chosen = chosen
		s.Add(k, false)
		var r Renderer
		img := r.Render(s, Facing(s, math.Pi, 0).Fit(s, 400, 200), &Light, 400, 200)
		for y := range 200 {
			if tag, ok := r.Pick(200, y); ok && tag.Strake == 4 {
				return img.RGBAAt(200, y)
			}
		}
		t.Fatal("strake 4 is not seen")
		return color.RGBA{}
	}
	assert.NotEqual(t, mean(-1), mean(4))
}

func TestPlateOfNoWidthHasNoTriangles(t *testing.T) {
	k := wigleySkin(11, 8)
	full, ended := &Scene{}, &Scene{}
	full.Add(k, false)
	for i := range k.Plates[3].Rungs {
		r := &k.Plates[3].Rungs[i]
		r.At[1] = r.At[0]
	}
	ended.Add(k, false)
	assert.Len(t, ended.Triangles, len(full.Triangles)-2*(len(k.Plates[3].Rungs)-1))
}

func TestBuffersAreUsedAgain(t *testing.T) {
	s := wigley(11, 8)
	c := Facing(s, 0.4, 0.3).Fit(s, 300, 200)
	var r Renderer
	first := r.Render(s, c, &Light, 300, 200)
	assert.Same(t, first, r.Render(s, c, &Light, 300, 200))
	assert.Less(t, testing.AllocsPerRun(20, func() { r.Render(s, c, &Light, 300, 200) }), 20.0)
	r.Fine = true
	assert.Same(t, first, r.Render(s, c, &Light, 300, 200))
	assert.Less(t, testing.AllocsPerRun(5, func() {
		r.Fine = !r.Fine
		r.Render(s, c, &Light, 300, 200)
	}), 60.0, "coarse and fine by turns")
	assert.NotPanics(t, func() { r.Render(&Scene{}, Camera{}, &Light, 0, 0) })
}

// wigleySkin is Wigley's hull (1934): y = B/2·(1−(2x/L)²)·(1−(z/T)²), of 600 mm
// with L/B = 10 and B/T = 1.6, four stations a bay.
func wigleySkin(frames, strakes int) Skin {
	const L, B, T = 600.0, 60.0, 37.5
	n := 4*(frames-1) + 1
	at := func(j, i int) (p, normal mgl64.Vec3) {
		x, z := L*(float64(i)/float64(n-1)-0.5), -T*float64(j)/float64(strakes)
		fx, fz := 1-4*x*x/L/L, 1-z*z/T/T
		return mgl64.Vec3{x, B / 2 * fx * fz, z}, mgl64.Vec3{B / 2 * 8 * x / L / L * fz, 1, B / 2 * fx * 2 * z / T / T}.Normalize()
	}
	k := Skin{Chosen: -1}
	for j := range strakes {
		p := Plate{Strake: j}
		for i := range n {
			r := Rung{Frame: int16((i + 2) / 4), Tint: math.Sin(float64(j+i) / 9)}
			for e := range 2 {
				r.At[e], r.Normal[e] = at(j+e, i)
			}
			p.Rungs = append(p.Rungs, r)
		}
		k.Plates = append(k.Plates, p)
	}
	return k
}

func wigley(frames, strakes int) *Scene {
	s, k := &Scene{}, wigleySkin(frames, strakes)
	s.Add(k, true)
	for _, p := range k.Plates {
		var seam []mgl64.Vec3
		for _, r := range p.Rungs {
			seam = append(seam, r.At[0])
		}
		s.Draw(seam, SeamLine, 1, true)
	}
	return s
}

// benchHull is Wigley's hull with 25 frames, in three bands and some 30 strakes a side,
// with everything that the planking lies on.
func benchHull(b *testing.B, t Tinting) *Scene {
	h := apptest.Wigley()
	h.Frames = nil
	for i := range 25 {
		f := hull.Frame{Name: strconv.Itoa(i)}
		for j := range 13 {
			x, z := 540*(float64(i)/24-0.5), -37.5*0.98*float64(j)/12
			f.Points = append(f.Points, mgl64.Vec3{x, 30 * (1 - math.Pow(x/300, 2)) * (1 - z*z/37.5/37.5), z})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("", *h)
	p.Layers[0].Stock.Width = 1.7
	p, err := loft.FairLines(b.Context(), p, 0, 3)
	require.NoError(b, err)
	k, err := loft.Plank(p)
	require.NoError(b, err)
	l := k.Layers[0]
	b.Logf("%d strakes", len(l.Strakes))
	return Hull(l, Look{Both: true, Tinting: t, Strake: -1, Line: -1, Frame: -1, Built: Structure(l, nil)})
}

// BenchmarkHullView draws 1000 x 600 pixels of both sides of a hull of 25
// frames and 30 strakes a side, which should take at most 15 ms on two cores.
func BenchmarkHullView(b *testing.B) { benchView(b, Bare, 1, false) }

// BenchmarkHullViewClose is the same from close up, so that the hull fills the
// view.
func BenchmarkHullViewClose(b *testing.B) { benchView(b, Bare, 4, false) }

// BenchmarkHullViewMapped is the same as a map.
func BenchmarkHullViewMapped(b *testing.B) { benchView(b, ByEdgeSet, 1, false) }

// BenchmarkHullViewFine is the same as drawn once the hull stops moving.
func BenchmarkHullViewFine(b *testing.B) { benchView(b, Bare, 1, true) }

func benchView(b *testing.B, t Tinting, near float64, fine bool) {
	s := benchHull(b, t)
	c := Facing(s, 0.5, 0.35).Fit(s, 1000, 600).Zoomed(near, 500, 300, 1000, 600)
	r := Renderer{Fine: fine}
	for b.Loop() {
		r.Render(s, c, &Light, 1000, 600)
	}
}
