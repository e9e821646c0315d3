package scene

import (
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// Skin is one side of a hull as plates.
type Skin struct {
	Plates []Plate
	Chosen int // the chosen strake, or -1
}

// Plate is a strake, or with NoStrake a wedge: its edges, rung by rung.
type Plate struct {
	Strake int
	Rungs  []Rung
}

// NoStrake marks what belongs to no strake, and Built what the planking lies on.
const (
	NoStrake = -1
	Built    = -2
)

// Rung is a place across a plate, at its upper and its lower edge.
type Rung struct {
	At, Normal [2]mgl64.Vec3 // mm; of unit length, outwards
	Tint       float64       // −1 to 1: what a map shows of it
	Shut       [2]float64    // how much of the sky is hidden from its inner face there, 0 to 1
	Frame      int16         // the nearest frame
}

// thin is the width in mm below which a plate is taken to have ended.
const thin = 1e-4

func (r *Rung) wide() bool { return r.At[0].Sub(r.At[1]).Len() > thin }

// Add adds a skin's planking to the scene; with both, on both sides.
func (s *Scene) Add(k Skin, both bool) {
	rungs := 0
	for i := range k.Plates {
		rungs += len(k.Plates[i].Rungs)
	}
	if both {
		rungs *= 2
	}
	s.Vertices, s.Triangles = slices.Grow(s.Vertices, 2*rungs), slices.Grow(s.Triangles, 2*rungs)
	s.side(k, 1)
	if both {
		s.side(k, -1)
	}
}

// side adds one side; y is multiplied by sign.
func (s *Scene) side(k Skin, sign float64) {
	for i := range k.Plates {
		p := &k.Plates[i]
		base := int32(len(s.Vertices))
		tone, along := toneOf(p.Strake), 997*hashed(p.Strake, 1, 2)
		across0 := 61 * hashed(p.Strake, 3, 4)
		for i := range p.Rungs {
			r := &p.Rungs[i]
			if i > 0 {
				along += r.At[0].Sub(p.Rungs[i-1].At[0]).Len()
			}
			wide := [2]float64{0, r.At[1].Sub(r.At[0]).Len()}
			for j := range 2 {
				s.Vertices = append(s.Vertices, Vertex{
					At: across(r.At[j], sign), Normal: across(r.Normal[j], sign), Tint: r.Tint,
					Tone: tone, Shut: r.Shut[j], Grain: [2]float32{float32(along), float32(across0 + wide[j])},
				})
			}
		}
		s.plate(p, base, p.Strake >= 0 && p.Strake == k.Chosen)
	}
}

// plate adds the triangles of a plate whose vertices start at base: upper and lower
// edge alternately.
func (s *Scene) plate(p *Plate, base int32, chosen bool) {
	for i := 0; i+1 < len(p.Rungs); i++ {
		if !p.Rungs[i].wide() && !p.Rungs[i+1].wide() {
			continue
		}
		a := base + int32(2*i)
		s.Triangles = append(s.Triangles,
			Triangle{a, a + 1, a + 2, Tag{int16(p.Strake), p.Rungs[i].Frame}, chosen},
			Triangle{a + 1, a + 3, a + 2, Tag{int16(p.Strake), p.Rungs[i+1].Frame}, chosen})
	}
}

// Draw adds a line along the hull; with both, on both sides.
func (s *Scene) Draw(pts []mgl64.Vec3, kind Kind, width float64, both bool) {
	s.draw(Polyline{Points: pts, Kind: kind, Width: width}, both)
}

func (s *Scene) draw(l Polyline, both bool) {
	if len(l.Points) < 2 {
		return
	}
	s.Lines = append(s.Lines, l)
	if !both {
		return
	}
	other := make([]mgl64.Vec3, len(l.Points))
	for i, p := range l.Points {
		other[i] = across(p, -1)
	}
	l.Points = other
	s.Lines = append(s.Lines, l)
}

func across(p mgl64.Vec3, sign float64) mgl64.Vec3 {
	return mgl64.Vec3{p[0], p[1] * sign, p[2]}
}
