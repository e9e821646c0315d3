package trace

import (
	"errors"
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Calibration maps points of a picture to mm on the paper, levelled.
type Calibration struct {
	ToMM   Homography // pixels to mm, y up
	ToPix  Homography // and back
	Points []Point    // in the picture, the points that set it: two or four
	Known  [2]float64 // mm: for two points their distance and 0, for four the rectangle's width and height
	Lie    Lie        // how the two points are placed
}

// Lie is how two points are placed relative to each other.
type Lie uint8

// How two points are placed.
const (
	Level   Lie = iota // the first at the left, the second at the right
	Upright            // the first below, the second above
)

// Limits of a known length, mm.
const (
	shortestKnown = 0.1
	longestKnown  = 100000
)

// leastApart is how far apart in pixels points must be to set a scale.
const leastApart = 10

// ByTwo is the scale and level of a picture without perspective, from two
// points a known number of mm apart. The first maps to (0, 0).
func ByTwo(a, b Point, mm float64, lie Lie) (Calibration, error) {
	if err := known(mm, tongue.T("the distance")); err != nil {
		return Calibration{}, err
	}
	d := b.minus(a)
	n := d.length()
	if !(n >= leastApart) || math.IsInf(n, 0) {
		return Calibration{}, tongue.Errorf("the two points are less than %d pixels apart; choose points far from one another", leastApart)
	}
	right := d.times(1 / n) // in the picture
	if lie == Upright {
		right = right.turned() // y points down there: from up to the right
	}
	up := Point{right.Y, -right.X}
	f := mm / n
	m := Homography{right.X * f, right.Y * f, -right.dot(a) * f, up.X * f, up.Y * f, -up.dot(a) * f, 0, 0, 1}
	c, err := calibrated(m, a, b)
	c.Known, c.Lie = [2]float64{mm}, lie
	return c, err
}

// ByFour is the scale, level and perspective of a picture, from the four
// corners of a rectangle width by height mm on the paper: upper left, upper
// right, lower right and lower left as they really are. The lower left maps to
// (0, 0).
func ByFour(corners [4]Point, width, height float64) (Calibration, error) {
	if err := errors.Join(known(width, tongue.T("the width")), known(height, tongue.T("the height"))); err != nil {
		return Calibration{}, firstOf(err)
	}
	for i := range 4 {
		if !(corners[i].distance(corners[(i+1)%4]) >= leastApart) {
			return Calibration{}, tongue.Errorf("two corners are less than %d pixels apart; choose a larger rectangle", leastApart)
		}
	}
	if inLine(corners) {
		return Calibration{}, tongue.New("three of the corners lie in one line; click the four corners of a rectangle")
	}
	switch sides := turns(corners); {
	case sides == -4:
		return Calibration{}, tongue.New("the corners run the wrong way round; click upper left, upper right, lower right, lower left")
	case sides != 4:
		return Calibration{}, tongue.New("the corners cross or fold in, as no rectangle seen from anywhere does; click them in turn: upper left, upper right, lower right, lower left")
	}
	m, err := fourPoints(corners, [4]Point{{0, height}, {width, height}, {width, 0}, {0, 0}})
	if err != nil {
		return Calibration{}, err
	}
	c, err := calibrated(m, corners[:]...)
	c.Known = [2]float64{width, height}
	return c, err
}

// turns counts the corners that turn to the right in the picture minus those
// that turn to the left.
func turns(c [4]Point) int {
	n := 0
	for i := range 4 {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if b.minus(a).cross(d.minus(b)) > 0 {
			n++
		} else {
			n--
		}
	}
	return n
}

func known(mm float64, what string) error {
	if !(mm >= shortestKnown && mm <= longestKnown) {
		return tongue.Errorf("%s is %g mm; give it in mm, from %g mm to %g m", what, mm, shortestKnown, longestKnown/1000.0)
	}
	return nil
}

// firstOf returns the first of several joined errors.
func firstOf(err error) error {
	if j, ok := err.(interface{ Unwrap() []error }); ok && len(j.Unwrap()) > 0 {
		return j.Unwrap()[0]
	}
	return err
}

// calibrated completes a calibration; its sign is chosen so that w is positive
// at the points that set it.
func calibrated(m Homography, by ...Point) (Calibration, error) {
	if p := by[0]; m[6]*p.X+m[7]*p.Y+m[8] < 0 {
		for k := range m {
			m[k] = -m[k]
		}
	}
	back, err := m.Inverse()
	if err != nil {
		return Calibration{}, tongue.New("the points do not settle a scale; choose others")
	}
	for k := range back { // w must also be positive for mm on the paper that the picture shows
		if math.IsNaN(back[k]) {
			return Calibration{}, tongue.New("the points do not settle a scale; choose others")
		}
	}
	if q, _ := m.Apply(by[0]); back[6]*q.X+back[7]*q.Y+back[8] < 0 {
		for k := range back {
			back[k] = -back[k]
		}
	}
	return Calibration{ToMM: m, ToPix: back, Points: by}, nil
}

// Set reports whether there is a calibration.
func (c Calibration) Set() bool { return c.Points != nil }

// PixelAt is the length of a pixel at a point, mm, in the direction in which it
// is longer.
func (c Calibration) PixelAt(at Point) float64 {
	q, ok := c.ToMM.Apply(at)
	if !ok {
		return math.Inf(1)
	}
	return c.ToMM.stretch(at, q)
}
