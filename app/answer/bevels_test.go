package answer_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// wedgeHull is an upright wedge of 30 degrees to the centre plane, its edge at the
// first frame, five strakes of 4 mm high; its edges are left square.
func wedgeHull() *hull.Plan {
	p := wigley(1)
	p.Hull.Frames = nil
	for i := range 5 {
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 5 {
			x := 20 * float64(i)
			f.Points = append(f.Points, [3]float64{x, x * math.Tan(math.Pi/6), -5 * float64(j)})
		}
		p.Hull.Frames = append(p.Hull.Frames, f)
	}
	p.Layers[0].Edges = hull.Square
	p.Layers[0].Bands, p.Layers[0].Lines = []hull.Band{{Strakes: 5}}, nil
	return p
}

// vHull is half a prism with a V bottom of 20 degrees deadrise.
func vHull(edges hull.Edges) *hull.Plan {
	p := wedgeHull()
	p.Hull.Frames = nil
	for i := range 5 {
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 5 {
			y := 20 - 5*float64(j)
			f.Points = append(f.Points, [3]float64{20 * float64(i), y, y * math.Tan(math.Pi/9)})
		}
		p.Hull.Frames = append(p.Hull.Frames, f)
	}
	p.Layers[0].Edges = edges
	return p
}

// TestHoodEndsAreTold: at the edge of a wedge of 30 degrees the ends are planed by
// 60; at its other end, 46.2 mm off, they are cut to what stands there.
func TestHoodEndsAreTold(t *testing.T) {
	k := plank(t, wedgeHull())
	a := answer.StrakesOf(k)
	ends := a.Strakes[2].HoodEnds
	require.Len(t, ends, 2)
	assert.Equal(t, "A", ends[0].Frame)
	assert.InDelta(t, 30, *ends[0].ToCentre, 1e-6)
	assert.InDelta(t, 60, *ends[0].Bevel, 1e-6)
	assert.InDelta(t, 0, *ends[0].Rake, 1e-6)
	assert.Equal(t, "meets", ends[0].Lies)
	assert.InDelta(t, 80*math.Tan(math.Pi/6), ends[1].Breadth, 1e-5)
	assert.Equal(t, "off", ends[1].Lies)

	out := text(t, a)
	assert.Regexp(t, `1\.03 +A +0\.00 +30\.0 +0\.0 +60\.0`, out)
	assert.Contains(t, out, answer.HoodNote)
	assert.NotContains(t, out, answer.HoodAlongNote)
	assert.Contains(t, out, "Ends off the centre plane: 1.01 to 1.05 at frame E, by 46.2 mm and more. Cut these to fit the timber there.")
	assert.Contains(t, answer.HoodsOff(k.Layers[0], inches{}), "by 1.818 in and more")

	j, err := progress.Procedure(k, hull.Port, "1.03", nil)
	require.NoError(t, err)
	for _, s := range j.Steps {
		if s.Key == progress.StepBevel {
			assert.False(t, s.Skip)
			assert.Equal(t, "No bevel: this layer's edges stay square. Its face stands at 30.0° to the hull's centre plane at frame A, measured square to the line in which they meet: cut its end square across, then plane it 60.0° off square through the thickness, the outer face the longer.",
				answer.TaskText(j, s, answer.MM{}))
		}
	}
}

// TestHoodEndsOnTrustAreUnknown: where a bluff bow turns by 90 degrees from an upright stem to
// the next frame, no angle is told of the ends there.
func TestHoodEndsOnTrustAreUnknown(t *testing.T) {
	p := wedgeHull()
	for i, f := range p.Hull.Frames {
		x := 15 * float64(i)
		for j := range f.Points {
			f.Points[j][0], f.Points[j][1] = x, 40*math.Sqrt(1-math.Pow(max(1-x/30, 0), 2))
		}
	}
	p.Hull.Frames[0].Name = "stem"
	k := plank(t, p)
	a := answer.StrakesOf(k)
	require.NotEmpty(t, a.Strakes[2].HoodEnds)
	end := a.Strakes[2].HoodEnds[0]
	assert.Equal(t, "unsure", end.Lies)
	assert.Nil(t, end.ToCentre)
	assert.Nil(t, end.Bevel)
	out := text(t, a)
	assert.Regexp(t, `1\.03 +stem +0\.00 +unknown +- +-`, out)
	assert.Contains(t, out, answer.HoodUnsureNote)
	j, err := progress.Procedure(k, hull.Port, "1.03", nil)
	require.NoError(t, err)
	for _, s := range j.Steps {
		if s.Key == progress.StepBevel {
			assert.Contains(t, answer.TaskText(j, s, answer.MM{}), "at frame stem is unknown, as the hull turns so much beside it: fit that end on the hull.")
		}
	}
}

// TestFineEndsLieAlong: a side at 5 degrees to the centre plane lies along it.
func TestFineEndsLieAlong(t *testing.T) {
	p := wedgeHull()
	for _, f := range p.Hull.Frames {
		for j := range f.Points {
			f.Points[j][1] = f.Points[j][0] * math.Tan(math.Pi/36)
		}
	}
	out := text(t, answer.StrakesOf(plank(t, p)))
	assert.Regexp(t, `1\.03 +A +0\.00 +5\.0 +- +along`, out)
	assert.Contains(t, out, answer.HoodAlongNote)
}

// TestSquareEdgesHaveNoTable: of a flat side nothing is bevelled at all, and over a V
// bottom the garboard's lower edge alone.
func TestSquareEdgesHaveNoTable(t *testing.T) {
	k := plank(t, wedgeHull())
	out := text(t, answer.StrakesOf(k))
	assert.Contains(t, out, "The edges of this layer stay square.")
	assert.NotContains(t, out, "Bevel of the")
	l := k.Layers[0]
	assert.Equal(t, "square", answer.BevelCell(l, l.Strakes[2], 1, true))
	assert.Equal(t, "edges left square", answer.CrossingEdges(l, l.Strakes[2], 1))

	k = plank(t, vHull(hull.Square))
	a := answer.StrakesOf(k)
	out = text(t, a)
	l = k.Layers[0]
	n := len(l.Strakes) - 1
	assert.Contains(t, out, "The edges of this layer stay square where strakes meet. Fit those at the limits: the top strake's upper edge closes against the ")
	assert.NotContains(t, out, "Bevel of the upper edge")
	assert.Regexp(t, `Bevel of the lower edge, degrees\.\n\n +strake .*\n +1\.05 +20\.0 +20\.0 +20\.0 +20\.0 +20\.0`, out)
	assert.NotRegexp(t, `(?s)Bevel of the lower edge.*\n +1\.04 +0\.0 +0\.0 +0\.0`, out)
	assert.InDelta(t, 20, a.Strakes[n].At[2].BevelLower, 1e-6)
	assert.Zero(t, a.Strakes[n].At[2].BevelUpper)
	assert.Equal(t, "20.0°", answer.BevelCell(l, l.Strakes[n], 2, false))
	assert.Equal(t, "square", answer.BevelCell(l, l.Strakes[n], 2, true))
	assert.Equal(t, "edges left square, except for a bevel of 20.0° below, at the limit", answer.CrossingEdges(l, l.Strakes[n], 2))
	assert.Contains(t, bevelStep(t, k, "1.05"), "Plane the lower edge by up to 20.0° off square (frame ")
	assert.Contains(t, bevelStep(t, k, "1.05"), "All other edges of this layer stay square.")
	assert.Contains(t, bevelStep(t, k, "1.02"), "No bevel: this layer's edges stay square.")

	k = plank(t, vHull(hull.Bevelled))
	out = text(t, answer.StrakesOf(k))
	assert.Contains(t, out, "Bevel of the upper edge")
	assert.Contains(t, out, "an edge that would need more than 45 degrees stays square")
	assert.Equal(t, "bevels 0.0° above and 20.0° below", answer.CrossingEdges(k.Layers[0], k.Layers[0].Strakes[n], 2))
	assert.Regexp(t, `\(frame [A-E], to the .+\)`, bevelStep(t, k, "1.05"))
}

func bevelStep(t *testing.T, k *loft.Planking, id string) string {
	t.Helper()
	j, err := progress.Procedure(k, hull.Port, id, nil)
	require.NoError(t, err)
	for _, s := range j.Steps {
		if s.Key == progress.StepBevel {
			return answer.TaskText(j, s, answer.MM{})
		}
	}
	return ""
}
