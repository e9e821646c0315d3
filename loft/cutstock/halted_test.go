package cutstock

import (
	"context"
	"github.com/strakewright/strakewright/loft/internal/checks"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCuttingIsStopped: between two looks, the cutting from strips takes no more
// of its own steps than the search for one pattern of each kind of strip, 4 for
// each of 50,000 branches, and one list of the knapsack, four steps for every piece
// and sum.
func TestCuttingIsStopped(t *testing.T) {
	shop := []Strip{{1000, 1.2, -1}, {600, 0.8, -1}}
	table := func(pieces []float64) int { return 4 * mostSums * len(pieces) }
	for _, n := range []int{60, 200} { // under mostExactItems, and over
		r := rand.New(rand.NewPCG(2, 9))
		pieces := make([]float64, n)
		for i := range pieces {
			pieces[i] = 100 + float64(r.IntN(80000))/100
		}
		most := 0
		run := func(last int) *checks.Looked {
			j := newCutJob(pieces, nil, shop, 0.5)
			ctx := checks.LookedAt(last)
			j.budget = effort{ctx, cutBudget / 10}
			before := j.budget.left
			step := func() { most, before = max(most, before-j.budget.left), j.budget.left }
			ctx.Seen = step
			j.solve()
			step()
			return ctx
		}
		whole := run(checks.Unending)
		for _, last := range checks.Places(whole.Looks) {
			assert.LessOrEqual(t, run(last).Late(), 40, "%d pieces: looks after the stop at %d of %d", n, last, whole.Looks)
		}
		t.Logf("%d pieces: %d looks, at most %d steps between two, %d in a table", n, whole.Looks, most, table(pieces))
		if n > mostExactItems { // with fewer the budget is lent out and given back on the way
			assert.LessOrEqual(t, most, len(shop)*4*50000+table(pieces))
		}
		_, err := Cut(checks.LookedAt(whole.Looks/2), pieces, nil, shop, 0.5)
		require.ErrorIs(t, err, context.Canceled)
		assert.ErrorContains(t, err, "stopped")
	}
}
