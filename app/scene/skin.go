package scene

import "github.com/go-gl/mathgl/mgl64"

// Skin is a side of a hull as plates.
type Skin struct {
	Plates []Plate
	Chosen int // strake that is chosen, or -1
}

// Plate is a strake, or with NoStrake a wedge: its edges rung by rung.
type Plate struct {
	Strake int
	Rungs  []Rung
}

// NoStrake is the strake of what is none.
const NoStrake = -1

// Rung is a place across a plate, at its upper and its lower edge.
type Rung struct {
	At, Normal [2]mgl64.Vec3 // mm; of unit length, outwards
	Tint       float64       // −1 to 1; 0 is bare wood
	Frame      int16         // the nearest
}

// thin is the width in mm under which a plate is taken to have ended.
const thin = 1e-4

func (r *Rung) wide() bool { return r.At[0].Sub(r.At[1]).Len() > thin }

// Add adds a skin's planking to the scene, to starboard too if both.
func (s *Scene) Add(k Skin, both bool) {
	s.side(k, 1)
	if both {
		s.side(k, -1)
	}
}

// side adds one side; y is multiplied by sign.
func (s *Scene) side(k Skin, sign float64) {
	for _, p := range k.Plates {
		base := int32(len(s.Vertices))
		for _, r := range p.Rungs {
			for j := range 2 {
				s.Vertices = append(s.Vertices, Vertex{At: across(r.At[j], sign), Normal: across(r.Normal[j], sign), Tint: r.Tint})
			}
		}
		s.plate(p, base, p.Strake >= 0 && p.Strake == k.Chosen)
	}
}

// plate adds the triangles of a plate whose vertices start at base: upper and lower
// edge by turns.
func (s *Scene) plate(p Plate, base int32, chosen bool) {
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

// Draw adds a line along the hull, on both sides if both.
func (s *Scene) Draw(pts []mgl64.Vec3, kind Kind, width float64, both bool) {
	if len(pts) < 2 {
		return
	}
	s.Lines = append(s.Lines, Polyline{Points: pts, Kind: kind, Width: width})
	if !both {
		return
	}
	other := make([]mgl64.Vec3, len(pts))
	for i, p := range pts {
		other[i] = across(p, -1)
	}
	s.Lines = append(s.Lines, Polyline{Points: other, Kind: kind, Width: width})
}

func across(p mgl64.Vec3, sign float64) mgl64.Vec3 {
	return mgl64.Vec3{p[0], p[1] * sign, p[2]}
}
