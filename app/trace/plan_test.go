package trace

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// planFrame is a frame of an invented hull from the sheer down to the side of the keel, as
// 400 points of y and z in mm: a superellipse with a rising floor.
func planFrame(x float64) []Point {
	c := math.Abs(x) / 200
	b, d := 60*math.Pow(1-x*x/230/230, 0.6), 60+15*c*c
	m, rise := 2.6-c, 0.14+0.45*c*c
	var out []Point
	for i := range 400 {
		sin, cos := math.Sincos(math.Pi / 2 * (1 - float64(i)/399))
		y := b * math.Pow(sin, 2/m)
		z := d*(1-math.Pow(max(cos, 0), 2/m)) + rise*y*(1-0.7*y/b)
		if y < 2 {
			a := out[len(out)-1]
			return append(out, between(a, Pt(y, z), (a.X-2)/(a.X-y)))
		}
		out = append(out, Pt(y, z))
	}
	return out
}

// planPrint is half of a body plan as a scanner sees it, at scale pixels per mm, its
// frames and sheer 0.3 mm wide and its waterlines, buttocks, centre line and keel 0.15
// mm.
func planPrint(scale float64, at []float64) *Picture {
	w, h := int(80*scale), int(90*scale)
	ink := make([]float32, w*h)
	line := func(wide float64, pts ...Point) {
		half := wide * scale / 2
		for i := 1; i < len(pts); i++ {
			a, b := onPlan(pts[i-1], scale), onPlan(pts[i], scale)
			more := half + 2
			for y := max(int(min(a.Y, b.Y)-more), 0); y <= min(int(max(a.Y, b.Y)+more), h-1); y++ {
				for x := max(int(min(a.X, b.X)-more), 0); x <= min(int(max(a.X, b.X)+more), w-1); x++ {
					q, d := Pt(float64(x)+0.5, float64(y)+0.5), b.minus(a)
					s := min(max(q.minus(a).dot(d)/d.dot(d), 0), 1)
					over := half + 0.5 - q.distance(between(a, b, s))
					ink[y*w+x] = max(ink[y*w+x], float32(min(over, 1, 2*half)))
				}
			}
		}
	}
	for z := 0.0; z <= 70; z += 10 {
		line(0.15, Pt(-5, z), Pt(66, z))
	}
	for _, y := range []float64{0, 2, 17, 32, 47, 62} {
		line(0.15, Pt(y, -4), Pt(y, 76))
	}
	var sheer []Point
	for x := 0.0; x <= 200; x += 5 {
		sheer = append(sheer, planFrame(x)[0])
	}
	line(0.3, sheer...)
	for _, x := range at {
		line(0.3, planFrame(x)...)
	}
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(1, 2))
	var noise [4096]float64
	for i := range noise {
		noise[i] = 8 * r.NormFloat64()
	}
	for i, v := range ink {
		g := uint8(min(max(239-209*float64(v)+noise[r.Uint32()%4096], 0), 255))
		m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2], m.Pix[4*i+3] = g, g, g, 255
	}
	return newPicture(m, "plan")
}

func onPlan(p Point, scale float64) Point { return Pt((8+p.X)*scale, (82-p.Y)*scale) }

// offPlan is how far a point of the print lies off a frame, mm.
func offPlan(q Point, f []Point, scale float64) float64 {
	least := math.Inf(1)
	for i := 1; i < len(f); i++ {
		a, b := onPlan(f[i-1], scale), onPlan(f[i], scale)
		d := b.minus(a)
		s := min(max(q.minus(a).dot(d)/d.dot(d), 0), 1)
		least = min(least, q.distance(between(a, b, s))/scale)
	}
	return least
}

// TestPlansOfAnyResolution: midship frames that run together at the keel are followed between
// two unsteady clicks, at 125 dots an inch and at 600, to 0.08 mm root mean square, and one
// that is off by more than 0.15 mm anywhere reports that it is unsure. Before lines were
// followed at a resolution that suits their width, frames at 600 dots an inch jumped to
// others, by up to 12 mm, without a warning.
func TestPlansOfAnyResolution(t *testing.T) {
	const inch = 25.4
	at := []float64{0, 40, 80, 120}
	for _, dots := range []float64{125, 600} {
		scale := dots / inch
		p := planPrint(scale, at)
		r := rand.New(rand.NewPCG(5, 6))
		hit := func(q Point) Point { // to 0.35 mm
			return onPlan(q, scale).plus(Pt(2*r.Float64()-1, 2*r.Float64()-1).times(0.35 * scale))
		}
		sum, n, sure := 0.0, 0, 0
		for _, x := range at {
			f := planFrame(x)
			start, low, reach := hit(f[0]), hit(f[len(f)-1]), 1.4*scale
			if q, ok := p.SnapEnd(start, reach); ok {
				start = q
			}
			got, ok := p.Follow(start, start).To(t.Context(), low, reach)
			require.True(t, ok, "%.0f dots, frame at %.0f", dots, x)
			worst := 0.0
			for i := 0; i < len(got.Run); i += 4 {
				off := offPlan(got.Run[i], f, scale)
				sum, n, worst = sum+off*off, n+1, max(worst, off)
			}
			t.Logf("%.0f dots, frame at %.0f: worst %.3f mm, unsure: %v", dots, x, worst, got.Unsure)
			if !got.Unsure {
				sure++
				assert.Less(t, worst, 0.15, "%.0f dots, frame at %.0f", dots, x)
			}
		}
		rms := math.Sqrt(sum / float64(n))
		t.Logf("%.0f dots: rms %.3f mm", dots, rms)
		assert.Less(t, rms, 0.08)
		assert.Positive(t, sure)
	}
}
