package answer

import (
	"io"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Flat is the answer of the command flat: the flat shape of a strake. x runs
// along it in the direction of rising x of the hull, y upwards, the chord of
// its middle line on y = 0.
type Flat struct {
	Layer     int          `json:"layer,omitempty"` // from 1; left out where there is but one
	ID        string       `json:"id"`
	Upper     [][2]float64 `json:"upper"` // its edges, as many points each
	Lower     [][2]float64 `json:"lower"`
	Rectangle [2]float64   `json:"rectangle"` // length and width of the least that holds it
	Sweep     float64      `json:"sweep"`
	Misfit    float64      `json:"misfit"`
	Area      float64      `json:"area"`      // mm² of the flat shape
	HullArea  float64      `json:"hull_area"` // mm² of the hull that it covers
	Frames    []FlatFrame  `json:"frames"`    // those it crosses, from the first to the last
}

// FlatFrame is where a frame crosses a flat shape: a straight line from the
// upper edge to the lower.
type FlatFrame struct {
	Frame string     `json:"frame"`
	X     float64    `json:"x"` // where it crosses the middle line
	Upper [2]float64 `json:"upper"`
	Lower [2]float64 `json:"lower"`
	Width float64    `json:"width"` // to cut, across the strake
}

// FlatOf puts the flat shape of a strake of a layer (from 0) of a planking into
// words.
func FlatOf(k *loft.Planking, layer int, f *loft.Flat) Flat {
	out := Flat{
		Layer:     layerKey(k, k.Layers[layer]),
		ID:        f.ID,
		Upper:     pairs(f.Upper),
		Lower:     pairs(f.Lower),
		Rectangle: [2]float64{tidy(f.Length), tidy(f.Width)},
		Sweep:     tidy(f.Sweep),
		Misfit:    tidy(f.Misfit),
		Area:      tidy(f.Area),
		HullArea:  tidy(f.HullArea),
		Frames:    []FlatFrame{},
	}
	for _, st := range k.Layers[layer].Strakes {
		if st.ID != f.ID {
			continue
		}
		for _, c := range f.Frames {
			out.Frames = append(out.Frames, flatFrame(k.Plan.Hull.Frames[c.Frame], f, c, st.At[c.Frame]))
		}
	}
	return out
}

func flatFrame(frame hull.Frame, f *loft.Flat, c loft.FlatFrame, at loft.Crossing) FlatFrame {
	upper, lower := f.Upper[c.Rung], f.Lower[c.Rung]
	return FlatFrame{
		Frame: frame.Name,
		X:     tidy((upper.X() + lower.X()) / 2),
		Upper: pair(upper),
		Lower: pair(lower),
		Width: tidy(at.WidthCut),
	}
}

func pair(p mgl64.Vec2) [2]float64 { return [2]float64{tidy(p.X()), tidy(p.Y())} }

func pairs(ps []mgl64.Vec2) [][2]float64 {
	out := make([][2]float64, len(ps))
	for i, p := range ps {
		out[i] = pair(p)
	}
	return out
}

// Text writes the shape at the frames it crosses and at its ends, then what it
// takes to cut it.
func (a Flat) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("Strake %s laid flat", a.ID)
	t := table{head: heads("frame", "x", "upper x", "upper y", "lower x", "lower y", "width")}
	row := func(name string, upper, lower [2]float64, width string) {
		t.rows = append(t.rows, []string{name, mm((upper[0] + lower[0]) / 2), mm(upper[0]), mm(upper[1]), mm(lower[0]), mm(lower[1]), width})
	}
	last := len(a.Upper) - 1
	if len(a.Frames) == 0 || a.Frames[0].Upper != a.Upper[0] {
		row(tongue.T("(end)"), a.Upper[0], a.Lower[0], "")
	}
	for _, f := range a.Frames {
		row(f.Frame, f.Upper, f.Lower, mm(f.Width))
	}
	if len(a.Frames) == 0 || a.Frames[len(a.Frames)-1].Upper != a.Upper[last] {
		row(tongue.T("(end)"), a.Upper[last], a.Lower[last], "")
	}
	p.table(t)
	p.gap()
	p.line("Least rectangle %s x %s mm; sweep %s mm.", mm(a.Rectangle[0]), mm(a.Rectangle[1]), mm(a.Sweep))
	p.line("%s", a.fit())
	p.line("Lengths in mm: x along the strake, y upwards from the chord of its middle line, width across the strake.")
	return p.err
}

// fit tells how well the flat shape covers the hull.
func (a Flat) fit() string {
	area := tongue.T("area %s mm², of the hull %s mm²", decimals(a.Area, 1), decimals(a.HullArea, 1))
	switch m := decimals(math.Abs(a.Misfit), 3); {
	case nought(a.Misfit, 3):
		return tongue.T("Its middle fits the hull; %s.", area)
	case a.Misfit > 0:
		return tongue.T("On the hull its middle is %s mm longer than flat; %s.", m, area)
	default:
		return tongue.T("On the hull its middle is %s mm shorter than flat; %s.", m, area)
	}
}
