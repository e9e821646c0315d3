package curve

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// LengthParameter gives u of every frame: the sum of the chords to the given power,
// averaged down the girth, scaled to the length in mm.
func LengthParameter(grid [][][]mgl64.Vec3, power float64) []float64 {
	n := len(grid[0])
	u := make([]float64, n)
	length := 0.0
	for i := 1; i < n; i++ {
		sum, mm, count := 0.0, 0.0, 0
		for _, rows := range grid {
			for j := range rows[i] {
				d := rows[i][j].Sub(rows[i-1][j]).Len()
				sum += math.Pow(d, power)
				mm += d
				count++
			}
		}
		u[i] = u[i-1] + sum/float64(count)
		length += mm / float64(count)
	}
	scale := length / u[n-1]
	for i := range u {
		u[i] *= scale
	}
	return u
}
