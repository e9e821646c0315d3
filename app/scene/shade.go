package scene

import (
	"image/color"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// shade lights the hull from the eye's left shoulder.
type shade struct {
	eye, lamp mgl64.Vec3
	pal       *Palette
}

func newShade(eye mgl64.Vec3, pal *Palette) shade {
	right := mgl64.Vec3{0, 0, 1}.Cross(eye)
	if right.Len() < 1e-9 {
		right = mgl64.Vec3{1, 0, 0}
	}
	right = right.Normalize()
	up := eye.Cross(right)
	return shade{eye: eye, lamp: eye.Add(up.Mul(0.7)).Add(right.Mul(-0.4)).Normalize(), pal: pal}
}

// colour gives a vertex's colour, 0 to 255: Lambert's cosine law over a ground
// light; the inside of the planking, turned away from the eye, is darker.
func (s shade) colour(v *Vertex) (r, g, b float32) {
	n, ground := v.Normal, 0.42
	if n.Dot(s.eye) < 0 {
		n = n.Mul(-1)
		if !v.Bare { // a frame has no inside
			ground = 0.25
		}
	}
	light := ground + 0.62*math.Max(0, n.Dot(s.lamp))
	c := tinted(s.pal, v.Tint)
	if v.Bare {
		c = vec(s.pal.Frame)
	}
	return float32(light * c[0]), float32(light * c[1]), float32(light * c[2])
}

// tinted gives the colour of wood with a tint of −1 to 1.
func tinted(p *Palette, t float64) mgl64.Vec3 {
	to := p.Up
	if t < 0 {
		to, t = p.Down, -t
	}
	if !(t > 0) {
		t = 0
	}
	t = math.Min(t, 1)
	return vec(p.Wood).Mul(1 - t).Add(vec(to).Mul(t))
}

func vec(c color.RGBA) mgl64.Vec3 {
	return mgl64.Vec3{float64(c.R), float64(c.G), float64(c.B)}
}
