package scene

import "math"

// Prospect is a direction from which a hull is viewed.
type Prospect uint8

// The prospects.
const (
	OffTheBow   Prospect = iota // from ahead and to one side, slightly above
	FromBow                     // from right ahead
	FromStern                   // from right astern
	Abeam                       // square from the side, the bow on its own side
	OffTheStern                 // from astern and to one side, slightly above
	FromAbove                   // straight down into it
	FromBelow                   // straight up at the keel
	AtTheBench                  // keel upwards, as on the bench
	prospects
)

// The usual angles, rad: off the bow in a view that is much wider than high, and in one
// as high as it is wide, which a hull fills better when seen more from its end; how far
// above it the eye is; and a slight lift of the eye from level, so that the deck edges
// of the two sides do not coincide.
const (
	wideYaw, narrowYaw = 0.55, 0.95
	usualPitch         = 0.36
	endPitch           = 0.10
	benchPitch         = 0.42
)

// From gives the camera that looks at a scene from a prospect, fitted to a view of w x h
// pixels. The bow is at the least x, or at the greatest.
func From(p Prospect, s *Scene, bowFirst bool, w, h int) Camera {
	yaw, pitch := p.angles(float64(w) / math.Max(float64(h), 1))
	if !bowFirst { // the same, mirrored amidships
		yaw = -yaw
	}
	c := Facing(s, yaw, pitch)
	c.KeelUp = p == AtTheBench
	return c.Fit(s, w, h)
}

// angles are the yaw and the pitch of a prospect of a hull whose bow is at the least
// x, in a view whose width is shape times its height.
func (p Prospect) angles(shape float64) (yaw, pitch float64) {
	const narrow, wide = 1.1, 2.0
	part := math.Max(0, math.Min(1, (shape-narrow)/(wide-narrow)))
	off := narrowYaw + (wideYaw-narrowYaw)*part
	switch p {
	case FromBow:
		return -math.Pi / 2, endPitch
	case FromStern:
		return math.Pi / 2, endPitch
	case Abeam:
		return 0, 0
	case OffTheStern:
		return off, usualPitch
	case FromAbove:
		return 0, math.Pi / 2
	case FromBelow:
		return 0, -math.Pi / 2
	case AtTheBench:
		return -off, -benchPitch
	}
	return -off, usualPitch
}
