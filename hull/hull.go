package hull

import "slices"

// BowEnd says at which end of the x axis the bow lies.
type BowEnd string

// The two ends at which the bow can lie.
const (
	BowFirst BowEnd = "first" // the frame of least x is the foremost
	BowLast  BowEnd = "last"  // the frame of greatest x is the foremost
)

// Hull is the shape to be planked: its frames by increasing x.
type Hull struct {
	Frames []Frame
	Girths []Girth // where only these are known, one a frame; the frames then follow from them (SetGirths)
	Bow    BowEnd
	Limits Limits
	// Rounding is how far each length of the frames may be off because the source
	// gives whole units, half of the last one, mm at model size; 0 where the source
	// does not show it, as a plan file does not.
	Rounding float64

	extra *extra
}

// Clone is a copy that shares with h nothing that can change.
func (h *Hull) Clone() Hull {
	c := *h
	c.Frames, c.Girths, c.Limits = slices.Clone(h.Frames), slices.Clone(h.Girths), h.Limits.clone()
	for i := range c.Frames {
		f := &c.Frames[i]
		f.Points, f.Knuckles = slices.Clone(f.Points), slices.Clone(f.Knuckles)
	}
	return c
}

// FrameNamed gives the index of the frame with that name, or -1.
func (h *Hull) FrameNamed(name string) int {
	for i := range h.Frames {
		if h.Frames[i].Name == name {
			return i
		}
	}
	return -1
}
