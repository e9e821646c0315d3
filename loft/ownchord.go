package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/loft/curve"
)

// ownMatter is the distance, mm, between the lines along the hull over the mean of the
// chords and those over their own, above which their own are used. Our choice: four
// times the figure on exact hulls of 360 mm without such a bow, however their frames
// are spaced.
const ownMatter = 0.1

// faceMatters is the cosine of the greatest allowed angle between the faces at an end
// over one kind of chord and over the other: 10 degrees, the accuracy to which a hood
// end's bevel is cut by eye.
const faceMatters = 0.985

// knotsLookedAt is the number of knots down a panel that are checked: chords differ
// smoothly, and most at the limits.
const knotsLookedAt = 9

// ownMatters reports whether it matters over which chords the lines along the hull run.
// At a frame the direction of the parabola through a point and its neighbours stands
// for the line's; a cubic of chord h turned by the angle a at an end moves by at most
// 4/27·h·a (the maximum of the Hermite function of the slope).
func ownMatters(grid [][][]mgl64.Vec3) bool {
	u := curve.LengthParameter(grid, 1)
	for _, rows := range grid {
		for k := range knotsLookedAt {
			j := k * (len(rows[0]) - 1) / (knotsLookedAt - 1)
			for i := 1; i+1 < len(rows); i++ {
				before, after := rows[i][j].Sub(rows[i-1][j]), rows[i+1][j].Sub(rows[i][j])
				a, b := before.Len(), after.Len()
				own := parabola(before, after, a, b)
				mean := parabola(before, after, u[i]-u[i-1], u[i+1]-u[i])
				if 4./27*max(a, b)*own.Sub(mean).Len() > ownMatter {
					return true
				}
			}
		}
	}
	return endsMatter(grid[len(grid)-1])
}

// endsMatter reports whether the choice of chords matters for the face at a stem or a
// sternpost, whose points are the first or the last of those rows of the lowest panel:
// beside a round forefoot a hair's breadth does. The end of the parabola through three
// points stands for that of the line.
func endsMatter(rows [][]mgl64.Vec3) bool {
	u := curve.LengthParameter([][][]mgl64.Vec3{rows}, 1)
	n := len(rows)
	for _, at := range [2][3]int{{0, 1, 2}, {n - 1, n - 2, n - 3}} {
		end, next, third := rows[at[0]], rows[at[1]], rows[at[2]]
		if end[0].Y() > atCentre {
			continue
		}
		for k := 1; k < knotsLookedAt; k++ {
			j := k * (len(end) - 1) / (knotsLookedAt - 1)
			down := end[j].Sub(end[j-1])
			before, after := next[j].Sub(end[j]), third[j].Sub(next[j])
			face := func(a, b float64) mgl64.Vec3 { return across(parabolaEnd(before, after, a, b), down).Normalize() }
			own, mean := face(before.Len(), after.Len()), face(math.Abs(u[at[1]]-u[at[0]]), math.Abs(u[at[2]]-u[at[1]]))
			if !(own.Dot(mean) > faceMatters) {
				return true
			}
		}
	}
	return false
}

// parabolaEnd is the slope at the first of three points of that parabola.
func parabolaEnd(before, after mgl64.Vec3, a, b float64) mgl64.Vec3 {
	return before.Mul((2*a + b) / a).Sub(after.Mul(a / b)).Mul(1 / (a + b))
}

// parabola is the unit direction at the middle of three points on the parabola through
// them over steps of a and b; zero where it has none.
func parabola(before, after mgl64.Vec3, a, b float64) mgl64.Vec3 {
	d := before.Mul(b / a).Add(after.Mul(a / b))
	if l := d.Len(); l > 0 {
		return d.Mul(1 / l)
	}
	return mgl64.Vec3{}
}

// loftOwn fits the surface whose line along the hull at every knot of v is the C2 cubic
// over its own chords. At a bluff bow, above all with canted frames, the chords at the
// sheer are in a different proportion from those at the keel, so that no common
// parameter suits both. Each line is run at its own speed, which rises and falls
// between frames without turning back, so that all lines reach the frames at the same
// u; they are sampled at the stations of every bay, and the bicubic passes through
// these samples.
func (s *Surface) loftOwn(grid [][][]mgl64.Vec3) {
	s.u, s.parts = curve.LengthParameter(grid, 1), stationsPerBay
	lines := make([][]*ownLine, len(grid))
	for k, rows := range grid {
		for j := range rows[0] {
			lines[k] = append(lines[k], newOwnLine(rows, j))
		}
	}
	low := len(grid) - 1
	ends := turnOwn(lines[low], grid[low], s.panels[low].v)
	fine := make([][][]mgl64.Vec3, len(grid))
	for k := range lines {
		fine[k] = make([][]mgl64.Vec3, (len(s.u)-1)*s.parts+1)
		for i := range fine[k] {
			fine[k][i] = make([]mgl64.Vec3, len(lines[k]))
		}
		for j, l := range lines[k] {
			for i, p := range l.parted(s.u, s.parts) {
				fine[k][i][j] = p
			}
		}
	}
	s.fit(s.finer(), fine, ends)
}

// vecAt is the vector in row i at knot j.
func vecAt(f *mat.Dense, i, j int) mgl64.Vec3 { return mgl64.Vec3(f.RawRowView(i)[3*j : 3*j+3]) }

// across is the part of a that is square to b.
func across(a, b mgl64.Vec3) mgl64.Vec3 {
	if l := b.LenSqr(); l > 0 {
		return a.Sub(b.Mul(a.Dot(b) / l))
	}
	return a
}

// finer are the u of the frames and of the parts of the bays.
func (s *Surface) finer() []float64 {
	var out []float64
	for i := range len(s.u) - 1 {
		for k := range s.parts {
			out = append(out, s.u[i]+(s.u[i+1]-s.u[i])*float64(k)/float64(s.parts))
		}
	}
	return append(out, s.u[len(s.u)-1])
}

// ownLine is the line over its own chords through one point of every frame.
type ownLine struct {
	points []mgl64.Vec3
	t      []float64 // mm along the chords
	cubic  *curve.Cubic
	slopes *mat.Dense // with respect to t, at the frames
}

// newOwnLine is the line through the points of knot j in the rows of the frames.
func newOwnLine(rows [][]mgl64.Vec3, j int) *ownLine {
	l := &ownLine{t: make([]float64, len(rows))}
	y := mat.NewDense(len(rows), 3, nil)
	for i := range rows {
		p := rows[i][j]
		if i > 0 {
			l.t[i] = l.t[i-1] + max(p.Sub(l.points[i-1]).Len(), curve.LeastChord)
		}
		l.points = append(l.points, p)
		y.SetRow(i, p[:])
	}
	l.cubic = curve.NewNotAKnot(l.t)
	l.slopes = l.cubic.Slopes(y)
	return l
}

// turnOwn turns the lines of a panel with knots v at the ends of the surface into its
// face there, and returns that face.
func turnOwn(lines []*ownLine, rows [][]mgl64.Vec3, v []float64) []endFace {
	f := flatRows(rows)
	fu, fv := mat.NewDense(len(rows), 3*len(v), nil), turned(curve.NewNotAKnot(v).Slopes(turned(f)))
	for j, l := range lines {
		for i := range rows {
			copy(fu.RawRowView(i)[3*j:], l.slopes.RawRowView(i))
		}
	}
	ends := endFaces(f, fu, fv)
	for _, e := range ends {
		i := e.row(len(rows))
		for j, in := range e.in {
			if in == (mgl64.Vec3{}) {
				continue
			}
			l := lines[j]
			was := vecAt(fu, i, j)
			by := e.into(was, vecAt(fv, i, j), in).Sub(was)
			l.slopes.RankOne(l.slopes, 1, mat.NewVecDense(len(rows), l.cubic.OfEnd(e.last)), mat.NewVecDense(3, by[:]))
		}
	}
	return ends
}

// parted gives the points of the line at the frames, at the given u, and at the parts
// of the bays.
func (l *ownLine) parted(u []float64, parts int) []mgl64.Vec3 {
	n := len(u)
	speed := curve.Rising(u, l.t)
	var out []mgl64.Vec3
	for i := range n - 1 {
		hu, ht := u[i+1]-u[i], l.t[i+1]-l.t[i]
		for k := range parts {
			at, _, _ := curve.Hermite(hu, 0, ht, speed[i], speed[i+1], hu*float64(k)/float64(parts))
			var p mgl64.Vec3
			for a := range p {
				p[a], _, _ = curve.Hermite(ht, l.points[i][a], l.points[i+1][a], l.slopes.At(i, a), l.slopes.At(i+1, a), at)
			}
			out = append(out, p)
		}
	}
	return append(out, l.points[n-1])
}

// ahead gives the forward direction at a station, for a v: along the normals of the
// frames' planes, weighted by nearness and, from or to an end curve that stands in no
// plane, along the chord. On a hull of square frames it is the direction of the keel;
// past a canted frame the hull may run athwartships, and at the stem of a bluff bow it
// does.
func (s *Surface) ahead() func(station int, v float64) mgl64.Vec3 {
	none := mgl64.Vec3{}
	normals := make([]mgl64.Vec3, len(s.planes))
	for i, p := range s.planes {
		if p != nil {
			normals[i] = p.Normal()
		}
	}
	return func(station int, v float64) mgl64.Vec3 {
		bay := min(station/stationsPerBay, len(s.u)-2)
		a, b := normals[bay], normals[bay+1]
		if a == b && a != none {
			return a
		}
		if a == none || b == none {
			chord := s.placeAt(s.FrameStation(bay+1), v).Sub(s.placeAt(s.FrameStation(bay), v)).Normalize()
			if a == none {
				a = chord
			}
			if b == none {
				b = chord
			}
		}
		f := float64(station-bay*stationsPerBay) / stationsPerBay
		return a.Mul(1 - f).Add(b.Mul(f))
	}
}
