package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/loft/curve"
)

const (
	// leastCorner is the sine of the least angle at which a line along the hull leaves
	// an end frame. Our choice: it moves the limit by 4/27 of a tenth of the
	// part of a bay beside the corner, some hundredths of a mm.
	leastCorner = 0.01
	// clearCorner is the sine of the angle at which a line leaves the end frame clearly.
	clearCorner = 0.3
	// atCentre is the distance from the centre plane, mm, within which the foot of a frame
	// counts as lying in it.
	atCentre = 1.0
)

// endFace is the face of the hull along an end frame where the lines along the hull run
// so nearly along that frame that they do not define it. Where a stem curve ends on a
// round forefoot, the lower limit continues in its line, and the lines above it leave
// the stem at angles that start from zero: a hair's error in one of them turns the face
// by a large angle. The face itself turns steadily about the profile, from where a line
// leaves the stem clearly, down the stem and along the keel, to the foot of the next
// frame, where it is well defined again.
type endFace struct {
	last bool
	in   []mgl64.Vec3 // at the knots of the lowest panel: the unit vector in the face, square to the frame, into the hull; zero where the lines define the face
}

// profileTurn is the angle, about a direction along the profile, between another
// direction and athwartships; not ok where the profile itself runs athwartships.
func profileTurn(along, off mgl64.Vec3) (angle float64, ok bool) {
	a := across(athwart, along)
	if a.Len() < clearCorner || off.Len() == 0 {
		return 0, false
	}
	return math.Atan2(off.Dot(along.Cross(a).Mul(1/along.Len())), off.Dot(a)), true
}

// turnedFrom is the unit vector at that angle.
func turnedFrom(along mgl64.Vec3, angle float64) mgl64.Vec3 {
	a := across(athwart, along).Normalize()
	return a.Mul(math.Cos(angle)).Add(along.Cross(a).Mul(math.Sin(angle) / along.Len()))
}

// endFaces finds the faces along the first and the last frame from the places f at the
// frames, the slopes there along the hull, fu, and down the lowest panel, fv.
func endFaces(f, fu, fv *mat.Dense) []endFace {
	rows, columns := f.Dims()
	n := columns / 3
	var out []endFace
	for _, last := range []bool{false, true} {
		e := endFace{last: last, in: make([]mgl64.Vec3, n)}
		i := e.row(rows)
		if clear := e.clearAt(fu, fv, i); clear >= 0 && clear < n-1 {
			e.find(f, fu, fv, i, min(max(i, 1), rows-2), clear)
			out = append(out, e)
		}
	}
	return out
}

// slope is the slope along the hull, from the end inwards.
func (e *endFace) slope(fu *mat.Dense, i, j int) mgl64.Vec3 {
	if e.last {
		return vecAt(fu, i, j).Mul(-1)
	}
	return vecAt(fu, i, j)
}

// clearAt is the lowest knot at which a line leaves the end clearly, −1 for none.
func (e *endFace) clearAt(fu, fv *mat.Dense, i int) int {
	j := len(e.in) - 1
	for ; j >= 0; j-- {
		if d := e.slope(fu, i, j); across(d, vecAt(fv, i, j)).Len() >= clearCorner*d.Len() {
			break
		}
	}
	return j
}

// find finds the face below that knot; the frame next to the end is in row next.
func (e *endFace) find(f, fu, fv *mat.Dense, i, next, clear int) {
	n := len(e.in)
	down := func(j int) mgl64.Vec3 { return vecAt(fv, i, j) }
	from, ok := profileTurn(down(clear), across(e.slope(fu, i, clear), down(clear)))
	if !ok {
		return
	}
	miles := make([]float64, n)
	for j := clear + 1; j < n; j++ {
		miles[j] = miles[j-1] + vecAt(f, i, j).Sub(vecAt(f, i, j-1)).Len()
	}
	to, length := from, math.Inf(1)
	if foot := vecAt(f, next, n-1); foot.Y() < atCentre {
		at := e.slope(fu, next, n-1)
		if angle, ok := profileTurn(at, across(vecAt(fv, next, n-1).Mul(-1), at)); ok {
			to, length = angle, miles[n-1]+foot.Sub(vecAt(f, i, n-1)).Len()
		}
	}
	for j := clear + 1; j < n; j++ {
		if across(athwart, down(j)).Len() >= clearCorner {
			e.in[j] = turnedFrom(down(j), from+(to-from)*miles[j]/length)
		}
	}
}

// into turns the slope of a line along the hull at the end into the face there.
func (e *endFace) into(slope, down, in mgl64.Vec3) mgl64.Vec3 {
	if e.last {
		in = in.Mul(-1)
	}
	off := max(slope.Dot(in), leastCorner*slope.Len())
	return down.Mul(slope.Dot(down) / down.LenSqr()).Add(in.Mul(off))
}

// row is the row of the end frame, given the number of rows.
func (e *endFace) row(rows int) int {
	if e.last {
		return rows - 1
	}
	return 0
}

// turn turns the slopes along the length, fu, into the face at the end, and with them
// their derivatives down the girth, fuv; fv are the slopes down the girth, v its knots.
func (e *endFace) turn(along *curve.Cubic, fu, fv, fuv *mat.Dense, v []float64) {
	rows, columns := fu.Dims()
	i := e.row(rows)
	by := mat.NewDense(columns/3, 3, nil)
	for j, in := range e.in {
		if in != (mgl64.Vec3{}) {
			was := vecAt(fu, i, j)
			d := e.into(was, vecAt(fv, i, j), in).Sub(was)
			by.SetRow(j, d[:])
		}
	}
	of := mat.NewVecDense(rows, along.OfEnd(e.last))
	fu.RankOne(fu, 1, of, mat.NewVecDense(columns, by.RawMatrix().Data))
	fuv.RankOne(fuv, 1, of, mat.NewVecDense(columns, curve.NewNotAKnot(v).Slopes(by).RawMatrix().Data))
}
