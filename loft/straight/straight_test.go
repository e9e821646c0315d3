package straight

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// frames gives corners at every 10 mm.
func frames(widths ...float64) []Place {
	var out []Place
	for i, w := range widths {
		out = append(out, Place{At: 10 * float64(i), Width: w, Corner: true})
	}
	return out
}

var bench = Rule{Strip: 5, Within: 0.15, Step: 0.1}

func TestCutsByHand(t *testing.T) {
	whole := func(ps []Place, at ...int) []Place {
		for _, i := range at {
			ps[i].Whole = true
		}
		return ps
	}
	point := append(frames(4, 3.5, 3), Place{At: 40, Corner: true, Exact: true})
	between := append(frames(5), Place{At: 4, Width: 4.9}, Place{At: 5, Width: 4.8}, Place{At: 10, Width: 4, Corner: true})
	for _, c := range []struct {
		name    string
		places  []Place
		corners []Corner
		count   int
		strays  float64
	}{
		{"one cut", frames(5, 4.5, 4, 3.5), []Corner{{0, 5}, {3, 3.5}}, 1, 0},
		{"one cut, a little off", frames(5, 4.45, 4.05, 3.5), []Corner{{0, 5}, {3, 3.5}}, 1, 0.05},
		{"whole, then one cut", whole(frames(5, 5, 5, 4, 3), 0, 1, 2), []Corner{{0, 5}, {2, 5}, {4, 3}}, 1, 0},
		{"two cuts with the strip whole between", whole(frames(4, 5, 5, 4), 1, 2), []Corner{{0, 4}, {1, 5}, {2, 5}, {3, 4}}, 2, 0},
		{"as good as whole", frames(5, 4.9, 4.86, 4.95), []Corner{{0, 5}, {3, 5}}, 0, 0.14},
		{"wider than the strip", frames(5.4, 6, 4, 3), []Corner{{0, 5}, {1, 5}, {3, 3}}, 1, 0},
		{"to a point", point, []Corner{{0, 4}, {2, 3}, {3, 0}}, 2, 0},
		{"bent between the frames", between, []Corner{{0, 5}, {3, 4.1}}, 1, 0.26},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Cut(c.places, bench)
			require.NoError(t, err)
			require.Len(t, got.Corners, len(c.corners), "%v", got.Corners)
			for i, w := range c.corners {
				assert.Equal(t, w.Place, got.Corners[i].Place)
				assert.InDelta(t, w.Width, got.Corners[i].Width, 1e-9)
			}
			assert.Equal(t, c.count, got.Count)
			assert.InDelta(t, c.strays, got.Strays, 1e-6)
		})
	}
}

func TestWidthBetweenCorners(t *testing.T) {
	places := frames(5, 5, 4, 3)
	c, err := Cut(places, bench)
	require.NoError(t, err)
	for at, want := range map[float64]float64{-1: 5, 0: 5, 10: 5, 15: 4.5, 29: 3.1, 30: 3, 99: 3} {
		assert.InDelta(t, want, c.Width(places, at), 1e-9, "at %g", at)
	}
}

func TestWhatCannotBeCut(t *testing.T) {
	for want, c := range map[string]struct {
		places []Place
		rule   Rule
	}{
		"give at least two":   {frames(5), bench},
		"do not go together":  {frames(5, 4), Rule{5, 0.04, 0.1}},
		"not after":           {[]Place{{At: 1, Corner: true}, {At: 1, Corner: true}}, bench},
		"are corners":         {[]Place{{At: 1, Corner: true}, {At: 2}}, bench},
		"give numbers":        {frames(5, math.NaN()), bench},
		"all are above 0":     {frames(5, 4), Rule{}},
		"place 1 is at +Inf ": {[]Place{{At: 1, Corner: true}, {At: math.Inf(1), Corner: true}}, bench},
	} {
		_, err := Cut(c.places, c.rule)
		assert.ErrorContains(t, err, want)
	}
}

// anyPlaces draws a strip of few corners, with places between.
func anyPlaces(t *rapid.T, strip float64) []Place {
	var out []Place
	at := 0.0
	n := rapid.IntRange(2, 6).Draw(t, "corners")
	w := rapid.Float64Range(0, strip+0.5).Draw(t, "first")
	slope := 0.0
	for i := range n {
		p := Place{At: at, Width: w, Corner: true}
		switch rapid.IntRange(0, 7).Draw(t, "kind") {
		case 0:
			p.Whole = true
		case 1:
			p.Exact = i == 0 || i == n-1
		}
		out = append(out, p)
		if i == n-1 {
			break
		}
		if rapid.Bool().Draw(t, "bends") {
			slope = rapid.Float64Range(-0.06, 0.06).Draw(t, "slope")
		}
		bay := rapid.Float64Range(3, 12).Draw(t, "bay")
		for k := range rapid.IntRange(0, 2).Draw(t, "between") {
			x := bay * float64(k+1) / 3
			out = append(out, Place{At: at + x, Width: w + slope*x + rapid.Float64Range(-0.1, 0.1).Draw(t, "off")})
		}
		at += bay
		w += slope*bay + rapid.Float64Range(-0.05, 0.05).Draw(t, "noise")
	}
	return out
}

// every tries all sets of corners with all widths of the lattice at each.
type every struct {
	places    []Place
	rule      Rule
	want, may []float64
	most      float64 // the greatest straying allowed
	seen      func(count int, strays, squares float64)
}

func (e *every) prepare() {
	e.want, e.may = nil, nil
	for _, p := range e.places {
		w, m := math.Min(math.Max(p.Width, 0), e.rule.Strip), e.rule.Within
		if p.Whole {
			w = e.rule.Strip
		}
		if p.Whole || p.Exact {
			m = 0
		}
		e.want, e.may = append(e.want, w), append(e.may, m)
	}
	for a, b := 0, 1; b < len(e.places); b++ {
		if !e.places[b].Corner {
			continue
		}
		bulge := 0.0
		for i := a + 1; i < b; i++ {
			if e.places[a].Whole && e.places[b].Whole {
				e.want[i] = e.rule.Strip
			}
			t := (e.places[i].At - e.places[a].At) / (e.places[b].At - e.places[a].At)
			bulge = math.Max(bulge, math.Abs((1-t)*e.want[a]+t*e.want[b]-e.want[i]))
		}
		for i := a + 1; i < b; i++ {
			e.may[i] = math.Max(e.may[i], bulge+e.rule.Step/2)
		}
		a = b
	}
}

func (e *every) widths(i int) []float64 {
	if e.may[i] == 0 {
		return []float64{e.want[i]}
	}
	out := []float64{e.rule.Strip}
	for k := 0; float64(k)*e.rule.Step < e.rule.Strip-1e-9; k++ {
		out = append(out, float64(k)*e.rule.Step)
	}
	return out
}

// from continues from a corner.
func (e *every) from(i int, w float64, count int, strays, squares float64) {
	if i == len(e.places)-1 {
		e.seen(count, strays, squares)
		return
	}
	for j := i + 1; j < len(e.places); j++ {
		if !e.places[j].Corner {
			continue
		}
		for _, v := range e.widths(j) {
			worst, sum, ok := strays, squares, true
			for k := i + 1; k <= j && ok; k++ {
				off := math.Abs(w + (v-w)*(e.places[k].At-e.places[i].At)/(e.places[j].At-e.places[i].At) - e.want[k])
				ok = off <= math.Min(e.may[k], e.most)+1e-9
				worst, sum = math.Max(worst, off), sum+off*off
			}
			if !ok {
				continue
			}
			more := 1
			if w == e.rule.Strip && v == e.rule.Strip {
				more = 0
			}
			e.from(j, v, count+more, worst, sum)
		}
	}
}

// all begins at every width of the first corner.
func (e *every) all(most float64, seen func(count int, strays, squares float64)) {
	e.most, e.seen = most, seen
	for _, w := range e.widths(0) {
		if off := math.Abs(w - e.want[0]); off <= math.Min(e.may[0], most)+1e-9 {
			e.from(0, w, 0, off, off*off)
		}
	}
}

// TestAsGoodAsAllThatCanBeTried: no cuts whatever, of any corners and widths, are
// fewer, nor equally few with less straying, nor equal in both with a smaller sum of
// squares.
func TestAsGoodAsAllThatCanBeTried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := Rule{
			Strip:  rapid.SampledFrom([]float64{3, 3.25}).Draw(t, "strip"),
			Within: rapid.SampledFrom([]float64{0.05, 0.15, 0.3}).Draw(t, "within"),
			Step:   0.1,
		}
		e := &every{places: anyPlaces(t, rule.Strip), rule: rule}
		e.prepare()
		got, err := Cut(e.places, rule)
		require.NoError(t, err)

		fewest, least := math.MaxInt, math.Inf(1)
		e.all(math.Inf(1), func(count int, strays, _ float64) {
			if count < fewest || count == fewest && strays < least {
				fewest, least = count, strays
			}
		})
		require.Equal(t, fewest, got.Count)
		require.InDelta(t, least, got.Strays, 2*fine)
		squares := math.Inf(1)
		e.all(got.Strays, func(count int, _, s float64) {
			if count == fewest {
				squares = math.Min(squares, s)
			}
		})
		require.InDelta(t, squares, got.Squares, 1e-6)
		keeps(t, e, got)
	})
}

// keeps checks cuts against their places and the rule alone.
func keeps(t require.TestingT, e *every, c *Cuts) {
	for i, p := range e.places {
		w := c.Width(e.places, p.At)
		require.LessOrEqual(t, w, e.rule.Strip+1e-9)
		require.InDelta(t, e.want[i], w, e.may[i]+1e-8)
	}
	for k, q := range c.Corners {
		require.True(t, e.places[q.Place].Corner)
		steps := q.Width / e.rule.Step
		exact := q.Width == e.rule.Strip || e.may[q.Place] == 0 && q.Width == e.want[q.Place]
		require.True(t, exact || math.Abs(steps-math.Round(steps)) < 1e-6, "%g mm is no width of the lattice", q.Width)
		if k > 0 {
			require.Greater(t, q.Place, c.Corners[k-1].Place)
		}
	}
}

// long is a strip over many frames with three places in each bay, which narrows to both
// ends, straight or in a bow.
func long(frames int, fall func(x float64) float64) []Place {
	var out []Place
	n := 4 * (frames - 1)
	for i := range n + 1 {
		x := 2*float64(i)/float64(n) - 1
		out = append(out, Place{At: 10 * float64(i), Width: 5 - fall(x), Corner: i%4 == 0})
	}
	return out
}

func TestAThousandFrames(t *testing.T) {
	for name, c := range map[string]struct {
		fall  func(x float64) float64
		count int
	}{
		"straight": {func(x float64) float64 { return 1 + x }, 1},
		"gable":    {math.Abs, 2},
		// A chord over h of 2x² strays h²/4 to either side, so that h is at most 0.775.
		"bow": {func(x float64) float64 { return 1 + 2*x*x }, 3},
		// Here the strip is whole until the bow is 0.15 mm deep, and one cut remains on either
		// side.
		"bow from a whole strip": {func(x float64) float64 { return 2 * x * x }, 2},
	} {
		places := long(1000, c.fall)
		got, err := Cut(places, bench)
		require.NoError(t, err)
		assert.Equal(t, c.count, got.Count, name)
		assert.LessOrEqual(t, got.Strays, 0.15+1e-9, name)
	}
}

// BenchmarkAThousandFrames is the bow, which takes the most searching.
func BenchmarkAThousandFrames(b *testing.B) {
	places := long(1000, func(x float64) float64 { return 1 + 2*x*x })
	for b.Loop() {
		if _, err := Cut(places, bench); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStraight is the work done at every move of a mouse.
func BenchmarkStraight(b *testing.B) {
	places := long(24, func(x float64) float64 { return 1 + 2*x*x })
	for b.Loop() {
		if _, err := Cut(places, bench); err != nil {
			b.Fatal(err)
		}
	}
}
