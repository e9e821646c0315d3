package scene

import (
	"image"
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStepsAreThirdsOfTheFullTint(t *testing.T) {
	for tint, want := range map[float64]int{0: 0, 0.33: 0, 0.34: 1, 0.66: 1, 0.67: 2, 0.99: 2, 1: 3, -0.2: 0, -0.5: -1, -0.9: -2, -1: -3} {
		assert.Equal(t, want, stepOf(tint), "%v", tint)
	}
}

// Printed in greys, the steps can still be distinguished: upwards and downwards by
// the direction of their hatching, and the steps of one sign by its spacing.
func TestMapReadsWithoutColour(t *testing.T) {
	const size = 45
	for name, pal := range map[string]*Palette{"light": &Light, "dark": &Dark} {
		dark := map[int]float64{}
		for step := -Steps; step <= Steps; step++ {
			grey := greys(step, pal, size)
			lightest := slices.Max(slices.Concat(grey...))
			var rising, falling float64 // how much the pixels differ along either slant
			for y := 1; y < size-1; y++ {
				for x := range size - 1 {
					rising += math.Abs(grey[y][x] - grey[y-1][x+1])
					falling += math.Abs(grey[y][x] - grey[y+1][x+1])
					if grey[y][x] < 0.8*lightest {
						dark[step]++
					}
				}
			}
			switch {
			case step > 0:
				assert.Less(t, rising, falling/4, "%s, %d", name, step)
			case step < 0:
				assert.Less(t, falling, rising/4, "%s, %d", name, step)
			default:
				assert.Zero(t, rising+falling)
			}
		}
		for step := 1; step <= Steps; step++ {
			for _, sign := range []int{1, -1} {
				assert.Greater(t, dark[sign*step], 1.4*dark[sign*(step-1)], "%s, %d", name, sign*step)
			}
		}
	}
}

// greys is a square of a step of a map, as printed without colours.
func greys(step int, pal *Palette, size int) [][]float64 {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	Swatch(img, img.Rect, step, pal, 1)
	out := make([][]float64, size)
	for y := range out {
		for x := range size {
			out[y] = append(out[y], luminance(img.RGBAAt(x, y)))
		}
	}
	return out
}

// A mapped strake shows its step's colour and hatching; a timber beside it still shows
// wood.
func TestMapIsDrawnInSteps(t *testing.T) {
	s := Scene{Mapped: true}
	plate(&s, 0, 20, Tag{1, 1}, 0.5)
	var r Renderer
	img := r.Render(&s, abeam(), &Light, 120, 100)
	seen := map[float64]int{}
	for y := 30; y < 70; y++ {
		for x := 40; x < 80; x++ {
			seen[math.Round(100*luminance(img.RGBAAt(x, y)))]++
		}
	}
	assert.Len(t, seen, 2, "one colour and one hatching")
	s.Mapped = false
	img = r.Render(&s, abeam(), &Light, 120, 100)
	assert.Greater(t, img.RGBAAt(60, 50).R, img.RGBAAt(60, 50).B, "wood, whatever its tint")
}

func TestPeaksAreTheGreatestOfAll(t *testing.T) {
	l := demo(t)
	var edge, short, over float64
	for _, s := range l.Strakes {
		first, last := s.LaidBetween()
		for f := first; f <= last; f++ {
			c := &s.At[f]
			short, over = math.Max(short, c.WidthCut/c.Pitch-1), math.Min(over, c.WidthCut/c.Pitch-1)
		}
		for i := l.Surface.FrameStation(first); i <= l.Surface.FrameStation(last); i++ {
			edge = math.Max(edge, s.EdgeStrain(i))
		}
	}
	most := 0.0
	for _, p := range Peaks(l, ByEdgeSet) {
		most = math.Max(most, math.Abs(p.Value))
	}
	assert.InDelta(t, edge, most, 1e-12, "either way")
	for _, p := range Peaks(l, ByFit) {
		if p.Value > 0 {
			assert.Equal(t, short, p.Value)
		} else {
			assert.Equal(t, over, p.Value)
		}
	}
	require.NotEmpty(t, Peaks(l, ByFit))
	assert.Empty(t, Peaks(l, Bare))
	assert.Equal(t, l.Rules.EdgeStrain, ByEdgeSet.Full(l), "full where the rules have it cut to shape")
}

// A line is as heavy on a screen of scale 2 as on one of scale 1, drawn fine or not,
// level or slanting: its area in pixels over its length is its width times the scale.
func TestLinesKeepTheirWeight(t *testing.T) {
	for _, fine := range []bool{false, true} {
		for _, scale := range []float64{1, 2, 3} {
			for _, end := range []mgl64.Vec3{{40, 0, 0}, {0, 0, 40}, {30, 0, 30}, {36, 0, 14}} {
				s := &Scene{}
				s.Draw([]mgl64.Vec3{end.Mul(-1), end}, LimitLine, 2.5, false)
				r := Renderer{Scale: scale, Fine: fine}
				c := Camera{Zoom: scale, Depth: 100}
				w := int(120 * scale)
				img := r.Render(s, c, &Light, w, w)
				ink := 0.0
				g, l := float64(Light.Ground.G), float64(Light.Lines[LimitLine].G)
				for y := range w {
					for x := range w {
						ink += (g - float64(img.RGBAAt(x, y).G)) / (g - l)
					}
				}
				assert.InDelta(t, 2.5*scale, ink/(2*end.Len()*scale), 0.12*scale, "scale %v, fine %v, towards %v", scale, fine, end)
			}
		}
	}
}

// Drawn fine, the hull's edge has many shades between wood and ground, and covers the
// same area as drawn coarse.
func TestFinePicturesHaveSmoothEdges(t *testing.T) {
	const w, h = 150, 301 // more rows than are drawn at a time
	s := whole(planked(t), Bare)
	s.Lines, s.Floor, s.Base.Lines = nil, nil, nil
	c := From(OffTheBow, s, true, w, h)
	coarse, fine := Renderer{}, Renderer{Fine: true}
	a, b := coarse.Render(s, c, &Light, w, h), fine.Render(s, c, &Light, w, h)
	between, other, seen := 0, 0, 0
	for y := range h {
		for x := range w {
			_, ok := coarse.Pick(x, y)
			_, okFine := fine.Pick(x, y)
			if ok {
				seen++
			}
			if ok != okFine {
				other++
			}
			if !ok && !okFine && b.RGBAAt(x, y) != Light.Ground {
				between++
			}
			if !ok {
				assert.Equal(t, Light.Ground, a.RGBAAt(x, y))
			}
		}
	}
	assert.Greater(t, between, 40, "pixels of the edge")
	assert.Less(t, other, seen/20)
}

// The streaks of the grain run along the strakes: the wood varies less along one than
// across it.
func TestGrainRunsAlongTheStrakes(t *testing.T) {
	s := &Scene{}
	out := [2]mgl64.Vec3{{0, -1, 0}, {0, -1, 0}}
	p := Plate{Strake: 0}
	for i := range 9 {
		x := 20 * float64(i)
		p.Rungs = append(p.Rungs, Rung{At: [2]mgl64.Vec3{{x, 0, 30}, {x, 0, 0}}, Normal: out})
	}
	s.Add(Skin{Plates: []Plate{p}, Chosen: -1}, false)
	var r Renderer
	c := Facing(s, 0, 0)
	c.Zoom = 2
	img := r.Render(s, c, &Light, 300, 50)
	along, over := 0.0, 0.0
	for y := range 49 {
		for x := range 299 {
			g := float64(img.RGBAAt(x, y).G)
			along += math.Abs(g - float64(img.RGBAAt(x+1, y).G))
			over += math.Abs(g - float64(img.RGBAAt(x, y+1).G))
		}
	}
	assert.Positive(t, along)
	assert.Greater(t, over, 3*along)
}
