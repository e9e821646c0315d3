package sight

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// tub is the half-planked hull of the tests, 400 mm long, in one band of 5 mm strips.
func tub(t testing.TB) *loft.Planking {
	t.Helper()
	h := hull.Hull{Bow: hull.BowFirst, Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}
	for i := range 9 {
		x := -200 + 50*float64(i)
		s := x / 230
		f := hull.Frame{Name: string(rune('A' + i))}
		for k := range 15 {
			a := math.Pi / 2 * float64(k) / 14
			y := 50 * (1 - s*s) * math.Pow(math.Cos(a), 0.7)
			if k == 14 {
				y = 3
			}
			f.Points = append(f.Points, mgl64.Vec3{x, max(y, 3), 60 + 12*s*s - 60*math.Sin(a)*(1-0.3*s*s)})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("Tub", h)
	p.Layers[0].Stock = hull.Stock{Width: 5, Thickness: 1.5, Length: 500}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// states are the band states of a record.
func states(t testing.TB, k *loft.Planking, side hull.Side) []progress.BandState {
	t.Helper()
	all, err := progress.BothSides(k, 0, &k.Plan.Record, progress.UsualHabit())
	require.NoError(t, err)
	return all[side]
}

// laidFrom has a number of strakes glued from the top of the band and from its bottom.
func laidFrom(t testing.TB, k *loft.Planking, side hull.Side, top, bottom int) *loft.Planking {
	t.Helper()
	p := k.Plan.Clone()
	n := len(k.Layers[0].Strakes)
	for i, st := range k.Layers[0].Strakes {
		if i < top || i >= n-bottom {
			p.Record.Add(side, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: st.ID})
		}
	}
	out, err := loft.Plank(p)
	require.NoError(t, err)
	return out
}

// lens is a camera in the textbook form, separate from the one under test: a place is
// seen at c + f·(x, y)/z of the camera's axes, with barrel distortion k at its corner.
type lens struct {
	pic  Picture
	f    float64
	c    mgl64.Vec2
	k    float64
	eye  mgl64.Vec3
	axes mgl64.Mat3 // rows: right, down, away
}

// lensFrom looks from a place around a target: turned from abeam on the side of that
// sign of y, and raised.
func lensFrom(pic Picture, target mgl64.Vec3, sign, turn, rise, far, f float64) lens {
	eye := target.Add(mgl64.Vec3{math.Sin(turn) * math.Cos(rise), sign * math.Cos(turn) * math.Cos(rise), math.Sin(rise)}.Mul(far))
	away := target.Sub(eye).Normalize()
	right := away.Cross(mgl64.Vec3{0, 0, 1}).Normalize()
	return lens{pic: pic, f: f, c: mgl64.Vec2{pic.Width / 2, pic.Height / 2}, eye: eye, axes: mgl64.Mat3FromRows(right, away.Cross(right), away)}
}

func (l lens) sees(p mgl64.Vec3) mgl64.Vec2 {
	q := l.axes.Mul3x1(p.Sub(l.eye))
	e := mgl64.Vec2{q[0] / q[2], q[1] / q[2]}.Mul(l.f)
	r := e.Len() / (l.pic.diagonal() / 2)
	return l.c.Add(e.Mul(1 + l.k*r*r))
}

// faces reports whether a place can be seen, well clear of its own horizon.
func (l lens) faces(p, normal mgl64.Vec3) bool { return l.eye.Sub(p).Normalize().Dot(normal) > 0.12 }

// bench is one case: a ship, whose frames stand slightly off, in front of a lens.
type bench struct {
	rng    *rand.Rand
	s      ship
	lens   lens
	shifts []mgl64.Vec3
	click  float64
}

func newBench(k *loft.Planking, side hull.Side, seed uint64, l func(*rand.Rand, ship) lens, stands, click float64) *bench {
	b := &bench{rng: rand.New(rand.NewPCG(seed, 77)), s: shipOf(k, 0, side), click: click}
	b.lens = l(b.rng, b.s)
	for range k.Layers[0].Surface.Frames() {
		b.shifts = append(b.shifts, mgl64.Vec3{b.rng.NormFloat64(), b.rng.NormFloat64(), b.rng.NormFloat64()}.Mul(stands))
	}
	return b
}

// mark is a click on a place of a frame; ok is false where that cannot be seen.
func (b *bench) mark(frame int, down float64, face Face) (Mark, bool) {
	p, n := b.s.outline(frame, face).at(down)
	p = p.Add(b.shifts[frame])
	at := b.lens.sees(p)
	m := Clicked(at[0]+b.click*b.rng.NormFloat64(), at[1]+b.click*b.rng.NormFloat64())
	m.Across, m.Along = max(b.click, 0.01), max(b.click, 0.01)
	return m, b.lens.faces(p, n)
}

// anyLens stands somewhere abeam, slightly ahead or astern, with a lens of any length,
// whose centring and distortion are distributed as assumed.
func anyLens(rng *rand.Rand, s ship) lens {
	pic := Picture{Width: 4000, Height: 3000}
	opening := 0.5 + 1.1*rng.Float64()
	f := pic.diagonal() / opening
	far := 520 / 4000. * f * (1 + 0.6*rng.Float64()) // the hull takes up half the picture or more
	l := lensFrom(pic, mgl64.Vec3{0, 0, 35}, s.sign, 1.1*(rng.Float64()-0.5), 0.9*(rng.Float64()-0.4), far, f)
	l.c = l.c.Add(mgl64.Vec2{rng.NormFloat64(), rng.NormFloat64()}.Mul(centring * pic.diagonal()))
	l.k = barrelSpread * rng.NormFloat64()
	return l
}

// halfPlanked are the marks of a case: the limits of every second frame as known
// places, and the edges of what is left at all of them.
func (b *bench) halfPlanked(left func(frame int) (from, to float64)) Marks {
	m := Marks{Picture: b.lens.pic}
	surface := b.s.l.Surface
	for f := range surface.Frames() {
		if f%2 == 0 {
			if at, ok := b.mark(f, 0, OnFrame); ok {
				m.Known = append(m.Known, Known{Mark: at, What: UpperLimit, Frame: f, Face: OnFrame})
			}
			if at, ok := b.mark(f, surface.Girth(f), OnFrame); ok {
				m.Known = append(m.Known, Known{Mark: at, What: Rabbet, Frame: f, Face: OnFrame})
			}
		}
		from, to := left(f)
		above, ok1 := b.mark(f, from, OnFrame)
		below, ok2 := b.mark(f, to, OnFrame)
		if ok1 && ok2 {
			m.Edges = append(m.Edges, Edge{Mark: above, Frame: f, Of: Above, Face: OnFrame}, Edge{Mark: below, Frame: f, Of: Below, Face: OnFrame})
		}
	}
	return m
}

// Readings of any camera are within the bound given in 95 of 100 cases, allowing for
// chance in that number, and not all off to one side.
func TestReadingsKeepToTheirBounds(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	held, all, refused, sum, expected := 0, 0, 0, 0.0, 0.0
	worst := 0.0
	for seed := range uint64(110) {
		b := newBench(k, hull.Port, seed, anyLens, 0.2, usualClick)
		truth := map[int]float64{}
		m := b.halfPlanked(func(f int) (float64, float64) {
			g := b.s.l.Surface.Girth(f)
			from, to := g*(0.2+0.1*b.rng.Float64()), g*(0.6+0.2*b.rng.Float64())
			truth[f] = to - from
			return from, to
		})
		if len(m.Known) < fewestInSpace {
			continue
		}
		seen, err := Read(k, hull.Port, 0, 0, on, m, Care{Stands: 0.2, Most: 1.5})
		require.NoError(t, err)
		for _, r := range seen.Readings {
			if !r.Given() {
				refused++
				continue
			}
			all++
			off := r.Left - truth[r.Frame]
			sum += off / r.Error
			expected += r.Error
			worst = max(worst, math.Abs(off)/r.Error)
			if math.Abs(off) <= r.Bound() {
				held++
			}
		}
	}
	t.Logf("%d of %d held, %d refused; mean error %.3f mm, mean off %.3f of it, worst %.1f", held, all, refused, expected/float64(all), sum/float64(all), worst)
	assert.Greater(t, all, 800)
	share := float64(held) / float64(all)
	assert.InDelta(t, 0.95, share, 0.02)
	assert.InDelta(t, 0, sum/float64(all), 0.1, "not all to one side")
}

// ahead stands in front of the bow and sees the frames face on, slightly aslant.
func ahead(rng *rand.Rand, s ship) lens {
	pic := Picture{Width: 3000, Height: 2000}
	f := pic.diagonal() / (0.5 + 0.6*rng.Float64())
	l := lensFrom(pic, mgl64.Vec3{0, 0, 35}, s.sign, -math.Pi/2+0.5*rng.Float64(), 0.5*(rng.Float64()-0.3), 140/2000.*f*(1+0.3*rng.Float64())+60, f)
	l.c = l.c.Add(mgl64.Vec2{rng.NormFloat64(), rng.NormFloat64()}.Mul(centring * pic.diagonal()))
	return l
}

// One frame from four places of its plane: on either side, and a mark on the frame.
func TestOneFrameByFourOfItsPlaces(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Starboard)
	const frame = 4
	held, all, wide := 0, 0, 0
	for seed := range uint64(120) {
		b := newBench(k, hull.Starboard, seed, ahead, 0.1, 0.5)
		g := b.s.l.Surface.Girth(frame)
		from, to := g*(0.25+0.2*b.rng.Float64()), g*(0.6+0.2*b.rng.Float64())
		m := Marks{Picture: b.lens.pic}
		for _, known := range []Known{
			{What: UpperLimit}, {What: Rabbet}, {What: AtGirth, Girth: g / 2}, {What: UpperLimit, Beyond: true}, {What: Rabbet, Beyond: true},
		} {
			down := map[What]float64{Rabbet: g, AtGirth: g / 2}[known.What]
			known.Frame = frame
			on := *b
			if known.Beyond {
				on.s = b.s.across()
			}
			known.Mark, _ = on.mark(frame, down, OnFrame)
			m.Known = append(m.Known, known)
		}
		m.Known = m.Known[:4+seed%2]
		above, _ := b.mark(frame, from, OnFrame)
		below, _ := b.mark(frame, to, OnFrame)
		stray, _ := b.mark(frame+1, to, OnFrame)
		m.Edges = []Edge{{above, frame, Above, OnFrame}, {below, frame, Below, OnFrame}, {stray, frame + 1, Below, OnFrame}}
		seen, err := Read(k, hull.Starboard, 0, 0, on, m, Care{Stands: 0.1, Most: 1.5})
		require.NoError(t, err)
		require.Len(t, seen.Readings, 2)
		assert.Equal(t, OtherFrame, seen.Readings[1].Doubt)
		r := seen.Readings[0]
		if !r.Given() {
			wide++
			continue
		}
		all++
		if math.Abs(r.Left-(to-from)) <= r.Bound() {
			held++
		}
	}
	t.Logf("%d of %d held, %d not given", held, all, wide)
	assert.Less(t, wide, 12)
	assert.InDelta(t, 0.95, float64(held)/float64(all), 0.03)
}
