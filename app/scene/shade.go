package scene

import (
	"image/color"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// The lights, as shares of a surface's own colour: the light from the whole sky and
// its reflection from the ground, softly from above and below; a key light over the
// viewer's left shoulder, and a weak fill from the right. The gloss is that of a
// satin finish.
const (
	skyLight, groundLight = 0.64, 0.56
	keyLight, fillLight   = 0.50, 0.12
	gloss                 = 0.09
	// wrap is how far round the key light reaches, like that of a large window
	// close by.
	wrap = 0.25
	// innerLight is the light left on the inner faces, before subtracting the part of
	// the sky that the hull itself hides.
	innerLight = 0.94
)

// The key is slightly warmer than the sky, which is cool: red is raised and blue
// lowered by this share, or the reverse.
const warmth = 0.045

// shade lights the hull from over the viewer's left shoulder.
type shade struct {
	eye, up, key, fill, half mgl64.Vec3
	colours                  [Timber + 1]mgl64.Vec3
	mapped                   bool
}

func newShade(c *Camera, pal *Palette, mapped bool) shade {
	eye := c.eye()
	right := c.above().Cross(eye)
	if right.Len() < 1e-9 {
		right = mgl64.Vec3{1, 0, 0}
	}
	right = right.Normalize()
	up := eye.Cross(right)
	s := shade{eye: eye, up: c.above(), mapped: mapped}
	s.key = eye.Add(up.Mul(0.9)).Add(right.Mul(-0.75)).Normalize()
	s.fill = eye.Add(up.Mul(0.1)).Add(right.Mul(1.2)).Normalize()
	s.half = s.key.Add(eye).Normalize()
	s.colours = [Timber + 1]mgl64.Vec3{Plank: vec(pal.Wood), BareFrame: vec(pal.Frame), Timber: vec(pal.Timber)}
	return s
}

// colour gives a vertex's colour, 0 to 255; for mapped planking only the light on it,
// times 255.
func (s *shade) colour(v *Vertex) (r, g, b float32) {
	light, key, shine := s.light(v)
	c := s.colours[v.Of]
	if s.mapped && v.Of == Plank {
		// Less of the light and no gloss: the steps of a map must be distinguishable on
		// every side of the hull.
		light = 255 * math.Min(0.45+0.55*light, 1)
		return float32(light), float32(light), float32(light)
	}
	tone := 1 + v.Tone
	warm := warmth * (key - 0.4*light)
	return float32(tone*(light+warm)*c[0] + shine), float32(tone*light*c[1] + shine), float32(tone*(light-2*warm)*c[2] + shine)
}

// light gives the light on a vertex as a share of its colour, the key's part in it,
// and the gloss, 0 to 255.
func (s *shade) light(v *Vertex) (light, key, shine float64) {
	n, open := v.Normal, 1.0
	if n.Dot(s.eye) < 0 {
		n = n.Mul(-1)
		if v.Of != BareFrame { // a frame has no inside
			open = innerLight * (1 - v.Shut)
		}
	}
	sky := (1 + n.Dot(s.up)) / 2
	light = groundLight + (skyLight-groundLight)*sky
	key = keyLight * math.Max(0, (n.Dot(s.key)+wrap)/(1+wrap))
	light += key + fillLight*math.Max(0, n.Dot(s.fill))
	h := math.Max(0, n.Dot(s.half))
	h *= h
	h *= h
	h *= h
	h *= h // to the 16th power
	return light * open, key * open, 255 * gloss * h * open * open
}

func vec(c color.RGBA) mgl64.Vec3 {
	return mgl64.Vec3{float64(c.R), float64(c.G), float64(c.B)}
}
