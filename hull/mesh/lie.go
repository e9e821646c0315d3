package mesh

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
)

// How the way a mesh lies is inferred.
const (
	evenMoment   = 0.01 // share of a moment below which the shape counts as symmetrical
	lopsided     = 0.1  // share of the breadth by which the middle of a whole hull may lie off the origin
	footShare    = 0.1  // of the height: where the breadth at the foot and the head is measured
	upsideDown   = 2.0  // an upset hull is at least this many times as broad at the foot as at the head
	sidingShare  = 0.05 // of the breadth: how far a half may stop short of the middle plane
	alikeLengths = 0.9  // of the longest: an axis at least this long is noted as nearly as long
)

// lie is how a mesh lies: which axis of the sections is athwart and which is up, as
// indices into them.
type lie struct {
	athwart, up int
	sense       float64 // -1 where the mesh is upside down
	middle      float64 // of the hull athwart, mm
	half        float64 // side of the middle on which a half hull lies, or 0 for a whole one
	sure        bool    // which axis is athwart and which is up
	turned      bool    // sense is a guess
}

var errNoHalf = tongue.New("it is neither the same on both sides nor one half of a hull")

// point puts a point of a section in place on the hull: y athwart from the middle, z up.
func (l *lie) point(p mgl64.Vec2) mgl64.Vec2 {
	return mgl64.Vec2{p[l.athwart] - l.middle, p[l.up] * l.sense}
}

// box is the bounding box of all lines.
func box(sections [][]line) (low, high mgl64.Vec2) {
	low, high = mgl64.Vec2{math.Inf(1), math.Inf(1)}, mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
	for _, s := range sections {
		for _, l := range s {
			for _, p := range l.pts {
				for k := range p {
					low[k], high[k] = min(low[k], p[k]), max(high[k], p[k])
				}
			}
		}
	}
	return low, high
}

// skew is how far the sections are from being symmetrical about a middle along an axis: the
// greatest of their odd moments about it, as a share of that of a shape entirely on one side.
func skew(sections [][]line, axis int, low, high mgl64.Vec2) float64 {
	mid, half := (low[axis]+high[axis])/2, (high[axis]-low[axis])/2
	other := 1 - axis
	span := max(high[other]-low[other], 1e-12)
	if half <= 0 {
		return 1
	}
	var moment [6]float64
	sum := 0.0
	for _, s := range sections {
		for _, l := range s {
			for i := 1; i < len(l.pts); i++ {
				d := l.pts[i].Sub(l.pts[i-1]).Len()
				m := l.pts[i].Add(l.pts[i-1]).Mul(0.5)
				u, v := (m[axis]-mid)/half, (m[other]-low[other])/span
				sum += d
				for k, odd := range []float64{u, u * u * u} {
					moment[3*k] += d * odd
					moment[3*k+1] += d * odd * v
					moment[3*k+2] += d * odd * v * v
				}
			}
		}
	}
	most := 0.0
	for _, m := range moment {
		most = max(most, math.Abs(m)/max(sum, 1e-12))
	}
	return most
}

// lieOf finds how the mesh lies; length is the axis of its length, and points
// closer than near count as one place.
func lieOf(sections [][]line, length int, up Axis, near float64) (lie, error) {
	i, j := othersThan(length)
	axes := [2]int{i, j}
	low, high := box(sections)
	even := [2]bool{skew(sections, 0, low, high) < evenMoment, skew(sections, 1, low, high) < evenMoment}
	l := lie{sense: 1, sure: true}
	switch told, sense := up.index(); {
	case told == axes[0]:
		l.up, l.sense = 0, sense
	case told == axes[1]:
		l.up, l.sense = 1, sense
	case even[0] != even[1]:
		if even[0] {
			l.up = 1
		}
	default: // as meshes usually lie: z up, or y where z is the length
		l.up, l.sure = 1, false
	}
	l.athwart = 1 - l.up
	if up == "" && standsOnHead(sections, &l, low, high) {
		l.sense, l.turned = -1, true
	}
	err := l.findMiddle(sections, even[l.athwart], low[l.athwart], high[l.athwart], near)
	return l, err
}

// findMiddle finds the middle plane of a whole hull or a half.
func (l *lie) findMiddle(sections [][]line, even bool, low, high, near float64) error {
	breadth := high - low
	mid := (low + high) / 2
	switch {
	case even:
		l.middle = mid
		if foot, ok := l.keelLine(sections, breadth, near); ok && math.Abs(foot-mid) < lopsided*breadth {
			l.middle = foot
		}
		if math.Abs(l.middle) < breadth/1000 {
			l.middle = 0
		}
	case low >= -near-breadth/1000 && low <= sidingShare*breadth:
		l.half = 1
	case high <= near+breadth/1000 && high >= -sidingShare*breadth:
		l.half = -1
	case low < 0 && high > 0 && math.Abs(mid) < lopsided*breadth:
		if foot, ok := l.keelLine(sections, breadth, near); ok && math.Abs(foot-mid) < lopsided*breadth {
			l.middle = foot
		}
	default:
		foot := l.foot(sections, near)
		switch {
		case foot < low+lopsided*breadth:
			l.middle, l.half = low, 1
		case foot > high-lopsided*breadth:
			l.middle, l.half = high, -1
		default:
			return errNoHalf
		}
	}
	return nil
}

// keelLine is the athwart position of the sections' lowest points, if they are in one line.
func (l *lie) keelLine(sections [][]line, breadth, near float64) (at float64, ok bool) {
	var all []float64
	for _, s := range sections {
		if len(s) > 0 {
			all = append(all, l.foot([][]line{s}, near))
		}
	}
	slices.Sort(all)
	n := len(all)
	if n == 0 || all[n-1-n/10]-all[n/10] > breadth/500 {
		return 0, false
	}
	return all[n/2], true
}

// foot is the athwart position of the lowest point, or the middle of those that are
// equally low.
func (l *lie) foot(sections [][]line, near float64) float64 {
	lowest, from, to := math.Inf(1), 0.0, 0.0
	for _, s := range sections {
		for _, line := range s {
			for _, p := range line.pts {
				switch y, z := p[l.athwart], p[l.up]*l.sense; {
				case z < lowest-near:
					lowest, from, to = z, y, y
				case z <= lowest+near:
					lowest, from, to = min(lowest, z), min(from, y), max(to, y)
				}
			}
		}
	}
	return (from + to) / 2
}

// standsOnHead reports whether most sections are open, or far broader, at what
// would be their foot.
func standsOnHead(sections [][]line, l *lie, low, high mgl64.Vec2) bool {
	height := high[l.up] - low[l.up]
	footEnds, headEnds := 0, 0
	foot, head := 0.0, 0.0
	for _, s := range sections {
		a, b := box([][]line{s})
		if !(b[l.up]-a[l.up] > height/4) {
			continue
		}
		var breadthAt [2][2]float64 // foot and head, low and high
		breadthAt[0], breadthAt[1] = [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
		for _, line := range s {
			for _, p := range line.pts {
				share := (p[l.up] - a[l.up]) / (b[l.up] - a[l.up])
				for k, in := range []bool{share <= footShare, share >= 1-footShare} {
					if in {
						breadthAt[k][0], breadthAt[k][1] = min(breadthAt[k][0], p[l.athwart]), max(breadthAt[k][1], p[l.athwart])
					}
				}
			}
			if line.closed {
				continue
			}
			for _, last := range []bool{false, true} {
				switch share := (line.end(last)[l.up] - a[l.up]) / (b[l.up] - a[l.up]); {
				case share < 1.0/3:
					footEnds++
				case share > 2.0/3:
					headEnds++
				}
			}
		}
		foot += max(breadthAt[0][1]-breadthAt[0][0], 0)
		head += max(breadthAt[1][1]-breadthAt[1][0], 0)
	}
	if footEnds > 2*headEnds && footEnds >= len(sections)/2 && foot > head {
		return true
	}
	return headEnds == 0 && footEnds == 0 && foot > upsideDown*head
}
