package loft

import (
	"fmt"
	"testing"
)

// growing lists the numbers of frames over which the growth of computing time is
// measured: cmd/dev bench gives its exponent by least squares.
var growing = []int{50, 100, 200, 400}

// BenchmarkGrowthReplank is one recomputation, over hulls of more and more frames.
func BenchmarkGrowthReplank(b *testing.B) {
	overFrames(b, func(b *testing.B, frames int) { benchmarkReplank(b, workload(b, frames)) })
}

// BenchmarkGrowthLoft is the surface alone, over the same.
func BenchmarkGrowthLoft(b *testing.B) { overFrames(b, benchmarkLoft) }

func overFrames(b *testing.B, do func(b *testing.B, frames int)) {
	for _, n := range growing {
		b.Run(fmt.Sprint(n), func(b *testing.B) { do(b, n) })
	}
}
