package hull

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestModesAreKept(t *testing.T) {
	p := NewPlan("", readLugger(t))
	p.Layers[0].Bands[0].Modes = []Mode{"", Spiled, Block, Sprung}
	assert.Equal(t, p, p.Clone())
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	text := b.String()
	require.NoError(t, planSchema(t).Validate(decoded(t, text)))
	again, err := ReadPlan(strings.NewReader(text), "p")
	require.NoError(t, err)
	assert.Equal(t, p.Layers[0].Bands, again.Layers[0].Bands)
	assert.Equal(t, Mode(""), again.Layers[0].Bands[0].Mode(7))

	_, err = ReadPlan(strings.NewReader(strings.Replace(text, `"block"`, `"glued"`, 1)), "p")
	require.ErrorContains(t, err, `mode 3 of band 1 of layer 1 is "glued"; give "sprung", "spiled" or "block", or "" to leave it to the rules.`)
}
