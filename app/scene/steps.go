package scene

import (
	"image"
	"image/color"
	"math"
)

// Steps is how many steps a map has on each side of zero. It shows values in steps, not
// in shades: the boundary between two steps is visible as a line of constant value, and
// each step has its own hatching, so that the map can be read without its colours.
const Steps = 3

// stepOf gives the step of a tint from -1 to 1, with its sign: 0 for less than a third of
// the full tint, then 1 and 2, and 3 for the full tint.
func stepOf(tint float64) int {
	const slip = 1e-4 // rounding may leave a full tint between two corners slightly short
	n := int(math.Min(math.Abs(tint)*Steps+slip, Steps))
	if tint < 0 {
		return -n
	}
	return n
}

// stepColour is the colour of a step, without light.
func (p *Palette) stepColour(step int) [3]float32 {
	to, n := p.Up, step
	if step < 0 {
		to, n = p.Down, -step
	}
	part := float64(n) / Steps
	c := vec(p.Pale).Mul(1 - part).Add(vec(to).Mul(part))
	return [3]float32{float32(c[0] / 255), float32(c[1] / 255), float32(c[2] / 255)}
}

// hatchPeriod is the spacing of the hatching of a step, pixels of a screen of scale 1,
// along a row; 0 for none.
var hatchPeriod = [Steps + 1]int{0, 15, 9, 5}

// hatchShade is how much of its colour the hatching has: the colour under it must still be
// recognisable.
const hatchShade = 0.62

// inks are what a map is drawn with: the colour of every step, and where its
// hatching lies.
type inks struct {
	colours [2*Steps + 1][3]float32
	hatch   [2*Steps + 1][3]float32 // over each
	period  [Steps + 1]int
	width   int
}

func newInks(p *Palette, scale float64) inks {
	k := inks{width: max(int(math.Round(scale)), 1)}
	for step := -Steps; step <= Steps; step++ {
		c := p.stepColour(step)
		k.colours[step+Steps] = c
		for i, h := range vec(p.Hatch) {
			k.hatch[step+Steps][i] = c[i]*(1-hatchShade) + float32(h/255)*hatchShade
		}
	}
	for i, n := range hatchPeriod {
		k.period[i] = int(math.Round(float64(n) * scale))
	}
	return k
}

// hatched reports whether a pixel lies on a stroke of a step's hatching: the strokes
// rise to the right for a step above zero, and fall for one below.
func (k *inks) hatched(step, x, y int) bool {
	at := x + y
	if step < 0 {
		step, at = -step, x-y
	}
	period := k.period[step]
	if period == 0 {
		return false
	}
	if at %= period; at < 0 {
		at += period
	}
	return at < k.width
}

// Swatch fills a part of an image with a step of a map, as shown on the hull in full
// light.
func Swatch(img *image.RGBA, part image.Rectangle, step int, pal *Palette, scale float64) {
	k := newInks(pal, scale)
	part = part.Intersect(img.Rect)
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			c := k.colours[step+Steps]
			if k.hatched(step, x, y) {
				c = k.hatch[step+Steps]
			}
			img.SetRGBA(x, y, color.RGBA{byteOf(255 * c[0]), byteOf(255 * c[1]), byteOf(255 * c[2]), 0xff})
		}
	}
}
