package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Floor is the level ground that a hull stands on, and what casts a shadow on it.
type Floor struct {
	Under, Over float64      // mm: how far the ground lies below a hull that stands upright, and below one that lies keel upwards
	Plan        []mgl64.Vec3 // the outline of the hull from above
	Foot        []mgl64.Vec3 // the outline of what is near the ground under the hull: its keel
}

// ground is the shadow on it, at low resolution, since it is soft: how dark it is at
// every place.
type ground struct {
	w, h  int // of the low-resolution picture
	dark  []float32
	spare []float32
	rows  []bool // rows that have any shadow
}

// coarse is how many pixels wide one place of the shadow is.
const coarse = 8

// The shadow of the whole hull, and that of what touches the ground: how dark it is,
// and how far it is blurred, as a share of the height of the hull.
const (
	hullDark, hullBlur = 0.55, 0.22
	footDark, footBlur = 0.65, 0.05
	// flatLook is how far above the ground the eye must be, as the sine of the angle,
	// to see the whole of the shadow.
	flatLook = 0.12
)

// cast makes the shadow on a floor as seen by a camera.
func (g *ground) cast(f *Floor, c *Camera, m *mgl64.Mat4, w, h int) {
	g.w, g.h = (w+coarse-1)/coarse+1, (h+coarse-1)/coarse+1
	g.dark = resized(g.dark, g.w*g.h)
	g.spare = resized(g.spare, g.w*g.h)
	if len(g.rows) != g.h {
		g.rows = make([]bool, g.h)
	}
	clear(g.rows)
	if f == nil {
		return
	}
	above := c.eye().Dot(c.above())
	seen := math.Max(0, math.Min(1, above/flatLook))
	if seen == 0 {
		return
	}
	level, foot := f.Under, f.Foot
	if c.KeelUp {
		level, foot = f.Over, f.Plan
	}
	height := (f.Over - f.Under) * c.Zoom / coarse
	squash := math.Max(above, 0.25)
	g.add(f.Plan, level, m, hullDark*seen, hullBlur*height, squash)
	g.add(foot, level, m, footDark*seen, footBlur*height, squash)
	for y := range g.h {
		for _, d := range g.dark[y*g.w : (y+1)*g.w] {
			if d > 0.002 {
				g.rows[y] = true
				break
			}
		}
	}
}

// resized gives n zeros, in the memory of a slice if it is large enough.
func resized(s []float32, n int) []float32 {
	if cap(s) < n {
		return make([]float32, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// add adds the shadow of an outline projected down to a level: filled, then
// blurred, less so up and down the screen where the ground is seen at a slant.
func (g *ground) add(plan []mgl64.Vec3, level float64, m *mgl64.Mat4, dark, blur, squash float64) {
	if len(plan) < 3 {
		return
	}
	clear(g.spare)
	at := make([][2]float32, len(plan))
	for i, p := range plan {
		x, y, _ := project(m, mgl64.Vec3{p.X(), p.Y(), level})
		at[i] = [2]float32{x/coarse + 0.5, y/coarse + 0.5}
	}
	g.fill(at)
	for range 2 { // a running mean applied twice is a tent, which is soft enough
		runningMean(g.spare, g.w, g.h, 1, g.w, int(blur+0.5))
		runningMean(g.spare, g.h, g.w, g.w, 1, int(blur*squash+0.5))
	}
	for i, v := range g.spare {
		g.dark[i] = 1 - (1-g.dark[i])*(1-v*float32(dark))
	}
}

// fill fills a polygon by the even-odd rule, a quarter of a row at a time.
func (g *ground) fill(at [][2]float32) {
	const parts = 4
	var cuts []float32
	for sub := range parts * g.h {
		y := (float32(sub) + 0.5) / parts
		cuts = cuts[:0]
		for i, p := range at {
			q := at[(i+1)%len(at)]
			if (p[1] <= y) != (q[1] <= y) {
				cuts = append(cuts, p[0]+(q[0]-p[0])*(y-p[1])/(q[1]-p[1]))
			}
		}
		for i := range cuts { // a few at most
			for j := i; j > 0 && cuts[j] < cuts[j-1]; j-- {
				cuts[j], cuts[j-1] = cuts[j-1], cuts[j]
			}
		}
		row := g.spare[sub/parts*g.w : (sub/parts+1)*g.w]
		for i := 0; i+1 < len(cuts); i += 2 {
			for x := max(int(cuts[i]), 0); x < g.w && float32(x) < cuts[i+1]; x++ {
				row[x] += (min(cuts[i+1], float32(x+1)) - max(cuts[i], float32(x))) / parts
			}
		}
	}
}

// runningMean blurs n lines of the given number of places, step apart, replacing each
// by the mean within a reach.
func runningMean(v []float32, n, lines, step, next, reach int) {
	if reach < 1 || n == 0 {
		return
	}
	was := make([]float32, n)
	for l := range lines {
		base := l * next
		for i := range n {
			was[i] = v[base+i*step]
		}
		sum := float32(0)
		for i := range min(reach, n) {
			sum += was[i]
		}
		for i := range n {
			if i+reach < n {
				sum += was[i+reach]
			}
			if i-reach-1 >= 0 {
				sum -= was[i-reach-1]
			}
			v[base+i*step] = max(sum, 0) / float32(2*reach+1)
		}
	}
}

// shade darkens a row of the ground.
func (g *ground) shade(row []uint8, y int, pal *Palette) {
	fy := float32(y) / coarse
	j := int(fy)
	if j+1 >= g.h || !g.rows[j] && !g.rows[j+1] {
		return
	}
	fy -= float32(j)
	up, down := g.dark[j*g.w:(j+1)*g.w], g.dark[(j+1)*g.w:(j+2)*g.w]
	var ground, shadow [3]float32
	for c, v := range [3][2]uint8{{pal.Ground.R, pal.Shadow.R}, {pal.Ground.G, pal.Shadow.G}, {pal.Ground.B, pal.Shadow.B}} {
		ground[c], shadow[c] = float32(v[0]), float32(v[1])
	}
	for i := 0; i+1 < g.w; i++ {
		a, b := up[i]*(1-fy)+down[i]*fy, up[i+1]*(1-fy)+down[i+1]*fy
		if a+b < 0.002 {
			continue
		}
		for x := range coarse {
			o := 4 * (i*coarse + x)
			if o >= len(row) {
				return
			}
			d := a + (b-a)*float32(x)/coarse
			for c := range 3 {
				row[o+c] = uint8(ground[c] + (shadow[c]-ground[c])*d + 0.5)
			}
		}
	}
}
