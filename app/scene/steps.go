package scene

import (
	"image"
	"image/color"
	"math"
)

// Steps is how many steps a map has to each side of none. It tells what it tells in
// steps, not in shades: where one ends and the next begins can be seen as the line of an
// even value, and each has its own hatching, so that it reads without its colours.
const Steps = 3

// stepOf gives the step of a tint from -1 to 1, with its sign: 0 for less than a third of
// the full tint, then 1 and 2, and 3 for the full tint.
func stepOf(tint float64) int {
	const slip = 1e-4 // a full tint between two corners may fall short by rounding
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

// hatchPeriod is how far apart the hatching of a step is, pixels of a screen of scale 1,
// along a row; 0 for none.
var hatchPeriod = [Steps + 1]int{0, 15, 9, 5}

// hatchShade is how much of its colour the hatching has: that under it must still be told.
const hatchShade = 0.62

// inks is what a map is drawn with: the colour of every step, and where its hatching
// lies.
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

// hatched tells whether a pixel lies on a stroke of a step's hatching: these rise to
// the right where the step is over none, and fall where it is under.
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

// Swatch fills a part of an image with a step of a map, as the hull shows it in full
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
