package rod

import (
	"context"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"
)

// straight is an outline across the strip: a straight line at x and height y, with the
// strip on top of it, turned about x by an angle.
func straight(x, y, turn float64) Outline {
	sin, cos := math.Sincos(turn)
	return func(along float64) Place {
		d, n := mgl64.Vec3{0, -sin, cos}, mgl64.Vec3{0, cos, sin}
		return Place{P: mgl64.Vec3{x, 0, 0}.Add(n.Mul(y)).Add(d.Mul(along)), Tangent: d, Normal: n}
	}
}

// batten is the strip of the tests: 5 mm by 1 mm.
var batten = Section{Width: 5, Thickness: 1, Modulus: 10000, Shear: 700}

// over sets a strip on supports at those places and heights.
func over(x, y []float64, holds ...Hold) Problem {
	p := Problem{Section: batten}
	for i := range x {
		p.Supports = append(p.Supports, Support{Outline: straight(x[i], y[i], 0), Hold: holds[i]})
	}
	return p
}

func solved(t *testing.T, p Problem) *Rest {
	t.Helper()
	r, err := Solve(context.Background(), p)
	require.NoError(t, err)
	require.True(t, r.Converged, "after %d steps", r.Steps)
	return r
}

// Saint-Venant's J = k·a·b³ of a rectangle, k by a/b from the table of Timoshenko
// and Goodier's article on the twisting of rectangular bars (from memory).
func TestTwistingOfRectangles(t *testing.T) {
	for _, c := range []struct{ ratio, k float64 }{{1, 0.1406}, {1.2, 0.166}, {1.5, 0.196}, {2, 0.229}, {2.5, 0.249}, {3, 0.263}, {4, 0.281}, {5, 0.291}, {10, 0.312}} {
		assert.InDelta(t, c.k, Section{Width: c.ratio, Thickness: 1, Shear: 1}.twisting()/c.ratio, 6e-4, "a/b = %g", c.ratio)
	}
}

// Three-point bending by Euler and Bernoulli: P = 48·B·h/L³, w = h at the middle.
func TestSmallBendOverThreeSupports(t *testing.T) {
	const half, h = 100, 0.2
	p := over([]float64{-half, 0, half}, []float64{0, h, 0}, Pinned, Free, Pinned)
	p.Bay = 16
	r := solved(t, p)
	want := 48 * batten.flatwise() * h / math.Pow(2*half, 3)
	assert.InEpsilon(t, want, r.At[1].Force, 1e-3)
	assert.InEpsilon(t, -want/2, r.At[0].Force, 1e-3)
	assert.InEpsilon(t, want*h/2, r.Energy, 1e-3)
	assert.Zero(t, r.At[1].Off)
}

// lemniscate is the integral of √sin from 0 to α. With √sin ψ = cos φ it is
// 2·(√2·(E − E(φ)) − (K − F(φ))/√2), modulus k² = 1/2.
func lemniscate(alpha float64) float64 {
	phi := math.Acos(math.Sqrt(math.Sin(alpha)))
	e := mathext.CompleteE(0.5) - mathext.EllipticE(phi, 0.5)
	k := mathext.CompleteK(0.5) - mathext.EllipticF(phi, 0.5)
	return 2 * (math.Sqrt2*e - k/math.Sqrt2)
}

// elastica sets the planar elastica over three supports through which it slips, and
// gives the force at its ends: there is no moment there, and the force is square to
// it, so that B·κ²/2 = F·sin ψ, ψ turned from the end to the middle, where it is α.
// Then along the end's tangent and square to it the half runs X = 2·√(sin α)/c and
// Y = ∫√sin/c, c = √(2F/B) (the rectangular elastica: Love, A Treatise on the
// Mathematical Theory of Elasticity, articles 262 and 263, the numbers from memory).
func elastica(alpha float64) (p Problem, force, height float64) {
	const half = 100
	sin, cos := math.Sincos(alpha)
	along, square := 2*math.Sqrt(sin), lemniscate(alpha)
	c := (along*cos + square*sin) / half
	height = (along*sin - square*cos) / c
	return over([]float64{-half, 0, half}, []float64{0, height, 0}, Pinned, Free, Pinned), batten.flatwise() * c * c / 2, height
}

func TestElasticaOverThreeSupports(t *testing.T) {
	for _, degrees := range []float64{10, 25, 40} {
		alpha := degrees * math.Pi / 180
		p, force, height := elastica(alpha)
		p.Bay = 24
		r := solved(t, p)
		assert.InEpsilon(t, -force, r.At[0].Force, 2e-3, "at %g degrees", degrees)
		assert.InEpsilon(t, 2*force*math.Cos(alpha), r.At[1].Force, 2e-3, "at %g degrees", degrees)
		assert.InDelta(t, 0, r.At[0].Side, 1e-9)
		assert.Less(t, r.Error, 0.01*height)
	}
}

// With twice the segments the error of the force is a quarter: the method is of second
// order.
func TestErrorFallsByTheSquare(t *testing.T) {
	p, force, _ := elastica(25 * math.Pi / 180)
	p.Rough = true
	var off []float64
	for _, bay := range []int{8, 16, 32} {
		p.Bay = bay
		off = append(off, math.Abs(solved(t, p).At[0].Force+force))
	}
	assert.InDelta(t, 4, off[0]/off[1], 0.4)
	assert.InDelta(t, 4, off[1]/off[2], 0.2)
}

// Pressed into a hollow it slips along the support to where it is straight, and the
// support has to pull.
func TestPressedSlips(t *testing.T) {
	const half, h = 100, 0.2
	p := over([]float64{-half, 0, half}, []float64{0, -h, 0}, Clamped, Pressed, Clamped)
	p.Supports[1].At, p.Bay = 0.3, 16
	r := solved(t, p)
	assert.InDelta(t, -0.3, r.At[1].Stray, 1e-6)
	assert.Zero(t, r.At[1].Side)
	assert.InEpsilon(t, -48*batten.flatwise()*h/math.Pow(2*half, 3), r.At[1].Force, 2e-3)
}

// A strip held down at its ends over a middle support follows the Euler-Bernoulli curve
// at the quarter points: half span l, w = h·(1 − 3ξ²/2 + ξ³/2), ξ = x/l.
func TestLiftsOffBesideAProudMiddle(t *testing.T) {
	const l, h = 200, 0.4
	p := over([]float64{-l, -l / 2, 0, l / 2, l}, []float64{0, 0, h, 0, 0}, Pinned, Free, Free, Free, Pinned)
	p.Bay = 12
	r := solved(t, p)
	assert.InDelta(t, h*(1-3./8+1./16), r.At[1].Off, 1e-3*h)
	assert.InDelta(t, r.At[1].Off, r.At[3].Off, 1e-9)
	assert.Zero(t, r.At[1].Force)
	assert.Zero(t, r.At[2].Off)
}

// Held down beside the proud middle the strip presses on the outer supports. By
// Clapeyron's theorem of three moments over equal bays l, M(i−1) + 4·M(i) + M(i+1) is
// 6·B/l² times the second difference of the heights. With M₀ at the middle and M₁
// beside it, the bend positive where hollow upwards: 4·M₀ + 2·M₁ = −12·B·h/l², M₀ +
// 4·M₁ = 6·B·h/l².
func TestPressesOnOuterSupports(t *testing.T) {
	const l, h = 100, 0.2
	p := over([]float64{-2 * l, -l, 0, l, 2 * l}, []float64{0, 0, h, 0, 0}, Free, Pinned, Free, Pinned, Free)
	p.Bay = 16
	r := solved(t, p)
	unit := batten.flatwise() * h / (l * l)
	m1 := 36. / 14 * unit
	m0 := 6*unit - 4*m1
	assert.InEpsilon(t, m1/l, r.At[0].Force, 5e-3, "the outer support bears what bends the strip back")
	assert.InEpsilon(t, 2*(m1-m0)/l, r.At[2].Force, 5e-3)
	assert.InEpsilon(t, (m0-2*m1)/l, r.At[1].Force, 5e-3)
	assert.InEpsilon(t, m0/batten.flatwise(), r.Face[len(r.Face)/2], 5e-3)
	// With an inner hold released, the strip lifts off it, and gives up energy.
	p.Supports[0].Hold, p.Supports[4].Hold = Pinned, Pinned
	p.Supports[1].Hold, p.Supports[3].Hold = Free, Free
	free := solved(t, p)
	assert.Positive(t, free.At[1].Off)
	assert.Less(t, free.Energy, r.Energy)
}

// On the frames of a cylinder the moments between equal bays l follow from Clapeyron's
// M(i−1) + 4·M(i) + M(i+1) = 6·B/R, M = 0 at the ends, and the forces from their second
// differences: in the middle M = B/R and no force, at the first frame M(1)/l, apart
// from what the small slopes of the bays neglect.
func TestFramesOfACylinder(t *testing.T) {
	const radius, l, n = 1000, 40, 7
	var x, y, m []float64
	holds := make([]Hold, n)
	for i := range n {
		at := float64(i-n/2) * l
		x, y = append(x, at), append(y, math.Sqrt(radius*radius-at*at)-radius)
	}
	for i := range holds {
		holds[i] = Pinned
	}
	p := over(x, y, holds...)
	p.Bay = 12
	r := solved(t, p)
	m = threeMoments(n, 6*batten.flatwise()/radius)
	for i := range n {
		want := -m[i] * 2 / l
		if i > 0 {
			want += m[i-1] / l
		}
		if i < n-1 {
			want += m[i+1] / l
		}
		assert.InDelta(t, -want, r.At[i].Force, 0.02*m[1]/l, "frame %d", i)
	}
}

// threeMoments solves M(i−1) + 4·M(i) + M(i+1) = k with no moment at the ends, by the
// Gauss-Seidel method.
func threeMoments(n int, k float64) []float64 {
	m := make([]float64, n)
	for range 100 {
		for i := 1; i < n-1; i++ {
			m[i] = (k - m[i-1] - m[i+1]) / 4
		}
	}
	return m
}

// Between two clamps turned against each other the strip is twisted evenly, with
// the energy C·Δ²/2l of Saint-Venant's twist.
func TestTwistBetweenClamps(t *testing.T) {
	const l, turn = 100, 0.6
	p := over([]float64{0, l}, []float64{0, 0}, Clamped, Clamped)
	p.Supports[1].Outline = straight(l, 0, turn)
	r := solved(t, p)
	assert.InEpsilon(t, batten.twisting()*turn*turn/(2*l), r.Energy, 1e-3)
	assert.InDelta(t, 0, r.At[0].Force, 1e-6)
}

// A strip set 0.3 mm aside at its middle, with a play of 0.1 mm, is bent edgewise by
// 0.2 mm: P = 48·B·d/L³ with the edgewise B.
func TestPlayIsUsed(t *testing.T) {
	const half = 100
	p := over([]float64{-half, 0, half}, []float64{0, 0, 0}, Clamped, Clamped, Clamped)
	p.Supports[1].At, p.Supports[1].Play, p.Bay = 0.3, 0.1, 16
	r := solved(t, p)
	assert.InDelta(t, -0.1, r.At[1].Stray, 1e-9)
	assert.InEpsilon(t, 48*batten.edgewise()*0.2/math.Pow(2*half, 3), r.At[1].Side, 2e-3)
	assert.InEpsilon(t, 12*0.2/math.Pow(2*half, 2), r.Edge[len(r.Edge)/2], 2e-3, "M/B, towards normal × course")
	p.Supports[1].Play = 0.5
	r = solved(t, p)
	assert.InDelta(t, -0.3, r.At[1].Stray, 1e-6, "straight, within its play")
	assert.Zero(t, r.At[1].Side)
}

// A strip clamped at one end of a row that falls away continues straight beyond, and
// nothing is given where it is too short to reach.
func TestGoesOnStraight(t *testing.T) {
	p := over([]float64{0, 40, 80, 120}, []float64{0, 0, -1, -3}, Pinned, Pinned, Free, Free)
	turned := p.Supports[3].Outline
	p.Supports[3].Outline = func(along float64) Place { // it stands in a plane that the strip does not cross
		at := turned(along)
		at.Normal, at.Tangent = mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 0, 1}
		return at
	}
	r := solved(t, p)
	assert.InDelta(t, 1, r.At[2].Off, 1e-9)
	assert.True(t, math.IsNaN(r.At[3].Off))
	assert.InDelta(t, 0, r.Energy, 1e-12)
	assert.Len(t, r.Points, 3*r.Bay+1)
	assert.InDelta(t, 0, r.Points[len(r.Points)-1].Y(), 1e-9)
	// A support that stands proud beyond is struck, and presses the strip outwards.
	p = over([]float64{0, 40, 80}, []float64{0, 0, 1}, Pinned, Pinned, Free)
	r = solved(t, p)
	assert.Positive(t, r.At[2].Force)
	assert.Negative(t, r.At[1].Force)
}

// circle is an outline round the x axis, at x.
func circle(x, radius, phase float64) Outline {
	return func(along float64) Place {
		sin, cos := math.Sincos(phase + along/radius)
		n := mgl64.Vec3{0, cos, sin}
		return Place{P: mgl64.Vec3{x, 0, 0}.Add(n.Mul(radius)), Tangent: mgl64.Vec3{0, -sin, cos}, Normal: n, Bend: 1 / radius}
	}
}

// Laid along a helix on close hoops of a cylinder and held at its ends, the strip keeps
// to the helix, a geodesic, by symmetry: no hoop presses it sideways. Its energy is
// that of the bend sin²β/R and the twist sin β·cos β/R over its length, β its angle
// from the axis (Struik, Lectures on Classical Differential Geometry, 1-9), except at
// its ends, where the bend dies out.
func TestHelixOnHoops(t *testing.T) {
	const radius, pitch, n = 60, 20.0, 13
	const beta = 0.5 // from the axis
	p := Problem{Section: batten, Bay: 4}
	for i := range n {
		x := pitch * float64(i)
		p.Supports = append(p.Supports, Support{Outline: circle(x, radius, x*math.Tan(beta)/radius), Hold: Clamped})
	}
	r := solved(t, p)
	sin, cos := math.Sincos(beta)
	length := pitch * (n - 1) / cos
	bend, twist := sin*sin/radius, sin*cos/radius
	want := (batten.flatwise()*bend*bend + batten.twisting()*twist*twist) * length / 2
	assert.InEpsilon(t, want, r.Energy, 0.06) // the ends give up some bend: about half a bay's in twelve
	moment := batten.flatwise() * bend
	for i := 5; i < n-5; i++ {
		assert.InDelta(t, 0, r.At[i].Side, 0.02*moment/pitch, "hoop %d is not pressed sideways", i)
	}
	// Released at all hoops except three it gives up energy, and never gains any.
	last := r.Energy
	for _, k := range []int{12, 0, 11, 1, 10, 2, 9, 3} {
		p.Supports[k].Hold = Free
		next := solved(t, p)
		assert.LessOrEqual(t, next.Energy, last*(1+1e-9))
		for i, c := range next.At {
			assert.GreaterOrEqual(t, c.Off, 0.0)
			if p.Supports[i].Hold == Free {
				assert.GreaterOrEqual(t, c.Force, -1e-7)
				assert.Zero(t, c.Force*c.Off)
			}
		}
		last = next.Energy
	}
}

// The slope of an element compared with differences of its energy, normals under
// parallel transport.
func TestElementSlope(t *testing.T) {
	a := element{e0: mgl64.Vec3{4, 0.5, 0.3}, e1: mgl64.Vec3{3.5, -0.4, 1.1}, across: mgl64.Vec3{0.1, 0.2, 0.97}, before: 0.3}
	a.n0 = flatOn(a.e0.Normalize(), mgl64.Vec3{0, 0.3, 1}, mgl64.Vec3{0, 1, 0})
	a.n1 = flatOn(a.e1.Normalize(), mgl64.Vec3{0, -0.2, 1}, mgl64.Vec3{0, 1, 0})
	k := stiffness{3, 70, 2, 1.5, 5}
	var b bends
	require.True(t, a.read(&k, &b))
	var g [freedoms]float64
	b.slope(&g)
	for j := range freedoms {
		const d = 1e-6
		var up, down bends
		m := a.moved(j, d)
		m.read(&k, &up)
		m = a.moved(j, -d)
		m.read(&k, &down)
		assert.InDelta(t, (up.energy()-down.energy())/(2*d), g[j], 1e-6, "freedom %d", j)
	}
}

func TestRefuses(t *testing.T) {
	good := func() Problem { return over([]float64{0, 50, 100}, []float64{0, 1, 0}, Pinned, Free, Pinned) }
	for says, change := range map[string]func(p *Problem){
		"a strip with a thickness of 0 mm cannot be bent: give one above 0":                   func(p *Problem) { p.Section.Thickness = 0 },
		"a strip needs two supports: give it two":                                             func(p *Problem) { p.Supports = p.Supports[:1] },
		"a strip that is pinned or clamped at fewer than two supports swings: hold it at two": func(p *Problem) { p.Supports[0].Hold = Pressed },
		"supports 1 and 2 are at one place: leave one of them out":                            func(p *Problem) { p.Supports[1].Outline = p.Supports[0].Outline },
		"support 2 has no place":                            func(p *Problem) { p.Supports[1].At = math.NaN() },
		"1 segments in a bay are too few: give two or more": func(p *Problem) { p.Bay = 1 },
	} {
		p := good()
		change(&p)
		_, err := Solve(context.Background(), p)
		assert.EqualError(t, err, says)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Solve(ctx, good())
	assert.ErrorIs(t, err, context.Canceled)
	r := solved(t, over([]float64{0, 100}, []float64{0, 0}, Clamped, Clamped))
	assert.InDelta(t, 0, r.Energy, 1e-20, "two supports and a straight strip")
}
