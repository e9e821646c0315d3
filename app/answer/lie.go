package answer

import (
	"io"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Lie is the answer of the command lie. Its numbers are not rounded.
type Lie struct {
	Layer  int        `json:"layer,omitempty"` // from 1; left out where there is but one
	Aim    float64    `json:"aim_deg"`
	Points []LiePoint `json:"points"` // by rising s
	Length float64    `json:"length"`
	Twist  float64    `json:"twist_deg"`

	Strip  *NaturalLie  `json:"strip,omitempty"`  // how a strip of a thickness lies; left out where it is not asked for
	Strips []NaturalLie `json:"strips,omitempty"` // in its place, where strips of several thicknesses are asked for

	Verdict *Verdict `json:"verdict"` // on a strip of the layer's stock that lies on it; nil where nothing is known
}

// LiePoint is a point of the unstressed line.
type LiePoint struct {
	X       float64  `json:"x"`
	Y       float64  `json:"y"`
	Z       float64  `json:"z"`
	Frame   string   `json:"frame"` // empty between frames
	Down    float64  `json:"down"`
	S       float64  `json:"s"` // signed, from the start
	Heading float64  `json:"heading_deg"`
	EdgeSet float64  `json:"edge_set_per_m"`
	Face    *float64 `json:"face_radius"` // nil where flat
	Twist   float64  `json:"twist_deg_per_100"`
}

// LieOf puts the unstressed line of a layer (from 0) of a planking into words.
func LieOf(k *loft.Planking, layer int, lie *loft.Lie) Lie {
	out := Lie{
		Layer:  layerKey(k, k.Layers[layer]),
		Aim:    lie.Aim.Degrees(),
		Points: []LiePoint{},
		Length: lie.Length,
		Twist:  lie.Twist.Degrees(),
	}
	l := k.Layers[layer]
	out.Verdict = verdictOf(l.JudgeLie(lie), l.Surface.FrameName)
	for _, p := range lie.Points {
		out.Points = append(out.Points, liePoint(k.Plan.Hull.Frames, p))
	}
	return out
}

func liePoint(frames []hull.Frame, p loft.LiePoint) LiePoint {
	out := LiePoint{
		X: p.P.X(), Y: p.P.Y(), Z: p.P.Z(),
		Down: p.Down, S: p.S,
		Heading: p.Heading.Degrees(),
		EdgeSet: p.EdgeSet.PerMetre(),
		Twist:   hull.Angle(p.Twist).Degrees() * 100,
	}
	if p.Frame >= 0 {
		out.Frame = frames[p.Frame].Name
	}
	if r, bent := p.Face.Radius(); bent {
		out.Face = &r
	}
	return out
}

// Text writes the points at frames and at both ends.
func (l Lie) Text(w io.Writer) error {
	p := &page{w: w}
	p.layer(l.Layer)
	t := table{head: heads("frame", "down", "s", "heading", "bend radius", "twist/100", "x", "y", "z")}
	for i, q := range l.Points {
		if q.Frame == "" && i > 0 && i < len(l.Points)-1 {
			continue
		}
		name := q.Frame
		if name == "" {
			name = tongue.T("(end)")
		}
		t.rows = append(t.rows, []string{name, mm(q.Down), mm(q.S), deg(q.Heading), bend(q.Face), deg(q.Twist), mm(q.X), mm(q.Y), mm(q.Z)})
	}
	if l.Verdict != nil {
		p.line("%s", capital(l.Verdict.Says)+".")
		p.line("It is nowhere forced sideways; the verdict is on a strip of the layer's stock.")
		p.gap()
	}
	p.table(t)
	p.gap()
	p.line("Aim %s degrees, length %s mm, twist %s degrees from end to end.", decimals(l.Aim, 2), mm(l.Length), deg(l.Twist))
	p.line("Lengths in mm; heading in degrees from square to the frame, positive downwards; twist in degrees a 100 mm.")
	if l.Strip != nil {
		l.Strip.text(p)
	}
	if len(l.Strips) > 0 {
		naturalLies(p, l.Strips)
	}
	return p.err
}
