package apptest

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
)

// Body is an invented hull given by formulas; lengths in mm. A place along it is a
// share s of its length from the bow, 0 to 1.
type Body struct {
	Frames               int
	Length, Half, Depth  float64 // Half is the greatest half-breadth
	Keel                 float64 // half of the keel's breadth, to which every frame comes down
	Bow, BowFull         float64 // share of the length in which the bow fills out, and how roundly: 2 is a parabola
	Stern, SternFull     float64 // the same of the stern
	StemHalf, Transom    float64 // shares of Half that are left at either end
	Sheer                float64 // rise of the upper edge at the ends
	Forefoot, Tuck       float64 // rise of the lower edge at stem and stern
	Section, SectionEnds float64 // exponents of the frames' superellipse amidships and at the ends: 2 is an ellipse, more is fuller
	Chine                float64 // share of the depth down which a hard chine lies; 0 for round frames
}

// Merchant is a bluff merchant hull of 24 frames with a round tuck.
func Merchant() *hull.Hull {
	return Body{Frames: 24, Length: 600, Half: 84, Depth: 74, Keel: 3, Bow: 0.27, BowFull: 2.8, Stern: 0.42, SternFull: 2.1,
		StemHalf: 0.06, Transom: 0.5, Sheer: 13, Forefoot: 9, Tuck: 36, Section: 3.4, SectionEnds: 2.1}.Hull()
}

// Launch is a slim open boat of 11 frames, sharp at both ends.
func Launch() *hull.Hull {
	return Body{Frames: 11, Length: 260, Half: 27, Depth: 30, Keel: 2, Bow: 0.55, BowFull: 2, Stern: 0.45, SternFull: 2,
		StemHalf: 0.12, Transom: 0.2, Sheer: 6, Forefoot: 5, Tuck: 6, Section: 2.3, SectionEnds: 1.9}.Hull()
}

// Chined is a boat of 9 frames with a hard chine and a broad transom.
func Chined() *hull.Hull {
	return Body{Frames: 9, Length: 240, Half: 36, Depth: 34, Keel: 2, Bow: 0.6, BowFull: 2.2, Stern: 0.3, SternFull: 2,
		StemHalf: 0.15, Transom: 0.8, Sheer: 7, Forefoot: 8, Tuck: 5, Chine: 0.55}.Hull()
}

// AnyBody draws a hull: bluff or fine, with a tuck or without, round or with a chine.
func AnyBody(t *rapid.T) Body {
	in := func(from, to float64, name string) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
	b := Body{
		Frames: rapid.IntRange(5, 12).Draw(t, "frames"), Length: in(120, 400, "length"), Half: in(15, 60, "half"), Depth: in(15, 60, "depth"),
		Keel: in(1, 4, "keel"), Bow: in(0.2, 0.6, "bow"), BowFull: in(1.8, 3.2, "bow full"), Stern: in(0.2, 0.4, "stern"), SternFull: in(1.8, 3, "stern full"),
		StemHalf: in(0.1, 1, "stem"), Transom: in(0.15, 1, "transom"), Sheer: in(0, 12, "sheer"), Forefoot: in(-6, 8, "forefoot"), Tuck: in(-6, 12, "tuck"),
		Section: in(1.8, 3.2, "section"), SectionEnds: in(1.7, 2.6, "section at the ends"),
	}
	if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
		b.Chine = in(0.3, 0.7, "chine")
	}
	return b
}

// Hull gives its frames, the bow first.
func (b Body) Hull() *hull.Hull {
	h := &hull.Hull{Bow: hull.BowFirst, Limits: hull.Limits{Upper: "wale", Lower: "rabbet"}}
	for i := range b.Frames {
		h.Frames = append(h.Frames, b.frame(i))
	}
	return h
}

func (b Body) frame(i int) hull.Frame {
	s := float64(i) / float64(b.Frames-1)
	fore, aft := max(0, 1-s/b.Bow), max(0, (s-1+b.Stern)/b.Stern)
	half := b.Half * (1 - (1-b.StemHalf)*math.Pow(fore, b.BowFull)) * (1 - (1-b.Transom)*math.Pow(aft, b.SternFull))
	half = max(half, b.Keel+1)
	top := b.Depth + b.Sheer*(2*s-1)*(2*s-1)
	low := b.Forefoot*fore*fore + b.Tuck*aft*aft
	f := hull.Frame{Name: fmt.Sprint(i + 1)}
	put := func(y, z float64) { f.Points = append(f.Points, mgl64.Vec3{s * b.Length, y, z}) }
	if b.Chine > 0 {
		const each = 6
		yc, zc := b.Keel+0.86*(half-b.Keel), top-b.Chine*(top-low)
		for j := range 2*each + 1 {
			if u := float64(j) / each; u <= 1 {
				put(half+(yc-half)*u, top+(zc-top)*u)
			} else {
				put(yc+(b.Keel-yc)*(u-1), zc+(low-zc)*(u-1))
			}
		}
		f.Knuckles = []int{each}
		return f
	}
	const points = 17
	n := b.SectionEnds + (b.Section-b.SectionEnds)*math.Pow(math.Sin(math.Pi*s), 2)
	for j := range points {
		sin, cos := math.Sincos(math.Pi / 2 * float64(j) / (points - 1))
		if j == points-1 {
			cos = 0
		}
		put(b.Keel+(half-b.Keel)*math.Pow(cos, 2/n), top-(top-low)*math.Pow(sin, 2/n))
	}
	return f
}

// AnyPlan draws decisions for a hull: strips of which some 5 to 16 go round it, one to
// three bands with lines of every kind, and rules that now and then let wedges lie
// anywhere or spring strakes that would else be cut from sheet.
func AnyPlan(t *rapid.T, h *hull.Hull) *hull.Plan {
	p := hull.NewPlan("any", *h)
	girths, most := outlines(h)
	l := &p.Layers[0]
	l.Stock.Width = most / rapid.Float64Range(5, 16).Draw(t, "strips")
	l.Stock.Thickness = rapid.Float64Range(0.4, 2).Draw(t, "thickness")
	l.Stock.Length = rapid.Float64Range(100, 1000).Draw(t, "strip length")
	l.Edges = rapid.SampledFrom([]hull.Edges{hull.Bevelled, hull.Square}).Draw(t, "edges")
	l.Creep = rapid.Float64Range(0, 0.1).Draw(t, "creep")
	bands := rapid.IntRange(1, 3).Draw(t, "bands")
	l.Bands = make([]hull.Band, bands)
	if bands == 1 && rapid.Bool().Draw(t, "short") {
		l.Bands[0].Strakes = max(int(most/l.Stock.Width)-1, 1)
	}
	if rapid.Bool().Draw(t, "wide strips") {
		for range 3 {
			l.Bands[0].Strips = append(l.Bands[0].Strips, 1.25*l.Stock.Width)
		}
	}
	for n := 1; n < bands; n++ {
		b := hull.BandLine{LineType: rapid.SampledFrom([]hull.LineType{hull.Drawn, hull.Free, hull.Least}).Draw(t, "line"), Aim: -1}
		for _, g := range girths {
			share := float64(n)/float64(bands) + rapid.Float64Range(-0.1, 0.1).Draw(t, "share")
			b.Handles = append(b.Handles, hull.Handle{Down: share * g, Held: b.LineType == hull.Drawn})
		}
		b.Hold = len(girths) / 2
		b.Handles[b.Hold].Held = true
		l.Lines = append(l.Lines, b)
	}
	if rapid.Bool().Draw(t, "wedges anywhere") {
		p.Trade.WedgeEnd, p.Trade.WedgeLength, p.Trade.Creep = 0.5, 1, 0.005
	}
	p.Trade.EdgeStrain = rapid.SampledFrom([]float64{0.003, 0.03}).Draw(t, "edge strain")
	p.Trade.WedgeOver = rapid.Float64Range(0, 0.3).Draw(t, "wedge over")
	return p
}

// outlines gives the girths of a hull's frames from point to point, and the greatest.
func outlines(h *hull.Hull) (girths []float64, most float64) {
	for _, f := range h.Frames {
		g := 0.0
		for j := 1; j < len(f.Points); j++ {
			g += f.Points[j].Sub(f.Points[j-1]).Len()
		}
		girths, most = append(girths, g), max(most, g)
	}
	return girths, most
}
