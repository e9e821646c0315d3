package sighting

import (
	"context"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
	"github.com/strakewright/strakewright/loft/sight"
)

// lug is a hull of the test's own, planked with 6 mm strips.
func lug(t *testing.T) *loft.Planking {
	t.Helper()
	h := hull.Hull{Bow: hull.BowLast, Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}
	for i := range 9 {
		x := 45 * float64(i)
		s := (x - 180) / 220
		f := hull.Frame{Name: string(rune('A' + i))}
		for k := range 13 {
			a := math.Pi / 2 * float64(k) / 12
			f.Points = append(f.Points, mgl64.Vec3{x, 4 + 46*(1-s*s)*math.Pow(math.Cos(a), 0.8), 58 + 10*s*s - 58*math.Sin(a)})
		}
		f.Points[12][1] = 4
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("Lug", h)
	p.Layers[0].Stock = hull.Stock{Width: 6, Thickness: 1, Length: 500}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// eye is a camera as books write it.
type eye struct {
	w, h int
	f    float64
	at   mgl64.Vec3
	axes mgl64.Mat3
}

func (e eye) sees(p mgl64.Vec3) (x, y, z float64) {
	q := e.axes.Mul3x1(p.Sub(e.at))
	return float64(e.w)/2 + e.f*q[0]/q[2], float64(e.h)/2 + e.f*q[1]/q[2], q[2]
}

// upTo are the shares of the girth down to which it is planked from above, and from
// which on from below, and the seams between.
var (
	seams        = []float64{0.1, 0.2, 0.3}
	upper, lower = 0.4, 0.7
	lines        = append([]float64{upper, lower}, seams...)
)

// shade is what the half-planked hull looks like at a place: planks with dark seams,
// light frames 4 mm thick, and the dark hold between.
func shade(frames []float64, x, v float64) float64 {
	const line = 0.006 // of the girth, half the width of a seam
	for _, at := range lines {
		if math.Abs(v-at) < line {
			return 50
		}
	}
	if v < upper || v > lower {
		return 205
	}
	for _, at := range frames {
		if math.Abs(x-at) < 2 {
			return 225
		}
	}
	return 120
}

// photographed is the picture of one side, twice as fine as it is kept, with noise.
func photographed(k *loft.Planking, e eye, sign float64, rng *rand.Rand) *image.Gray {
	const fine = 2
	s := k.Layers[0].Surface
	w, h := e.w*fine, e.h*fine
	grey, depth := make([]float64, w*h), make([]float64, w*h)
	for i := range grey {
		grey[i], depth[i] = 165, math.Inf(1)
	}
	var frames []float64
	for f := range s.Frames() {
		frames = append(frames, s.AtDown(f, 0).X())
	}
	type corner struct{ x, y, z, along, v float64 }
	at := func(u, v float64) corner {
		p := s.At(u, v).P
		x, y, z := e.sees(mgl64.Vec3{p[0], sign * p[1], p[2]})
		return corner{x * fine, y * fine, z, p[0], v}
	}
	fill := func(a, b, c corner) {
		area := (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
		for y := max(int(min(a.y, b.y, c.y)), 0); y <= min(int(max(a.y, b.y, c.y)), h-1); y++ {
			for x := max(int(min(a.x, b.x, c.x)), 0); x <= min(int(max(a.x, b.x, c.x)), w-1); x++ {
				px, py := float64(x)+0.5, float64(y)+0.5
				wb := ((px-a.x)*(c.y-a.y) - (py-a.y)*(c.x-a.x)) / area
				wc := ((b.x-a.x)*(py-a.y) - (b.y-a.y)*(px-a.x)) / area
				wa := 1 - wb - wc
				if wa < 0 || wb < 0 || wc < 0 {
					continue
				}
				// what is straight in space is straight in the picture over the depth
				wa, wb, wc = wa/a.z, wb/b.z, wc/c.z
				z := 1 / (wa + wb + wc)
				if z >= depth[y*w+x] {
					continue
				}
				depth[y*w+x] = z
				grey[y*w+x] = shade(frames, z*(wa*a.along+wb*b.along+wc*c.along), z*(wa*a.v+wb*b.v+wc*c.v))
			}
		}
	}
	const down, along = 60, 64
	u0, u1 := s.U(0), s.U(s.Frames()-1)
	for i := range along {
		for j := range down {
			ua, ub := u0+(u1-u0)*float64(i)/along, u0+(u1-u0)*float64(i+1)/along
			va, vb := float64(j)/down, float64(j+1)/down
			a, b, c, d := at(ua, va), at(ub, va), at(ub, vb), at(ua, vb)
			fill(a, b, c)
			fill(a, c, d)
		}
	}
	out := image.NewGray(image.Rect(0, 0, e.w, e.h))
	for y := range e.h {
		for x := range e.w {
			sum := 0.0
			for j := range fine {
				for i := range fine {
					sum += grey[(fine*y+j)*w+fine*x+i] / fine / fine
				}
			}
			out.SetGray(x, y, color.Gray{uint8(min(max(sum+3*rng.NormFloat64(), 0), 255))})
		}
	}
	return out
}

// A picture of a half-planked hull, its truth known, clicked two pixels off and
// snapped to seams and edges, gives what is left within the bounds told.
func TestReadThroughThePixels(t *testing.T) {
	k := lug(t)
	rng := rand.New(rand.NewPCG(3, 9))
	s := k.Layers[0].Surface
	const side, sign = hull.Starboard, -1 // the bow is at the greatest x
	target, from := mgl64.Vec3{180, sign * 25, 33}, mgl64.Vec3{120, sign * 700, 90}
	away := target.Sub(from).Normalize()
	right := away.Cross(mgl64.Vec3{0, 0, 1}).Normalize()
	e := eye{w: 1500, h: 500, f: 2350, at: from, axes: mgl64.Mat3FromRows(right, away.Cross(right), away)}
	path := filepath.Join(t.TempDir(), "side.png")
	file, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(file, photographed(k, e, sign, rng)))
	require.NoError(t, file.Close())
	pic, err := trace.Open(context.Background(), path, 1)
	require.NoError(t, err)

	snapped := 0
	mark := func(frame int, share float64) sight.Mark {
		p := s.AtDown(frame, share*s.Girth(frame))
		x, y, _ := e.sees(mgl64.Vec3{p[0], sign * p[1], p[2]})
		a := 2 * math.Pi * rng.Float64()
		at, heading, ok := pic.SnapLine(trace.Pt(x+2*math.Cos(a), y+2*math.Sin(a)), 8)
		if !ok {
			m := sight.Clicked(at.X, at.Y)
			m.Across, m.Along = 2, 2
			return m
		}
		snapped++
		return sight.Snapped(at.X, at.Y, heading, 2)
	}
	m := sight.Marks{Picture: sight.Picture{Width: 1500, Height: 500}}
	marks := 0
	for f := 1; f < s.Frames()-1; f++ {
		for _, v := range seams {
			m.Known = append(m.Known, sight.Known{Mark: mark(f, v), What: sight.AtGirth, Girth: v * s.Girth(f), Frame: f, Face: sight.OnFrame})
		}
		m.Edges = append(m.Edges, sight.Edge{Mark: mark(f, upper), Frame: f, Of: sight.Above, Face: sight.OnFrame},
			sight.Edge{Mark: mark(f, lower), Frame: f, Of: sight.Below, Face: sight.OnFrame})
		marks += 5
	}
	assert.Greater(t, snapped, marks*8/10, "most are snapped")
	states, err := progress.BothSides(k, 0, &k.Plan.Record, progress.UsualHabit())
	require.NoError(t, err)
	seen, err := sight.Read(k, side, 0, 0, states[side], m, sight.Care{Stands: 0.05, Most: 1})
	require.NoError(t, err)
	assert.Empty(t, seen.Slips)
	given := 0
	for _, r := range seen.Readings {
		if r.Given() {
			given++
			assert.InDelta(t, (lower-upper)*s.Girth(r.Frame), r.Left, r.Bound(), "frame %s", s.FrameName(r.Frame))
		}
	}
	assert.GreaterOrEqual(t, given, 6)
}
