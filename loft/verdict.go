package loft

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// VerdictKind is what an edge-set, a bend, a twist or a width means at the bench.
type VerdictKind string

// The kinds, from the easiest; "" is for a hull of unknown shape.
const (
	LiesByItself VerdictKind = "lies"    // a strip takes it by itself
	SpringsDry   VerdictKind = "springs" // it is sprung into place by hand, dry
	NeedsSoaking VerdictKind = "soak"    // it is bent wet, cold
	NeedsHeat    VerdictKind = "heat"    // it is soaked and bent hot
	NeedsSheet   VerdictKind = "spile"   // no strip lies so: the shape is cut from sheet
	NeedsBlock   VerdictKind = "block"   // neither strip nor sheet takes it: it is carved
)

// verdictKinds lists the kinds in that order.
var verdictKinds = []VerdictKind{LiesByItself, SpringsDry, NeedsSoaking, NeedsHeat, NeedsSheet, NeedsBlock}

// Verdict is what a figure means for a wood and a strip, and where.
type Verdict struct {
	Kind   VerdictKind
	Cause  ModeReason // ByEdge, ByBend, ByTwist or ByWidth
	Figure float64    // a strain or, for ByWidth, the width relative to the strip's; a ratio
	Limit  float64    // the greatest limit exceeded or, if none is, the one that is kept
	Frame  int        // where the figure is greatest
}

// Harder reports whether a verdict means more work than another or, if both are of one
// kind, whether its figure is a greater share of its limit.
func (v Verdict) Harder(than Verdict) bool {
	a, b := slices.Index(verdictKinds, v.Kind), slices.Index(verdictKinds, than.Kind)
	if a != b {
		return a > b
	}
	return v.Figure*than.Limit > than.Figure*v.Limit
}

// mode is how a strake with that verdict is made.
func (v Verdict) mode() hull.Mode {
	switch v.Kind {
	case NeedsSheet:
		return hull.Spiled
	case NeedsBlock:
		return hull.Block
	}
	return hull.Sprung
}

// hardest is the hardest of several verdicts.
func hardest(of ...Verdict) Verdict {
	out := of[0]
	for _, v := range of[1:] {
		if v.Harder(out) {
			out = v
		}
	}
	return out
}

// step is a limit, and what exceeding it means.
type step struct {
	limit float64
	over  VerdictKind
}

// judge gives the verdict on a figure by limits in rising order, beginning with that of
// a dry strip; below a share of that it lies by itself.
func (f fitting) judge(cause ModeReason, figure float64, frame int, steps ...step) Verdict {
	v := Verdict{Kind: SpringsDry, Cause: cause, Figure: figure, Limit: steps[0].limit, Frame: frame}
	if figure <= f.Rules.Lies*steps[0].limit {
		v.Kind = LiesByItself
	}
	for _, s := range steps {
		if figure > s.limit {
			v.Kind, v.Limit = s.over, s.limit
		}
	}
	return v
}

// judgeEdge is the verdict on a strain of edge-set.
func (f fitting) judgeEdge(strain float64, frame int) Verdict {
	return f.judge(ByEdge, strain, frame, step{f.Rules.EdgeStrain, NeedsSheet})
}

// judgeBend is the verdict on a strain of the faces.
func (f fitting) judgeBend(strain float64, frame int) Verdict {
	r := f.Rules
	return f.judge(ByBend, strain, frame, step{r.BendDry, NeedsSoaking}, step{r.BendSoaked, NeedsHeat}, step{r.BendHot, NeedsBlock})
}

// judgeTwist is the verdict on a shear strain of the faces.
func (f fitting) judgeTwist(strain float64, frame int) Verdict {
	return f.judge(ByTwist, strain, frame, step{f.Rules.Twist, NeedsBlock})
}

// JudgeLine is the verdict on a whole strip, of the layer's stock, whose middle runs
// along a band line between the first and the last planked frame; its Kind is "" on a
// hull of unknown shape.
func (l *Layer) JudgeLine(b *BandLine) Verdict {
	if l.Surface.shapeless {
		return Verdict{Cause: ByEdge}
	}
	first, last := l.Surface.Planked()
	most, at := 0.0, first
	for k := l.Surface.FrameStation(first); k <= l.Surface.FrameStation(last); k++ {
		if strain := abs(b.EdgeSet[k]) * l.width / 2; strain > most {
			most, at = strain, nearestFrame(k)
		}
	}
	return l.judgeEdge(most, at)
}

// JudgeLie is the hardest verdict on a whole strip that lies on an unstressed line:
// that of its bend or its twist, since it has no edge-set.
func (l *Layer) JudgeLie(lie *Lie) Verdict {
	bend, twist := Verdict{}, Verdict{}
	frame := l.lieStart(lie)
	for _, p := range lie.Points {
		if p.Frame >= 0 {
			frame = p.Frame
		}
		bend = hardest(bend, l.judgeBend(l.thickness*abs(p.Face)/2, frame))
		twist = hardest(twist, l.judgeTwist(l.thickness*abs(p.Twist), frame))
	}
	return hardest(bend, twist)
}

// JudgeSprung is the hardest verdict on a strip that is sprung over the frames and
// held, by the bend of its faces and its edge-set.
func (l *Layer) JudgeSprung(s *Sprung) Verdict {
	return hardest(l.judgeBend(s.Strain, s.Worst), l.judgeEdge(s.Edge, s.EdgeWorst))
}

// lieStart is the first frame that a line crosses; 0 if it crosses none.
func (l *Layer) lieStart(lie *Lie) int {
	for _, p := range lie.Points {
		if p.Frame >= 0 {
			return p.Frame
		}
	}
	return 0
}

// HardestIn is the strake of a band (from 0) that needs most work by its verdict; nil
// for a band without one.
func (l *Layer) HardestIn(band int) *Strake {
	var out *Strake
	for _, st := range l.Strakes {
		if st.Band == band+1 && st.To > st.From && (out == nil || st.Making.Verdict.Harder(out.Making.Verdict)) {
			out = st
		}
	}
	return out
}

// nearestFrame is the frame nearest to a station.
func nearestFrame(station int) int { return (station + stationsPerBay/2) / stationsPerBay }
