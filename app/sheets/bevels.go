package sheets

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/hull"
)

// bevelUnits are the two ways to set a bevel: by a protractor, and by a rise
// over 10 mm of edge, 10·tan of the angle.
var bevelUnits = []struct {
	name  string
	write func(hull.Angle) string
}{
	{"degrees off square", func(a hull.Angle) string { return plain("%.1f", a.Degrees(), 0.05) }},
	{"mm of rise in 10 mm", func(a hull.Angle) string { return plain("%.2f", 10*math.Tan(float64(a)), 0.005) }},
}

// plain writes a number that rounds to zero without a sign.
func plain(format string, v, half float64) string {
	if math.Abs(v) < half {
		v = 0
	}
	return fmt.Sprintf(format, v)
}
