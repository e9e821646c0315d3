package loft

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

func flatOf(t *testing.T, p *hull.Plan, id string) (*Layer, *Flat) {
	t.Helper()
	l := plankOne(t, p)
	f, err := l.Flat(id)
	require.NoError(t, err)
	return l, f
}

// keepsLengths holds the edges of the flat shape to those on the hull: 0.01 %.
func keepsLengths(t *testing.T, l *Layer, n int, f *Flat) {
	t.Helper()
	st := l.Strakes[n]
	for e, flat := range map[int][]mgl64.Vec2{n: f.Upper, n + 1: f.Lower} {
		line := l.Surface.lineAlong(l.Seams[e].course)
		sum := 0.0
		for k := 1; k < len(flat); k++ {
			sum += flat[k].Sub(flat[k-1]).Len()
		}
		assert.InEpsilon(t, line.S[st.To]-line.S[st.From], sum, 1e-4)
	}
}

// TestFlatOfCylinder: a strake parallel to the axis is a rectangle; one at an
// angle, between two helices, a straight strip of the width across it. To 0.01
// mm in 100.
func TestFlatOfCylinder(t *testing.T) {
	frames := bodies.Revolved(bodies.Spaced(0, 200, 9), 31, func(float64) float64 { return 60 })
	tapered := oneLayer(frames, bodies.FiveByTwo, 1)
	tapered.Layers[0].Bands[0].Strakes = 42 // narrower than their strips, and so alike
	l, f := flatOf(t, tapered, "1.07")
	w := 60 * math.Pi / float64(l.Bands[0].Strakes)
	assert.InDelta(t, 200, f.Length, 0.02)
	assert.InDelta(t, w, f.Width, 0.003) // chord against arc
	assert.InDelta(t, 0, f.Sweep, 1e-3)
	assert.InDelta(t, 0, f.Misfit, 1e-3)
	assert.InEpsilon(t, f.HullArea, f.Area, 1e-3)
	keepsLengths(t, l, 6, f)

	p := oneLayer(frames, bodies.FiveByTwo, 3)
	for k, b := range p.Layers[0].Lines {
		for i := range b.Handles {
			b.Handles[i].Down = 60 + 5*float64(k) + 40*float64(i)/8 // two helices 5 mm apart
		}
	}
	p.Layers[0].Bands[1].Strakes = 1
	_, f = flatOf(t, p, "2.01")
	angle := math.Atan2(40, 200)
	assert.InDelta(t, 5*math.Cos(angle), f.Width, 0.01)
	assert.InDelta(t, 0, f.Sweep, 0.01)
	assert.InDelta(t, 200/math.Cos(angle)+5*math.Sin(angle), f.Length, 0.02)
}

// TestFlatOfCone: unrolled, the strake between two rulings of a cone is a
// wedge from the apex; its edges are straight and meet at the turning angle of
// the girth between them.
func TestFlatOfCone(t *testing.T) {
	frames := bodies.Revolved(bodies.Spaced(80, 240, 17), 31, func(x float64) float64 { return x / 4 })
	p := oneLayer(frames, hull.Stock{Width: 8, Thickness: 1, Length: 1000}, 1)
	p.Layers[0].Bands[0].Strakes = 25
	p.Trade = hull.NewTrade()
	p.Trade.LeastWidth = 0.2 // so that none drops out towards the apex
	l, f := flatOf(t, p, "1.10")
	beta := math.Atan(0.25)
	slant := 160 / math.Cos(beta)
	turn := math.Pi / 25 * math.Sin(beta)
	first, last := f.Upper[0].Sub(f.Lower[0]).Len(), f.Upper[len(f.Upper)-1].Sub(f.Lower[len(f.Upper)-1]).Len()
	r0, r1 := 80/math.Cos(beta), 240/math.Cos(beta)
	assert.InDelta(t, 2*r0*math.Sin(turn/2), first, 0.002)
	assert.InDelta(t, 2*r1*math.Sin(turn/2), last, 0.005)
	assert.InDelta(t, slant*math.Cos(turn/2), f.Length, 0.016)
	up := f.Upper[len(f.Upper)-1].Sub(f.Upper[0])
	low := f.Lower[len(f.Lower)-1].Sub(f.Lower[0])
	assert.InDelta(t, turn, math.Acos(up.Normalize().Dot(low.Normalize())), 1e-4)
	keepsLengths(t, l, 9, f)
}

// TestFlatOfSphereZone: the strip ruled along the frames between the parallels
// of latitude ±λ is a cylinder of radius ρ = R·cos λ. From x = −a to a it is
// 2ρ·asin(a/ρ) long, middle and edges alike; the equator over it is
// 2R·asin(a/R), and the difference is the misfit.
func TestFlatOfSphereZone(t *testing.T) {
	const radius = 80.0
	xs := bodies.Spaced(-60, 60, 33)
	frames := bodies.Revolved(xs, 31, func(x float64) float64 { return math.Sqrt(radius*radius - x*x) })
	lambda := 0.1
	p := oneLayer(frames, hull.Stock{Width: 2 * radius * lambda, Thickness: 1, Length: 1000}, 3)
	for k, b := range p.Layers[0].Lines {
		z := radius * math.Sin(lambda) * float64(1-2*k)
		for i := range b.Handles {
			r := math.Sqrt(radius*radius - xs[i]*xs[i])
			b.Handles[i].Down = r * math.Acos(z/r)
		}
	}
	p.Layers[0].Bands[1].Strakes = 1
	l, f := flatOf(t, p, "2.01")
	rho := radius * math.Cos(lambda)
	equator, edge := 2*radius*math.Asin(60/radius), 2*rho*math.Asin(60/rho)
	assert.InDelta(t, equator-edge, f.Misfit, 0.005)
	assert.InDelta(t, edge, f.middleLength(), 0.005)
	assert.InEpsilon(t, 2*radius*math.Sin(lambda)*edge, f.Area, 1e-4)
	// ∫∫ R/y dz dx over |z| ≤ R·sin λ, with y² = R² − x² − z².
	area := 0.0
	for i := range 2000 {
		z := radius * math.Sin(lambda) * (float64(i)/1000 - 0.9995)
		area += radius * math.Sin(lambda) / 1000 * radius * 2 * math.Asin(60/math.Sqrt(radius*radius-z*z))
	}
	assert.InEpsilon(t, area, f.HullArea, 1e-3)
	keepsLengths(t, l, l.Bands[0].Strakes, f)
}

// TestFlatMisfitOfBarrel has the exact value: on a surface of revolution the
// strake between two meridians of a barrel is ruled by chords of the frames;
// with the strake symmetrical about the middle, the flat middle runs along the
// middles of those chords.
func TestFlatMisfitOfBarrel(t *testing.T) {
	const radius, waist = 300.0, 50.0
	r := func(x float64) float64 { return math.Sqrt(radius*radius-x*x) - radius + waist }
	frames := bodies.Revolved(bodies.Spaced(-90, 90, 25), 31, r)
	p := oneLayer(frames, hull.Stock{Width: 10, Thickness: 1, Length: 1000}, 1)
	p.Layers[0].Bands[0].Strakes = 16
	l, f := flatOf(t, p, "1.08")
	// Middles of the chords lie on the meridian curve of radius r·cos(δ/2).
	c := math.Cos(math.Pi / 16 / 2)
	want := 0.0
	const steps = 20000
	for i := range steps {
		x := -90 + 180*(float64(i)+0.5)/steps
		d := -x / math.Sqrt(radius*radius-x*x)
		want += 180. / steps * (math.Sqrt(1+d*d) - math.Sqrt(1+d*d*c*c))
	}
	assert.InDelta(t, want, f.Misfit, 2e-3)
	keepsLengths(t, l, 7, f)
}

func TestLeastRectangle(t *testing.T) {
	turn := mgl64.Rotate2D(0.3)
	var p []mgl64.Vec2
	for _, q := range []mgl64.Vec2{{0, 0}, {10, 0}, {10, 3}, {0, 3}, {5, 1}, {2, 2}} {
		p = append(p, turn.Mul2x1(q))
	}
	l, w := leastRectangle(p)
	assert.InDelta(t, 10, l, 1e-12)
	assert.InDelta(t, 3, w, 1e-12)
}

func TestFlatOfDropStrake(t *testing.T) {
	frames := bodies.Trough(8, 60, func(x float64) [][2]float64 { return bodies.Flat(45 - 24.6*max(x-120, 0)/300) })
	l, f := flatOf(t, oneLayer(frames, bodies.FiveByTwo, 1), "1.05")
	last := len(f.Upper) - 1
	assert.InDelta(t, 2.5, f.Upper[last].Sub(f.Lower[last]).Len(), 0.003, "it ends in a nib of half a strip, a little askew to the frame")
	assert.Len(t, f.Frames, 7)
	assert.Equal(t, last, f.Frames[6].Rung)
	assert.InDelta(t, 2.5, l.Strakes[4].At[6].WidthCut, 0.001)

	// Its heir is notched there, from half a strip to a whole one, along the frame.
	n := l.StrakeNamed(l.Drops[0].Into)
	g, err := l.Flat(l.Drops[0].Into)
	require.NoError(t, err)
	require.Len(t, l.Strakes[n].Nibs, 1)
	r := g.Frames[6].Rung
	assert.InDelta(t, l.Strakes[n].At[6].WidthFrame, g.Upper[r].Sub(g.Lower[r]).Len(), 1e-9)
	assert.InDelta(t, l.Strakes[n].At[6].WidthFrame+l.Strakes[4].At[6].WidthFrame, g.Upper[r+1].Sub(g.Lower[r+1]).Len(), 1e-9)
	assert.Equal(t, g.Lower[r], g.Lower[r+1])
	assert.InDelta(t, 2.5, l.Strakes[n].Nibs[0].Width, 0.01) // across it, the strake runs a little askew
	assert.InDelta(t, 5, l.Strakes[n].Nibs[0].Wide, 0.02)
	assert.Equal(t, hull.Sprung, l.Strakes[n].Making.Mode)
	_, err = l.Flat("9.99")
	assert.ErrorContains(t, err, "no strake 9.99")
}

// TestEdgesOfTheMostFramesCanBeNested: the work of laying strakes flat and of nesting
// them does not grow without end with the frames.
func TestEdgesOfTheMostFramesCanBeNested(t *testing.T) {
	assert.Equal(t, rungsPerStation, rungsBetween(100))
	for bays := 2; bays < hull.MostFrames; bays++ {
		points := bays*stationsPerBay*rungsBetween(bays) + 1
		assert.LessOrEqual(t, points, 4001, "%d bays", bays)
	}
}
