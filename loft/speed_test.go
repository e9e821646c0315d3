package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// workload is a plan of the given number of frames of 15 points, 3 bands and 30 strakes
// a side in one layer, its first band line free.
func workload(t testing.TB, n int) *hull.Plan {
	frames := bodies.Wigley(1600, n, 15)
	line := func(share float64, manner hull.LineType) hull.BandLine {
		b := hull.BandLine{LineType: manner, Hold: n / 2, Aim: 3 * n / 4}
		for _, f := range frames {
			c, err := curve.NewOutline(f)
			require.NoError(t, err)
			b.Handles = append(b.Handles, hull.Handle{Down: share * c.Total(), Held: true})
		}
		return b
	}
	return &hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{{
		Stock: hull.Stock{Width: 5, Thickness: 2, Length: 1000}, Edges: hull.Bevelled,
		Bands: []hull.Band{{Strakes: 10}, {Strakes: 10}, {Strakes: 10}},
		Lines: []hull.BandLine{line(1./3, hull.Free), line(2./3, hull.Drawn)},
	}}}
}

// BenchmarkReplank is the whole recomputation after a handle moves. Each move is a new
// plan, as in a session.
func BenchmarkReplank(b *testing.B) { benchmarkReplank(b, workload(b, 25)) }

// BenchmarkReplankStrip is the same where the line follows the strip itself.
func BenchmarkReplankStrip(b *testing.B) {
	p := workload(b, 25)
	p.Layers[0].Lines[0].Follows = hull.StripItself
	benchmarkReplank(b, p)
}

func benchmarkReplank(b *testing.B, p *hull.Plan) {
	n := len(p.Hull.Frames)
	k, err := Plank(p)
	require.NoError(b, err)
	require.Len(b, k.Layers[0].Strakes, 30)
	i := 0
	for b.Loop() {
		p = withoutFrames(p).Clone()
		p.Hull.Frames = k.Plan.Hull.Frames
		p.Layers[0].Lines[0].Handles[3*n/4].Down += 0.05 * math.Sin(float64(i+1))
		i++
		next, err := k.Replank(p)
		if err != nil {
			b.Fatal(err)
		}
		if next.Layers[0].Lines[1].Line == k.Layers[0].Lines[1].Line {
			b.Fatal("no line has moved")
		}
		k = next
	}
}

// withoutFrames is a plan for cloning: the session's trials share the frames.
func withoutFrames(p *hull.Plan) *hull.Plan {
	light := *p
	light.Hull.Frames = nil
	return &light
}

// BenchmarkLoft is the surface alone.
func BenchmarkLoft(b *testing.B) { benchmarkLoft(b, 25) }

func benchmarkLoft(b *testing.B, n int) {
	frames := bodies.Wigley(1600, n, 15)
	for b.Loop() {
		if _, err := Loft(frames); err != nil {
			b.Fatal(err)
		}
	}
}
