package trace

// How few points represent a run. In pixels of the picture.
const (
	fewestMarks = 3    // stretches of a run
	mostMarks   = 60   // stretches
	nearRun     = 0.12 // how closely, root mean square, a smooth curve through them keeps to the run
)

// thinned gives as few points of a run, evenly spaced, as a smooth curve
// through them needs to follow it: including the last point of the run but not
// the first.
func thinned(run []Point) []Point {
	if len(run) < 2 {
		return nil
	}
	whole := milesOf(run)[len(run)-1]
	for n := fewestMarks; ; n++ {
		few := evenly(run, whole/float64(n))
		if n >= mostMarks || n >= len(run)-1 || offRun(few, run) <= nearRun*nearRun {
			return few[1:]
		}
	}
}

// offRun is the mean square distance from a run of a smooth curve through a few
// of its points, at equal shares of the lengths.
func offRun(few, run []Point) float64 {
	c := curveOf(few)
	sum := 0.0
	miles := milesOf(run)
	for i, p := range run {
		d := p.minus(c.at(miles[i] / miles[len(run)-1]))
		along := run[min(i+1, len(run)-1)].minus(run[max(i-1, 0)])
		if l := along.length(); l > 0 {
			across := d.cross(along) / l
			sum += across * across
		}
	}
	return sum / float64(len(run))
}
