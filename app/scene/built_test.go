package scene

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/loft"
)

// whole is a layer planked over everything that it lies on, with nothing
// chosen.
func whole(l *loft.Layer, t Tinting) *Scene {
	return Hull(l, Look{Both: true, Tinting: t, Strake: -1, Line: -1, Frame: -1, Built: Structure(l, nil)})
}

// demos is the demo plan's layer, planked once for all tests.
var demos *loft.Layer

func demo(t testing.TB) *loft.Layer {
	t.Helper()
	if demos == nil {
		demos = apptest.Demo(t, "A").Layers[0]
	}
	return demos
}

// Something stands out below and before the planking, where without keel and posts
// there would be nothing: in the centre plane, off the line where the planking meets
// it.
func TestKeelStemAndSternpostAreSeen(t *testing.T) {
	const w, h = 600, 200
	l := demo(t)
	keel := l.Lines[len(l.Lines)-1].P
	mid := keel[len(keel)/2]
	siding := 2 * mid.Y()
	stem, post := keel[0], keel[len(keel)-1]
	places := map[string]mgl64.Vec3{
		"keel":      mid.Add(mgl64.Vec3{0, 0, -siding / 2}),
		"stem":      stem.Add(mgl64.Vec3{-siding / 2, 0, 15}),
		"sternpost": post.Add(mgl64.Vec3{siding / 2, 0, 12}),
		"stem head": l.Lines[0].P[0].Add(mgl64.Vec3{-siding / 4, 0, siding}),
	}
	for name, s := range map[string]*Scene{"built": whole(l, Bare), "planking alone": Hull(l, Look{Both: true, Strake: -1, Line: -1, Frame: -1})} {
		c := From(Abeam, whole(l, Bare), true, w, h)
		var r Renderer
		img := r.Render(s, c, &Light, w, h)
		for place, p := range places {
			x, y := c.At(p, w, h)
			tag, ok := r.Pick(int(x), int(y))
			if name != "built" {
				assert.False(t, ok, "%s, %s", name, place)
				continue
			}
			require.True(t, ok, place)
			assert.Equal(t, int16(Built), tag.Strake, place)
			got := img.RGBAAt(int(x), int(y))
			assert.True(t, got.R > got.B && got != Light.Ground, "%s: wood, not ground: %v", place, got)
		}
	}
}

// Seen from right ahead, the same area is covered on both sides of the middle, with
// the same tags.
func TestBothSidesMirrorEachOther(t *testing.T) {
	const w, h = 200, 160
	s := whole(demo(t), Bare)
	for _, p := range []Prospect{FromBow, FromStern} {
		var r Renderer
		r.Render(s, From(p, s, true, w, h), &Light, w, h)
		covered, other := 0, 0
		for y := range h {
			for x := range w {
				a, ok := r.Pick(x, y)
				b, _ := r.Pick(w-1-x, y)
				if ok {
					covered++
				}
				if a != b {
					other++
				}
			}
		}
		assert.Greater(t, covered, w*h/4)
		assert.Less(t, other, covered/40, "but for pixels on edges")
	}
}

// From above the inside is visible: planking between frames that stand out from it,
// and the keel between the two sides.
func TestInsideIsSeenWithItsFrames(t *testing.T) {
	const w, h = 900, 240
	l := demo(t)
	s := whole(l, Bare)
	var r Renderer
	c := From(FromAbove, s, true, w, h)
	r.Render(s, c, &Light, w, h)
	at := func(p mgl64.Vec3) int16 {
		x, y := c.At(p, w, h)
		tag, ok := r.Pick(int(x), int(y))
		require.True(t, ok)
		return tag.Strake
	}
	for f := 7; f < 14; f++ {
		i := l.Surface.FrameStation(f)
		for _, side := range []float64{1, -1} {
			on := l.Seams[13].P[i]
			between := l.Seams[13].P[i+2].Add(l.Seams[14].P[i+2]).Mul(0.5)
			assert.Equal(t, int16(Built), at(across(on, side)), "frame %d", f)
			assert.GreaterOrEqual(t, at(across(between, side)), int16(0), "between frames %d and the next", f)
		}
		assert.Equal(t, int16(Built), at(mgl64.Vec3{l.Seams[13].P[i+2].X(), 0, 0}), "the keel")
	}
}

// The frames lie within the planking: none of their corners comes through it.
func TestFramesStayWithinThePlanking(t *testing.T) {
	l := demo(t)
	s := &Scene{}
	b := newBuilder(s, l, plankedOutlines(l))
	b.frames()
	require.NotEmpty(t, s.Vertices)
	s.Add(skinOf(l, Look{Strake: -1}), true)
	var r Renderer
	for _, yaw := range []float64{0.1, math.Pi - 0.1} {
		c := Facing(s, yaw, -0.1).Fit(s, 900, 240)
		r.Render(s, c, &Light, 900, 240)
		seen, through := 0, 0
		for y := range 240 {
			for x := range 900 {
				if tag, ok := r.Pick(x, y); ok {
					seen++
					if tag.Strake == Built {
						through++
					}
				}
			}
		}
		assert.Less(t, through, seen/1000, "yaw %v", yaw)
	}
}

// A hull whose planking ends on a flat bottom has no keel to draw.
func TestNoKeelIsInvented(t *testing.T) {
	l := planked(t)
	outlines := plankedOutlines(l)
	for _, o := range outlines {
		for i := range o {
			o[i][1] += 20
		}
	}
	b := newBuilder(&Scene{}, l, outlines)
	b.backbone()
	assert.Empty(t, b.s.Triangles)
	assert.Zero(t, b.siding)
}

// Every named view shows what its name says, at whichever end the bow lies.
func TestProspectsLookFromWhereTheyAreNamed(t *testing.T) {
	const w, h = 300, 200
	l := demo(t)
	s := whole(l, Bare)
	top, keel := l.Lines[0].P, l.Lines[len(l.Lines)-1].P
	n := len(top)
	for _, bowFirst := range []bool{true, false} {
		bow, stern := top[0], top[n-1]
		if !bowFirst {
			bow, stern = stern, bow
		}
		bow[1], stern[1] = 0, 0
		side, foot := across(top[n/2], -1), keel[n/2]
		for p := range prospects {
			c := From(p, s, bowFirst, w, h)
			m := c.matrix(w, h)
			at := func(q mgl64.Vec3) mgl64.Vec3 { return mgl64.TransformCoordinate(q, m) }
			nearer := func(a, b mgl64.Vec3) bool { return at(a).Z() < at(b).Z() }
			switch p {
			case FromBow:
				assert.True(t, nearer(bow, stern))
				assert.InDelta(t, at(bow).X(), at(stern).X(), 1e-6, "right ahead")
			case FromStern:
				assert.True(t, nearer(stern, bow))
				assert.InDelta(t, at(bow).X(), at(stern).X(), 1e-6)
			case OffTheBow:
				assert.True(t, nearer(bow, stern))
				assert.Less(t, at(side).Y(), at(foot).Y(), "upright")
			case OffTheStern:
				assert.True(t, nearer(stern, bow))
			case Abeam:
				assert.InDelta(t, at(bow).Z(), at(stern).Z(), 0.1)
				assert.Equal(t, bowFirst, at(bow).X() < at(stern).X())
			case FromAbove:
				assert.True(t, nearer(side, foot))
			case FromBelow:
				assert.True(t, nearer(foot, side))
			case AtTheBench:
				assert.Greater(t, at(side).Y(), at(foot).Y(), "keel up")
				assert.True(t, nearer(bow, stern))
				assert.True(t, nearer(foot, across(foot, -1).Add(mgl64.Vec3{0, 0, 30})), "its bottom is seen")
			}
		}
	}
}

// The whole hull is shown from everywhere, with a margin of at least a twentieth, and no
// more than that in one direction.
func TestProspectsFillTheViewButForAMargin(t *testing.T) {
	s := whole(demo(t), Bare)
	for p := range prospects {
		for _, size := range [][2]int{{340, 330}, {200, 700}} {
			w, h := size[0], size[1]
			c := From(p, s, true, w, h)
			m := c.matrix(w, h)
			x0, x1, y0, y1 := math.Inf(1), 0.0, math.Inf(1), 0.0
			s.each(func(p mgl64.Vec3) {
				q := mgl64.TransformCoordinate(p, m)
				x0, x1, y0, y1 = math.Min(x0, q[0]), math.Max(x1, q[0]), math.Min(y0, q[1]), math.Max(y1, q[1])
			})
			least := math.Min(math.Min(x0, float64(w)-x1)/float64(w), math.Min(y0, float64(h)-y1)/float64(h))
			assert.InDelta(t, 0.05, least, 0.002, "%d in %v", p, size)
		}
	}
}

// Upside down, the hull follows the hand as it does upright.
func TestTurningFollowsTheHandKeelUp(t *testing.T) {
	for _, up := range []bool{false, true} {
		c := Camera{Pitch: 0.4, Zoom: 1, Depth: 100, KeelUp: up}
		if up {
			c.Pitch = -c.Pitch
		}
		near := c.eye().Mul(10) // what is nearest to the eye moves with the hand
		x, y := c.At(near, 100, 100)
		x2, y2 := c.Turned(-0.2, 0.2).At(near, 100, 100)
		assert.Greater(t, x2, x, "keel up: %v", up)
		assert.Greater(t, y2, y, "keel up: %v", up)
	}
}

// The ground is dark under the hull, and clear at the edge; there is none when it is
// above the eye.
func TestHullStandsOnItsShadow(t *testing.T) {
	const w, h = 400, 240
	s := whole(demo(t), Bare)
	f := *s.Floor
	dark := func(c Camera) (mid, rim float64) {
		var r Renderer
		img := r.Render(&Scene{Floor: &f}, c, &Light, w, h)
		x, y := c.At(mgl64.Vec3{240, 0, f.Under}, w, h)
		if c.KeelUp {
			x, y = c.At(mgl64.Vec3{240, 0, f.Over}, w, h)
		}
		return luminance(img.RGBAAt(int(x), int(y))), luminance(img.RGBAAt(1, 1))
	}
	ground := luminance(Light.Ground)
	for _, p := range []Prospect{OffTheBow, AtTheBench} {
		mid, rim := dark(From(p, s, true, w, h))
		assert.Less(t, mid, 0.7*ground)
		assert.Equal(t, ground, rim)
	}
	mid, _ := dark(From(FromBelow, s, true, w, h))
	assert.Equal(t, ground, mid)
}

// luminance is the relative luminance of WCAG 2.2 (W3C), 0 to 1.
func luminance(c color.RGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

// contrast is the contrast ratio of WCAG 2.2, 1 to 21.
func contrast(a, b color.RGBA) float64 {
	x, y := luminance(a)+0.05, luminance(b)+0.05
	return math.Max(x, y) / math.Min(x, y)
}

// Seams contrast with the wood beside them by at least 3 (WCAG 2.2, 1.4.11), in light
// and shade, outside and inside, in the light and the dark palette.
func TestSeamsStandOffFromTheWood(t *testing.T) {
	const w, h = 60, 50
	l := demo(t)
	s := whole(l, Bare)
	for name, pal := range map[string]*Palette{"light": &Light, "dark": &Dark} {
		for _, p := range []Prospect{Abeam, FromAbove, AtTheBench} {
			c := From(p, s, true, w, h)
			c.Zoom *= 90
			seams := 0
			r := Renderer{Fine: true}
			for _, k := range []int{3, 13, 18} {
				for _, i := range []int{34, 54} {
					on, wood := l.Seams[k].P[i], l.Seams[k].P[i].Add(l.Seams[k+1].P[i]).Mul(0.5)
					c.PanX, c.PanY = 0, 0
					x, y := c.At(across(on, -1), w, h)
					c.PanX, c.PanY = w/2-math.Floor(x)-0.5, h/2-math.Floor(y)-0.5
					img := r.Render(s, c, pal, w, h)
					seam, ok := darkestNear(&r, img, c, across(on, -1))
					wx, wy, ok2 := r.Seen(c, across(wood, -1))
					if !ok || !ok2 {
						continue
					}
					seams++
					assert.GreaterOrEqual(t, contrast(seam, img.RGBAAt(int(wx), int(wy))), 3.0, "%s, view %d, seam %d, station %d", name, p, k, i)
				}
			}
			assert.GreaterOrEqual(t, seams, 2, "view %d", p)
		}
	}
}

// darkestNear is the darkest of the pixels around a visible point.
func darkestNear(r *Renderer, img *image.RGBA, c Camera, at mgl64.Vec3) (color.RGBA, bool) {
	x, y, ok := r.Seen(c, at)
	best := color.RGBA{255, 255, 255, 255}
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if got := img.RGBAAt(int(x)+dx, int(y)+dy); luminance(got) < luminance(best) {
				best = got
			}
		}
	}
	return best, ok
}

// Everything drawn on the wood contrasts with it by at least 3 in full light, and what
// is drawn on bare frames with the ground.
func TestLinesStandOffFromTheirGround(t *testing.T) {
	for name, pal := range map[string]*Palette{"light": &Light, "dark": &Dark} {
		for _, k := range []Kind{SeamLine, FrameLine, BandLine, LimitLine, ChosenLine} {
			assert.GreaterOrEqual(t, contrast(pal.Lines[k], pal.Wood), 3.0, "%s, %d", name, k)
		}
		for _, k := range []Kind{BareFrameLine, BareLimitLine, BareChosenLine, LiftLine, ForceLine} {
			assert.GreaterOrEqual(t, contrast(pal.Lines[k], pal.Ground), 3.0, "%s, %d", name, k)
		}
	}
}
