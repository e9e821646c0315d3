package loft

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

func TestLayingOrder(t *testing.T) {
	order := func(n int, laying hull.Laying) []int {
		l := &Layer{Strakes: make([]*Strake, n)}
		return l.LayingOrder(hull.Cutting{Laying: laying})
	}
	assert.Equal(t, []int{0, 4, 1, 3, 2}, order(5, hull.Meeting))
	assert.Equal(t, []int{0, 3, 1, 2}, order(4, hull.Meeting))
	assert.Equal(t, []int{0, 1, 2}, order(3, hull.Downward))
	assert.Equal(t, []int{2, 1, 0}, order(3, hull.Upward))
	assert.Empty(t, order(0, hull.Meeting))
	assert.Empty(t, order(0, hull.Outward))
}

func TestOutward(t *testing.T) {
	for _, c := range []struct {
		n, from int
		want    []int
	}{
		{6, 2, []int{2, 1, 3, 0, 4, 5}},
		{4, 0, []int{0, 1, 2, 3}},
		{4, 3, []int{3, 2, 1, 0}},
		{1, 0, []int{0}},
	} {
		assert.Equal(t, c.want, outward(c.n, LaidFrom{Strake: c.from}))
	}
}

// TestLaidFrom: beside the free line first, else beside the freest; where the builder
// says takes precedence over both, if it exists.
func TestLaidFrom(t *testing.T) {
	p := workload(t, 25) // the first line free, the second drawn
	l := plankOne(t, p)
	c := hull.NewCutting()
	c.Laying = hull.Outward
	assert.Equal(t, LaidFrom{Strake: 10, Line: 1}, l.LaidFrom(c))
	assert.Equal(t, []int{10, 9, 11, 8}, l.LayingOrder(c)[:4])
	for _, x := range []struct {
		start string
		want  LaidFrom
	}{
		{"line 2", LaidFrom{Strake: 20, Line: 2, Named: true}},
		{"2/line 1, 1.03", LaidFrom{Strake: 2, Named: true}},
		{"2/1.03", LaidFrom{Strake: 10, Line: 1}},
		{"line 3", LaidFrom{Strake: 10, Line: 1}},
		{"7.01", LaidFrom{Strake: 10, Line: 1}},
		{"nonsense", LaidFrom{Strake: 10, Line: 1}},
	} {
		c.Start = x.start
		assert.Equal(t, x.want, l.LaidFrom(c), x.start)
		order := l.LayingOrder(c)
		slices.Sort(order)
		for i, n := range order {
			require.Equal(t, i, n, "every strake once")
		}
	}
	for start, want := range map[string]string{
		"line 3":     "there is no line 3 in layer 1: it has 2",
		"7.01":       "there is no strake 7.01",
		"2/1.01":     "it names layer 2, and the plan has 1",
		"the middle": "laying cannot begin at the middle, which is neither a strake such as 1.05 nor a line such as line 2",
	} {
		p.Cutting.Start = start
		assert.EqualError(t, (&Planking{Plan: p, Layers: []*Layer{l}}).CheckStart(), want)
	}
	p.Cutting.Start = "line 2"
	assert.NoError(t, (&Planking{Plan: p, Layers: []*Layer{l}}).CheckStart())
	c.Start = ""
	p.Layers[0].Lines[0].LineType = hull.Least
	for i := range p.Layers[0].Lines[0].Handles {
		p.Layers[0].Lines[0].Handles[i].Held = i == 0 || i == 12 || i == 24
	}
	assert.Equal(t, 1, plankOne(t, p).LaidFrom(c).Line, "eased, it lies easier than the drawn one")
	one := plankOne(t, oneLayer(bodies.Revolved(bodies.Spaced(0, 280, 8), 31, func(x float64) float64 { return 20 + x/4 }), bodies.FiveByTwo, 1))
	from := one.LaidFrom(c)
	assert.Zero(t, from.Line)
	for _, st := range one.Strakes {
		assert.GreaterOrEqual(t, st.EdgeSetMax, one.Strakes[from.Strake].EdgeSetMax-1e-12)
	}
}
