package views

import (
	"fmt"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull/drawing"
)

// texts gives what is written in a drawing, and where.
func texts(d *draw.Drawing) map[string]draw.Point {
	out := map[string]draw.Point{}
	for _, i := range d.Items {
		if l, ok := i.(draw.Label); ok {
			out[l.Text] = l.At
		}
	}
	return out
}

// Names of frames are written as far as there is room, none over another, and
// that of the chosen line always; what is hidden is neither drawn nor found.
func TestOutlinesAreNamedAndFound(t *testing.T) {
	var lines []drawing.Outline
	for i := range 8 {
		lines = append(lines, drawing.Outline{Frame: fmt.Sprint("mould ", i), Points: []mgl64.Vec2{{40 + 0.1*float64(i), 50}, {30, 10}, {0, 0}}})
	}
	lines = append(lines, drawing.Outline{Mark: drawing.UpperMark, Points: []mgl64.Vec2{{-30, 40}}}, drawing.Outline{Mark: drawing.Unused, Name: "grid", Points: []mgl64.Vec2{{-500, 0}, {500, 0}}})
	var v Outlines
	used := func(i int) bool { return lines[i].Mark != drawing.Unused }
	v.Draw(lines, used, 2, 600, 400)
	names := texts(&v.Drawing)
	var at []draw.Point
	for i := range 8 {
		name := fmt.Sprint("mould ", i)
		if i == 2 {
			name = "frame mould 2"
		}
		p, ok := names[name]
		if !ok {
			assert.Greater(t, len(at), 2)
			continue
		}
		assert.Positive(t, p.Y)
		for _, q := range at {
			assert.False(t, i != 2 && p.X-q.X < 40 && q.X-p.X < 40 && p.Y-q.Y < 10 && q.Y-p.Y < 10, "%s at %v is over %v", name, p, q)
		}
		if i != 2 {
			at = append(at, p)
		}
	}
	require.Contains(t, names, "frame mould 2")
	assert.NotContains(t, names, "not used")
	assert.Contains(t, names, "upper limit")
	// The mark, a single point, is found where it is drawn.
	point := v.lines[8][0]
	assert.Equal(t, 8, v.At(draw.Pt(point.X+3, point.Y)))
	v.Draw(lines, nil, 9, 600, 400)
	assert.Contains(t, texts(&v.Drawing), "grid")
	assert.Contains(t, texts(&v.Drawing), "not used")
}
