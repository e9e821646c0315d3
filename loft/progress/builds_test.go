package progress

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// The thirteen trials of a vaccine collected by Colditz and others, JAMA 271, 1994,
// pages 698 to 702, as worked out by Viechtbauer in Journal of Statistical Software
// 36(3), 2010: by DerSimonian and Laird the logarithm of the relative risk is −0.7141,
// its standard error 0.1787 and τ² 0.3088. The tables and results from memory.
func TestBuildsAreWeighedAsRandomEffects(t *testing.T) {
	var values, variances []float64
	for _, c := range [][4]float64{ // ill and well, treated and not
		{4, 119, 11, 128}, {6, 300, 29, 274}, {3, 228, 11, 209}, {62, 13536, 248, 12619}, {33, 5036, 47, 5761},
		{180, 1361, 372, 1079}, {8, 2537, 10, 619}, {505, 87886, 499, 87892}, {29, 7470, 45, 7232},
		{17, 1699, 65, 1600}, {186, 50448, 141, 27197}, {5, 2493, 3, 2338}, {27, 16886, 29, 17825},
	} {
		n, m := c[0]+c[1], c[2]+c[3]
		values = append(values, math.Log(c[0]/n/(c[2]/m)))
		variances = append(variances, 1/c[0]-1/n+1/c[2]-1/m)
	}
	between := acrossBuilds(values, variances)
	assert.InDelta(t, 0.3088, between, 5e-5)
	mean, variance := weighed(values, variances, between)
	assert.InDelta(t, -0.7141, mean, 5e-5)
	assert.InDelta(t, 0.1787, math.Sqrt(variance), 5e-5)
}

func pear(by, frame float64) hull.Spread {
	return hull.Spread{Species: "pear", Width: 4, Thickness: 1, Creep: by, CreepSD: 0.02, Shape: 0.15, Frame: frame, Knife: 0.06, Along: 0.02, Strake: 0.05, Reading: 0.1, Sure: 0.3, Builds: 1, Readings: 50}
}

func TestFromBuilds(t *testing.T) {
	b := &hull.Builder{}
	_, ok := FromBuilds(b, hull.Stock{Species: "pear", Width: 4, Thickness: 1})
	assert.False(t, ok)

	b.Learn("Dunlin", "a", pear(0.04, 0.2))
	one, ok := FromBuilds(b, hull.Stock{Species: "Pear", Width: 4, Thickness: 1, Length: 1000})
	require.True(t, ok)
	assert.InDelta(t, 0.04, one.Creep, 1e-12)
	assert.InDelta(t, 0.2, one.Frame, 1e-12)
	assert.Greater(t, one.Sure, 0.3, "a next build is another")
	assert.Greater(t, one.CreepSD, 0.02)
	assert.Equal(t, 50, one.Readings)
	require.NoError(t, one.Check())

	for i := range 8 { // with similar builds the next is known better and better
		b.Learn("Knot", string(rune('a'+i)), pear(0.04, 0.2))
	}
	many, _ := FromBuilds(b, hull.Stock{Species: "pear", Width: 4, Thickness: 1})
	assert.Equal(t, 9, many.Builds)
	assert.Less(t, many.Sure, one.Sure)
	assert.Less(t, many.CreepSD, one.CreepSD)

	other, ok := FromBuilds(b, hull.Stock{Species: "pear", Width: 6, Thickness: 1.5})
	require.True(t, ok, "another strip of the wood")
	assert.InDelta(t, many.Frame, other.Frame, 1e-12)
	assert.Greater(t, other.Sure, many.Sure)
	assert.Greater(t, other.CreepSD, many.CreepSD)
	assert.Equal(t, 6.0, other.Width)
	_, ok = FromBuilds(b, hull.Stock{Species: "lime", Width: 4, Thickness: 1})
	assert.False(t, ok)
}

func TestUnlikeBuildsTeachLittle(t *testing.T) {
	alike, unlike := &hull.Builder{}, &hull.Builder{}
	for i, by := range []float64{-0.3, 0.3, -0.25, 0.25} {
		mark := string(rune('a' + i))
		alike.Learn("", mark, pear(0, 0.2))
		unlike.Learn("", mark, pear(by, 0.2*math.Exp(4*by)))
	}
	of := pear(0, 1)
	strips := of.Strips()
	a, _ := FromBuilds(alike, strips)
	u, _ := FromBuilds(unlike, strips)
	assert.InDelta(t, 0.2, u.Frame, 1e-9, "the mean of the logarithms")
	assert.Greater(t, u.CreepSD, 0.2, "as they differ")
	assert.Less(t, a.CreepSD, 0.06)
	assert.Greater(t, u.Sure, 1.5*a.Sure)
}
