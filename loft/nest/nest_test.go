package nest

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/loft/internal/checks"
)

// rectangle is a piece of that length and width.
func rectangle(length, width float64) Piece {
	return Piece{Upper: []Point{{0, width}, {length, width}}, Lower: []Point{{0, 0}, {length, 0}}, TurnOver: true}
}

// banana is a curved piece that tapers: n+1 points on each edge, with the given sweep
// and widths at its beginning and end.
func banana(length, sweep, from, to float64, n int) Piece {
	var p Piece
	for i := range n + 1 {
		t := float64(i) / float64(n)
		y, w := 4*sweep*t*(1-t), from+(to-from)*t
		slope := 4 * sweep * (1 - 2*t) / length
		nx, ny := -slope/math.Hypot(1, slope), 1/math.Hypot(1, slope)
		p.Upper = append(p.Upper, Point{length*t + nx*w/2, y + ny*w/2})
		p.Lower = append(p.Lower, Point{length*t - nx*w/2, y - ny*w/2})
	}
	p.TurnOver = true
	return p
}

// outlineOn is a piece's outline on its sheet.
func outlineOn(p Placed, pieces []Piece) []Point {
	var out []Point
	for _, q := range pieces[p.Piece].Outline() {
		out = append(out, p.Point(q))
	}
	return out
}

// distance is the distance between two polygons: 0 if they overlap. It is computed from
// their sides alone, independently of the profiles.
func distance(a, b []Point) float64 {
	if inside(a[0], b) || inside(b[0], a) {
		return 0
	}
	least := math.Inf(1)
	for i, p := range a {
		q := a[(i+1)%len(a)]
		for k, r := range b {
			s := b[(k+1)%len(b)]
			if max(min(p.X, q.X)-max(r.X, s.X), min(r.X, s.X)-max(p.X, q.X), min(p.Y, q.Y)-max(r.Y, s.Y), min(r.Y, s.Y)-max(p.Y, q.Y)) > least {
				continue // their boxes lie farther apart
			}
			if crosses(p, q, r, s) {
				return 0
			}
			least = min(least, toSide(p, r, s), toSide(q, r, s), toSide(r, p, q), toSide(s, p, q))
		}
	}
	return least
}

func crosses(p, q, r, s Point) bool {
	turn := func(a, b, c Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	return turn(p, q, r)*turn(p, q, s) < 0 && turn(r, s, p)*turn(r, s, q) < 0
}

func toSide(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		t = min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/d, 0), 1)
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

func inside(p Point, o []Point) bool {
	in := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// overlaps reports whether two polygons overlap by more than depth. No shrunken polygon
// is at hand, so the sides of both are checked for crossings and the corners of each
// for lying that deep in the other.
func overlaps(a, b []Point, depth float64) bool {
	deep := func(p Point, o []Point) bool {
		if !inside(p, o) {
			return false
		}
		for i, q := range o {
			if toSide(p, q, o[(i+1)%len(o)]) <= depth {
				return false
			}
		}
		return true
	}
	for i, p := range a {
		q := a[(i+1)%len(a)]
		for _, t := range []float64{0, 0.25, 0.5, 0.75} {
			if deep(Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}, b) {
				return true
			}
		}
	}
	for i, p := range b {
		q := b[(i+1)%len(b)]
		for _, t := range []float64{0, 0.25, 0.5, 0.75} {
			if deep(Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}, a) {
				return true
			}
		}
	}
	return false
}

// keeps checks a laying against its rules.
func keeps(t require.TestingT, n *Nest, pieces []Piece, box, shop []Sheet, r Rules) {
	const tolerance = 3 * tolerance
	seen := make([]int, len(pieces))
	for _, p := range n.Left {
		seen[p]++
	}
	used, bought := make([]int, len(box)), make([]int, len(shop))
	cost, area, waste := 0.0, 0.0, 0.0
	for _, s := range n.Sheets {
		own := shop
		if s.Box {
			own = box
			used[s.Of]++
		} else {
			bought[s.Of]++
			if n.ByArea {
				cost += s.Length * s.Width
			} else {
				cost += own[s.Of].Price
			}
		}
		require.Equal(t, []float64{own[s.Of].Length, own[s.Of].Width}, []float64{s.Length, s.Width})
		require.NotEmpty(t, s.Pieces)
		free := s.Length * s.Width
		var outlines [][]Point
		for _, p := range s.Pieces {
			seen[p.Piece]++
			free -= pieces[p.Piece].Area()
			require.LessOrEqual(t, math.Abs(float64(p.Tilt)), float64(r.Tilt))
			require.True(t, !p.Mirrored || pieces[p.Piece].TurnOver)
			o := outlineOn(p, pieces)
			for _, q := range o {
				require.GreaterOrEqual(t, q.X, r.Margin-tolerance)
				require.GreaterOrEqual(t, q.Y, r.Margin-tolerance)
				require.LessOrEqual(t, q.X, s.Length-r.Margin+tolerance)
				require.LessOrEqual(t, q.Y, s.Width-r.Margin+tolerance)
			}
			for _, other := range outlines {
				if r.Clear > 0 {
					require.GreaterOrEqual(t, distance(o, other), r.Clear-tolerance)
				} else {
					require.False(t, overlaps(o, other, tolerance))
				}
			}
			outlines = append(outlines, o)
		}
		require.InDelta(t, free, s.Waste, 1e-6)
		area, waste = area+s.Length*s.Width, waste+s.Waste
	}
	for i, n := range seen {
		require.Equal(t, 1, n, "piece %d is laid or left, and once", i)
	}
	for i, s := range box {
		require.True(t, s.Count < 0 || used[i] <= s.Count)
	}
	for i, s := range shop {
		require.True(t, s.Count < 0 || bought[i] <= s.Count)
	}
	require.Equal(t, used, n.Used)
	require.Equal(t, bought, n.Bought)
	require.InDelta(t, cost, n.Cost, 1e-6)
	require.InDelta(t, area, n.Area, 1e-6)
	require.InDelta(t, waste, n.Waste, 1e-6)
	require.LessOrEqual(t, n.Bound, n.Cost)
}

// Whatever the pieces, sheets and rules, no two pieces come closer than the clearance,
// all lie within their sheets, and nothing is lost.
func TestAnyLaying(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var pieces []Piece
		for range rapid.IntRange(1, 12).Draw(t, "shapes") {
			p := banana(rapid.Float64Range(5, 400).Draw(t, "length"), rapid.Float64Range(-40, 40).Draw(t, "sweep"),
				rapid.Float64Range(1, 12).Draw(t, "from"), rapid.Float64Range(1, 12).Draw(t, "to"), rapid.IntRange(1, 24).Draw(t, "points"))
			p.TurnOver = rapid.Bool().Draw(t, "turn over")
			for range rapid.IntRange(1, 2).Draw(t, "copies") {
				pieces = append(pieces, p)
			}
		}
		sheets := func(name string, endless bool) []Sheet {
			var out []Sheet
			for range rapid.IntRange(0, 2).Draw(t, name) {
				s := Sheet{Length: rapid.Float64Range(50, 500).Draw(t, "sheet length"), Width: rapid.Float64Range(10, 120).Draw(t, "sheet width"),
					Price: rapid.Float64Range(0, 5).Draw(t, "price"), Count: rapid.IntRange(0, 3).Draw(t, "count")}
				if endless && rapid.Bool().Draw(t, "endless") {
					s.Count = -1
				}
				out = append(out, s)
			}
			return out
		}
		box, shop := sheets("box", false), sheets("shop", true)
		r := Rules{Clear: rapid.SampledFrom([]float64{0, 0.5, 1, 2.3}).Draw(t, "clear"), Margin: rapid.SampledFrom([]float64{0, 1.7}).Draw(t, "margin"),
			Tilt: rapid.SampledFrom([]Angle{0, 0.03}).Draw(t, "tilt")}
		n, err := lay(context.Background(), pieces, box, shop, r, 3e6)
		require.NoError(t, err)
		keeps(t, n, pieces, box, shop, r)
	})
}

// Rectangles cut from one sheet fit on one sheet again.
func TestRectanglesThatTileASheet(t *testing.T) {
	shop := []Sheet{{Length: 300, Width: 60, Price: 2, Count: -1}}
	for _, pieces := range [][]Piece{
		{rectangle(300, 10), rectangle(300, 20), rectangle(300, 30)},
		{rectangle(100, 60), rectangle(100, 60), rectangle(100, 60)},
		{rectangle(200, 40), rectangle(100, 40), rectangle(150, 20), rectangle(150, 20)},
		{rectangle(300, 20), rectangle(120, 40), rectangle(180, 25), rectangle(180, 15)},
	} {
		n, err := Lay(context.Background(), pieces, nil, shop, Rules{})
		require.NoError(t, err)
		keeps(t, n, pieces, nil, shop, Rules{})
		assert.Len(t, n.Sheets, 1)
		assert.True(t, n.Optimal())
		assert.InDelta(t, 0, n.Waste, 1e-6)
	}
	kerfed := []Piece{rectangle(149.5, 19.5), rectangle(150, 19.5), rectangle(300, 19.5), rectangle(300, 20)}
	n, err := Lay(context.Background(), kerfed, nil, shop, Rules{Clear: 0.5})
	require.NoError(t, err)
	assert.Len(t, n.Sheets, 1, "the kerfs and nothing else are lost")
	keeps(t, n, kerfed, nil, shop, Rules{Clear: 0.5})
}

// Curved pieces nest in one another: ten with a sweep of 30 mm and a width of 6 take 30
// mm, and 6.5 each, a twentieth more where they are steepest: 98 mm in all, without a
// grid. Their bounding boxes would take ten times 36.
func TestCurvedPiecesNest(t *testing.T) {
	var pieces []Piece
	for range 10 {
		pieces = append(pieces, banana(390, 30, 6, 6, 48))
	}
	shop := []Sheet{{Length: 400, Width: 103, Count: -1}}
	n, err := Lay(context.Background(), pieces, nil, shop, Rules{Clear: 0.5, Margin: 1})
	require.NoError(t, err)
	keeps(t, n, pieces, nil, shop, Rules{Clear: 0.5, Margin: 1})
	assert.Len(t, n.Sheets, 1)
	assert.True(t, n.ByArea)
}

// A tapered piece lies beside its like the other way round; where both its edges taper,
// that needs a tilt, which is then used.
func TestTaperedPiecesAreTurned(t *testing.T) {
	onesided := Piece{Upper: []Point{{0, 10}, {200, 2}}, Lower: []Point{{0, 0}, {200, 0}}}
	bothsided := Piece{Upper: []Point{{0, 5}, {200, 1}}, Lower: []Point{{0, -5}, {200, -1}}}
	shop := []Sheet{{Length: 202, Width: 13.5, Price: 1, Count: -1}}
	for _, c := range []struct {
		p      Piece
		tilt   Angle
		sheets int
	}{{onesided, 0, 1}, {bothsided, 0, 2}, {bothsided, 0.02, 1}} {
		pieces := []Piece{c.p, c.p}
		n, err := Lay(context.Background(), pieces, nil, shop, Rules{Tilt: c.tilt})
		require.NoError(t, err)
		keeps(t, n, pieces, nil, shop, Rules{Tilt: c.tilt})
		require.Len(t, n.Sheets, c.sheets)
		if c.sheets == 1 {
			assert.NotEqual(t, n.Sheets[0].Pieces[0].Turned, n.Sheets[0].Pieces[1].Turned)
		}
	}
}

// A piece that must be seen from its face is never turned over.
func TestPiecesAreTurnedOverOnlyWhereTheyMay(t *testing.T) {
	var pieces []Piece
	for i := range 6 {
		p := banana(150, 20, 9, 3, 12)
		p.TurnOver = i%2 == 0
		pieces = append(pieces, p)
	}
	shop := []Sheet{{Length: 200, Width: 60, Price: 1, Count: -1}}
	n, err := Lay(context.Background(), pieces, nil, shop, Rules{Clear: 0.5})
	require.NoError(t, err)
	keeps(t, n, pieces, nil, shop, Rules{Clear: 0.5})
}

// The box is used first, and what it does not hold is bought for the least money.
func TestBoxThenTheCheapest(t *testing.T) {
	pieces := []Piece{rectangle(90, 10), rectangle(90, 10), rectangle(90, 10), rectangle(90, 10), rectangle(90, 10)}
	box := []Sheet{{Length: 100, Width: 20, Count: 1}}
	shop := []Sheet{{Length: 100, Width: 40, Price: 5, Count: -1}, {Length: 100, Width: 10, Price: 1, Count: 2}, {Length: 100, Width: 20, Price: 2.5, Count: -1}}
	n, err := Lay(context.Background(), pieces, box, shop, Rules{})
	require.NoError(t, err)
	keeps(t, n, pieces, box, shop, Rules{})
	assert.Equal(t, []int{1}, n.Used)
	assert.InDelta(t, 4.5, n.Cost, 1e-9, "two at 1, and the third from a sheet at 2.5: %v", n.Bought)
	assert.Empty(t, n.Left)

	n, err = Lay(context.Background(), pieces, box, shop[1:2], Rules{})
	require.NoError(t, err)
	keeps(t, n, pieces, box, shop[1:2], Rules{})
	assert.Len(t, n.Left, 1)
	assert.Zero(t, n.Bound)
	assert.False(t, n.Optimal())
}

func TestPiecesThatFitNoSheetAreLeft(t *testing.T) {
	pieces := []Piece{rectangle(300, 10), rectangle(90, 10), rectangle(90, 50)}
	shop := []Sheet{{Length: 100, Width: 40, Price: 5, Count: -1}}
	n, err := Lay(context.Background(), pieces, nil, shop, Rules{})
	require.NoError(t, err)
	assert.Equal(t, []int{0, 2}, n.Left)
	keeps(t, n, pieces, nil, shop, Rules{})

	n, err = Lay(context.Background(), pieces, nil, nil, Rules{})
	require.NoError(t, err)
	assert.Len(t, n.Left, 3)
	n, err = Lay(context.Background(), pieces, nil, shop, Rules{Margin: 20})
	require.NoError(t, err)
	assert.Len(t, n.Left, 3, "the margins leave nothing")
}

// A piece slightly too long along the grain is laid aslant, and one that fits keeps to
// the grain.
func TestTiltOnlyWhereItPays(t *testing.T) {
	shop := []Sheet{{Length: 100, Width: 40, Price: 5, Count: -1}}
	bent := banana(120, 0, 3, 3, 1)
	for _, edge := range [][]Point{bent.Upper, bent.Lower} { // a piece whose own x lies aslant
		for i, q := range edge {
			edge[i] = turned(q, false, false, 0.2)
		}
	}
	pieces := []Piece{rectangle(95, 10), rectangle(60, 5), bent}
	n, err := Lay(context.Background(), pieces, nil, []Sheet{{Length: 119, Width: 40, Price: 5, Count: -1}}, Rules{Tilt: 0.1})
	require.NoError(t, err)
	assert.Empty(t, n.Left)
	for _, s := range n.Sheets {
		for _, p := range s.Pieces {
			if p.Piece != 2 {
				assert.Zero(t, p.Tilt)
			}
		}
	}
	n, err = Lay(context.Background(), pieces[:2], nil, shop, Rules{Tilt: 0.1})
	require.NoError(t, err)
	for _, p := range n.Sheets[0].Pieces {
		assert.Zero(t, p.Tilt)
	}
}

// exhaustive is the least number of sheets that unturned rectangles take if each order
// of them is laid in turn at the lowest, leftmost corner made by others, in whole
// numbers: independent of the profiles.
func exhaustive(sizes [][2]int, length, width int) int {
	best := len(sizes) + 1
	order := make([]int, len(sizes))
	for i := range order {
		order[i] = i
	}
	permutations(order, 0, func(o []int) bool {
		type box struct{ x, y, l, w int }
		var sheets [][]box
		for _, i := range o {
			l, w := sizes[i][0], sizes[i][1]
			placed := false
			for s := 0; s <= len(sheets) && !placed; s++ {
				if s == len(sheets) {
					sheets = append(sheets, nil)
				}
				for y := 0; y+w <= width && !placed; y++ {
					for x := 0; x+l <= length && !placed; x++ {
						if !slices.ContainsFunc(sheets[s], func(b box) bool { return x < b.x+b.l && b.x < x+l && y < b.y+b.w && b.y < y+w }) {
							sheets[s] = append(sheets[s], box{x, y, l, w})
							placed = true
						}
					}
				}
			}
		}
		best = min(best, len(sheets))
		return true
	})
	return best
}

func TestAgainstAllOrders(t *testing.T) {
	t.Parallel()
	better := 0
	rapid.Check(t, func(t *rapid.T) {
		var sizes [][2]int
		var pieces []Piece
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			s := [2]int{rapid.IntRange(2, 10).Draw(t, "length"), rapid.IntRange(1, 5).Draw(t, "width")}
			sizes = append(sizes, s)
			pieces = append(pieces, rectangle(float64(s[0]), float64(s[1])))
		}
		shop := []Sheet{{Length: 10, Width: 6, Price: 1, Count: -1}}
		n, err := Lay(context.Background(), pieces, nil, shop, Rules{})
		require.NoError(t, err)
		keeps(t, n, pieces, nil, shop, Rules{})
		least := exhaustive(sizes, 10, 6)
		require.LessOrEqual(t, len(n.Sheets), least)
		if len(n.Sheets) < least {
			better++
		}
		require.LessOrEqual(t, n.Bound, float64(least))
	})
	assert.Zero(t, better, "no laying takes fewer sheets than the best order")
}

// The bound is the least cost of whole sheets of enough area: checked here by trying
// all.
func TestBoundIsOfWholeSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(1, 60).Draw(t, "area")
		shop := []Sheet{
			{Length: 10, Width: 1, Price: float64(rapid.IntRange(1, 9).Draw(t, "small")), Count: rapid.IntRange(-1, 4).Draw(t, "of these")},
			{Length: 10, Width: 3, Price: float64(rapid.IntRange(1, 30).Draw(t, "large")), Count: -1},
		}
		j := newJob([]Piece{rectangle(float64(a), 1)}, nil, shop, Rules{})
		least := math.Inf(1)
		for n := range 8 {
			for m := range 4 {
				if (shop[0].Count < 0 || n <= shop[0].Count) && 10*n+30*m >= a {
					least = min(least, float64(n)*shop[0].Price+float64(m)*shop[1].Price)
				}
			}
		}
		require.InDelta(t, least, j.bound(), 1e-9)
	})
}

func TestLayRefuses(t *testing.T) {
	good, sheet := rectangle(10, 1), Sheet{Length: 10, Width: 10, Count: -1}
	for _, c := range []struct {
		pieces    []Piece
		box, shop []Sheet
		rules     Rules
		want      string
	}{
		{[]Piece{{Upper: []Point{{0, 0}}, Lower: []Point{{0, 0}, {1, 0}}}}, nil, nil, Rules{}, "piece 1: an edge of 1 points"},
		{[]Piece{good, {Upper: []Point{{0, 0}, {1, 0}}, Lower: []Point{{0, 0}, {1, 0}}}}, nil, nil, Rules{}, "piece 2: it has no area"},
		{[]Piece{{Upper: []Point{{0, math.NaN()}, {1, 0}}, Lower: []Point{{0, 0}, {1, 0}}}}, nil, nil, Rules{}, "is off any sheet"},
		{[]Piece{good}, []Sheet{{Length: 0, Width: 1}}, nil, Rules{}, "sheet 1 of the box is 0 × 1 mm"},
		{[]Piece{good}, nil, []Sheet{sheet, {Length: 1, Width: math.Inf(1)}}, Rules{}, "sheet 2 of the shop"},
		{[]Piece{good}, nil, []Sheet{{Length: 10, Width: 10, Price: -1}}, Rules{}, "costs -1"},
		{[]Piece{good}, nil, nil, Rules{Clear: -1}, "a clearance of -1 mm"},
		{[]Piece{good}, nil, nil, Rules{Margin: math.NaN()}, "a margin of NaN mm"},
		{[]Piece{good}, nil, nil, Rules{Tilt: 2}, "a tilt of 2 rad"},
		{make([]Piece, MostPieces+1), nil, nil, Rules{}, "there are 2001 pieces"},
	} {
		_, err := Lay(context.Background(), c.pieces, c.box, c.shop, c.rules)
		assert.ErrorContains(t, err, c.want)
	}
}

// severalStrakes are pieces like a hull's spiled strakes.
func severalStrakes(n int) []Piece {
	var out []Piece
	for i := range n {
		f := float64(i % 7)
		p := banana(300+60*f, 6*f-15, 4+f, 9-f, 96)
		out = append(out, p, p)
	}
	return out
}

// The same pieces are laid in the same way.
func TestLayingIsRepeatable(t *testing.T) {
	shop := []Sheet{{Length: 900, Width: 80, Price: 4, Count: -1}}
	a, err := lay(context.Background(), severalStrakes(9), nil, shop, Rules{Clear: 0.5, Margin: 2, Tilt: 0.02}, 2e7)
	require.NoError(t, err)
	b, err := lay(context.Background(), severalStrakes(9), nil, shop, Rules{Clear: 0.5, Margin: 2, Tilt: 0.02}, 2e7)
	require.NoError(t, err)
	assert.Equal(t, a, b)
	keeps(t, a, severalStrakes(9), nil, shop, Rules{Clear: 0.5, Margin: 2, Tilt: 0.02})
}

// Wherever it is stopped, the laying ends within a few looks at the context.
func TestLayingIsStopped(t *testing.T) {
	shop := []Sheet{{Length: 900, Width: 60, Price: 4, Count: -1}}
	run := func(last int) (*checks.Looked, error) {
		ctx := checks.LookedAt(last)
		_, err := lay(ctx, severalStrakes(8), nil, shop, Rules{Clear: 0.5, Margin: 2}, 2e7)
		return ctx, err
	}
	whole, err := run(checks.Unending)
	require.NoError(t, err)
	for _, last := range checks.Places(whole.Looks) {
		ctx, err := run(last)
		if last < whole.Looks {
			require.ErrorIs(t, err, context.Canceled)
			assert.ErrorContains(t, err, "stopped")
		}
		assert.LessOrEqual(t, ctx.Late(), 40, "looks after the stop at %d of %d", last, whole.Looks)
	}
}

// BenchmarkLay lays 18 strakes of both sides on sheets of one size.
func BenchmarkLay(b *testing.B) {
	for b.Loop() {
		_, err := Lay(context.Background(), severalStrakes(18), nil, []Sheet{{Length: 900, Width: 80, Price: 4, Count: -1}}, Rules{Clear: 0.5, Margin: 2})
		require.NoError(b, err)
	}
}
