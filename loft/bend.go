package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// How is the method by which a strip is bent into place.
type How string

// The ways, from the easiest.
const (
	Dry    How = "dry"    // sprung on as it is
	Soaked How = "soaked" // bent wet, cold
	Heated How = "heated" // soaked, then bent hot
	Carved How = "carved" // beyond any strip
)

// BendLimits are the face strains, t·|κn|/2, up to which a strip is bent dry, soaked,
// and soaked and heated; beyond the last it is carved. A last limit of 0 means no
// limit.
type BendLimits struct{ Dry, Soaked, Hot float64 }

// BendLimitsOf gives the limits in a set of rules; a layer's rules hold those of its
// wood.
func BendLimitsOf(t hull.Trade) BendLimits {
	return BendLimits{Dry: t.BendDry, Soaked: t.BendSoaked, Hot: t.BendHot}
}

// How gives the way for a face strain.
func (b BendLimits) How(strain float64) How {
	switch {
	case b.Hot > 0 && strain > b.Hot:
		return Carved
	case strain > b.Soaked:
		return Heated
	case strain > b.Dry:
		return Soaked
	}
	return Dry
}

// BendSpan is a run of bays, from one frame to another, in which a strip is
// bent in one way.
type BendSpan struct {
	From, To int // frames
	How      How
	Strain   float64 // greatest face strain in it, a ratio
}

// Bend is how a strake is bent and twisted.
type Bend struct {
	ID        string
	Radius    float64    // least radius of its face, mm; 0 if flat all along
	Near      int        // the frame nearest to the least radius
	Strain    float64    // greatest face strain, a ratio
	Form      float64    // mm, diameter of the form round which it is bent there, at the strip's inner face; 0 if flat all along
	Twist     hull.Angle // from end to end
	TwistMost float64    // steepest twist, rad in 1 mm, signed
	Spans     []BendSpan // by rising frame; together the whole of the strake
	Untold    []int      // frames at the hull's ends at which the frames do not tell the bend, and all of this is a guess
}

// bends gives, for every strake that is laid, how a strip of the given thickness (mm)
// is bent into place. A bay takes the method that its worst station needs.
func (l *Layer) bends(thickness float64, limits BendLimits) []Bend {
	var out []Bend
	for _, st := range l.Strakes {
		if st.To > st.From {
			out = append(out, st.Bend(thickness, limits))
		}
	}
	return out
}

// Bend reads one strake. The face is read between the frames at which it is laid, as
// FaceRadiusMin is; where it runs out to a point there is nothing left to bend.
func (st *Strake) Bend(thickness float64, limits BendLimits) Bend {
	b := Bend{ID: st.ID, Radius: st.FaceRadiusMin, Twist: st.Twist}
	first, last := st.laidStations()
	worst := first
	for k := first; k <= last; k++ {
		if abs(st.Centre.Face[k]) > abs(st.Centre.Face[worst]) {
			worst = k
		}
		if t := float64(st.Centre.Twist[k]); math.Abs(t) > math.Abs(b.TwistMost) {
			b.TwistMost = t
		}
	}
	b.Near = nearestFrame(worst)
	b.Untold = st.untoldEnds()
	b.Strain = thickness * abs(st.Centre.Face[worst]) / 2
	b.Form = formFor(st.Centre.Face[worst], thickness)
	for k := st.From; k < st.To; k += stationsPerBay {
		strain := 0.0
		for j := max(k, first); j <= min(k+stationsPerBay, last); j++ {
			strain = max(strain, thickness*abs(st.Centre.Face[j])/2)
		}
		b.span(BendSpan{k / stationsPerBay, k/stationsPerBay + 1, limits.How(strain), strain})
	}
	return b
}

// untoldEnds are the frames at the hull's ends to which a strake is laid and at which the
// frames do not tell its bend.
func (st *Strake) untoldEnds() (frames []int) {
	for i, frame := range []int{0, len(st.At) - 1} {
		if st.Centre.untold[i] && st.At[frame].Laid {
			frames = append(frames, frame)
		}
	}
	return frames
}

// Guessed reports whether the least radius is at a place where the frames do not tell it.
func (b *Bend) Guessed() bool { return slices.Contains(b.Untold, b.Near) }

// BendUntold says that the frames do not tell how strakes bend at an end of the hull, since
// the last bay turns far more than the next.
type BendUntold struct {
	Frame   int
	Strakes []string
}

func (BendUntold) note() {}

// noteBends notes at which ends of the hull the bend is a guess.
func (l *Layer) noteBends() {
	for _, frame := range []int{0, l.Surface.Frames() - 1} {
		n := BendUntold{Frame: frame}
		for _, st := range l.Strakes {
			if slices.Contains(st.untoldEnds(), frame) {
				n.Strakes = append(n.Strakes, st.ID)
			}
		}
		if n.Strakes != nil {
			l.tell(n)
		}
	}
}

// formFor is the diameter, mm, of the form round which a strip of the given thickness
// (mm) takes a bend, with no allowance for springback; 0 for a flat one. The bend is
// that of the surface on which the strip lies: where the hull is convex that face is
// next to the form, in a hollow the other one is.
func formFor(face hull.Curvature, thickness float64) float64 {
	r, bent := face.Radius()
	switch {
	case !bent:
		return 0
	case face > 0:
		return 2 * max(r-thickness, 0)
	}
	return 2 * r
}

// span adds a bay to the run before it if both are bent by the same method.
func (b *Bend) span(bay BendSpan) {
	if n := len(b.Spans); n > 0 && b.Spans[n-1].How == bay.How {
		b.Spans[n-1].To, b.Spans[n-1].Strain = bay.To, max(b.Spans[n-1].Strain, bay.Strain)
		return
	}
	b.Spans = append(b.Spans, bay)
}

// laidStations are those of the first and the last frame at which it is laid.
func (st *Strake) laidStations() (first, last int) {
	first, last = -1, -1
	for i, c := range st.At {
		if c.Laid {
			if first < 0 {
				first = i * stationsPerBay
			}
			last = i * stationsPerBay
		}
	}
	return first, last
}

func abs(c hull.Curvature) float64 { return math.Abs(float64(c)) }
