package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

// How says how a strip is brought round its bend.
type How string

// The three ways, from the easiest.
const (
	Dry    How = "dry"    // sprung on as it is
	Soaked How = "soaked" // bent wet, cold
	Heated How = "heated" // soaked, then bent hot
)

// BendLimits are the face strains, t·|κn|/2, up to which a strip is bent dry
// and soaked; over the second it is heated as well.
type BendLimits struct{ Dry, Soaked float64 }

// BendLimitsOf gives those of a plan's rules.
func BendLimitsOf(t hull.Trade) BendLimits {
	return BendLimits{Dry: t.BendDry, Soaked: t.BendSoaked}
}

// RuleOfThumb gives the usual limits.
func RuleOfThumb() BendLimits { return BendLimitsOf(hull.NewTrade()) }

// How gives the way for a face strain.
func (b BendLimits) How(strain float64) How {
	switch {
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

// Bend tells how a strake is bent and twisted.
type Bend struct {
	ID        string
	Radius    float64    // least radius of its face, mm; 0 if flat all along
	Near      int        // the frame nearest to the least radius
	Strain    float64    // greatest face strain, a ratio
	Twist     hull.Angle // from end to end
	TwistMost float64    // steepest twist, rad in 1 mm, signed
	Spans     []BendSpan // by rising frame; together the whole of the strake
}

// Bends tells, for every strake that is laid, how a strip of that thickness,
// mm, is bent into its place. A bay takes the way of its worst station.
func (l *Layer) Bends(thickness float64, limits BendLimits) []Bend {
	var out []Bend
	for _, st := range l.Strakes {
		if st.To > st.From {
			out = append(out, st.Bend(thickness, limits))
		}
	}
	return out
}

// Bend reads one strake. The face is read between the frames at which it is
// laid, as FaceRadiusMin is; where it runs to a point nothing is left to bend.
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
	b.Near = (worst + stationsPerBay/2) / stationsPerBay
	b.Strain = thickness * abs(st.Centre.Face[worst]) / 2
	for k := st.From; k < st.To; k += stationsPerBay {
		strain := 0.0
		for j := max(k, first); j <= min(k+stationsPerBay, last); j++ {
			strain = max(strain, thickness*abs(st.Centre.Face[j])/2)
		}
		b.span(BendSpan{k / stationsPerBay, k/stationsPerBay + 1, limits.How(strain), strain})
	}
	return b
}

// span adds a bay to the run before it, if both are bent in one way.
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
