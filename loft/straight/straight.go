package straight

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Place is a place along a strip, and the width wanted there.
type Place struct {
	At     float64 // mm along the strip; rising from place to place
	Width  float64 // mm; more than the strip's counts as the strip's
	Corner bool    // a cut may begin and end here, as at the first and the last place
	Whole  bool    // the strip is to be left uncut here; only at corners
	Exact  bool    // the width must be exactly this, as at a point; only at corners
}

// Rule holds the limits for the cuts, all mm.
type Rule struct {
	Strip  float64 // the strip's width
	Within float64 // how far the cut edge may stray from the width wanted
	Step   float64 // of the widths at corners, at most twice Within; a whole strip's width and exact ones need not be a multiple
}

// Corner is where one straight cut ends and the next begins.
type Corner struct {
	Place int
	Width float64
}

// Cuts is a strip cut straight from corner to corner.
type Cuts struct {
	Corners  []Corner // from the first place to the last; at least two
	Count    int      // number of straight cuts; 0 for a strip left whole
	Strays   float64  // mm: the greatest straying of the edge from the width wanted, at any place
	StraysAt int      // that place
	Squares  float64  // mm²: the sum of the squares of the straying over the places
}

// slack allows for rounding, mm.
const slack = 1e-9

// fine is the accuracy to which the greatest straying is minimised, mm.
const fine = 1e-6

// Cut gives the fewest straight cuts that keep to the rule at every place; of equally
// few, those that stray least anywhere (to a millionth of a mm), and of these those
// with the least sum of squares. The cut strip is nowhere wider than the strip, and
// between two neighbouring corners that are whole it is whole.
//
// Where even a cut from each corner to the next strays farther, because the shape
// curves between them, the rule is relaxed in that bay only: to the straying of the
// chord of the widths wanted there plus half a step. So a solution always exists, and
// Strays shows the effect.
//
// The method is dynamic programming over corners and widths: of cuts from one corner to
// another only those within the cone of slopes that all places between leave open are
// examined. With n places and m widths at each (at most 2·Within/Step + 2) these are at
// most n²·m², each of constant cost, some twenty times over; a shape that is straight
// over r places takes n·r·m². The error says what is impossible.
func Cut(places []Place, rule Rule) (*Cuts, error) {
	if err := check(places, rule); err != nil {
		return nil, err
	}
	f := newField(places, rule)
	f.count()
	way := f.way(math.Inf(1))
	low, high := 0.0, f.strays(way)
	for high-low > fine {
		mid := (low + high) / 2
		if w := f.way(mid); w != nil {
			high = min(mid, f.strays(w))
		} else {
			low = mid
		}
	}
	return f.cuts(f.leastSquares(high)), nil
}

func check(places []Place, r Rule) error {
	switch n := len(places); {
	case n < 2:
		return tongue.Errorf("%d places do not make a strip: give at least two", n)
	case !(r.Strip > 0) || !(r.Within > 0) || !(r.Step > 0) || r.Step > 2*r.Within+slack:
		return tongue.Errorf("a strip of %g mm, cuts within %g mm and a step of %g mm do not go together: all are above 0, and the step is twice the second at the most", r.Strip, r.Within, r.Step)
	case !places[0].Corner || !places[n-1].Corner:
		return tongue.Errorf("a strip's first and last place are corners")
	}
	for i, p := range places {
		switch {
		case math.IsNaN(p.At) || math.IsInf(p.At, 0) || math.IsNaN(p.Width):
			return tongue.Errorf("place %d is at %g mm with %g mm wanted: give numbers", i, p.At, p.Width)
		case i > 0 && p.At <= places[i-1].At:
			return tongue.Errorf("place %d lies at %g mm, not after that before it at %g mm", i, p.At, places[i-1].At)
		}
	}
	return nil
}

// node is a width at a place, as an index into field.nodes.
type node struct {
	place      int
	width      float64
	from, left int // the fewest cuts from the first place, and on to the last
}

// never exceeds any possible number of cuts.
const never = math.MaxInt / 4

// field is a strip with all possible corners.
type field struct {
	places []Place
	want   []float64 // between 0 and the strip's width
	may    []float64 // how far the edge may stray
	strip  float64
	nodes  []node
	first  []int // for every place, its first node; one more at the end
	fewest int
	tight  []int        // the nodes through which the fewest cuts go, in order
	until  []int        // by number of cuts, the last place with a tight node that has it
	sums   [6][]float64 // up to each place, of 1, x, w, x², xw and w², x from the middle
	middle float64
}

func newField(places []Place, r Rule) *field {
	n := len(places)
	f := &field{places: places, strip: r.Strip, want: make([]float64, n), may: make([]float64, n)}
	for i, p := range places {
		f.want[i] = min(max(p.Width, 0), r.Strip)
		f.may[i] = r.Within
		if p.Whole {
			f.want[i] = r.Strip
		}
		if p.Corner && (p.Whole || p.Exact) {
			f.may[i] = 0
		}
	}
	last := 0
	for i := 1; i < n; i++ {
		if places[i].Corner {
			f.bay(last, i, r)
			last = i
		}
	}
	for i, p := range places {
		f.first = append(f.first, len(f.nodes))
		if p.Corner {
			f.widthsAt(i, r)
		}
	}
	f.first = append(f.first, len(f.nodes))
	f.sum()
	return f
}

// bay sets what lies between two neighbouring corners.
func (f *field) bay(a, b int, r Rule) {
	most := 0.0
	for i := a + 1; i < b; i++ {
		if f.places[a].Whole && f.places[b].Whole {
			f.want[i] = r.Strip
		}
		chord := f.want[a] + (f.want[b]-f.want[a])*f.share(a, b, i)
		most = max(most, math.Abs(chord-f.want[i]))
	}
	for i := a + 1; i < b; i++ {
		if most > 0 {
			f.may[i] = max(r.Within, most+r.Step/2)
		}
	}
}

// share is the fraction of the way from a to b at which place i lies.
func (f *field) share(a, b, i int) float64 {
	return (f.places[i].At - f.places[a].At) / (f.places[b].At - f.places[a].At)
}

// widthsAt adds the nodes of a corner, from the narrowest.
func (f *field) widthsAt(i int, r Rule) {
	add := func(w float64) { f.nodes = append(f.nodes, node{i, w, never, never}) }
	if f.may[i] == 0 {
		add(f.want[i])
		return
	}
	low, high := max(f.want[i]-f.may[i], 0), f.want[i]+f.may[i]
	for k := math.Ceil((low - slack) / r.Step); k*r.Step <= high+slack && k*r.Step < r.Strip-slack; k++ {
		add(k * r.Step)
	}
	if r.Strip <= high+slack {
		add(r.Strip)
	}
}

// sum fills in the sums from which a cut's squares are computed.
func (f *field) sum() {
	f.middle = (f.places[0].At + f.places[len(f.places)-1].At) / 2
	for k := range f.sums {
		f.sums[k] = make([]float64, len(f.places))
	}
	var s [6]float64
	for i, w := range f.want {
		x := f.places[i].At - f.middle
		for k, v := range []float64{1, x, w, x * x, x * w, w * w} {
			s[k] += v
			f.sums[k][i] = s[k]
		}
	}
}

// cost is the number of cuts in a straight run.
func (f *field) cost(a, b *node) int {
	if a.width == f.strip && b.width == f.strip {
		return 0
	}
	return 1
}

// reach calls a function with every node b to which a straight run from node a strays
// no farther than it may and than a given number of mm; forward to places up to a last
// one, or back to places down to it.
func (f *field) reach(a int, most float64, last int, found func(b int)) {
	from := &f.nodes[a]
	if from.place == last {
		return
	}
	step := 1
	if last < from.place {
		step = -1
	}
	low, high := math.Inf(-1), math.Inf(1) // slopes, away from a
	for j := from.place + step; ; j += step {
		x := math.Abs(f.places[j].At - f.places[from.place].At)
		may := min(f.may[j], most) + slack
		low, high = max(low, (f.want[j]-may-from.width)/x), min(high, (f.want[j]+may-from.width)/x)
		if low > high {
			return
		}
		for b := f.first[j]; b < f.first[j+1]; b++ {
			if s := (f.nodes[b].width - from.width) / x; s >= low && s <= high {
				found(b)
			}
		}
		if j == last {
			return
		}
	}
}

// count finds the fewest cuts to and from every node, and the nodes through which the
// fewest of all pass.
func (f *field) count() {
	end := len(f.places) - 1
	f.fewest = never
	f.fewest = f.spread(0, end, func(n *node) *int { return &n.from }, func(*node) int { return 0 })
	f.spread(end, 0, func(n *node) *int { return &n.left }, func(n *node) int { return n.from })
	f.until = make([]int, f.fewest+1)
	for i := range f.nodes {
		if n := &f.nodes[i]; n.from+n.left == f.fewest {
			f.tight = append(f.tight, i)
			f.until[n.from] = max(f.until[n.from], n.place)
		}
	}
}

// spread counts the cuts from the nodes of one end on, and gives the number needed to
// the other: all nodes of no cut, then of one, and so on, until it reaches one of the
// other end. It skips nodes from which more cuts than the fewest are still needed.
func (f *field) spread(from, to int, of func(*node) *int, still func(*node) int) int {
	var ring []int
	for i := f.first[from]; i < f.first[from+1]; i++ {
		*of(&f.nodes[i]) = 0
		ring = append(ring, i)
	}
	for cuts := 0; ; cuts++ {
		var next []int
		done := false
		for k := 0; k < len(ring); k++ { // it grows by whole runs
			a := &f.nodes[ring[k]]
			if *of(a) < cuts || still(a) > f.fewest-cuts {
				continue
			}
			done = done || a.place == to
			f.reach(ring[k], math.Inf(1), to, func(b int) {
				switch n := &f.nodes[b]; f.cost(a, n) {
				case 0:
					if *of(n) > cuts {
						*of(n) = cuts
						ring = append(ring, b)
					}
				default:
					if *of(n) > cuts+1 {
						*of(n) = cuts + 1
						next = append(next, b)
					}
				}
			})
		}
		if done {
			return cuts
		}
		ring = next
	}
}

// onward calls a function with every tight node reached from a tight node by a run that
// strays no farther than a given number of mm and belongs to the fewest cuts.
func (f *field) onward(a int, most float64, found func(b int)) {
	n := &f.nodes[a]
	last := f.until[n.from]
	if n.from < f.fewest {
		last = max(last, f.until[n.from+1])
	}
	if last <= n.place {
		return
	}
	f.reach(a, most, last, func(b int) {
		if m := &f.nodes[b]; m.from+m.left == f.fewest && m.from == n.from+f.cost(n, m) {
			found(b)
		}
	})
}

// begins reports whether a node is one of the first place from which a run can start,
// straying no farther.
func (f *field) begins(a int, most float64) bool {
	n := &f.nodes[a]
	return n.place == 0 && math.Abs(n.width-f.want[0]) <= min(f.may[0], most)+slack
}

// way is one choice of fewest cuts that stray no farther than a given number of mm, as
// nodes; nil if there is none.
func (f *field) way(most float64) []int {
	before := f.unreached()
	for _, a := range f.tight {
		if f.begins(a, most) {
			before[a] = a
		}
		if before[a] < 0 {
			continue
		}
		if f.nodes[a].place == len(f.places)-1 {
			return back(before, a)
		}
		f.onward(a, most, func(b int) {
			if before[b] < 0 {
				before[b] = a
			}
		})
	}
	return nil
}

// leastSquares is the choice of fewest cuts, straying no farther than a given number of
// mm, with the least sum of squares.
func (f *field) leastSquares(most float64) []int {
	before := f.unreached()
	sum := make([]float64, len(f.nodes))
	best := -1
	for _, a := range f.tight {
		if f.begins(a, most) {
			off := f.nodes[a].width - f.want[0]
			before[a], sum[a] = a, off*off
		}
		if before[a] < 0 {
			continue
		}
		if f.nodes[a].place == len(f.places)-1 && (best < 0 || sum[a] < sum[best]) {
			best = a
		}
		f.onward(a, most, func(b int) {
			if s := sum[a] + f.squares(a, b); before[b] < 0 || s < sum[b] {
				before[b], sum[b] = a, s
			}
		})
	}
	return back(before, best)
}

// unreached is an empty list of the predecessors of every node.
func (f *field) unreached() []int {
	return slices.Repeat([]int{-1}, len(f.nodes))
}

// back is the way to a node, from its first.
func back(before []int, a int) []int {
	out := []int{a}
	for before[a] != a {
		a = before[a]
		out = append(out, a)
	}
	slices.Reverse(out)
	return out
}

// squares sums the squares of the straying of a run from a to b at the places after a,
// up to b: Σ(w − c − s·x)² for the line c + s·x.
func (f *field) squares(a, b int) float64 {
	p, q := &f.nodes[a], &f.nodes[b]
	x := f.places[p.place].At - f.middle
	s := (q.width - p.width) / (f.places[q.place].At - f.places[p.place].At)
	c := p.width - s*x
	var d [6]float64
	for k := range d {
		d[k] = f.sums[k][q.place] - f.sums[k][p.place]
	}
	return max(d[5]-2*c*d[2]-2*s*d[4]+c*c*d[0]+2*c*s*d[1]+s*s*d[3], 0)
}

// strays is the greatest straying of a way.
func (f *field) strays(way []int) float64 { return f.cuts(way).Strays }

// cuts are the cuts of a way; corners between two whole runs are left out.
func (f *field) cuts(way []int) *Cuts {
	out := &Cuts{}
	for k, i := range way {
		n := &f.nodes[i]
		if k > 0 {
			out.Count += f.cost(&f.nodes[way[k-1]], n)
		}
		whole := func(k int) bool { return f.nodes[way[k]].width == f.strip }
		if k > 0 && k < len(way)-1 && whole(k-1) && whole(k) && whole(k+1) {
			continue
		}
		out.Corners = append(out.Corners, Corner{n.place, n.width})
	}
	for i, p := range f.places {
		off := out.Width(f.places, p.At) - f.want[i]
		out.Squares += off * off
		if math.Abs(off) > out.Strays {
			out.Strays, out.StraysAt = math.Abs(off), i
		}
	}
	return out
}

// Width is the width of the cut strip at the given distance along it, mm, in terms of
// the places it was cut to; beyond its ends it is the width at the end.
func (c *Cuts) Width(places []Place, at float64) float64 {
	x := func(k int) float64 { return places[c.Corners[k].Place].At }
	last := len(c.Corners) - 1
	if at <= x(0) {
		return c.Corners[0].Width
	}
	for k := 1; k <= last; k++ {
		if at <= x(k) {
			return c.Corners[k-1].Width + (c.Corners[k].Width-c.Corners[k-1].Width)*(at-x(k-1))/(x(k)-x(k-1))
		}
	}
	return c.Corners[last].Width
}
