package loft

import (
	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/loft/curve"
)

// ownMatter is how far, mm, the lines along the hull may lie apart over the mean of
// the chords and over their own before their own are taken. Our choice: four times what
// it is on exact hulls of 360 mm without such a bow, however their frames are spaced.
const ownMatter = 0.1

// knotsLookedAt is how many knots down a panel are asked: chords differ smoothly, and
// most at the limits.
const knotsLookedAt = 9

// ownMatters tells whether it matters over which chords the lines along the hull
// run. At a frame the direction of the parabola through a point and its neighbours
// stands for the line's; a cubic of chord h turned by the angle a at an end moves
// by 4/27·h·a at the most (the greatest of the Hermite function of the slope).
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
	return false
}

// parabola is the unit direction at the middle one of three points on the parabola
// through them over steps of a and b; zero where it has none.
func parabola(before, after mgl64.Vec3, a, b float64) mgl64.Vec3 {
	d := before.Mul(b / a).Add(after.Mul(a / b))
	if l := d.Len(); l > 0 {
		return d.Mul(1 / l)
	}
	return mgl64.Vec3{}
}

// loftOwn fits the surface whose line along the hull at every knot of v is the C2
// cubic over its own chords. At a bluff bow these have another measure at the sheer
// than at the keel, from canted frames most of all, so that no common one suits
// both. The line is run through at a speed of its own, which rises and falls
// between frames without turning back, so that all are at the frames at the same u;
// they are taken at the stations of every bay, and the bicubic goes through these.
func (s *Surface) loftOwn(grid [][][]mgl64.Vec3) {
	s.u, s.parts = curve.LengthParameter(grid, 1), stationsPerBay
	fine := make([][][]mgl64.Vec3, len(grid))
	for k, rows := range grid {
		fine[k] = make([][]mgl64.Vec3, (len(rows)-1)*s.parts+1)
		for i := range fine[k] {
			fine[k][i] = make([]mgl64.Vec3, len(rows[0]))
		}
		line := make([]mgl64.Vec3, len(rows))
		for j := range rows[0] {
			for i := range rows {
				line[i] = rows[i][j]
			}
			for i, p := range s.ownLine(line) {
				fine[k][i][j] = p
			}
		}
	}
	s.fit(s.finer(), fine)
}

const (
	// leastCorner is the sine of the least angle at which a line along the hull leaves
	// a corner of the surface. Our choice: it moves the limit by 4/27 of a tenth of the
	// part of a bay beside the corner, some hundredths of a mm.
	leastCorner = 0.01
	// clearCorner is that at which it leaves the end frame clearly.
	clearCorner = 0.3
)

// openCorners turns the slopes along the length, fu, of panel k where they run along
// the end frame at a corner of the surface, fv being those down the girth. Where a stem curve
// ends on a round forefoot the limit goes on in its line, and in a corner of 180
// degrees a surface has no face. They are turned the way in which the hull leaves
// the end frame at the nearest knot where it does so clearly.
func (s *Surface) openCorners(k int, fu, fv *mat.Dense) {
	rows, columns := fu.Dims()
	n := columns / 3
	for _, i := range []int{0, rows - 1} {
		for _, end := range []struct{ panel, corner, step int }{{0, 0, 1}, {len(s.panels) - 1, n - 1, -1}} {
			if k != end.panel {
				continue // the other panel at a knuckle line has the same slope
			}
			along, down := vecAt(fu, i, end.corner), vecAt(fv, i, end.corner)
			for j := end.corner + end.step; j >= 0 && j < n; j += end.step {
				off := across(vecAt(fu, i, j), vecAt(fv, i, j))
				if off.Len() < clearCorner*vecAt(fu, i, j).Len() {
					continue
				}
				in := across(off, down)
				if l := in.Len(); l > 0 {
					in = in.Mul(1 / l)
				}
				if along.Dot(in) < leastCorner*along.Len() {
					on := down.Mul(along.Dot(down) / down.LenSqr()).Add(in.Mul(leastCorner * along.Len()))
					copy(fu.RawRowView(i)[3*end.corner:], on[:])
				}
				break
			}
		}
	}
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

// ownLine gives, at those u, the line over its own chords through a point at every
// frame.
func (s *Surface) ownLine(points []mgl64.Vec3) []mgl64.Vec3 {
	n := len(points)
	t := make([]float64, n)
	y := mat.NewDense(n, 3, nil)
	for i, p := range points {
		if i > 0 {
			t[i] = t[i-1] + max(p.Sub(points[i-1]).Len(), curve.LeastChord)
		}
		y.SetRow(i, p[:])
	}
	slopes, speed := curve.NewNotAKnot(t).Slopes(y), curve.Rising(s.u, t)
	var out []mgl64.Vec3
	for i := range n - 1 {
		hu, ht := s.u[i+1]-s.u[i], t[i+1]-t[i]
		m0, m1 := slopes.RawRowView(i), slopes.RawRowView(i+1)
		for k := range s.parts {
			at, _, _ := curve.Hermite(hu, 0, ht, speed[i], speed[i+1], hu*float64(k)/float64(s.parts))
			var p mgl64.Vec3
			for a := range p {
				p[a], _, _ = curve.Hermite(ht, points[i][a], points[i+1][a], m0[a], m1[a], at)
			}
			out = append(out, p)
		}
	}
	return append(out, points[n-1])
}

// ahead gives the way on at a station, for a v: along the normals of the frames'
// planes, each the more the nearer it is, and from or to an end curve that stands in
// none, along the chord. On a hull of square frames it is the way along the keel; past
// a canted frame the hull may run athwart, and at the stem of a bluff bow it does.
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
