package cutstock

import (
	"context"
	"github.com/strakewright/strakewright/loft/internal/checks"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// BenchmarkAgainstGlpsol cuts the pieces of a builder's lists from strips and has
// glpsol (GNU Linear Programming Kit) solve the integer program over all patterns, in
// turn on one machine. ours-ms and theirs-ms are the times for all lists, ours-cost and
// theirs-cost the cost of the strips.
func BenchmarkAgainstGlpsol(b *testing.B) {
	program := checks.External(b, "glpsol")
	var ours, theirs time.Duration
	var cost, best float64
	for b.Loop() {
		cost, best = 0, 0
		for _, c := range cutCases() {
			begun := time.Now()
			got, err := Cut(context.Background(), c.pieces, c.box, c.shop, c.kerf)
			require.NoError(b, err)
			require.Empty(b, got.Left)
			ours += time.Since(begun)
			begun = time.Now()
			optimum, _ := c.integerProgram(b, program)
			theirs += time.Since(begun)
			cost, best = cost+got.Cost, best+optimum
		}
	}
	b.ReportMetric(ours.Seconds()*1000/float64(b.N), "ours-ms")
	b.ReportMetric(theirs.Seconds()*1000/float64(b.N), "theirs-ms")
	b.ReportMetric(cost, "ours-cost")
	b.ReportMetric(best, "theirs-cost")
}
