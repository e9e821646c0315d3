package answer

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Strakes is the answer of the command strakes: the strake table.
type Strakes struct {
	Frames  []string `json:"frames"`  // by rising x
	Strakes []Strake `json:"strakes"` // from the upper limit down, layer by layer
	Wedges  []Wedge  `json:"wedges"`
	Drops   []Drop   `json:"drops"`
	Runouts []Runout `json:"runouts"`
	Limits  []Limits `json:"limits"` // of the wood of every layer
	Notes   []string `json:"notes"`
	Written string   `json:"written,omitempty"`

	edges []layerEdges // of every layer
}

// Strake is one strake.
type Strake struct {
	Layer         int        `json:"layer,omitempty"` // from 1; left out where there is but one
	ID            string     `json:"id"`
	Band          int        `json:"band"`
	Number        int        `json:"number"`
	Garboard      bool       `json:"garboard"`
	At            []Crossing `json:"at"`                            // the frames at which it is laid
	EdgeSetMax    *float64   `json:"edge_set_max_per_m"`            // nil where the hull has no shape
	FaceRadiusMin *float64   `json:"face_radius_min"`               // nil where flat all along, and where the hull has no shape
	Guessed       bool       `json:"face_radius_guessed,omitempty"` // the frames do not tell it
	Twist         *float64   `json:"twist_deg"`                     // nil where the hull has no shape
	Length        float64    `json:"length"`
	Cuts          []Cut      `json:"cuts"`       // by which a sprung strake's strip is planed, before it is bevelled; none of another
	Strays        float64    `json:"cuts_stray"` // from its edge, at the most
	Set           []string   `json:"set"`        // the strakes that are cut alike, itself among them; none of one that is not sprung

	together     string   // what its set is cut to, in words
	Mode         string   `json:"mode"`    // sprung, spiled or block
	Reason       string   `json:"reason"`  // easy, edge, width, bend, twist or chosen
	Verdict      *Verdict `json:"verdict"` // the hardest of those that follow and of the width; nil where the hull has no shape, unless it is too wide
	EdgeVerdict  *Verdict `json:"edge_verdict"`
	BendVerdict  *Verdict `json:"bend_verdict"`
	TwistVerdict *Verdict `json:"twist_verdict"`
	Form         *float64 `json:"form_diameter"` // of the form under its inner face at its tightest bend; nil where flat, and where the hull has no shape

	HoodEnds []HoodEnd `json:"hood_ends"` // at the first and the last frame of its layer; none where the hull has no shape

	making string  // how it is made and why, in words
	form   string  // round what it is bent
	planes [2]bool // whether its upper edge and its lower are told by their bevels
}

// Crossing is a strake at a frame.
type Crossing struct {
	Frame      string  `json:"frame"`
	Upper      float64 `json:"upper"` // girth of its upper edge below the upper limit
	WidthFrame float64 `json:"width_frame"`
	WidthCut   float64 `json:"width_cut"`
	Pitch      float64 `json:"pitch"`           // what a whole strip takes up there as laid
	BevelUpper float64 `json:"bevel_upper_deg"` // planed off square; 0 of edges left square, but at wale and rabbet
	BevelLower float64 `json:"bevel_lower_deg"`
	Action     string  `json:"action"`
	Gap        float64 `json:"gap"`
}

// Wedge is a wedge or stealer.
type Wedge struct {
	Layer   int     `json:"layer,omitempty"`
	Below   string  `json:"below"` // the strake above it
	Band    int     `json:"band"`
	From    string  `json:"from"` // the frame where the gap opens
	To      string  `json:"to"`   // the frame where it is widest
	Length  float64 `json:"length"`
	Width   float64 `json:"width"`
	Stealer bool    `json:"stealer"`
}

// Drop tells that a strake ends in another.
type Drop struct {
	Layer  int     `json:"layer,omitempty"`
	Strake string  `json:"strake"` // the one that ends
	Into   string  `json:"into"`
	Band   int     `json:"band"`
	From   string  `json:"from"` // the last frame at which it is laid
	To     string  `json:"to"`   // the first at which it is not
	Nib    float64 `json:"nib"`  // across the strake where it ends

	text string
}

// StrakesOf gives the strake table of a planking.
func StrakesOf(k *loft.Planking) Strakes {
	out := Strakes{Frames: []string{}, Strakes: []Strake{}, Wedges: []Wedge{}, Drops: []Drop{}, Runouts: runoutsOf(k), Limits: limitsOf(k.Plan), Notes: notes(k)}
	frames := k.Plan.Hull.Frames
	for _, f := range frames {
		out.Frames = append(out.Frames, f.Name)
	}
	for _, l := range k.Layers {
		key := layerKey(k, l)
		for _, s := range l.Strakes {
			a := strake(frames, key, s)
			a.made(l, s)
			if !k.Plan.Hull.Shapeless() {
				most, twist := tidy(s.EdgeSetMax.PerMetre()), degrees(s.Twist)
				a.EdgeSetMax, a.Twist = &most, &twist
			}
			out.Strakes = append(out.Strakes, a)
		}
		setCuts(l, out.Strakes[len(out.Strakes)-len(l.Strakes):])
		setHoods(l, out.Strakes[len(out.Strakes)-len(l.Strakes):])
		out.edges = append(out.edges, layerEdges{EdgesText(&k.Plan.Hull, l), HoodsOff(l, MM{})})
		for _, g := range l.Wedges {
			out.Wedges = append(out.Wedges, Wedge{key, g.Below, g.Band, frames[g.From].Name, frames[g.To].Name, tidy(g.Length), tidy(g.Width), g.Stealer})
		}
		for _, d := range l.Drops {
			out.Drops = append(out.Drops, Drop{key, d.Strake, d.Into, d.Band, frames[d.From].Name, frames[d.To].Name, tidy(d.Nib), dropText(l, &d, MM{})})
		}
	}
	return out
}

// dropText tells in a phrase where a strake ends, and in what.
func dropText(l *loft.Layer, d *loft.Drop, u Units) string {
	name := l.Surface.FrameName
	return tongue.T("strake %s ends on frame %s in a nib of %s, let into %s, which goes on alone towards %s", d.Strake, name(d.From), told(u, d.Nib, 1), d.Into, name(d.To))
}

func strake(frames []hull.Frame, layer int, s *loft.Strake) Strake {
	out := Strake{
		Layer: layer, ID: s.ID, Band: s.Band, Number: s.Number, Garboard: s.Garboard,
		At:            []Crossing{},
		FaceRadiusMin: radius(s.FaceRadiusMin, s.FaceRadiusMin > 0),
		Length:        tidy(s.Length),
	}
	bend := s.Bend(1, loft.BendLimits{})
	out.Guessed = bend.Guessed()
	for i, c := range s.At {
		if c.Laid {
			out.At = append(out.At, CrossingOf(frames[i].Name, c))
		}
	}
	return out
}

// made fills in how a strake is made and what its figures mean.
func (s *Strake) made(l *loft.Layer, of *loft.Strake) {
	m, name := of.Making, l.Surface.FrameName
	s.Mode, s.Reason, s.making = modeWord(m.Mode), string(m.Reason), MakingText(m, name)
	s.Verdict, s.EdgeVerdict = verdictOf(m.Verdict, name), verdictOf(m.Edge, name)
	s.BendVerdict, s.TwistVerdict = verdictOf(m.Bend, name), verdictOf(m.Twist, name)
	if of.To <= of.From {
		return
	}
	if form := tidy(l.BendOf(of).Form); form > 0 {
		s.Form, s.form = &form, FormText(form, MM{})
	}
}

// CrossingOf puts a strake at the frame of that name into words.
func CrossingOf(frame string, c loft.Crossing) Crossing {
	return Crossing{
		Frame:      frame,
		Upper:      tidy(c.Upper),
		WidthFrame: tidy(c.WidthFrame),
		WidthCut:   tidy(c.WidthCut),
		Pitch:      tidy(c.Pitch),
		BevelUpper: degrees(c.BevelUpper),
		BevelLower: degrees(c.BevelLower),
		Action:     string(c.Action),
		Gap:        tidy(c.Gap),
	}
}
