package loft

import "math"

// endPoint is a place of a line at a frame, mm: along its run at the end, and off its face
// there.
type endPoint struct{ along, off float64 }

// conicBend is the bend, 1/mm, at the first of five points of the conic through them: with
// A·u² + B·uv + C·v² + D·u + E·v = 0 through the first,
// κ = 2(A·E² − B·D·E + C·D²)/(D² + E²)^(3/2) (curvature of an implicit curve: Goldman,
// Computer Aided Geometric Design 22, 2005, 632-658, proposition 3.1). It is exact at any slope for
// circles and ellipses. Positive where the others lie on the side of rising off; NaN where the points
// tell no conic.
func conicBend(p [endFrames]endPoint) float64 {
	far := math.Hypot(p[endFrames-1].along-p[0].along, p[endFrames-1].off-p[0].off)
	var rows [endFrames - 1][5]float64
	for i := range rows {
		u, v := (p[i+1].along-p[0].along)/far, (p[i+1].off-p[0].off)/far
		rows[i] = [5]float64{u * u, u * v, v * v, u, v}
	}
	var c [5]float64
	for j := range c {
		c[j] = minor(&rows, j) * float64(1-2*(j%2))
	}
	d, e := c[3], c[4]
	slope := d*d + e*e
	k := 2 * (c[0]*e*e - c[1]*d*e + c[2]*d*d) / (slope * math.Sqrt(slope)) / far
	if e > 0 { // the gradient points to the side of rising off
		k = -k
	}
	return k
}

const (
	// apartBy is the share by which the conics through different frames may differ before
	// less than half of it counts: points that stray, or a shape that is no conic, tell each
	// another bend. Our choice, as are those below.
	apartBy = 0.04
	// It counts from a share of change on, and wholly from another, so that a bend that is
	// known already is left as it is; and so with the turn between the last two chords.
	leastChange, fullChange = 0.01, 0.03
	leastChordTurn          = 1.5 * math.Pi / 180
	fullChordTurn           = 3 * math.Pi / 180
	// mostTurnOn is the turn from which on, and leastTurnEnd that in the last bay from which on,
	// the frames do not tell the bend at an end. Over superellipses of the powers 1.6 to 3 that
	// finds all ends told by more than a tenth wrong.
	mostTurnOn   = 30 * math.Pi / 180
	leastTurnEnd = 10 * math.Pi / 180
	// mostConic bounds the bend at an end by that of a conic, as a multiple of the one read.
	mostConic = 10
)

// endPlaces are places of a line at frames from an end inwards, the end first.
type endPlaces [endFrames + 1]endPoint

// conic gives the bend at the end of a line: that of the conic through the first five of its
// places, as far as conics through others of the six agree, and for the rest the one told
// without them; read is the one of the cubic there. Where all these are near, or the line
// hardly turns, that is the one told.
func (p *endPlaces) conic(told, read float64) float64 {
	of := func(a, b, c, d int) float64 { return conicBend([endFrames]endPoint{p[0], p[a], p[b], p[c], p[d]}) }
	k := of(1, 2, 3, 4)
	if !(k*read > 0) || !(math.Abs(k) < mostConic*math.Abs(read)) {
		return told
	}
	off := max(math.Abs(of(1, 2, 3, 5)/k-1), math.Abs(of(1, 2, 4, 5)/k-1)) / apartBy
	if math.IsNaN(off) {
		return told
	}
	share := ramp(math.Abs(k/told-1), leastChange, fullChange) * ramp(p.turn(0), leastChordTurn, fullChordTurn)
	return told + (k-told)*share/(1+off*off)
}

// untold reports whether a line turns so much more in its last bay than in the next that
// its bend at the end can't be known from the frames. Measured is the turn that would
// follow beyond the end if turns went on growing by the same factor.
func (p *endPlaces) untold() bool {
	last, next := p.turn(0), p.turn(1)
	return last >= leastTurnEnd && last*last >= mostTurnOn*next
}

// turn is the angle, in radians, by which a line's chord from a frame on turns to the next.
func (p *endPlaces) turn(from int) float64 {
	a, b, c := p[from], p[from+1], p[from+2]
	x, y := b.along-a.along, b.off-a.off
	u, v := c.along-b.along, c.off-b.off
	return math.Abs(math.Atan2(x*v-y*u, x*u+y*v))
}

// ramp rises from 0 to 1 between two values.
func ramp(x, from, to float64) float64 { return min(max((x-from)/(to-from), 0), 1) }

// minor is the determinant of four rows without one of their five columns, by elimination.
func minor(rows *[endFrames - 1][5]float64, without int) float64 {
	const n = endFrames - 1
	var m [n][n]float64
	for r := range m {
		copy(m[r][:], rows[r][:without])
		copy(m[r][without:], rows[r][without+1:])
	}
	det := 1.0
	for i := range n {
		pivot := i
		for r := i + 1; r < n; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[pivot][i]) {
				pivot = r
			}
		}
		if m[pivot][i] == 0 {
			return 0
		}
		if pivot != i {
			m[i], m[pivot], det = m[pivot], m[i], -det
		}
		det *= m[i][i]
		for r := i + 1; r < n; r++ {
			f := m[r][i] / m[i][i]
			for k := i; k < n; k++ {
				m[r][k] -= f * m[i][k]
			}
		}
	}
	return det
}
