package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// TurnsBetween says that the hull turns so much from one frame to the next that the
// frames do not define how it rounds between them, as at a bluff bow with too few cant
// frames.
type TurnsBetween struct {
	Frame  int        // the one before
	Down   float64    // mm of girth below the upper limit there, at the place of greatest turn
	Turn   hull.Angle // by which it turns
	Length float64    // mm, straight, from frame to frame
	Off    float64    // mm that planking there may lie off the hull
	Mend   hull.Plane // plane of a frame between them that would define it; to be measured or taken off the lines
}

func (TurnsBetween) note() {}

const (
	// leastTurn is the turn between frames below which a smooth curve is trusted, and
	// leastOff the least possible error, mm, that is reported. Our choice.
	leastTurn = 27 * math.Pi / 180
	leastOff  = 0.5
	// offShare is the share of its rise over the chord by which a curve between two frames
	// may lie off a hull that turns smoothly between them: from a twentieth, over an
	// ellipse, to three tenths, over the shoulder of a superellipse of the third power.
	offShare = 0.3
	// turnsLookedAt is the number of places down the girth at which a bay is checked.
	turnsLookedAt = 17
	// steepestMend is the steepest frame that is advised.
	steepestMend = 75 * math.Pi / 180
)

// turnings finds the bays that TurnsBetween reports, each at its worst place. The turn
// is that of the line along the hull out of its face: the angles of the chord to the
// face at either frame, where a curve and its reverse cancel. An arc of chord c that
// turns by a rises over it by c/2·tan(a/4).
func (s *Surface) turnings() []TurnsBetween {
	var out []TurnsBetween
	for i := range len(s.u) - 1 {
		worst := TurnsBetween{}
		v := 0.0
		for k := range turnsLookedAt {
			at := float64(k) / (turnsLookedAt - 1)
			if turn, length, off := s.turn(i, at); turn >= leastTurn && off > worst.Off {
				worst = TurnsBetween{Frame: i, Down: s.down(s.FrameStation(i), at), Turn: hull.Angle(turn), Length: length, Off: off}
				v = at
			}
		}
		if worst.Off >= leastOff {
			worst.Mend = s.frameBetween(i, v)
			out = append(out, worst)
		}
	}
	return out
}

// turn is the turn of a bay at v, in radians, over a chord of the given length, and the
// possible error of a curve there, mm.
func (s *Surface) turn(bay int, v float64) (turn, length, off float64) {
	a, b := s.atStation(s.FrameStation(bay), v), s.atStation(s.FrameStation(bay+1), v)
	chord := b.P.Sub(a.P)
	length = chord.Len()
	turn = math.Abs(rise(chord, length, b.Normal()) - rise(chord, length, a.Normal()))
	return turn, length, offShare * length / 2 * math.Tan(turn/4)
}

// onTrust reports whether a bay turns too much at v for its face to be known, by the
// limits of TurnsBetween.
func (s *Surface) onTrust(bay int, v float64) bool {
	turn, _, off := s.turn(bay, v)
	return turn >= leastTurn && off >= leastOff
}

// rise is the angle at which a chord leaves a face outwards.
func rise(chord mgl64.Vec3, length float64, normal mgl64.Vec3) float64 {
	return math.Asin(min(max(chord.Dot(normal)/max(length, 1e-9), -1), 1))
}

// frameBetween is the plane of a frame through the middle of a bay at v and, on the
// centre plane, midway between the frames on either side, so that it crosses neither.
func (s *Surface) frameBetween(bay int, v float64) hull.Plane {
	p := s.At((s.u[bay]+s.u[bay+1])/2, v).P
	a, b := s.footX(bay, p.Z(), 1), s.footX(bay+1, p.Z(), -1)
	q := hull.Plane{X: (a + b) / 2}
	if pa, pb := s.planes[bay], s.planes[bay+1]; pa != nil && pb != nil && pa.Cant == 0 && pb.Cant == 0 || p.Y() < 1 {
		return hull.Plane{X: p.X()}
	}
	cant := math.Atan2(p.X()-q.X, p.Y())
	q.Cant = hull.Angle(min(max(cant, -steepestMend), steepestMend))
	return q
}

// footX is the x at which a frame stands on the centre plane, at a height; for an end
// curve in no plane, that of its point nearest to the frame on that side.
func (s *Surface) footX(frame int, z, side float64) float64 {
	if p := s.planes[frame]; p != nil {
		return p.At(0, z)
	}
	x := math.Inf(-1)
	for k := range turnsLookedAt {
		x = max(x, side*s.placeAt(s.FrameStation(frame), float64(k)/(turnsLookedAt-1)).X())
	}
	return side * x
}

// noteTurns notes between which frames the planking is on trust.
func (l *Layer) noteTurns() {
	first, last := l.Surface.Planked()
	for _, n := range l.Surface.turns {
		if n.Frame >= first && n.Frame < last {
			l.tell(n)
		}
	}
}
