package trace

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// shaded makes a picture of w x h pixels whose brightness at a point is f,
// averaged over 8 x 8 points in each pixel.
func shaded(w, h int, f func(x, y float64) float64) *Picture {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			sum := 0.0
			for j := range 8 {
				for i := range 8 {
					sum += f(float64(x)+(float64(i)+0.5)/8, float64(y)+(float64(j)+0.5)/8)
				}
			}
			v := uint8(math.Round(sum / 64))
			m.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return newPicture(m, "made")
}

// A straight edge or line at any slope: the point found is within 0.3 px of it,
// the tolerance for a clean edge.
func TestSnapFindsAStraightOutline(t *testing.T) {
	kinds := map[string]func(d float64) float64{
		"edge":       func(d float64) float64 { return 40 + 180*step01(d) },
		"faint edge": func(d float64) float64 { return 140 + 40*step01(d) },
		"hair line":  func(d float64) float64 { return 250 - 220*band(d, 0.6) },
		"line":       func(d float64) float64 { return 250 - 220*band(d, 1.5) },
		"thick line": func(d float64) float64 { return 250 - 200*band(d, 5) },
		"light line": func(d float64) float64 { return 40 + 200*band(d, 1.5) },
	}
	for name, f := range kinds {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, 2))
			for range 60 {
				a := r.Float64() * 2 * math.Pi
				n := Pt(math.Cos(a), math.Sin(a))
				c := Pt(40+r.Float64(), 40+r.Float64())
				p := shaded(80, 80, func(x, y float64) float64 { return f(Pt(x, y).minus(c).dot(n)) })
				click := c.plus(n.times(r.Float64()*10 - 5)).plus(n.turned().times(r.Float64()*10 - 5))
				got, ok := p.Snap(click, 8)
				if !assert.True(t, ok, "slope %.2f", a) {
					return
				}
				assert.InDelta(t, 0, got.minus(c).dot(n), 0.3, "slope %.2f", a)
				assert.InDelta(t, click.minus(c).dot(n.turned()), got.minus(c).dot(n.turned()), 1.5, "it goes square to the outline")
			}
		})
	}
}

func step01(d float64) float64 {
	if d > 0 {
		return 1
	}
	return 0
}

func band(d, halfWidth float64) float64 { return step01(halfWidth - math.Abs(d)) }

// A circle of 30 px, which bends more than any frame in a sensible scan.
func TestSnapFindsACurvedOutline(t *testing.T) {
	c := Pt(60.3, 59.6)
	p := shaded(120, 120, func(x, y float64) float64 { return 250 - 220*band(Pt(x, y).distance(c)-30, 1.2) })
	for k := range 60 {
		a := float64(k) * 0.7
		click := c.plus(Pt(math.Cos(a), math.Sin(a)).times(30 + 4*math.Sin(5*a)))
		got, ok := p.Snap(click, 8)
		assert.True(t, ok)
		assert.InDelta(t, 30, got.distance(c), 0.3)
	}
}

func TestSnapWithNoiseStaysNear(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	p := shaded(200, 60, func(x, y float64) float64 { return 230 - 190*band(y-30.4, 1.5) })
	for i := range p.levels[0].Pix {
		if i%4 != 3 {
			p.levels[0].Pix[i] = uint8(min(max(float64(p.levels[0].Pix[i])+r.NormFloat64()*6, 0), 255))
		}
	}
	for x := 10.0; x < 190; x += 7 {
		got, ok := p.Snap(Pt(x, 27), 8)
		assert.True(t, ok)
		assert.InDelta(t, 30.4, got.Y, 0.5)
	}
}

func TestSnapRefusesWhatIsNotClear(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	noisy := image.NewRGBA(image.Rect(0, 0, 60, 60))
	for i := range noisy.Pix {
		noisy.Pix[i] = uint8(128 + r.IntN(60) - 30)
	}
	for i := 3; i < len(noisy.Pix); i += 4 {
		noisy.Pix[i] = 255
	}
	far := shaded(60, 60, func(x, _ float64) float64 { return 250 - 220*band(x-50, 1) })
	for name, p := range map[string]*Picture{
		"flat":              shaded(60, 60, func(_, _ float64) float64 { return 200 }),
		"a slow shade":      shaded(60, 60, func(x, _ float64) float64 { return 100 + x }),
		"noise":             newPicture(noisy, "noise"),
		"out of reach":      far,
		"two as near":       shaded(60, 60, func(x, _ float64) float64 { return 250 - 220*band(math.Abs(x-30)-5, 1) }),
		"the end of a line": shaded(60, 60, func(x, y float64) float64 { return 250 - 220*band(x-31, 1)*step01(y-30) }),
		"lines that meet":   shaded(60, 60, func(x, y float64) float64 { return 250 - 220*band(math.Abs(x-31)-max(y-20, 0)/5, 1.5) }),
		"a crossing":        shaded(60, 60, func(x, y float64) float64 { return 250 - 220*max(band(x-31, 1), band(y-29, 1)) }),
		"a faint change":    shaded(60, 60, func(x, _ float64) float64 { return 200 + 15*step01(x-31) }),
	} {
		got, ok := p.Snap(Pt(30, 30), 8)
		assert.False(t, ok, name)
		assert.Equal(t, Pt(30, 30), got, "%s: the click stays", name)
	}
	for _, at := range []Point{{-5, 3}, {math.NaN(), 3}, {math.Inf(1), 0}, {1e9, 1e9}} {
		_, ok := far.Snap(at, 8)
		assert.False(t, ok)
	}
}
