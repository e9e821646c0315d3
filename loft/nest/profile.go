package nest

import (
	"math"
	"slices"
)

// cell is the greatest width, mm, of a cell of the grid along a sheet.
const cell = 0.5

// mostCells is the greatest number of cells on a sheet; on longer sheets they are
// wider.
const mostCells = 3000

// kind is sheets of one size as the search sees them.
type kind struct {
	cells  int     // along the sheet, margins left out
	cell   float64 // mm
	high   float64 // mm across the sheet, margins left out
	length float64
	area   float64 // mm² between the margins
	price  float64
	count  int // unlimited: -1
	box    bool
	of     int
}

func newKind(s Sheet, margin float64, box bool, of int) kind {
	length := s.Length - 2*margin
	k := kind{high: s.Width - 2*margin, length: length, count: s.Count, box: box, of: of}
	if length <= 0 || k.high <= 0 {
		k.high, k.length = 0, 0
		return k
	}
	k.cells = min(max(int(math.Ceil(length/cell)), 1), mostCells)
	k.cell = length / float64(k.cells)
	k.area = length * k.high
	return k
}

// profile is a piece as it may be laid on a kind of sheet: turned, with its least x and
// y at 0, and the part of every cell that it occupies.
type profile struct {
	mirrored, half bool
	tilt           Angle
	from           Point     // its least x and y before it was moved to 0
	low, up        []float64 // mm: the least and the greatest y in each cell
	near           []float64 // mm: likewise the least y that keeps clear of it, from reach cells before it to as many after
	reach          int
	high           float64 // mm: its greatest y
	under          float64 // mm: the sum of low
}

// profileOf divides a piece's outline among the cells. Nil if it does not fit on the
// sheet.
func profileOf(outline []Point, k kind, clear float64, mirrored, half bool, tilt Angle) *profile {
	p := &profile{mirrored: mirrored, half: half, tilt: tilt, from: Point{math.Inf(1), math.Inf(1)}}
	pts := make([]Point, len(outline))
	most := Point{math.Inf(-1), math.Inf(-1)}
	for i, q := range outline {
		pts[i] = turned(q, mirrored, half, tilt)
		p.from = Point{min(p.from.X, pts[i].X), min(p.from.Y, pts[i].Y)}
		most = Point{max(most.X, pts[i].X), max(most.Y, pts[i].Y)}
	}
	length := most.X - p.from.X
	p.high = most.Y - p.from.Y
	if k.cells == 0 || length > k.length+tolerance || p.high > k.high+tolerance {
		return nil
	}
	cells := min(max(int(math.Ceil((length-tolerance)/k.cell)), 1), k.cells)
	p.low, p.up = make([]float64, cells), make([]float64, cells)
	for c := range p.low {
		p.low[c], p.up[c] = math.Inf(1), math.Inf(-1)
	}
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		p.take(Point{a.X - p.from.X, a.Y - p.from.Y}, Point{b.X - p.from.X, b.Y - p.from.Y}, k.cell)
	}
	p.widen(k.cell, clear)
	for _, low := range p.low {
		p.under += low
	}
	return p
}

// take adds a side of the outline to the cells that it runs through.
func (p *profile) take(a, b Point, cell float64) {
	if a.X > b.X {
		a, b = b, a
	}
	last := len(p.low) - 1
	first := min(max(int((a.X-tolerance)/cell), 0), last)
	end := min(max(int((b.X+tolerance)/cell), 0), last)
	at := func(x float64) float64 {
		if b.X-a.X < 1e-12 {
			return a.Y
		}
		return a.Y + (b.Y-a.Y)*min(max((x-a.X)/(b.X-a.X), 0), 1)
	}
	for c := first; c <= end; c++ {
		from, to := at(float64(c)*cell), at(float64(c+1)*cell)
		if b.X-a.X < 1e-12 { // upright
			from, to = a.Y, b.Y
		}
		if (c == first) != (c == end) && touches(a, b, c, cell) {
			continue // it only touches the cell's side
		}
		p.low[c] = min(p.low[c], from, to)
		p.up[c] = max(p.up[c], from, to)
	}
}

// touches reports whether a side comes no farther than the edge of a cell.
func touches(a, b Point, c int, cell float64) bool {
	return min(b.X, float64(c+1)*cell)-max(a.X, float64(c)*cell) <= tolerance
}

// widen finds the clearance. Places in cells that are n apart are at least n-1 cells
// apart in x, so they need only be apart in y by the rest, as on a circle.
func (p *profile) widen(cell, clear float64) {
	p.reach = int(math.Ceil(clear/cell - 1e-9))
	n := len(p.low)
	p.near = make([]float64, n+2*p.reach)
	for i := range p.near {
		p.near[i] = math.Inf(1)
		for c := max(i-2*p.reach, 0); c <= min(i, n-1); c++ {
			apart := max(c+p.reach-i, i-c-p.reach)
			across := 0.0
			if apart > 0 {
				across = float64(apart-1) * cell
			}
			p.near[i] = min(p.near[i], p.low[c]-math.Sqrt(max(clear*clear-across*across, 0)))
		}
	}
}

// shape is pieces of one form, and their profiles on every kind of sheet.
type shape struct {
	area, length, high float64
	plain, tilted      [][]*profile // for each kind: those along the grain, and those tilted
}

// newShape makes a piece's profiles.
func newShape(p Piece, kinds []kind, r Rules) *shape {
	s := &shape{area: p.Area()}
	outline := p.Outline()
	low, most := outline[0], outline[0]
	for _, q := range outline {
		low, most = Point{min(low.X, q.X), min(low.Y, q.Y)}, Point{max(most.X, q.X), max(most.Y, q.Y)}
	}
	s.length, s.high = most.X-low.X, most.Y-low.Y
	for _, k := range kinds {
		var plain, tilted []*profile
		for _, mirrored := range []bool{false, true} {
			if mirrored && !p.TurnOver {
				continue
			}
			for _, half := range []bool{false, true} {
				for n, share := range []float64{0, -1, -0.5, 0.5, 1} {
					if n > 0 && r.Tilt == 0 {
						break
					}
					f := profileOf(outline, k, r.Clear, mirrored, half, r.Tilt*Angle(share))
					switch {
					case f == nil:
					case n == 0:
						plain = addNew(plain, f)
					default:
						tilted = append(tilted, f)
					}
				}
			}
		}
		s.plain, s.tilted = append(s.plain, plain), append(s.tilted, tilted)
	}
	return s
}

// addNew adds a profile unless one like it exists.
func addNew(to []*profile, f *profile) []*profile {
	for _, g := range to {
		if slices.EqualFunc(f.low, g.low, alike) && slices.EqualFunc(f.up, g.up, alike) {
			return to
		}
	}
	return append(to, f)
}

func alike(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
