package mesh

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// evenHalves and evenShare are how far halves may differ without a note: 0.01
// mm, or the mesh's rounding as a share of its size where that is more.
const (
	evenHalves = 0.01
	evenShare  = 2e-5

	mostCompared = 500 // points of a side
)

// differs is the farthest that corners of either side lie off the other, and where.
func differs(a, b []mgl64.Vec2) (mm float64, at mgl64.Vec2) {
	for _, pair := range [][2][]mgl64.Vec2{{a, b}, {b, a}} {
		every := len(pair[0])/mostCompared + 1
		for k := 0; k < len(pair[0]); k += every {
			p := pair[0][k]
			away := math.Inf(1)
			for i := 1; i < len(pair[1]); i++ {
				away = min(away, distance(p, pair[1][i-1], pair[1][i]))
			}
			if away > mm {
				mm, at = away, p
			}
		}
	}
	return mm, at
}

// meanOf is the mean of two sides, taken at the same shares of the length between the same
// knuckles. It is false where their knuckles do not correspond.
func meanOf(a, b []mgl64.Vec2) ([]mgl64.Vec2, bool) {
	ka, kb := append(knucklesOf(a), len(a)-1), append(knucklesOf(b), len(b)-1)
	if len(ka) != len(kb) {
		return nil, false
	}
	out := []mgl64.Vec2{a[0].Add(b[0]).Mul(0.5)}
	fromA, fromB := 0, 0
	for k := range ka {
		pa, pb := a[fromA:ka[k]+1], b[fromB:kb[k]+1]
		n := max(len(pa), len(pb)) - 1
		for i := 1; i <= n; i++ {
			share := float64(i) / float64(n)
			out = append(out, atShare(pa, share).Add(atShare(pb, share)).Mul(0.5))
		}
		fromA, fromB = ka[k], kb[k]
	}
	return out, true
}

// atShare is the point at a share of the length of a line.
func atShare(pts []mgl64.Vec2, share float64) mgl64.Vec2 {
	want := share * line{pts: pts}.length()
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1]).Len()
		if want <= d && d > 0 {
			return pts[i-1].Add(pts[i].Sub(pts[i-1]).Mul(want / d))
		}
		want -= d
	}
	return pts[len(pts)-1]
}
