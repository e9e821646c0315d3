package hull

import "math"

// Angle is an angle in radians.
type Angle float64

// Degrees makes an angle of d degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }
