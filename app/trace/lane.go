package trace

import (
	"context"
	"math"
)

// A line is followed as the cheapest path over places with a direction, so that
// the path goes straight on where lines cross: a step costs more the less the
// picture looks like the line in the step's own direction, and a turn costs by
// its angle. (Geodesics in the space of places and directions, after Bekkers,
// Duits, Mashtakov and Sanguinetti, 2015, from memory; here on a lattice of 32
// directions by the A* of Hart, Nilsson and Raphael, 1968.)
const (
	lanes        = 32   // directions, 11.25° apart
	offLine      = 60.0 // how many times as much a step costs that shows nothing of the line
	mostTurn     = 4    // most directions turned in a step
	awayFromAim  = 1.5  // cost, per cell, of ending away from where the pointer is
	mostCost     = 3.0  // per cell of the distance, beyond which no line leads there: a clear one costs 1.1 to 1.4
	mostCostMore = 250.0
	mostLooks    = 600_000 // states examined before a line is given up
	looksToStop  = 512     // states between two checks of the context
	leastAhead   = 0.7     // cosine of the largest angle at which a path still continues as before
	laneTile     = 16      // cells a side
)

// turnCost is the cost of a turn by so many directions, in cells. Turning one at
// a time is almost free: curves turn like that.
var turnCost = [mostTurn + 1]float32{0, 0.15, 4, 10, 18}

// laneStep is the step of each direction, in cells.
var laneStep = func() (out [lanes][2]int) {
	first := [][2]int{{4, 0}, {5, 1}, {5, 2}, {3, 2}, {3, 3}, {2, 3}, {2, 5}, {1, 5}}
	for k := range out {
		v := first[k%len(first)]
		for range k / len(first) {
			v = [2]int{-v[1], v[0]}
		}
		out[k] = v
	}
	return out
}()

// laneMiles is the length of each step, in cells.
var laneMiles = func() (out [lanes]float32) {
	for k, v := range laneStep {
		out[k] = float32(math.Hypot(float64(v[0]), float64(v[1])))
	}
	return out
}()

// laneSearch finds paths along lines of one stroke over a plane. It works out
// what the picture looks like only once, and only where needed.
type laneSearch struct {
	*plane
	stroke
	beside float64 // cells
	tiles  []*laneCells
	across int // tiles in a row
	round  int // number of the current search
	queue  laneQueue
}

// laneCells is a tile of states: places with the direction from which they were
// reached.
type laneCells struct {
	like  [laneTile * laneTile * lanes]uint8 // 1 to 255, how much the step from here looks like the line; 0 if not yet known
	cost  [laneTile * laneTile * lanes]float32
	from  [laneTile * laneTile * lanes]uint8 // the previous direction
	round int
}

// newLaneSearch takes the line at a place as the one to follow, with its
// brightness on the plane.
func newLaneSearch(s *plane, like lineAt) *laneSearch {
	w, h := (s.w+laneTile-1)/laneTile, (s.h+laneTile-1)/laneTile
	l := &laneSearch{plane: s, stroke: like.stroke, beside: max(like.beside()/s.scale, 1.5), tiles: make([]*laneCells, w*h), across: w}
	mid, left, right := 0.0, 0.0, 0.0
	const to = 4
	for i := -to; i <= to; i++ {
		q := s.cell(like.at).plus(like.normal.turned().times(float64(i)))
		a, b := q.plus(like.normal.times(l.beside)), q.minus(like.normal.times(l.beside))
		mid, left, right = mid+s.at(q.X, q.Y)/(2*to+1), left+s.at(a.X, a.Y)/(2*to+1), right+s.at(b.X, b.Y)/(2*to+1)
	}
	l.ink, l.paper = mid, (left+right)/2
	if l.isEdge() {
		l.ink, l.paper = min(left, right), max(left, right)
	}
	return l
}

// cells gives the tile of a cell and its index there, in direction 0.
func (l *laneSearch) cells(x, y int) (*laneCells, int) {
	t := &l.tiles[y/laneTile*l.across+x/laneTile]
	if *t == nil {
		*t = &laneCells{}
	}
	if c := *t; c.round != l.round {
		c.round = l.round
		clear(c.cost[:])
	}
	return *t, (y%laneTile*laneTile + x%laneTile) * lanes
}

// likeness is how much the step from a cell in a direction looks like the line,
// 0 to 1.
func (l *laneSearch) likeness(c *laneCells, i, x, y, k int) float32 {
	if v := c.like[i+k]; v != 0 {
		return float32(v-1) / 254
	}
	v := laneStep[k]
	const n = 3
	dx, dy := float64(v[0])/float64(laneMiles[k]), float64(v[1])/float64(laneMiles[k])
	b := l.beside
	sum := 0.0
	for j := range n {
		t := (float64(j) + 0.5) / float64(n)
		px, py := float64(x)+t*float64(v[0]), float64(y)+t*float64(v[1])
		left, right := l.at(px-b*dy, py+b*dx), l.at(px+b*dy, py-b*dx)
		if l.isEdge() {
			sum += min(math.Abs(left-right)/l.contrast(), 1)
			continue
		}
		ink := l.inked(l.at(px, py))
		sum += min(max(ink-l.inked(left), 0), 1)/2 + min(max(ink-l.inked(right), 0), 1)/2
	}
	like := float32(sum / float64(n))
	c.like[i+k] = 1 + uint8(like*254)
	return like
}

func abs(v int) int { return max(v, -v) }

// way gives the cheapest path from one point of the picture to near another, by
// points about four cells apart. Unless ahead is zero it begins within 45° of
// it. It is false where there is none within the limits, or the context ends.
func (l *laneSearch) way(ctx context.Context, from, to, ahead Point, reach float64) ([]Point, bool) {
	a, b := l.cell(from), l.cell(to)
	x, y := int(math.Round(a.X)), int(math.Round(a.Y))
	if !l.holds(x, y) {
		return nil, false
	}
	reach = max(reach/l.scale, 4)
	l.round++
	l.queue = l.queue[:0]
	const begun = 0xff
	c, i := l.cells(x, y)
	for k, v := range laneStep {
		if ahead != (Point{}) && ahead.dot(Point{float64(v[0]), float64(v[1])}) < leastAhead*ahead.length()*float64(laneMiles[k]) {
			continue
		}
		c.cost[i+k], c.from[i+k] = 1, begun
		l.queue.push(laneState{x: int32(x), y: int32(y), k: int8(k), cost: 1, whole: 1 + float32(b.distance(a))})
	}
	dearest := float32(mostCost*b.distance(a) + mostCostMore)
	best, bestCost := laneState{k: -1}, float32(math.Inf(1))
	for looks := 0; len(l.queue) > 0; looks++ {
		s := l.queue.pop()
		if s.whole >= min(bestCost, dearest) {
			break
		}
		if looks >= mostLooks || looks%looksToStop == 0 && ctx.Err() != nil {
			return nil, false
		}
		c, i := l.cells(int(s.x), int(s.y))
		if s.cost > c.cost[i+int(s.k)] {
			continue // it has been reached more cheaply since
		}
		if d := math.Hypot(float64(s.x)-b.X, float64(s.y)-b.Y); d <= reach {
			if whole := s.cost + float32(awayFromAim*d); whole < bestCost {
				best, bestCost = s, whole
			}
		}
		l.stepOn(s, c, i, c.from[i+int(s.k)] == begun, b)
	}

	if best.k < 0 {
		return nil, false
	}
	return l.back(best, begun), true
}

// stepOn takes all steps from a state.
func (l *laneSearch) stepOn(s laneState, c *laneCells, i int, first bool, aim Point) {
	for turn := -mostTurn; turn <= mostTurn; turn++ {
		if first && turn != 0 {
			continue // any direction will do to begin with
		}
		k := (int(s.k) + turn + lanes) % lanes
		x, y := int(s.x)+laneStep[k][0], int(s.y)+laneStep[k][1]
		if !l.holds(x, y) {
			continue
		}
		unlike := 1 - l.likeness(c, i, int(s.x), int(s.y), k)
		cost := s.cost + laneMiles[k]*(1+offLine*unlike*unlike*unlike*unlike) + turnCost[abs(turn)]
		d, j := l.cells(x, y)
		if was := d.cost[j+k]; was != 0 && was <= cost {
			continue
		}
		d.cost[j+k], d.from[j+k] = cost, uint8(s.k)
		l.queue.push(laneState{int32(x), int32(y), int8(k), cost, cost + float32(math.Hypot(float64(x)-aim.X, float64(y)-aim.Y))})
	}
}

// back gives the path that led to a state, from its beginning.
func (l *laneSearch) back(s laneState, begun uint8) []Point {
	x, y, k := int(s.x), int(s.y), int(s.k)
	out := []Point{l.place(x, y)}
	for {
		c, i := l.cells(x, y)
		from := c.from[i+k]
		if from == begun {
			break
		}
		x, y, k = x-laneStep[k][0], y-laneStep[k][1], int(from)
		out = append(out, l.place(x, y))
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// laneState is a place reached in a direction, with the cost so far and the
// least cost of the whole path.
type laneState struct {
	x, y        int32
	k           int8
	cost, whole float32
}

// laneQueue yields the state of least total cost first: a binary heap.
type laneQueue []laneState

func (q *laneQueue) push(s laneState) {
	*q = append(*q, s)
	h := *q
	i := len(h) - 1
	for i > 0 && h[(i-1)/2].whole > s.whole {
		h[i] = h[(i-1)/2]
		i = (i - 1) / 2
	}
	h[i] = s
}

func (q *laneQueue) pop() laneState {
	h := *q
	top, last := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	i := 0
	for {
		c := 2*i + 1
		if c >= len(h) {
			break
		}
		if c+1 < len(h) && h[c+1].whole < h[c].whole {
			c++
		}
		if h[c].whole >= last.whole {
			break
		}
		h[i] = h[c]
		i = c
	}
	if len(h) > 0 {
		h[i] = last
	}
	return top
}
