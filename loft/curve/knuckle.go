package curve

import "math"

// leastPanel is the least share of the girth between two knuckle lines.
const leastPanel = 1e-3

// KnuckleLines joins the knuckles of neighbouring frames into lines along the hull and
// gives, for every frame, the girth at each line, with 0 and the whole girth before and
// after: rows of equal length, rising. The frame with the most knuckles sets the number
// of lines. In a frame with fewer, each knuckle is assigned to the line with the
// nearest fraction of the girth, keeping their order, and a line without a knuckle
// there is interpolated between the frames on either side.
func KnuckleLines(frames []*Outline) [][]float64 {
	most := 0
	for i, f := range frames {
		if len(f.Turns) > len(frames[most].Turns) {
			most = i
		}
	}
	n := len(frames[most].Turns)
	share := make([][]float64, len(frames)) // NaN where the frame has no such knuckle
	for i := range frames {
		share[i] = make([]float64, n)
		for k := range share[i] {
			share[i][k] = math.NaN()
		}
	}
	assign(share[most], frames[most].shares(), frames[most].shares())
	for _, step := range []int{-1, 1} {
		last := append([]float64{}, share[most]...)
		for i := most + step; i >= 0 && i < len(frames); i += step {
			assign(share[i], frames[i].shares(), last)
			for k, s := range share[i] {
				if !math.IsNaN(s) {
					last[k] = s
				}
			}
		}
	}
	out := make([][]float64, len(frames))
	for k := range n {
		bridge(share, k)
	}
	for i, f := range frames {
		out[i] = append([]float64{0}, share[i]...)
		out[i] = append(out[i], 1)
		spreadOut(out[i])
		for k := range out[i] {
			out[i][k] *= f.Total()
		}
	}
	return out
}

// shares gives the fraction of the girth at each of the frame's knuckles.
func (c *Outline) shares() []float64 {
	out := make([]float64, len(c.Turns))
	for i, k := range c.Turns {
		out[i] = c.Girth[k] / c.Total()
	}
	return out
}

// assign assigns the shares of a frame's knuckles to those of the lines (one for each
// entry of row) that together lie nearest, in order: the least sum of squares over all
// order-keeping choices, by dynamic programming.
func assign(row, shares, lines []float64) {
	m, n := len(shares), len(lines)
	cost := make([][]float64, m+1)
	for i := range cost {
		cost[i] = make([]float64, n+1)
		for j := range cost[i] {
			if i > 0 {
				cost[i][j] = math.Inf(1)
			}
		}
	}
	for i := 1; i <= m; i++ {
		for j := i; j <= n; j++ {
			d := shares[i-1] - lines[j-1]
			cost[i][j] = math.Min(cost[i][j-1], cost[i-1][j-1]+d*d)
		}
	}
	for i, j := m, n; i > 0; j-- {
		if cost[i][j] < cost[i][j-1] {
			row[j-1] = shares[i-1]
			i--
		}
	}
}

// bridge fills in the frames in which line k has no knuckle: linearly between those
// that have one, constant beyond the last.
func bridge(share [][]float64, k int) {
	prev := -1
	for i := range share {
		if math.IsNaN(share[i][k]) {
			continue
		}
		for j := prev + 1; j < i; j++ {
			share[j][k] = share[i][k]
			if prev >= 0 {
				f := float64(j-prev) / float64(i-prev)
				share[j][k] = share[prev][k]*(1-f) + share[i][k]*f
			}
		}
		prev = i
	}
	for j := prev + 1; j < len(share); j++ {
		share[j][k] = share[prev][k]
	}
}

// spreadOut keeps rising breaks (first 0, last 1) at least leastPanel apart.
func spreadOut(b []float64) {
	for k := 1; k < len(b)-1; k++ {
		b[k] = max(b[k], b[k-1]+leastPanel)
	}
	for k := len(b) - 2; k > 0; k-- {
		b[k] = min(b[k], b[k+1]-leastPanel)
	}
}
