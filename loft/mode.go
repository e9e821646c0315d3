package loft

import (
	"github.com/strakewright/strakewright/hull"
)

// ModeReason says why a strake is made as it is.
type ModeReason string

// The reasons, from the weakest.
const (
	ByNature ModeReason = "easy"   // a strip will do
	ByEdge   ModeReason = "edge"   // a strip would be strained sideways
	ByWidth  ModeReason = "width"  // it is wider than its strip
	ByBend   ModeReason = "bend"   // no strip takes its face bend, even with heat
	ByTwist  ModeReason = "twist"  // no strip takes its twist
	ByChoice ModeReason = "chosen" // the builder's choice
)

// Making is how a strake is made, and why.
type Making struct {
	Mode   hull.Mode
	Reason ModeReason
	Figure float64 // the deciding figure: a strain or, for ByWidth, the width relative to the strip's; a ratio
	Limit  float64 // up to which a strip would do
	Frame  int     // where it is greatest

	Verdict           Verdict // the hardest of the verdicts, whatever the builder has chosen; its Kind is "" on a hull of unknown shape, unless it is too wide
	Edge, Bend, Twist Verdict
}

// making chooses the mode of a strake by the plan's rules, or takes the builder's. A
// bend or twist too great for a strip is too great for a sheet of the same thickness,
// so the strake is carved; one that is only strained sideways, or is too wide, is cut
// from sheet.
func (l *Layer) making(st *Strake, chosen hull.Mode) Making {
	m := Making{Mode: hull.Sprung, Reason: ByNature}
	if st.To > st.From {
		m = l.madeByRules(st)
	}
	if chosen != "" {
		m.Mode, m.Reason = chosen, ByChoice
	}
	return m
}

// madeByRules is how a strake is made by the rules alone.
func (l *Layer) madeByRules(st *Strake) Making {
	var m Making
	var wide Verdict
	if ratio, at := l.widest(st); ratio > 1 {
		wide = Verdict{Kind: NeedsSheet, Cause: ByWidth, Figure: ratio, Limit: 1, Frame: at}
	}
	m.Verdict = wide
	if !l.Surface.shapeless {
		face, faceAt := st.greatest(func(k int) float64 { return l.thickness * abs(st.Centre.Face[k]) / 2 })
		twist, twistAt := st.greatest(func(k int) float64 { return l.thickness * abs(st.Centre.Twist[k]) })
		edge, edgeAt := st.greatest(st.EdgeStrain)
		m.Edge, m.Bend, m.Twist = l.judgeEdge(edge, edgeAt), l.judgeBend(face, faceAt), l.judgeTwist(twist, twistAt)
		m.Verdict = hardest(m.Bend, m.Twist, wide, m.Edge)
	}
	v := m.Verdict
	m.Mode, m.Reason, m.Figure, m.Limit, m.Frame = v.mode(), v.Cause, v.Figure, v.Limit, v.Frame
	if m.Mode == hull.Sprung {
		m.Reason = ByNature
	}
	return m
}

// Thickness is the thickness of the layer's strips, mm.
func (l *Layer) Thickness() float64 { return l.thickness }

// BendOf gives how a strake of the layer is bent, in strips of its stock and wood.
func (l *Layer) BendOf(st *Strake) Bend { return st.Bend(l.thickness, BendLimitsOf(l.Rules)) }

// greatest is the greatest value of a figure over the stations between the first and
// the last frame at which a strake is laid, and the nearest frame.
func (st *Strake) greatest(figure func(station int) float64) (most float64, frame int) {
	first, last := st.laidStations()
	at := first
	for k := first; k <= last; k++ {
		if f := figure(k); f > most {
			most, at = f, k
		}
	}
	return most, nearestFrame(at)
}

// EdgeStrain is the strain of edge-set at the edges of the strake at a station of its
// middle line, |κg|·w/2 for its width w there, interpolated linearly between frames: a
// ratio.
func (st *Strake) EdgeStrain(station int) float64 {
	i := min(station/stationsPerBay, len(st.At)-1)
	w := st.At[i].WidthCut
	if f := float64(station%stationsPerBay) / stationsPerBay; f > 0 {
		w += f * (st.At[i+1].WidthCut - w)
	}
	return abs(st.Centre.EdgeSet[station]) * w / 2
}

// widest is the greatest width of a strake relative to a whole strip as laid, where it
// exceeds the tolerance of a fit or, past a nib, the natural creep, as a ratio; else 1;
// and its frame.
func (l *Layer) widest(st *Strake) (ratio float64, frame int) {
	ratio = 1
	wider := func(w float64, i int) {
		if r := w / st.At[i].Pitch; r > ratio {
			ratio, frame = r, i
		}
	}
	for i, c := range st.At {
		if c.Action == Gap {
			wider(c.WidthCut, i)
		}
	}
	for _, n := range st.Nibs {
		if n.Wide-st.At[n.Frame].Pitch > max(l.Rules.Fit, l.Rules.Creep*st.Strip) {
			wider(n.Wide, n.Frame)
		}
	}
	return ratio, frame
}
