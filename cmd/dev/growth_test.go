package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// times are benchmarks whose time is frames to a power, alternately a little
// more and less.
func times(bench string, power, noise float64) []measurement {
	var out []measurement
	for i, n := range []float64{50, 100, 200, 400} {
		ns := 1000 * math.Pow(n, power) * (1 + noise*float64(1-2*(i%2)))
		out = append(out, measurement{fmt.Sprintf("%s/%g", bench, n), map[string]float64{perOp: ns}})
	}
	return out
}

func TestTheExponentIsThatOfThePower(t *testing.T) {
	for _, power := range []float64{0, 1, 1.5, 4} {
		g := growthOf([]growthLimit{{"GrowthLoft", "loft", 1.6}}, times("GrowthLoft", power, 0))[0]
		if len(g.Points) != 4 || g.Exponent == nil || math.Abs(*g.Exponent-power) > 1e-9 {
			t.Errorf("frames to the power %g: %v", power, g)
		}
	}
}

// The least-squares line through (0, 0), (1, 1) and (2, 1) rises by a half a
// step: 3 * 3 - 3 * 2 over 3 * 5 - 3 * 3.
func TestTheExponentIsOfLeastSquares(t *testing.T) {
	e, ok := exponent([]grown{{1, 1}, {10, 10}, {100, 10}})
	if !ok || math.Abs(e-0.5) > 1e-12 {
		t.Errorf("exponent %v, %v, want 0.5", e, ok)
	}
}

func TestGrowthIsHeldToItsLimit(t *testing.T) {
	limits := []growthLimit{{"GrowthReplank", "one recompute", 1.3}, {"GrowthLoft", "loft", 1.6}, {"GrowthCut", "cut", 2}}
	all := growthOf(limits, append(times("GrowthReplank", 1.1, 0.1), times("GrowthLoft", 1.7, 0)...))
	for i, want := range []string{"within", "over", "not measured"} {
		if got := all[i].verdict(); got != want {
			t.Errorf("%s: %s, want %s", all[i].Bench, got, want)
		}
	}
	err := faults(nil, all)
	if want := "growing too fast: GrowthLoft; not measured: GrowthCut"; err == nil || err.Error() != want {
		t.Errorf("faults = %v, want %s", err, want)
	}
	if text := growthTable(all); !strings.Contains(text, "loft, GrowthLoft") || !strings.Contains(text, "1.70") {
		t.Errorf("the table lacks the loft:\n%s", text)
	}
}

// A single number of frames gives no growth.
func TestOnePointGivesNoExponent(t *testing.T) {
	if e, ok := exponent([]grown{{50, 1}, {50, 2}}); ok {
		t.Errorf("exponent %v", e)
	}
}
