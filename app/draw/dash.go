package draw

import "math"

// dashed cuts a line into its dashes, alternately on and off along its length.
// A pattern of zero length gives the line itself.
func dashed(pts []Point, pattern []float64) [][]Point {
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	if len(pattern) == 0 || !(total > 0) {
		return [][]Point{pts}
	}
	var out [][]Point
	run, k, left, on := []Point{pts[0]}, 0, pattern[0], true
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for at := 0.0; ; {
			if length-at < left {
				left -= length - at
				if on {
					run = append(run, b)
				}
				break
			}
			at += left
			p := Pt(a.X+(b.X-a.X)*at/length, a.Y+(b.Y-a.Y)*at/length)
			if on {
				out = append(out, append(run, p))
			}
			run = []Point{p}
			k = (k + 1) % len(pattern)
			left, on = pattern[k], !on
		}
	}
	if on && len(run) > 1 {
		out = append(out, run)
	}
	return out
}
