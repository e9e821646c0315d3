package scene

import "github.com/go-gl/mathgl/mgl64"

// Skin is a side of a hull as a net: seams by stations.
type Skin struct {
	Seams   [][]mgl64.Vec3                    // [seam][station], mm; one more than there are strakes
	Normals [][]mgl64.Vec3                    // alike, of unit length, outwards
	Tint    func(strake, station int) float64 // −1 to 1; nil leaves bare wood
	Frame   []int16                           // [station]: the nearest frame
	Chosen  int                               // strake that is chosen, or -1
}

// thin is the width in mm under which a strake is taken to have dropped out.
const thin = 1e-4

// Add adds a skin's planking to the scene, to starboard too if both.
func (s *Scene) Add(k Skin, both bool) {
	s.side(k, 1)
	if both {
		s.side(k, -1)
	}
}

// side adds one side; y is multiplied by sign.
func (s *Scene) side(k Skin, sign float64) {
	for strake := 0; strake+1 < len(k.Seams); strake++ {
		base := int32(len(s.Vertices))
		for i := range k.Frame {
			t := 0.0
			if k.Tint != nil {
				t = k.Tint(strake, i)
			}
			for _, seam := range [2]int{strake, strake + 1} {
				s.Vertices = append(s.Vertices, Vertex{
					At: across(k.Seams[seam][i], sign), Normal: across(k.Normals[seam][i], sign), Tint: t,
				})
			}
		}
		s.strip(k, strake, base)
	}
}

// strip adds the triangles of a strake whose vertices start at base: upper and
// lower edge by turns.
func (s *Scene) strip(k Skin, strake int, base int32) {
	wide := func(i int) bool {
		return k.Seams[strake][i].Sub(k.Seams[strake+1][i]).Len() > thin
	}
	for i := 0; i+1 < len(k.Frame); i++ {
		if !wide(i) && !wide(i+1) {
			continue
		}
		a := base + int32(2*i)
		chosen := strake == k.Chosen
		s.Triangles = append(s.Triangles,
			Triangle{a, a + 1, a + 2, Tag{int16(strake), k.Frame[i]}, chosen},
			Triangle{a + 1, a + 3, a + 2, Tag{int16(strake), k.Frame[i+1]}, chosen})
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
