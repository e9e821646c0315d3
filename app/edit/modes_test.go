package edit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

func TestSetMode(t *testing.T) {
	p := &hull.Plan{Layers: []hull.Layer{{Bands: []hull.Band{{}, {}}}}}
	require.NoError(t, SetMode(0, 1, 2, hull.Spiled)(p))
	assert.Equal(t, []hull.Mode{"", "", hull.Spiled}, p.Layers[0].Bands[1].Modes)
	before := p.Layers[0].Bands[1].Modes
	require.NoError(t, SetMode(0, 1, 0, hull.Block)(p))
	assert.Equal(t, []hull.Mode{"", "", hull.Spiled}, before, "a plan before keeps its own")
	require.NoError(t, SetMode(0, 1, 2, "")(p))
	assert.Equal(t, []hull.Mode{hull.Block}, p.Layers[0].Bands[1].Modes)
	require.NoError(t, SetMode(0, 1, 0, "")(p))
	assert.Nil(t, p.Layers[0].Bands[1].Modes, "as if nothing had been chosen")
	assert.EqualError(t, SetMode(0, 2, 0, "")(p), "there is no strake 3.01")
	assert.EqualError(t, SetMode(0, 0, 0, "glued")(p), `"glued" is not a way to make a strake: it is sprung, spiled or block, or left to the rules`)
}
