package answer

import (
	"io"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Learned is the answer of record learn: how the builder's work strays with each wood
// and strip of a plan.
type Learned struct {
	Spreads []Spread `json:"spreads"`
	Written string   `json:"written"` // the builder's own file, or the plan that took from it
	From    string   `json:"from,omitempty"`
}

// Spread is how the work strays with a wood and strip: mm, standard deviations but
// for the creep.
type Spread struct {
	Species   string  `json:"species"`
	Width     float64 `json:"width"`
	Thickness float64 `json:"thickness"`
	Creep     float64 `json:"creep"`
	CreepSD   float64 `json:"creep_sd"`
	Shape     float64 `json:"shape"`
	Frame     float64 `json:"frame"`
	Knife     float64 `json:"knife"`
	Along     float64 `json:"along"`
	Strake    float64 `json:"strake"`
	Reading   float64 `json:"reading"`
	Sure      float64 `json:"sure"`
	Builds    int     `json:"builds"`
	Readings  int     `json:"readings"`
	Sentence  string  `json:"sentence"`
}

// LearnedOf tells spreads that were written to a file, or to a plan from one.
func LearnedOf(spreads []hull.Spread, written, from string) Learned {
	out := Learned{Spreads: []Spread{}, Written: written, From: from}
	for _, s := range spreads {
		out.Spreads = append(out.Spreads, Spread{
			s.Species, tidy(s.Width), tidy(s.Thickness), tidy(s.Creep), tidy(s.CreepSD), tidy(s.Shape), tidy(s.Frame), tidy(s.Knife), tidy(s.Along),
			tidy(s.Strake), tidy(s.Reading), tidy(s.Sure), s.Builds, s.Readings, SpreadText(s, MM{}),
		})
	}
	return out
}

// Text writes a paragraph a wood and strip.
func (a Learned) Text(w io.Writer) error {
	p := &page{w: w}
	for _, s := range a.Spreads {
		p.line("%s", s.Sentence)
	}
	p.gap()
	if a.From != "" {
		p.line("Taken from %s and written to %s.", a.From, a.Written)
	} else {
		p.line("Written to %s.", a.Written)
	}
	return p.err
}

// SpreadText tells how the work with a wood and strip strays. The bounds are those
// that hold in 95 % of cases.
func SpreadText(s hull.Spread, u Units) string {
	wood := strings.TrimSpace(s.Species)
	if wood == "" {
		wood = tongue.T("a wood without a name")
	}
	const most = 1.96 // standard deviations: 95 % of a normal distribution
	off := func(deviation float64) string { return told(u, most*deviation, 2) }
	return tongue.T("With %s, %s by %s: a strip builds up by %s; the hull is off the drawing by up to %s, a frame alone by %s, the knife by %s, the build-up along the hull by %s, a strake besides by %s, a reading by %s (each %s); from %s and %s.",
		wood, told(u, s.Width, -1), told(u, s.Thickness, -1), Between(s.Creep, most*s.CreepSD, u),
		off(s.Shape), off(s.Frame), off(s.Knife), off(s.Along), off(s.Strake), off(s.Reading), tongue.T(Sure), tongue.Count(s.Builds, "%d build", "%d builds", s.Builds), tongue.Count(s.Readings, "%d reading", "%d readings", s.Readings))
}
