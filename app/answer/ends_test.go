package answer_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestNibsAndWedgesAreTold: a strake that ends tells its nib, its heir the notch, in
// either unit; and a wedge tells its place.
func TestNibsAndWedgesAreTold(t *testing.T) {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "demo")
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	require.NotEmpty(t, l.Drops)
	for _, d := range l.Drops {
		ends, heir := l.Strakes[d.At], l.Strakes[l.StrakeNamed(d.Into)]
		inBothUnits(t, d.Strake, func(u answer.Units) string { return answer.NibsText(l, ends, u) })
		inBothUnits(t, d.Into, func(u answer.Units) string { return answer.NibsText(l, heir, u) })
		assert.Contains(t, answer.NibsText(l, ends, answer.MM{}), "as a nib")
		assert.Contains(t, answer.NibsText(l, heir, answer.MM{}), "for the nib of "+d.Strake)
	}
	require.NotEmpty(t, l.Wedges)
	for i := range l.Wedges {
		inBothUnits(t, l.Wedges[i].Below, func(u answer.Units) string { return answer.WedgeText(l, &l.Wedges[i], u) })
	}
}
