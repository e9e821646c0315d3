package scene

import (
	"math"
	"sync"
)

// The grain of wood is a small picture of streaks, repeated along every plank:
// its size in texels along and across, powers of two.
const (
	grainAlong, grainAcross = 256, 64
	// grainDrawn is how many times longer than wide a texel is on the hull.
	grainDrawn = 22.0
	// grainDepth is the most that the streaks darken the wood, as a share.
	grainDepth = 0.24
	// finestGrain is the most texels per mm across the grain: closer up, the grain
	// is magnified with the hull.
	finestGrain = 6.0
)

// grain is the factor for the colour of the wood at every texel, one row along the
// plank after the other. It is made on first use, since the shell never needs it.
var grain = sync.OnceValue(func() *[grainAlong * grainAcross]float32 {
	var out [grainAlong * grainAcross]float32
	for t := range grainAcross {
		for s := range grainAlong {
			x, y := float64(s)/grainAlong, float64(t)/grainAcross
			streak := 0.5*noise(x, y, 4, 8, 1) + 0.3*noise(x, y, 8, 21, 2) + 0.2*noise(x, y, 16, 64, 3)
			pore := math.Pow(noise(x, y, 10, 40, 4), 6)
			out[t*grainAlong+s] = float32(1 + grainDepth*(0.25-0.85*streak*streak-0.5*pore+0.12))
		}
	}
	return &out
})

// noise is smooth between the lattice points of a repeating square with nx by ny
// points; 0 to 1.
func noise(x, y float64, nx, ny, seed int) float64 {
	x, y = x*float64(nx), y*float64(ny)
	i, j := int(x), int(y)
	soft := func(t float64) float64 { return t * t * (3 - 2*t) }
	fx, fy := soft(x-float64(i)), soft(y-float64(j))
	at := func(a, b int) float64 { return hashed((i+a)%nx, (j+b)%ny, seed) }
	return (at(0, 0)*(1-fx)+at(1, 0)*fx)*(1-fy) + (at(0, 1)*(1-fx)+at(1, 1)*fx)*fy
}

// hashed is a number from 0 to 1 that looks random and is always the same.
func hashed(a, b, c int) float64 {
	h := uint32(a)*0x9e3779b1 ^ uint32(b)*0x85ebca6b ^ uint32(c)*0xc2b2ae35
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h) / math.MaxUint32
}

// texels is how many texels of the grain there are to a mm across it at a zoom in
// pixels per mm: about one to a pixel, in octaves, so that it neither blurs nor
// glitters.
func texels(zoom float64) float64 {
	return math.Min(math.Exp2(math.Round(math.Log2(math.Max(zoom*0.8, 1e-3)))), finestGrain)
}

// toneOf is by how much a strake is lighter than the wood: no two planks from a log
// are alike.
func toneOf(strake int) float64 { return 0.11 * (hashed(strake, 5, 9) - 0.55) }
