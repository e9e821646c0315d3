package draw

// Fills gives a mark as polygons, the lowest first: a ring is a disc with a
// smaller one of the halo's colour over it.
func (m Mark) Fills() []Fill {
	out := []Fill{{Points: m.Outline(), Role: m.Role}}
	if m.Shape == Ring {
		m.Size *= 0.55
		out = append(out, Fill{Points: m.Outline(), Role: Halo})
	}
	return out
}
