package loft

import (
	"context"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// looked is a context that counts how often it is asked whether it has ended,
// and ends after so many looks: a stop at a place in the work, and not at a
// time.
type looked struct {
	context.Context
	looks, last int    // from look last+1 on it has ended
	seen        func() // what each look does besides; nil for nothing
}

func lookedAt(last int) *looked { return &looked{Context: context.Background(), last: last} }

// unending is more looks than any work takes.
const unending = 1 << 60

func (l *looked) Err() error {
	if l.looks++; l.seen != nil {
		l.seen()
	}
	if l.looks > l.last {
		return context.Canceled
	}
	return nil
}

// late is how many looks were taken after the one that said to stop.
func (l *looked) late() int { return max(l.looks-l.last-1, 0) }

// longCase is work that may take a second or more.
type longCase struct {
	do   func(context.Context) error
	unit func() // a stretch of it, of which a part may pass between two looks
	part int    // which: 1 the whole
	late int    // looks that may follow the one that says to stop: loops within loops each take one
}

// longWork is each kind of such work. Size 4 is as large as a builder may have
// it; between two looks lies at most
//
//   - in fairing, one smooth surface through all points: its equations
//     factorised, solved and inverted;
//   - in laying band lines and staggering, one layer: its surface and strakes;
//   - in cutting layers, a twentieth of the butting of one, and of the cutting from
//     strips what TestCuttingIsStopped tells.
func longWork(tb testing.TB, size int) map[string]longCase {
	tb.Helper()
	r := rand.New(rand.NewPCG(1, 9))
	frames := displaced(wigley(800, 6+5*size, 20*size), func(int, int) float64 { return 0.2 * r.NormFloat64() })
	many := oneLayer(wigley(600+250*float64(size), 20*size, 8*size), fiveByTwo, 6)
	many.Layers[0].Stock.Length = 300 // so that all strakes are butted
	many.Layers = append(many.Layers, many.Layers[0])
	laid, err := Plank(many)
	require.NoError(tb, err)
	surface := func() {
		g, err := newFairGrid(context.Background(), frames)
		require.NoError(tb, err)
		_, err = g.smooth([2]float64{1, 1}, slices.Repeat([]bool{true}, len(g.at)))
		require.NoError(tb, err)
	}
	layer := func() {
		s, err := laid.Layers[0].Surface.Offset(many.Layers[0].Stock.Thickness)
		require.NoError(tb, err)
		_, err = newLayer(context.Background(), many, 1, s, nil)
		require.NoError(tb, err)
	}
	butting := func() { laid.Layers[0].Butt(hull.NewCutting(), func(float64) float64 { return 300 }) }
	return map[string]longCase{
		"Misfits":   {func(ctx context.Context) error { _, err := Misfits(ctx, frames); return err }, surface, 1, 10},
		"Fair":      {func(ctx context.Context) error { _, err := Fair(ctx, frames, 0.3); return err }, surface, 1, 10},
		"FairLines": {func(ctx context.Context) error { _, err := FairLines(ctx, many, 0, 6); return err }, layer, 1, 0},
		"Stagger":   {func(ctx context.Context) error { _, err := Stagger(ctx, many, 1); return err }, layer, 1, 0},
		"CutLayers": {func(ctx context.Context) error { _, err := laid.CutLayers(ctx); return err }, butting, 20, 40},
	}
}

// TestLongWorkIsStopped: work that is stopped at any place ends there, with an
// error that wraps the context's; and it looks often enough, no more being done
// between two looks, nor in all after the one that says to stop, than the unit of
// each kind.
// What is done is measured by what is allocated, which no other program on the
// machine has a part in, and all of this work allocates as it goes.
func TestLongWorkIsStopped(t *testing.T) {
	for name, work := range longWork(t, 1) {
		unit := allocatedBy(work.unit) / uint64(work.part)
		most, after := uint64(0), uint64(0) // between two looks, and after a stop
		run := func(last int) (*looked, error) {
			ctx := lookedAt(last)
			before, stop := allocated(), uint64(0)
			step := func() {
				now := allocated()
				if most, before = max(most, now-before), now; ctx.looks == last+1 && stop == 0 {
					stop = now
				}
			}
			ctx.seen = step
			err := work.do(ctx)
			step()
			if stop > 0 {
				after = max(after, before-stop)
			}
			return ctx, err
		}
		whole, err := run(unending)
		require.NoError(t, err, name)
		for _, last := range places(whole.looks) {
			ctx, err := run(last)
			require.ErrorIs(t, err, context.Canceled, "%s, stopped after %d looks", name, last)
			assert.ErrorContains(t, err, "stopped", name)
			assert.LessOrEqual(t, ctx.late(), work.late, "%s: looks after the stop at %d of %d", name, last, whole.looks)
		}
		t.Logf("%s: %d looks, at most %d KiB between two, %d KiB after a stop, %d KiB in a unit", name, whole.looks, most>>10, after>>10, unit>>10)
		assert.LessOrEqual(t, most, unit*11/10, "%s: bytes allocated between two looks, against one unit and a tenth for what else the runtime does", name)
		assert.LessOrEqual(t, after, unit*11/10, "%s: bytes allocated after a stop, in all", name)
	}
}

// TestCuttingIsStopped: between two looks, the cutting from strips takes no more
// of its own steps than the search for one pattern of each kind of strip, 4 for
// each of 50,000 branches, and one table of the knapsack, a step for every piece
// and unit of the longest strip.
func TestCuttingIsStopped(t *testing.T) {
	shop := []Strip{{1000, 1.2, -1}, {600, 0.8, -1}}
	table := func(pieces []float64) int { return (unitsDown(1000.5) + 1) * len(pieces) }
	for _, n := range []int{60, 200} { // under mostExactItems, and over
		r := rand.New(rand.NewPCG(2, 9))
		pieces := make([]float64, n)
		for i := range pieces {
			pieces[i] = 100 + float64(r.IntN(80000))/100
		}
		most := 0
		run := func(last int) *looked {
			j := newCutJob(pieces, nil, shop, 0.5)
			ctx := lookedAt(last)
			j.budget = effort{ctx, cutBudget / 10}
			before := j.budget.left
			step := func() { most, before = max(most, before-j.budget.left), j.budget.left }
			ctx.seen = step
			j.solve()
			step()
			return ctx
		}
		whole := run(unending)
		for _, last := range places(whole.looks) {
			assert.LessOrEqual(t, run(last).late(), 40, "%d pieces: looks after the stop at %d of %d", n, last, whole.looks)
		}
		t.Logf("%d pieces: %d looks, at most %d steps between two, %d in a table", n, whole.looks, most, table(pieces))
		if n > mostExactItems { // with fewer the budget is lent out and given back on the way
			assert.LessOrEqual(t, most, len(shop)*4*50000+table(pieces))
		}
		_, err := Cut(lookedAt(whole.looks/2), pieces, nil, shop, 0.5)
		require.ErrorIs(t, err, context.Canceled)
		assert.ErrorContains(t, err, "stopped")
	}
}

// places are looks to stop at: the first few, some all over the work and the
// last.
func places(looks int) []int {
	out := []int{0, 1, 2}
	for k := 1; k < 8; k++ {
		out = append(out, looks*k/8)
	}
	out = append(out, looks-1)
	slices.Sort(out)
	return slices.Compact(slices.DeleteFunc(out, func(n int) bool { return n >= looks }))
}

// allocated is all that was ever allocated, bytes.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func allocatedBy(f func()) uint64 {
	before := allocated()
	f()
	return allocated() - before
}

// BenchmarkStop is the longest time between two looks at the context in all
// long work, each on a big case: what a hand on a button may have to wait.
func BenchmarkStop(b *testing.B) {
	work := longWork(b, 4)
	longest := time.Duration(0)
	for b.Loop() {
		for _, w := range work {
			last := time.Now()
			ctx := lookedAt(unending)
			ctx.seen = func() {
				now := time.Now()
				longest, last = max(longest, now.Sub(last)), now
			}
			if err := w.do(ctx); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(longest.Nanoseconds()), "ns/op")
}
