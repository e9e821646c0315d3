package loft

import (
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestAnyPlanHolds: whatever the builder drags, the strakes of a band fill it
// at every frame, none is under half its stock unless it is alone in its band,
// seams keep their order and every number is finite.
func TestAnyPlanHolds(t *testing.T) {
	hulls := [][]hull.Frame{
		bodies.Wigley(800, 9, 9),
		bodies.Boxy(8),
		bodies.Revolved(bodies.Spaced(-200, 200, 11), 13, func(x float64) float64 { return 60 * math.Sqrt(1-x*x/250/250) }),
	}
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t, rapid.SampledFrom(hulls).Draw(t, "hull"))
		k, err := Plank(p)
		if err != nil {
			t.Fatalf("refused: %v", err)
		}
		for _, l := range k.Layers {
			holds(t, l, &p.Layers[l.Number-1])
		}
	})
}

// anyPlan draws decisions that the file reader accepts.
func anyPlan(t *rapid.T, frames []hull.Frame) *hull.Plan {
	n := len(frames)
	l := hull.Layer{
		Stock: hull.Stock{
			Width:     rapid.Float64Range(1, 12).Draw(t, "width"),
			Thickness: rapid.Float64Range(0.3, 3).Draw(t, "thickness"),
			Length:    rapid.Float64Range(100, 1000).Draw(t, "length"),
		},
		Edges: rapid.SampledFrom([]hull.Edges{hull.Bevelled, hull.Square}).Draw(t, "edges"),
		Creep: rapid.Float64Range(0, 0.2).Draw(t, "creep"),
		Bands: make([]hull.Band, rapid.IntRange(1, 4).Draw(t, "bands")),
	}
	for k := range l.Bands {
		l.Bands[k].Strakes = rapid.IntRange(0, 30).Draw(t, "strakes")
		l.Bands[k].Weights = rapid.SliceOfN(rapid.Float64Range(0.3, 3), 0, 12).Draw(t, "weights")
	}
	for range len(l.Bands) - 1 {
		b := hull.BandLine{LineType: rapid.SampledFrom([]hull.LineType{hull.Drawn, hull.Free, hull.Least}).Draw(t, "manner"),
			Follows: rapid.SampledFrom([]hull.Follows{hull.ThinBatten, hull.StripItself}).Draw(t, "follows")}
		for range n {
			b.Handles = append(b.Handles, hull.Handle{Down: rapid.Float64Range(-10, 200).Draw(t, "down"), Held: rapid.Bool().Draw(t, "held")})
		}
		b.Hold = rapid.IntRange(0, n-1).Draw(t, "hold")
		b.Handles[b.Hold].Held = true
		if b.Aim = rapid.IntRange(-1, n-1).Draw(t, "aim"); b.Aim == b.Hold {
			b.Aim = -1
		}
		l.Lines = append(l.Lines, b)
	}
	return &hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{l}}
}

func holds(t *rapid.T, l *Layer, h *hull.Layer) {
	for i, girth := range l.Girths {
		if !l.Surface.Planks(i) {
			girth = 0
		}
		sum := 0.0
		for _, b := range l.Bands {
			laid := 0
			for k := range b.Weights {
				c := l.Strakes[b.First+k].At[i]
				if !c.Laid {
					continue
				}
				laid++
				sum += c.WidthFrame
				if across := c.WidthFrame * l.Strakes[b.First+k].Centre.runs[i].slant; math.Abs(c.WidthCut+c.Creep-across) > 1e-9 {
					t.Fatalf("strake %d of band %d is %.6f mm and creeps %.6f, not %.6f in all at frame %d", k, b.Number, c.WidthCut, c.Creep, across, i)
				}
				if c.WidthFrame < l.Rules.LeastWidth*h.Stock.Width*(1-1e-6) && b.Laid[i] > 1 {
					t.Fatalf("strake %d of band %d is %.3f mm at frame %d", k, b.Number, c.WidthFrame, i)
				}
				finite(t, c.WidthCut, c.Pitch, float64(c.BevelUpper), float64(c.BevelLower), c.Gap, c.Upper)
			}
			if laid != b.Laid[i] {
				t.Fatalf("band %d lays %d strakes at frame %d, not %d", b.Number, laid, i, b.Laid[i])
			}
		}
		for _, w := range l.Wedges {
			if !l.Surface.Planks(i) || i < w.Laid.First || i > w.Laid.Last {
				continue
			}
			sum += w.Laid.Lower.Down[l.Surface.FrameStation(i)] - w.Laid.Upper.Down[l.Surface.FrameStation(i)]
		}
		if math.Abs(sum-girth) > 1e-6 {
			t.Fatalf("strakes and wedges fill %.6f mm of %.6f at frame %d", sum, girth, i)
		}
		k := l.Surface.FrameStation(i)
		for s := 1; s < len(l.Seams); s++ {
			if l.Seams[s].Down[k] < l.Seams[s-1].Down[k]-1e-6 {
				t.Fatalf("seams %d and %d cross at frame %d", s-1, s, i)
			}
		}
	}
	for _, st := range l.Strakes {
		finite(t, st.Length, float64(st.Twist), float64(st.EdgeSetMax), st.FaceRadiusMin)
	}
	for _, s := range l.Seams {
		for _, p := range s.P {
			finite(t, p.X(), p.Y(), p.Z())
		}
	}
	for _, w := range l.Wedges {
		finite(t, w.Length, w.Width)
		if w.Width <= 0 || w.Length <= 0 {
			t.Fatalf("wedge %+v", w)
		}
		above := slices.IndexFunc(l.Strakes, func(st *Strake) bool { return st.ID == w.Below })
		for i, width := range w.Laid.Widths {
			if width > 0 && !l.Strakes[above].At[i].Laid {
				t.Fatalf("the wedge beneath %s is %.3f mm at frame %d, where that strake is not laid", w.Below, width, i)
			}
		}
	}
}

func finite(t *rapid.T, xs ...float64) {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("a number is not finite: %v", xs)
		}
	}
}

// TestAnyFrames: frames of any odd shape are lofted or refused in words, and frames
// that take one layer take three.
func TestAnyFrames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t, anyFrames(t))
		k, err := Plank(p)
		if err != nil {
			return
		}
		holds(t, k.Layers[0], &p.Layers[0])
		more := p.Clone()
		for range 2 {
			l := hull.Layer{Stock: p.Layers[0].Stock, Edges: hull.Bevelled, Bands: []hull.Band{{}}}
			l.Stock.Width = max(l.Stock.Width, slices.Max(k.Layers[0].Girths)/100) // so that one band holds them
			l.Stock.Thickness = rapid.Float64Range(0.3, 3).Draw(t, "thickness")
			more.Layers = append(more.Layers, l)
		}
		if k, err = k.Replank(more); err != nil {
			t.Fatalf("one layer goes and three do not: %v", err)
		}
		for n, l := range k.Layers {
			holds(t, l, &more.Layers[n])
		}
	})
}

// anyFrames draws frames of any odd shape.
func anyFrames(t *rapid.T) []hull.Frame {
	var frames []hull.Frame
	x := 0.0
	for i := range rapid.IntRange(3, 8).Draw(t, "frames") {
		f := hull.Frame{Name: string(rune('A' + i))}
		n := rapid.IntRange(4, 9).Draw(t, "points")
		for k := range n {
			f.Points = append(f.Points, mgl64.Vec3{x, rapid.Float64Range(0, 100).Draw(t, "y"), rapid.Float64Range(-80, 80).Draw(t, "z")})
			if k > 0 && k < n-1 && rapid.Float64Range(0, 1).Draw(t, "kind") < 0.2 {
				f.Knuckles = append(f.Knuckles, k)
			}
		}
		x += rapid.Float64Range(0.1, 100).Draw(t, "dx")
		frames = append(frames, f)
	}
	return frames
}
