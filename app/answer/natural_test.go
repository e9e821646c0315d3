package answer_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// naturalText gives the text of a natural lie, once its JSON was found to be one.
func naturalText(t *testing.T, k *loft.Planking, r loft.Ribbon, down float64, aim hull.Angle, species string, held ...int) (answer.NaturalLie, string) {
	t.Helper()
	s := k.Layers[0].Surface
	frame := s.Frames() / 2
	lie, err := s.Lie(frame, down, &aim)
	require.NoError(t, err)
	n, err := s.NaturalLie(r, frame, down, &aim, held)
	require.NoError(t, err)
	out := answer.LieOf(k, 0, lie)
	strip := answer.NaturalOf(k, n, species)
	out.Strip = &strip
	_, err = json.Marshal(out)
	require.NoError(t, err)
	said := text(t, out)
	assert.NotContains(t, said, "NaN")
	return strip, said
}

// TestNaturalLieInWords: every figure that is known is told, what is not is left out,
// and why no lie is told or where it ends is said.
func TestNaturalLieInWords(t *testing.T) {
	k := plank(t, wigley(1))
	name := k.Layers[0].Surface.FrameName
	strip, said := naturalText(t, k, loft.Ribbon{Width: 5, Thickness: 2, Stiffness: 10}, 20, 0, "lime")
	assert.Contains(t, said, "A strip 5.00 x 2.00 mm of lime, held at frames "+strings.Join(strip.Held, ", ")+":")
	assert.Contains(t, said, "with a stiffness of 10.0 GPa")
	assert.Len(t, strip.Held, 3)
	for _, a := range strip.At {
		if a.Natural != nil {
			assert.InDelta(t, *a.Natural-*a.Batten, *a.Off, 1e-12)
		}
	}
	bare, said := naturalText(t, k, loft.Ribbon{Width: 5, Thickness: 2}, 20, 0, "")
	assert.Nil(t, bare.Stiffness)
	assert.NotContains(t, said, "GPa")
	assert.InEpsilon(t, strip.Energy.Face, 10*bare.Energy.Face, 1e-9)

	steep, said := naturalText(t, k, loft.Ribbon{Width: 5, Thickness: 2}, 20, hull.Degrees(70), "", 0, k.Layers[0].Surface.Frames()/2)
	assert.Nil(t, steep.Energy)
	assert.Contains(t, said, "The lie of the strip itself cannot be found: its course to the hold at frame "+name(0))

	steep, said = naturalText(t, k, loft.Ribbon{Width: 5, Thickness: 2}, 20, hull.Degrees(40), "")
	require.NotEmpty(t, steep.Ends)
	for _, e := range steep.Ends {
		assert.Contains(t, said, "It is followed as far as frame "+e.Frame+": it ends far ")
	}
	assert.False(t, math.IsNaN(steep.Energy.Edge))
}
