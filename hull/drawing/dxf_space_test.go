package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is drawn in space is scaled along the hull as it is across; an x that the
// builder gives instead is the model's.
func TestSpaceIsScaled(t *testing.T) {
	text := ""
	for i, layer := range []string{"A", "B", "C"} {
		text += groups(0, "POLYLINE", 8, layer, 66, 1, 70, 8)
		for k := range 61 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(k) / 60)
			text += groups(0, "VERTEX", 8, layer, 70, 32, 10, 60*i, 20, 40*cos, 30, 40-40*sin)
		}
		text += groups(0, "SEQEND")
	}
	d, found := checkedDXF(strings.NewReader(drawn(text)), "", nil)
	require.Empty(t, found)
	for i, f := range d.Hull.Frames {
		quarter(t, f, 60*float64(i), 40)
	}
	half, found := remade(t, d.Outlines, Options{Factor: 0.5})
	require.Empty(t, found)
	for i, f := range half.Hull.Frames {
		quarter(t, f, 30*float64(i), 20)
	}
	for i := range d.Outlines {
		if d.Outlines[i].Frame == "C" {
			d.Outlines[i].X = 75
		}
	}
	half, found = remade(t, d.Outlines, Options{Factor: 0.5})
	require.Empty(t, found)
	assert.Equal(t, 75.0, half.Hull.Frames[2].X())
}
