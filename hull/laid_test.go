package hull

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// someExtent draws the frames between which a layer is laid, and its blocks.
func someExtent(t *rapid.T, p *Plan, l *Layer) {
	name := func(i int) string { return p.Hull.Frames[i].Name }
	last := len(p.Hull.Frames) - 1
	if rapid.Bool().Draw(t, "laid between") {
		l.From, l.To = name(0), name(rapid.IntRange(1, last).Draw(t, "laid to"))
	}
	for range rapid.IntRange(0, 2).Draw(t, "blocks") {
		s := Solid{To: name(last), Upper: rapid.Float64Range(0, 20).Draw(t, "upper")}
		if rapid.Bool().Draw(t, "not all the way down") {
			s.Lower = s.Upper + rapid.Float64Range(0.1, 20).Draw(t, "block girth")
		}
		l.Blocks = append(l.Blocks, s)
	}
}

// withExtent is the cutter with more said about its layer.
func withExtent(t *testing.T, more string) string {
	t.Helper()
	out := strings.Replace(cutter, `"glue": "white"`, more+`, "glue": "white"`, 1)
	require.NotEqual(t, cutter, out)
	return out
}

// TestLaidRoundTrip: a layer's own frames and blocks are read, kept through a copy
// and written back, with any unknown keys.
func TestLaidRoundTrip(t *testing.T) {
	text := withExtent(t, `"from": "1", "to": "2", "blocks": [{"from": "1", "to": "2", "upper": 20, "lower": 31.5, "wood": "lime"}, {}]`)
	p, err := ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	l := p.Layers[0]
	assert.Equal(t, "1", l.From)
	assert.Equal(t, "2", l.To)
	require.Len(t, l.Blocks, 2)
	assert.Equal(t, 31.5, l.Blocks[0].Lower)
	from, to := p.Laid(0)
	assert.Equal(t, [2]int{0, 1}, [2]int{from, to})
	q := p.Clone()
	q.Layers[0].Blocks[0].Upper = 3
	assert.Equal(t, 20., p.Layers[0].Blocks[0].Upper, "a copy shares nothing that can change")
	out := written(t, p)
	assert.Contains(t, out, `"wood": "lime"`)
	again, err := ReadPlan(strings.NewReader(out), "")
	require.NoError(t, err)
	assert.Equal(t, out, written(t, again))
	assert.NotContains(t, written(t, readCutter(t)), "blocks", "a plan without writes none")
}

// TestLaidWithinTheHull: of the layer's range and the hull's the narrower is
// laid.
func TestLaidWithinTheHull(t *testing.T) {
	p := readCutter(t)
	p.Hull.Limits.From = "2"
	from, to := p.Laid(0)
	assert.Equal(t, [2]int{1, 2}, [2]int{from, to})
	p.Layers[0].From, p.Layers[0].To = "1", "2" // none of the hull's bays is left
	from, to = p.Laid(0)
	assert.Equal(t, [2]int{1, 2}, [2]int{from, to})
	require.Len(t, p.Check(), 1)
	assert.Contains(t, p.Check()[0].Error(), "layer 1 runs from frame 1 to 2, but the hull is planked only from frame 2 to 3; name frames between these")
}

func TestLaidFaults(t *testing.T) {
	for more, want := range map[string]string{
		`"from": "9"`:                              `layer 1 has "from" frame 9, and there is no such frame; name a frame of the hull`,
		`"from": 9`:                                `"from" of layer 1`,
		`"from": "2", "to": "1"`:                   `layer 1 has no bay from frame 2 to 1; let "from" be a frame of lesser x than "to"`,
		`"blocks": 3`:                              `"blocks" of layer 1`,
		`"blocks": [{"from": "3"}]`:                `block 1 of layer 1 leaves no bay from frame 3 to 3`,
		`"blocks": [{}, {"to": "Q"}]`:              `block 2 of layer 1 has "to" frame Q, and there is no such frame`,
		`"blocks": [{"upper": -1}]`:                `"upper" of block 1 of layer 1 is -1`,
		`"blocks": [{"upper": 20, "lower": 12.5}]`: `block 1 of layer 1 lies from 20 to 12.5 mm down; let "lower" be more than "upper", or leave it out for all the way down`,
	} {
		_, found := CheckPlan(strings.NewReader(withExtent(t, more)), "")
		require.NotEmpty(t, found, more)
		assert.Contains(t, found[0].Error(), want, fmt.Sprint(more))
	}
}
