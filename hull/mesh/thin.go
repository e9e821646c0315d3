package mesh

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// How a side is thinned to the points of a frame; lengths in mm.
const (
	sharpest     = math.Pi * 25 / 180 // turn from which a corner may be a knuckle
	sharperThan  = 2.5                // times the turns beside it, for a corner to be a knuckle
	thinnedTo    = 0.01               // how far a smooth curve through the points may miss
	thinnedShare = 5e-5               // of the girth, where that is more
	roughly      = 5                  // times that: a stretch missed by this much is not smooth
	fewestParts  = 6                  // of a smooth stretch
	mostParts    = 60
	lengthParts  = 6    // parts into which its length alone would divide it
	ahead        = 96   // pieces of the curve among which the next point is sought
	unlike       = 3.0  // a straight stretch this many times as long as the next is divided
	least        = 0.01 // distance between two points
)

// knucklesOf gives the corners of a side that are knuckles, by index: sharp, and
// sharper than the turns beside them, since a coarse mesh turns everywhere.
func knucklesOf(pts []mgl64.Vec2) []int {
	turn := make([]float64, len(pts))
	for i := 1; i+1 < len(pts); i++ {
		turn[i] = turnAt(pts[i-1], pts[i], pts[i+1])
	}
	var out []int
	for i := 1; i+1 < len(pts); i++ {
		if turn[i] > sharpest && turn[i] > sharperThan*max(turn[i-1], turn[i+1]) {
			out = append(out, i)
		}
	}
	return out
}

// turnAt is the angle by which the path from a through b to c turns, from 0 to
// π.
func turnAt(a, b, c mgl64.Vec2) float64 {
	u, v := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(u[0]*v[1]-u[1]*v[0], u.Dot(v)))
}

// apart leaves out points that coincide with the one before.
func apart(pts []mgl64.Vec2) []mgl64.Vec2 {
	out := pts[:0:0]
	for _, p := range pts {
		if n := len(out); n == 0 || out[n-1].Sub(p).Len() > least {
			out = append(out, p)
		}
	}
	if n := len(out); n > 1 {
		out[n-1] = pts[len(pts)-1]
	}
	return out
}

// thinned gives the points of a side, with its knuckles, and how far a smooth
// curve through them misses the side, mm.
func thinned(pts []mgl64.Vec2) (out []mgl64.Vec2, knuckles []int, miss float64) {
	within := max(thinnedTo, thinnedShare*line{pts: pts}.length())
	corners := append(knucklesOf(pts), len(pts)-1)
	for from := 0; len(corners) > 0; {
		to := corners[0]
		part, off := thinnedPart(pts[from:to+1], within)
		if k := sharpestOf(pts[from : to+1]); off > roughly*within && k > 0 {
			corners = slices.Insert(corners, 0, from+k) // a stretch that no smooth curve follows has one more corner
			continue
		}
		miss = max(miss, off)
		if from > 0 {
			knuckles = append(knuckles, len(out)-1)
			part = part[1:]
		}
		out, from, corners = append(out, part...), to, corners[1:]
	}
	return out, knuckles, miss
}

// sharpestOf gives the index of the sharpest corner of a stretch if it is as sharp as
// a knuckle, or -1.
func sharpestOf(pts []mgl64.Vec2) int {
	at, most := -1, sharpest
	for i := 1; i+1 < len(pts); i++ {
		if turn := turnAt(pts[i-1], pts[i], pts[i+1]); turn > most {
			at, most = i, turn
		}
	}
	return at
}

// thinnedPart thins a smooth stretch: it keeps as few of its points as hold a
// smooth curve through them within the tolerance, closer together where it
// turns.
func thinnedPart(pts []mgl64.Vec2, within float64) (out []mgl64.Vec2, miss float64) {
	for n := fewestParts; ; n += n/4 + 1 {
		out = divided(picked(pts, n))
		if miss = missOf(out, pts); miss <= within || n >= mostParts || len(out) >= 2*mostParts {
			return out, miss
		}
	}
}

// picked takes n of the points of a stretch: those nearest to places spaced evenly by a
// weight of length and turning.
func picked(pts []mgl64.Vec2, n int) []mgl64.Vec2 {
	m := len(pts)
	weight := make([]float64, m)
	whole := line{pts: pts}.length()
	for i := 1; i < m; i++ {
		weight[i] = weight[i-1] + lengthParts*pts[i].Sub(pts[i-1]).Len()/max(whole, 1e-12)
		for _, k := range []int{i - 1, i} {
			if k > 0 && k+1 < m {
				weight[i] += turnAt(pts[k-1], pts[k], pts[k+1]) / (math.Pi / 18)
			}
		}
	}
	if m <= n {
		return pts
	}
	var chosen []int
	i := 0
	for k := range n + 1 {
		want := weight[m-1] * float64(k) / float64(n)
		for i < m-1 && math.Abs(weight[i+1]-want) <= math.Abs(weight[i]-want) {
			i++
		}
		chosen = append(chosen, i)
	}
	chosen = append(chosen, m-1)
	out := make([]mgl64.Vec2, 0, n+1)
	for _, i := range slices.Compact(chosen) {
		out = append(out, pts[i])
	}
	return out
}

// divided divides stretches that are far longer than the next: a straight side
// that runs into a bilge of many points, over which a smooth curve would swing.
func divided(pts []mgl64.Vec2) []mgl64.Vec2 {
	if len(pts) == 2 {
		return []mgl64.Vec2{pts[0], between(pts, 1, 3), between(pts, 2, 3), pts[1]}
	}
	if len(pts) == 3 { // a frame needs more
		pts = []mgl64.Vec2{pts[0], between(pts, 1, 2), pts[1], between(pts[1:], 1, 2), pts[2]}
	}
	out := slices.Clone(pts)
	for i := 1; i < len(out) && len(out) < 2*mostParts; i++ {
		d := out[i].Sub(out[i-1])
		before, after := math.Inf(1), math.Inf(1)
		if i > 1 {
			before = out[i-1].Sub(out[i-2]).Len()
		}
		if i+1 < len(out) {
			after = out[i+1].Sub(out[i]).Len()
		}
		switch length := d.Len(); {
		case length > unlike*before:
			out = slices.Insert(out, i, out[i-1].Add(d.Mul((unlike-1)*before/length)))
		case length > unlike*after:
			out = slices.Insert(out, i, out[i].Sub(d.Mul((unlike-1)*after/length)))
			i = max(i-1, 0) // the first part may still be too long
		}
	}
	return out
}

func between(pts []mgl64.Vec2, k, n float64) mgl64.Vec2 {
	return pts[0].Add(pts[1].Sub(pts[0]).Mul(k / n))
}

// missOf is how far a smooth curve through some of the points misses the others: a
// cubic between each two, with the slopes of the parabolas through three.
func missOf(some, all []mgl64.Vec2) float64 {
	slopes := slopesOf(some)
	most, k := 0.0, 0
	curve := line{}
	for i := 1; i < len(some); i++ {
		h := some[i].Sub(some[i-1]).Len()
		for s := range 8 {
			t := float64(s) / 8
			curve.pts = append(curve.pts, hermite(some[i-1], some[i], slopes[i-1].Mul(h), slopes[i].Mul(h), t))
		}
	}
	curve.pts = append(curve.pts, some[len(some)-1])
	for _, p := range all {
		// the nearest piece advances with the points
		best, bestAt := math.Inf(1), k
		for j := k; j+1 < len(curve.pts) && j < k+ahead; j++ {
			if d := distance(p, curve.pts[j], curve.pts[j+1]); d < best {
				best, bestAt = d, j
			}
		}
		k, most = bestAt, max(most, best)
	}
	return most
}

// slopesOf gives the tangents at points, per mm of chord.
func slopesOf(p []mgl64.Vec2) []mgl64.Vec2 {
	n := len(p)
	out := make([]mgl64.Vec2, n)
	if n == 2 {
		out[0] = p[1].Sub(p[0]).Normalize()
		out[1] = out[0]
		return out
	}
	slope := func(i int) mgl64.Vec2 { return p[i+1].Sub(p[i]).Mul(1 / p[i+1].Sub(p[i]).Len()) }
	for i := 1; i+1 < n; i++ {
		a, b := p[i].Sub(p[i-1]).Len(), p[i+1].Sub(p[i]).Len()
		out[i] = slope(i - 1).Mul(b / (a + b)).Add(slope(i).Mul(a / (a + b)))
	}
	out[0], out[n-1] = slope(0).Mul(2).Sub(out[1]), slope(n-2).Mul(2).Sub(out[n-2])
	return out
}

func hermite(a, b, u, v mgl64.Vec2, t float64) mgl64.Vec2 {
	s := 1 - t
	return a.Mul(s * s * (1 + 2*t)).Add(b.Mul(t * t * (3 - 2*t))).Add(u.Mul(s * s * t)).Sub(v.Mul(s * t * t))
}

// distance is the distance of a point from a straight piece.
func distance(p, a, b mgl64.Vec2) float64 {
	d := b.Sub(a)
	t := min(max(p.Sub(a).Dot(d)/max(d.Dot(d), 1e-18), 0), 1)
	return p.Sub(a.Add(d.Mul(t))).Len()
}

// sagOf is about how far the surface from which a side of straight pieces was made bulges
// beyond them: at each corner that is not a knuckle half the turn, over the longer of the
// two pieces, as over the chord of a circle (its sagitta is chord times turn over 8).
func sagOf(pts []mgl64.Vec2) float64 {
	corners := knucklesOf(pts)
	most := 0.0
	for i := 1; i+1 < len(pts); i++ {
		if slices.Contains(corners, i) {
			continue
		}
		chord := min(pts[i].Sub(pts[i-1]).Len(), pts[i+1].Sub(pts[i]).Len())
		most = max(most, chord*turnAt(pts[i-1], pts[i], pts[i+1])/8)
	}
	return most
}
