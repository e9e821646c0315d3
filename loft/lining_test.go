package loft

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// smallHulls have few frames and few strips.
func smallHulls() map[string]*hull.Plan {
	stock := func(width, thickness float64) hull.Stock {
		return hull.Stock{Width: width, Thickness: thickness, Length: 400}
	}
	return map[string]*hull.Plan{
		"Wigley":   oneLayer(bodies.Wigley(400, 7, 9), stock(4.2, 1), 1),
		"revolved": oneLayer(bodies.Revolved(bodies.Spaced(0, 200, 6), 31, func(x float64) float64 { return 12 + x*(240-x)/1000 }), stock(9, 1.5), 1),
		"boxy":     oneLayer(bodies.Boxy(6), stock(8, 2), 1),
		"cone":     oneLayer(bodies.ConeHull().Frames, stock(24, 2), 1),
	}
}

// parts lists every way to divide n into the given number of parts of two or more.
func parts(n, bands int) [][]int {
	if bands == 1 {
		return [][]int{{n}}
	}
	var out [][]int
	for first := 2; n-first >= 2*(bands-1); first++ {
		for _, rest := range parts(n-first, bands-1) {
			out = append(out, append([]int{first}, rest...))
		}
	}
	return out
}

// enumerated lays every way to line off into the given number of bands with the given
// number of strips, or one fewer or more, each with Plank, and gives the figures of
// all.
func enumerated(t *testing.T, p *hull.Plan, bands, strips int) []liningFigures {
	s, err := newLiningSearch(t.Context(), p, 0, bands, bands)
	require.NoError(t, err)
	var out []liningFigures
	for n := strips - 1; n <= strips+1; n++ {
		if !slices.Contains(s.spaces[0].totals, n) {
			continue
		}
		for _, counts := range parts(n, bands) {
			for free := 1; free < bands; free++ {
				for rest := 0; rest <= s.spaces[0].rests[n]; rest++ {
					for c := range coursings() {
						w := way{bands: bands, free: free, rest: rest, course: coursing(c)}
						for k, count := range counts {
							w.counts[k] = int16(count)
						}
						q, ok := s.planOf(w)
						if !ok {
							continue
						}
						l := Lining{Layer: plankOne(t, q)}
						if !w.laidBy(l.Layer) {
							continue
						}
						l.read(l.Layer, q, 0)
						out = append(out, l.figures())
					}
				}
			}
		}
	}
	return out
}

// TestLiningAgainstEnumeration: the front found is that of all possible ways, laid one
// by one with nothing reused. Where the search only walks, as on a larger hull, it
// comes within a tenth of the span of every figure, and each least figure within a
// twentieth.
func TestLiningAgainstEnumeration(t *testing.T) {
	for name, p := range smallHulls() {
		for bands := 2; bands <= 3; bands++ {
			t.Run(fmt.Sprint(name, bands), func(t *testing.T) {
				s, err := newLiningSearch(t.Context(), p, 0, bands, bands)
				require.NoError(t, err)
				require.NoError(t, s.run())
				require.LessOrEqual(t, len(s.spaces[0].totals), 2)
				all := enumerated(t, p, bands, s.spaces[0].totals[0])
				require.GreaterOrEqual(t, len(all), 3)
				for _, f := range all {
					assert.True(t, slices.ContainsFunc(s.front, func(m *tried) bool { g := m.figures(); return g.covers(f, unseen) }), "%v is beaten by none found", f)
				}
				for _, m := range s.front {
					assert.Nil(t, m.Layer, "over many frames the layers of a front would fill the memory")
					assert.True(t, m.Even || slices.Contains(all, m.figures()), "%v is found, and none has it", m.figures())
					for _, o := range s.front {
						f := o.figures()
						assert.True(t, o == m || !f.covers(m.figures(), liningFigures{}), "%v beats %v", f, m.figures())
					}
				}

				walked, err := newLiningSearch(t.Context(), p, 0, bands, bands)
				require.NoError(t, err)
				walked.every = 0
				require.NoError(t, walked.run())
				least, most := spanOf(s.front)
				for _, m := range s.front {
					assert.LessOrEqual(t, nearest(least, most, m.figures(), walked.front), 0.1, "%v", m.figures())
				}
				best, _ := spanOf(walked.front)
				for i := range best {
					assert.LessOrEqual(t, best[i]-least[i], 0.05*(most[i]-least[i])+unseen[i])
				}
			})
		}
	}
}

// spanOf gives the least and the greatest of each figure of a front.
func spanOf(front []*tried) (least, most liningFigures) {
	least = front[0].figures()
	for _, m := range front {
		for i, f := range m.figures() {
			least[i], most[i] = min(least[i], f), max(most[i], f)
		}
	}
	return least, most
}

// nearest is the loss of the best of a front against a way, in the figure where the
// loss is greatest, as a share of that figure's span.
func nearest(least, most, m liningFigures, front []*tried) float64 {
	near := 1e9
	for _, o := range front {
		worst := 0.0
		for i, f := range o.figures() {
			if f > m[i]+unseen[i] {
				worst = max(worst, (f-m[i])/max(most[i]-least[i], 1e-9))
			}
		}
		near = min(near, worst)
	}
	return near
}

// A flat side of 83 mm by 240 takes 17 strips of 5 mm, and 2 mm of one are planed
// off all along, however it is lined off. A side of 92 mm takes 18, which creep
// by 0.11 mm each: nothing is planed.
func TestLiningOfAFlatSide(t *testing.T) {
	for _, c := range []struct {
		height  float64
		strakes int
		shave   float64
	}{{83, 17, 2 * 240}, {92, 18, 0}, {90, 18, 0}} {
		p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(c.height) }), bodies.FiveByTwo, 1)
		ways, err := LineOff(t.Context(), p, 0, 2, 2, nil)
		require.NoError(t, err)
		best := ways[0]
		assert.Equal(t, c.strakes, best.Strakes)
		assert.Zero(t, best.Ends())
		assert.InDelta(t, 0, best.Forced, 1e-9)
		assert.InDelta(t, c.shave, best.Shave, 1)
		assert.InDelta(t, 0, best.Fill, 1e-6)
		// Each strip of a metre gives three of 255 mm, with a kerf between, and ends 233.5 mm too short.
		strips := (2*c.strakes + 2) / 3
		left := float64(strips)*1000 - float64(2*c.strakes)*255.5
		if last := (2*c.strakes-1)%3 + 1; last < 3 {
			left -= 1000 - float64(last)*255.5
		}
		assert.InDelta(t, left*5/2, best.Over, 1e-6)
		assert.Len(t, ways, 1, "everything else is no better")
	}
}

// TestForcedEdgeSet: on a sphere a strip of width w along the parallel of latitude φ
// has κg = tan φ/R, and so is forced by (w·tan φ/2R − ε₀) over its length.
func TestForcedEdgeSet(t *testing.T) {
	const n = 50
	st := &Strake{Centre: &Line{}, At: make([]Crossing, n/stationsPerBay+1), To: n}
	kappa := 0.002
	for i := range st.At {
		st.At[i] = Crossing{Laid: true, WidthCut: 5}
	}
	for k := range (len(st.At)-1)*stationsPerBay + 1 {
		st.Centre.S = append(st.Centre.S, 3*float64(k))
		st.Centre.EdgeSet = append(st.Centre.EdgeSet, hull.Curvature(-kappa))
	}
	sum, most := st.forced(0.003)
	assert.InDelta(t, (kappa*5/2-0.003)*st.Centre.S[len(st.Centre.S)-1], sum, 1e-12)
	assert.InDelta(t, 0.005, most, 1e-12)
	sum, _ = st.forced(0.005)
	assert.Zero(t, sum)
}

// TestLinings: whatever the hull, the ways offered are a front of seven at most, in no
// figure worse than the bands of equal girth; each opens from its file and is laid as
// described, in whole strips.
func TestLinings(t *testing.T) {
	t.Parallel()
	hulls := smallHulls()
	names := []string{"Wigley", "boxy", "cone", "revolved"}
	rapid.Check(t, func(t *rapid.T) {
		p := hulls[rapid.SampledFrom(names).Draw(t, "hull")].Clone()
		h := &p.Layers[0]
		h.Stock.Width *= rapid.Float64Range(1.6, 2.6).Draw(t, "width")
		h.Stock.Length = rapid.Float64Range(150, 1000).Draw(t, "length")
		h.Creep = rapid.Float64Range(0, 0.2).Draw(t, "creep")
		h.Edges = rapid.SampledFrom([]hull.Edges{hull.Bevelled, hull.Square}).Draw(t, "edges")
		from := rapid.IntRange(1, 2).Draw(t, "from")
		before := p.Clone()
		heard, last := 0, 0
		ways, err := LineOff(t.Context(), p, 0, from, from+1, func(tried, prospect int) {
			heard++
			if tried < last || tried > prospect {
				t.Fatalf("%d of %d tried, after %d", tried, prospect, last)
			}
			last = tried
		})
		if err != nil {
			t.Fatal(err)
		}
		if heard == 0 || len(ways) == 0 || len(ways) > mostLinings {
			t.Fatalf("%d ways, and %d reports", len(ways), heard)
		}
		if !assert.ObjectsAreEqual(before, p) {
			t.Fatal("the plan given was changed")
		}
		for _, bands := range []int{from, from + 1} {
			even, err := FairLines(t.Context(), p, 0, bands)
			if err != nil {
				t.Fatal(err)
			}
			k, err := Plank(even)
			if err != nil {
				t.Fatal(err)
			}
			l := Lining{Layer: k.Layers[0]}
			l.read(l.Layer, even, 0)
			for i, f := range l.figures() {
				if !slices.ContainsFunc(ways, func(w Lining) bool { return w.figures()[i] <= f+unseen[i] }) {
					t.Fatalf("bands of equal girth have %g in figure %d, and all offered more", f, i)
				}
			}
		}
		for i := range ways {
			for j := range ways {
				if f := ways[j].figures(); i != j && f.covers(ways[i].figures(), liningFigures{}) {
					t.Fatalf("way %d beats %d", j, i)
				}
			}
			laidAsTold(t, &ways[i])
		}
	})
}

// laidAsTold opens a way from its file and lays it.
func laidAsTold(t *rapid.T, w *Lining) {
	var file bytes.Buffer
	if err := w.Plan.Write(&file); err != nil {
		t.Fatal(err)
	}
	p, err := hull.ReadPlan(&file, "")
	if err != nil {
		t.Fatal(err)
	}
	k, err := Plank(p)
	if err != nil {
		t.Fatal(err)
	}
	l := k.Layers[0]
	again, err := k.LiningAsPlanned(0)
	if err != nil || !slices.Equal(again.Counts, w.Counts) || again.Free != w.Free {
		t.Fatalf("%v, line %d free, reads as %v, line %d: %v", w.Counts, w.Free, again.Counts, again.Free, err)
	}
	if f, g := again.figures(), w.figures(); f[0] != g[0] || f[1] != g[1] {
		t.Fatalf("told %v, and read again it is %v", g, f)
	}
	if c := k.Cutting(); c.Laying != hull.Outward || len(p.Layers[0].Lines) > 0 && l.LaidFrom(c).Line != w.Free {
		t.Fatalf("the laying begins at %+v, and line %d is free", l.LaidFrom(c), w.Free)
	}
	// Whole strips: where they are counted no band is short by more than its creep, except
	// for a gap under any wedge. A line on a knuckle has all of the knuckle's turn on one
	// side.
	mid, knuckles, short := l.Greatest(), len(p.Hull.Frames[0].Knuckles) > 0, 0.0
	for b, band := range l.Bands {
		if band.Strakes != w.Counts[b] {
			t.Fatalf("band %d has %d strakes, and was told %d", b+1, band.Strakes, w.Counts[b])
		}
		filled, strip := band.Girths[mid], p.Layers[0].Stock.Width*(1+l.Rules.Creep)+p.Layers[0].Creep
		if p.Layers[0].Edges == hull.Bevelled {
			filled += max(band.turn, 0) * p.Layers[0].Stock.Thickness
		}
		by := filled - strip*float64(band.Strakes)
		if short += by; !knuckles && by > l.Rules.LeastWedge {
			t.Fatalf("band %d is of %g mm where its %d strakes are counted", b+1, filled, band.Strakes)
		}
	}
	most := l.Rules.LeastWedge
	if knuckles { // of a right angle, whose turn a line on it puts into one band or the other
		most += math.Pi / 2 * p.Layers[0].Stock.Thickness
	}
	if short > most {
		t.Fatalf("the strakes are %g mm short where they are counted", short)
	}
}

// TestWholeStripsStay: where one band takes the remainder, the others are a number of
// strips of full width where they are counted.
func TestWholeStripsStay(t *testing.T) {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Arc(83, 1) }), bodies.FiveByTwo, 1)
	s, err := newLiningSearch(t.Context(), p, 0, 3, 3)
	require.NoError(t, err)
	n := s.spaces[0].totals[0]
	require.Equal(t, 17, n, "83 mm and 2 of bevel in strips of 5 to 5.15 mm")
	for rest := 1; rest <= 3; rest++ {
		w := way{bands: 3, free: 1, rest: rest}
		w.counts[0], w.counts[1], w.counts[2] = 4, 6, 7
		q, ok := s.planOf(w)
		require.True(t, ok)
		l := plankOne(t, q)
		for b, band := range l.Bands {
			assert.Equal(t, int(w.counts[b]), band.Strakes)
			filled := band.Girths[2] + band.turn*2
			if b+1 != rest {
				assert.InDelta(t, 5*float64(band.Strakes), filled, 1e-3)
			}
		}
	}
}

// TestLiningOfGirthsAlone: with no known shape no line is free, and all are drawn.
func TestLiningOfGirthsAlone(t *testing.T) {
	ways, err := LineOff(t.Context(), measured(), 0, 3, 3, nil)
	require.NoError(t, err)
	for _, w := range ways {
		assert.Zero(t, w.Free)
		assert.Zero(t, w.Forced)
		for _, b := range w.Plan.Layers[0].Lines {
			assert.Equal(t, hull.Drawn, b.LineType)
		}
	}
	assert.Less(t, ways[0].Waste(), 1e5)
}

func TestLiningRefusals(t *testing.T) {
	p := smallHulls()["Wigley"]
	for _, c := range []struct {
		layer, from, to int
		want            string
	}{
		{1, 2, 3, "there is no layer 2"},
		{0, 0, 3, "the number of bands is 0: give it from 1 to 20"},
		{0, 2, 21, "the number of bands is 21: give it from 1 to 20"},
		{0, 3, 2, "the range from 3 bands to 2 is empty: give the lesser number first"},
	} {
		_, err := LineOff(t.Context(), p, c.layer, c.from, c.to, nil)
		assert.ErrorContains(t, err, c.want)
	}
	// More bands than strips: bands of equal girth are the only way.
	require.Equal(t, float64(mostBands), hull.LinedBands.High)
	ways, err := LineOff(t.Context(), p, 0, 18, 18, nil)
	require.NoError(t, err)
	require.Len(t, ways, 1)
	assert.True(t, ways[0].Even)
}

// TestBeginOutward: a plan already begun keeps its order of laying, and so does one
// whose builder chose an order.
func TestBeginOutward(t *testing.T) {
	p := smallHulls()["boxy"]
	p.Cutting = hull.Cutting{}
	beginOutward(p)
	assert.Equal(t, hull.Outward, p.Cutting.Laying)
	assert.Equal(t, hull.NewCutting().Kerf, p.Cutting.Kerf)
	p.Cutting.Laying = hull.Upward
	beginOutward(p)
	assert.Equal(t, hull.Upward, p.Cutting.Laying)
	p.Cutting = hull.NewCutting()
	p.Record.Port = []hull.Entry{{}}
	beginOutward(p)
	assert.Equal(t, hull.Meeting, p.Cutting.Laying)
}
