package loft

import (
	"context"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// halved plans frames as two bands with a line of the given type between, at a share of
// every frame's girth.
func halved(t *testing.T, frames []hull.Frame, manner hull.LineType, share func(frame int) float64) *hull.Plan {
	t.Helper()
	p := hull.NewPlan("halved", hull.Hull{Frames: frames})
	s, err := Loft(frames)
	require.NoError(t, err)
	line := hull.BandLine{LineType: manner, Hold: len(frames) / 2, Aim: -1}
	for i := range frames {
		line.Handles = append(line.Handles, hull.Handle{Down: share(i) * s.Girth(i), Held: true})
	}
	l := &p.Layers[0]
	l.Stock, l.Edges = bodies.FiveByTwo, hull.Square
	l.Lines, l.Bands = []hull.BandLine{line}, []hull.Band{{}, {}}
	return p
}

func half(int) float64 { return 0.5 }

// marchesOf marches the first layer of a plan.
func marchesOf(t *testing.T, p *hull.Plan) (*Planking, []March) {
	t.Helper()
	k, err := Plank(p)
	require.NoError(t, err)
	out, err := k.March(t.Context(), 0)
	require.NoError(t, err)
	return k, out
}

// ball is half a sphere about the origin between two planes x, its great circle in
// the plane z = 0 at half of every frame's girth.
func ball(r, x float64) []hull.Frame {
	return bodies.Revolved(bodies.Spaced(-x, x, 41), 61, func(x float64) float64 { return math.Sqrt(r*r - x*x) })
}

// TestMarchOnSphere: on a sphere of radius R a parallel of the great circle at the
// latitude φ = n/R has the geodesic curvature tan φ/R (do Carmo, Differential Geometry
// of Curves and Surfaces, 4-4, of the parallels of a surface of revolution), towards
// its pole. Tolerance 1e-3 relative plus 1e-6: the second derivatives of the lofted
// bicubic, on which K depends, are within 2e-4 of the sphere's.
func TestMarchOnSphere(t *testing.T) {
	t.Parallel()
	const r = 100.0
	_, ms := marchesOf(t, halved(t, ball(r, 60), hull.Free, half))
	require.Len(t, ms, 2)
	worst := 0.0
	for _, m := range ms {
		assert.True(t, m.Free)
		assert.Equal(t, m.Band == 1, m.Up)
		require.Greater(t, len(m.Strips), 15)
		sign := 1.0
		if m.Up {
			sign = -1
		}
		for n, strip := range m.Strips[:16] {
			assert.InDelta(t, 5*(float64(n)+0.5), strip.Middle, 1e-9)
			want := math.Tan(strip.Middle/r) / r
			for f := 10; f <= 30; f++ {
				at := strip.At[f]
				require.True(t, at.Laid, "strip %d at %d", n, f)
				assert.InDelta(t, sign*want, float64(at.EdgeSet), 1e-6+1e-3*want)
				assert.InDelta(t, want*2.5, at.Strain, 1e-5)
				worst = max(worst, math.Abs(sign*float64(at.EdgeSet)/want-1))
			}
		}
		// 0.3 % of strain is tan φ = 0.12: φ = 6.84°, 11.94 mm off the line. The
		// third strip's middle lies 12.5 mm off.
		assert.Equal(t, 2, m.Forced)
		assert.False(t, m.Strips[2].Gapes, "a straight strip would run onto the one before: a ball is planked in tapered strakes")
	}
	t.Logf("worst %.2g of the curvature", worst)
}

// TestMarchOnCylinder: parallels of a straight line on a cylinder are straight (it
// unrolls), to 1e-7 1/mm, the error of the spline through its arcs.
func TestMarchOnCylinder(t *testing.T) {
	t.Parallel()
	frames := bodies.Revolved(bodies.Spaced(0, 200, 9), 31, func(float64) float64 { return 40 })
	_, ms := marchesOf(t, halved(t, frames, hull.Free, half))
	for _, m := range ms {
		require.Len(t, m.Strips, 13) // 62.83 mm of girth
		assert.Equal(t, -1, m.Forced)
		for n, strip := range m.Strips {
			for f, at := range strip.At {
				if n < 12 || at.Laid {
					assert.True(t, at.Laid)
					assert.InDelta(t, 0, float64(at.EdgeSet), 1e-7)
					down := math.Pi*20 + strip.Middle
					if m.Up {
						down = math.Pi*20 - strip.Middle
					}
					assert.InDelta(t, down, at.Down, 1e-3, "strip %d frame %d", n, f)
				}
			}
		}
	}
}

// TestMarchInStripsAsLaid: over a quarter turn of radius 40 mm bevels take 2·π/2 of
// every 62.83 mm of girth, and creep adds to each strip.
func TestMarchInStripsAsLaid(t *testing.T) {
	t.Parallel()
	frames := bodies.Revolved(bodies.Spaced(0, 200, 9), 31, func(float64) float64 { return 40 })
	p := halved(t, frames, hull.Free, half)
	p.Layers[0].Edges, p.Layers[0].Creep = hull.Bevelled, 0.1
	p.Layers[0].Bands[0] = hull.Band{Strakes: 12, Strips: []float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 4}}
	_, ms := marchesOf(t, p)
	require.Len(t, ms, 2)
	assert.InDelta(t, 4.1/(1+2/40.)/2, ms[0].Strips[0].Middle, 1e-4, "the lowest strip of the upper band is a narrow one")
	assert.Equal(t, 4.0, ms[0].Strips[0].Width)
	assert.InDelta(t, 5.1/(1+2/40.)*1.5, ms[1].Strips[1].Middle, 1e-4)
}

// TestMarchOnCone: a cone unrolls too, and the parallels of a straight line on it are
// straight, to 1e-6 1/mm, the error of the spline through its arcs.
func TestMarchOnCone(t *testing.T) {
	t.Parallel()
	_, ms := marchesOf(t, halved(t, bodies.ConeHull().Frames, hull.Free, half))
	require.Len(t, ms, 2)
	for _, m := range ms {
		assert.Equal(t, -1, m.Forced)
		require.Greater(t, len(m.Strips), 8)
		for _, strip := range m.Strips {
			for _, run := range strip.Runs {
				for _, p := range run {
					assert.InDelta(t, 0, float64(p.EdgeSet), 1e-6)
				}
			}
		}
	}
}

// TestMarchAgainstTheCurveItself: the strip's middle is taken as bare points, and its
// geodesic curvature computed from three at a time, as the circle through them less its
// component along the normal, independently of Jacobi's equation. This is done on a
// spheroid, a Wigley hull and one with a curved chine. The points lie some 3 mm apart,
// over which the curvature itself changes by a few hundredths. The tolerance is 2 % of
// it plus 3e-5 1/mm, the effect of an error of 1e-4 mm in a point. Where the three lie
// on two sides of the chine there is no such circle, and near the ends, where a strip
// runs on past its neighbour, the curvature drops to zero at once.
func TestMarchAgainstTheCurveItself(t *testing.T) {
	t.Parallel()
	spheroid := bodies.Revolved(bodies.Spaced(-200, 200, 41), 41, func(x float64) float64 { return 70 * math.Sqrt(1-x*x/250/250) })
	chined := bodies.Trough(31, 8, func(x float64) [][2]float64 {
		b := 60 - (x-120)*(x-120)/500
		return [][2]float64{{b + 6, 60}, {b + 4, 45}, {b + 2, 30}, {b, 15}, {b * 0.66, 10}, {b * 0.33, 5}, {2, 0}}
	})
	for i := range chined {
		chined[i].Knuckles = []int{3}
	}
	slanting := func(f int) float64 { return 0.35 + 0.004*float64(f) }
	for name, p := range map[string]*hull.Plan{
		"spheroid": halved(t, spheroid, hull.Drawn, slanting),
		"wigley":   halved(t, bodies.Wigley(400, 41, 15), hull.Drawn, func(int) float64 { return 0.3 }),
		"chined":   halved(t, chined, hull.Drawn, func(int) float64 { return 0.4 }),
	} {
		k, ms := marchesOf(t, p)
		s := k.Layers[0].Surface
		most, worst, read := 0.0, 0.0, 0
		for _, m := range ms {
			for n, strip := range m.Strips {
				for _, run := range strip.Runs {
					for i := range run {
						want, ok := circled(s, run, i)
						if f := s.frameNear(run[i].U); !ok || f < len(s.u)/6 || f > len(s.u)*5/6 {
							continue
						}
						got := float64(run[i].EdgeSet)
						read, most = read+1, max(most, math.Abs(want))
						miss := math.Abs(got-want) / (3e-5 + 0.02*math.Abs(want))
						if miss > 1 {
							t.Logf("%s band %d up %v strip %d u %.2f v %.3f: %.6f, read %.6f", name, m.Band, m.Up, n, run[i].U, run[i].V, got, want)
						}
						worst = max(worst, miss)
					}
				}
			}
		}
		t.Logf("%s: %d points, curvature up to %.5f, worst miss %.2g of what is allowed", name, read, most, worst)
		assert.Greater(t, read, 300, name)
		assert.Greater(t, most, 3e-4, name)
		assert.Less(t, worst, 1.0, name)
	}
}

// circled is the geodesic curvature of the circle through a point of a run and one on
// either side about 3 mm away; ok is false where these do not exist, are unevenly
// spaced or lie on two panels.
func circled(s *Surface, run []MarchPoint, i int) (bend float64, ok bool) {
	a, c := i, i
	for a >= 0 && run[i].P.Sub(run[a].P).Len() < 2.5 {
		a--
	}
	for c < len(run) && run[c].P.Sub(run[i].P).Len() < 2.5 {
		c++
	}
	if a < 0 || c >= len(run) || s.panelAt(run[a].V) != s.panelAt(run[c].V) {
		return 0, false
	}
	d, e := run[i].P.Sub(run[a].P), run[c].P.Sub(run[i].P)
	if max(d.Len(), e.Len()) > 4 || math.Abs(d.Len()-e.Len()) > 0.2 {
		return 0, false
	}
	j := s.At(run[i].U, run[i].V)
	n := j.Normal()
	turn := e.Normalize().Sub(d.Normalize()).Mul(2 / (d.Len() + e.Len()))
	return turn.Dot(n.Cross(d.Add(e).Normalize())), true
}

// TestMarchGoesFromTheFreest: with no free line each band is marched from whichever of
// its edges has less edge-set.
func TestMarchGoesFromTheFreest(t *testing.T) {
	t.Parallel()
	p := halved(t, ball(100, 60), hull.Drawn, half)
	_, ms := marchesOf(t, p)
	require.Len(t, ms, 2)
	for _, m := range ms {
		assert.Equal(t, 1, m.Line, "the great circle, and no limit, which is bent")
		assert.False(t, m.Free)
	}
}

func TestMarchNeedsAShape(t *testing.T) {
	t.Parallel()
	var h hull.Hull
	h.SetGirths([]hull.Girth{{Frame: "A", X: 0, Girth: 50}, {Frame: "B", X: 50, Girth: 60}, {Frame: "C", X: 100, Girth: 50}})
	k, err := Plank(hull.NewPlan("girths", h))
	require.NoError(t, err)
	_, err = k.March(t.Context(), 0)
	require.ErrorIs(t, err, ErrShapeless)
	_, err = k.March(t.Context(), 3)
	require.Error(t, err)
}

// TestMarchStops: a march looks at its context at every station and strip.
func TestMarchStops(t *testing.T) {
	t.Parallel()
	k, err := Plank(halved(t, ball(100, 60), hull.Free, half))
	require.NoError(t, err)
	all := checks.LookedAt(checks.Unending)
	_, err = k.March(all, 0)
	require.NoError(t, err)
	assert.Greater(t, all.Looks, 2*161)
	for _, last := range checks.Places(all.Looks) {
		ctx := checks.LookedAt(last)
		_, err := k.March(ctx, 0)
		if last < all.Looks {
			require.ErrorIs(t, err, context.Canceled)
			assert.Zero(t, ctx.Late())
		}
	}
}

// TestMarchFolds: on a sphere geodesics square to the great circle meet at its
// pole, R·π/2 off, where no strip of constant width can be laid.
func TestMarchFolds(t *testing.T) {
	t.Parallel()
	const r = 30.0
	p := hull.NewPlan("ball", hull.Hull{Frames: ball(r, 20)})
	p.Layers[0].Stock, p.Layers[0].Edges = bodies.FiveByTwo, hull.Square
	_, ms := marchesOf(t, p)
	require.Len(t, ms, 1)
	assert.Equal(t, March{Band: 1, Line: 0}, March{Band: ms[0].Band, Line: ms[0].Line}, "down from the upper limit, a great circle")
	// Its pole lies half the girth down, 47.12 mm; the tenth strip's middle would be at
	// 47.5.
	assert.Equal(t, 9, ms[0].Folds)
	assert.Len(t, ms[0].Strips, 9, "all geodesics meet there")
	assert.Equal(t, 0, ms[0].Forced)
}

// TestAnyMarchHolds: on any plan strips lie within their band, run along the hull
// one way, and every number is finite; also on frames of odd shape, and where the
// hull is planked in part.
func TestAnyMarchHolds(t *testing.T) {
	hulls := [][]hull.Frame{bodies.Wigley(400, 9, 9), bodies.Boxy(8), ball(60, 50)}
	rapid.Check(t, func(t *rapid.T) {
		frames := rapid.SampledFrom(hulls).Draw(t, "hull")
		if rapid.Bool().Draw(t, "odd") {
			frames = nil
			for i := range rapid.IntRange(3, 6).Draw(t, "frames") {
				f := hull.Frame{Name: string(rune('A' + i))}
				for k := range 6 {
					f.Points = append(f.Points, mgl64.Vec3{60 * float64(i), rapid.Float64Range(0, 60).Draw(t, "y"), 60 - 25*float64(k)})
				}
				frames = append(frames, f)
			}
		}
		p := anyPlan(t, frames)
		if rapid.Bool().Draw(t, "partly") {
			p.Hull.Limits.From, p.Hull.Limits.To = frames[1].Name, frames[len(frames)-1].Name
		}
		k, err := Plank(p)
		if err != nil {
			return
		}
		ms, err := k.March(context.Background(), 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ms {
			marchHolds(t, k.Layers[0], &m)
		}
	})
}

func marchHolds(t *rapid.T, l *Layer, m *March) {
	first, last := l.Surface.Planked()
	for n, s := range m.Strips {
		finite(t, s.Middle, s.Strain)
		if over := s.Strain > l.Rules.EdgeStrain; over && (m.Forced < 0 || m.Forced > n) || over != (len(s.Over(l.Rules.EdgeStrain)) > 0) {
			t.Fatalf("strip %d strained by %g is not told as forced from %d on", n, s.Strain, m.Forced)
		}
		for f, at := range s.At {
			finite(t, at.Down, float64(at.EdgeSet), at.Strain)
			station := l.Surface.FrameStation(f)
			top, bottom := l.Lines[m.Band-1].Down[station], l.Lines[m.Band].Down[station]
			if at.Laid && (f < first || f > last || at.Down < top-1e-6 || at.Down > bottom+1e-6) {
				t.Fatalf("strip %d lies %.3f mm down at frame %d, its band from %.3f to %.3f", n, at.Down, f, top, bottom)
			}
		}
		reached := math.Inf(-1)
		for _, run := range s.Runs {
			for _, p := range run {
				finite(t, p.P.X(), p.P.Y(), p.P.Z(), float64(p.EdgeSet), p.Strain)
				if !(p.U > reached) {
					t.Fatalf("strip %d turns back at %g", n, p.U)
				}
				reached = p.U
			}
		}
	}
}
