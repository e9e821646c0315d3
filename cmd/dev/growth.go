package main

import (
	"math"
	"strconv"
	"strings"
)

// growthLimit is the greatest exponent with which the time of a benchmark may
// grow with the number of frames.
type growthLimit struct {
	bench string // the benchmark's name without "Benchmark"; its parts are named after the number of frames
	what  string
	most  float64
}

var growthLimits = []growthLimit{
	{"GrowthReplank", "one recompute", 1.3},
	{"GrowthLoft", "loft", 1.6},
}

// growth is how the time of a computation grows with the frames: as their number
// raised to the exponent.
type growth struct {
	Bench    string   `json:"benchmark"`
	What     string   `json:"what"`
	Exponent *float64 `json:"exponent"` // null if it was not measured
	Most     float64  `json:"limit"`
	Points   []grown  `json:"points"`
}

// grown is the time for a number of frames.
type grown struct {
	Frames int     `json:"frames"`
	MS     float64 `json:"ms"`
}

// wantedGrowth are the limits of the benchmarks that a run measures.
func wantedGrowth(only func(function string) bool) []growthLimit {
	var out []growthLimit
	for _, l := range growthLimits {
		if only("Benchmark" + l.bench) {
			out = append(out, l)
		}
	}
	return out
}

func growthOf(limits []growthLimit, measured []measurement) []growth {
	var out []growth
	for _, l := range limits {
		g := growth{Bench: l.bench, What: l.what, Most: l.most}
		for _, m := range measured {
			part, ok := strings.CutPrefix(m.name, l.bench+"/")
			frames, err := strconv.Atoi(part)
			if ns := m.values[perOp]; ok && err == nil && frames > 0 && ns > 0 {
				g.Points = append(g.Points, grown{frames, ns / millisecond})
			}
		}
		if n, ok := exponent(g.Points); ok {
			g.Exponent = &n
		}
		out = append(out, g)
	}
	return out
}

// exponent is the slope of the least-squares line through the logarithms of
// time over the logarithms of frames; false if they do not determine one.
func exponent(points []grown) (float64, bool) {
	var n, sx, sy, sxx, sxy float64
	for _, p := range points {
		x, y := math.Log(float64(p.Frames)), math.Log(p.MS)
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	spread := n*sxx - sx*sx
	if n < 2 || !(spread > 0) {
		return 0, false
	}
	return (n*sxy - sx*sy) / spread, true
}

// verdict is "within", "over" or "not measured".
func (g growth) verdict() string {
	switch {
	case g.Exponent == nil:
		return "not measured"
	case *g.Exponent > g.Most:
		return "over"
	}
	return "within"
}

// growthTable writes the exponents beside their limits.
func growthTable(all []growth) string {
	lines := [][]string{{"time grows as frames to the power", "measured", "limit", ""}}
	for _, g := range all {
		measured := "-"
		if g.Exponent != nil {
			measured = strconv.FormatFloat(*g.Exponent, 'f', 2, 64)
		}
		lines = append(lines, []string{g.What + ", " + g.Bench, measured, strconv.FormatFloat(g.Most, 'f', 2, 64), g.verdict()})
	}
	return aligned(lines)
}
