package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// TestStripBeside: the strip beside a line is that of the line's natural lie, at the
// same distance; a line that follows it lies on it.
func TestStripBeside(t *testing.T) {
	p := workload(t, 13)
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	b, n := l.StripBeside(1), l.Natural(1)
	require.Equal(t, Told, b.Lie.Untold)
	most, at := b.Most()
	assert.Greater(t, math.Abs(most), LiesOnLine, "a strip 2 mm thick")
	for f, a := range n.Frames {
		i := l.Surface.FrameStation(f)
		assert.InDelta(t, a.Natural-l.Lines[1].Down[i], b.Off[f], 1e-9)
		assert.LessOrEqual(t, math.Abs(b.Off[f]), math.Abs(most))
		assert.InDelta(t, 0, b.P[i].Sub(l.Surface.AtDown(f, a.Natural)).Len(), 1e-6, "frame %d", f)
	}
	assert.Equal(t, most, b.Off[at])
	assert.Nil(t, b.BattenP)
	assert.Nil(t, l.StripBeside(0))
	assert.Nil(t, l.StripBeside(3))

	p = p.Clone()
	p.Layers[0].Lines[0].Follows = hull.StripItself
	follows, err := k.Replank(p)
	require.NoError(t, err)
	assert.True(t, follows.Layers[0].Lines[1].followsStrip())
	assert.False(t, l.Lines[1].followsStrip())
	b = follows.Layers[0].StripBeside(1)
	assert.Same(t, follows.Layers[0].Lines[1].natural, b.Lie, "found once")
	off, _ := b.Most()
	assert.InDelta(t, 0, off, 1e-9)
	line := follows.Layers[0].Lines[1]
	for f, thin := range follows.Layers[0].BattenOff(line) {
		i := l.Surface.FrameStation(f)
		free := l.Lines[1].Down[i] + l.Lines[1].LieOff[f] // of the line as it was, apart from its berth
		assert.InDelta(t, free-line.Down[i], thin, 1e-9)
		assert.InDelta(t, 0, b.BattenP[i].Sub(l.Surface.AtDown(f, free)).Len(), 1e-6)
	}
}

// BenchmarkStripBeside is the cost of finding the strip beside a line that follows the
// thin batten, after a handle moves.
func BenchmarkStripBeside(b *testing.B) {
	k, err := Plank(workload(b, 25))
	require.NoError(b, err)
	l := k.Layers[0]
	for b.Loop() {
		if l.StripBeside(1).Lie.Untold != Told {
			b.Fatal("no strip is told")
		}
	}
}
