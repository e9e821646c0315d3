package fair

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// inch is one inch at 1:48, mm.
const inch = 8 * eighth

// loftsmanship is the result of misfits and fairing on tables of hulls known exactly.
type loftsmanship struct {
	hulls         int
	slips, found  int // points an inch off in a table in eighths, and those of them that are suspected
	alarms, clean int // other points suspected in that table, and points in the one without slips
	eighths, inch noiseCut
	moved         float64 // the greatest move of a point of the exact hull, mm
}

// noiseCut is the sum of squares, mm², of the distances of the points that may be moved
// from the true hull, across its section.
type noiseCut struct{ before, after float64 }

// share is how much of the noise is taken out.
func (c noiseCut) share() float64 { return 1 - math.Sqrt(c.after/c.before) }

func (c *noiseCut) add(o noiseCut) { c.before, c.after = c.before+o.before, c.after+o.after }

func (l *loftsmanship) add(o loftsmanship) {
	l.hulls, l.slips, l.found = l.hulls+o.hulls, l.slips+o.slips, l.found+o.found
	l.alarms, l.clean = l.alarms+o.alarms, l.clean+o.clean
	l.eighths.add(o.eighths)
	l.inch.add(o.inch)
	l.moved = max(l.moved, o.moved)
}

// missed is the share of slips that are not found.
func (l *loftsmanship) missed() float64 { return 1 - float64(l.found)/float64(l.slips) }

// falseAlarms is the number of correct points suspected, per table.
func (l *loftsmanship) falseAlarms() float64 {
	return float64(l.alarms+l.clean) / float64(2*l.hulls)
}

// row is a line of the table under heads.
func (l *loftsmanship) row(name string) string {
	return fmt.Sprintf("%s\t%d\t%.1f %%\t%.3f\t%.3f\t%.0f %%\t%.0f %%\t%.4f mm\t\n", name, l.hulls, 100*(1-l.missed()),
		float64(l.alarms)/float64(l.hulls), float64(l.clean)/float64(l.hulls), 100*l.eighths.share(), 100*l.inch.share(), l.moved)
}

const heads = "hull, stations\thulls\tfound\tfalse, slips\tfalse, clean\tcut, eighths\tcut, inches\tmoved, exact\t\n"

// rounded gives the hull with every half-breadth and height rounded to a unit, mm.
func rounded(frames []hull.Frame, unit float64) []hull.Frame {
	out := cloned(frames)
	for _, f := range out {
		for j, p := range f.Points {
			f.Points[j] = mgl64.Vec3{p[0], math.Round(p[1]/unit) * unit, math.Round(p[2]/unit) * unit}
		}
	}
	return out
}

// tryLoftsman reads a hull of the given proportions off a table in eighths, once with
// up to three points an inch out or in, and once without; it fairs the latter, and a
// table in inches, within their rounding; and the exact hull within 0.3 mm.
func tryLoftsman(t testing.TB, e exactHull, place func(*rand.Rand) []float64, seed uint64) loftsmanship {
	r := rand.New(rand.NewPCG(seed, 21))
	half := 180 + 200*r.Float64()
	frames, normals := e.frames(r, half, place(r), []int{11, 13, 15}[r.IntN(3)])
	table := rounded(frames, eighth)
	wrong := slips(r, frames)
	slipped := cloned(table)
	for w, by := range wrong {
		p, n := &slipped[w[0]].Points[w[1]], normals[w[0]][w[1]].Mul(by)
		*p = p.Add(mgl64.Vec3{0, n[0], n[1]})
	}
	out := loftsmanship{hulls: 1, slips: len(wrong)}
	for i, m := range misfitsOf(t, slipped) {
		for _, j := range m.Suspects {
			if _, ok := wrong[[2]int{i, j}]; ok {
				out.found++
			} else {
				out.alarms++
			}
		}
	}
	for _, m := range misfitsOf(t, table) {
		out.clean += len(m.Suspects)
	}
	faired := func(from []hull.Frame, within float64) Faired {
		f, err := Fair(context.Background(), from, within)
		require.NoError(t, err)
		return f
	}
	cut := func(from []hull.Frame, within float64) noiseCut {
		return noiseCut{before: offTrue(from, frames, normals), after: offTrue(faired(from, within).Frames, frames, normals)}
	}
	out.eighths, out.inch = cut(table, eighth/2), cut(rounded(frames, inch), inch/2)
	for _, m := range faired(frames, 0.3).Moves {
		out.moved = max(out.moved, math.Abs(m.Out))
	}
	return out
}

// slips are up to three points, none at an end of the hull, an end of its frame or a
// knuckle, and no two adjacent, and how far out each is.
func slips(r *rand.Rand, frames []hull.Frame) map[[2]int]float64 {
	out := map[[2]int]float64{}
	for range 3 {
		i, j := 1+r.IntN(len(frames)-2), 1+r.IntN(len(frames[0].Points)-2)
		taken := slices.Contains(frames[i].Knuckles, j)
		for w := range out {
			taken = taken || max(w[0]-i, i-w[0]) < 3 && max(w[1]-j, j-w[1]) < 3
		}
		if !taken {
			out[[2]int{i, j}] = inch * float64(1-2*r.IntN(2))
		}
	}
	return out
}

// offTrue is the sum of squares, mm², of the distances, across the section, of the
// points that fairing may move from the true ones.
func offTrue(frames, truly []hull.Frame, normals [][]mgl64.Vec2) float64 {
	sum := 0.0
	for i := 1; i < len(frames)-1; i++ {
		for j := 1; j < len(frames[i].Points)-1; j++ {
			if !slices.Contains(frames[i].Knuckles, j) {
				d := frames[i].Points[j].Sub(truly[i].Points[j])
				off := normals[i][j].Dot(mgl64.Vec2{d.Y(), d.Z()})
				sum += off * off
			}
		}
	}
	return sum
}

// tryLoftsmen tries every hull at every spacing with seeds from first to last, or each
// hull at one spacing in turn, and gives the sum and the table.
func tryLoftsmen(t testing.TB, seeds int, inTurn bool) (total loftsmanship, table string) {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	_, _ = w.Write([]byte(heads))
	for h, e := range exactHulls {
		for k, s := range spacings {
			if inTurn && h%len(spacings) != k {
				continue
			}
			var sum loftsmanship
			for seed := range seeds {
				sum.add(tryLoftsman(t, e, s.at, uint64(seed)))
			}
			_, _ = w.Write([]byte(sum.row(e.name + ", " + s.name)))
			total.add(sum)
		}
	}
	_, _ = w.Write([]byte(total.row("all")))
	require.NoError(t, w.Flush())
	return total, b.String()
}

// TestFairedAsByALoftsman: in tables of exact hulls in eighths of an inch at 1:48, at
// even and uneven stations, 95 of 100 slips of an inch are found, with at most one
// false alarm in ten tables; the error of rounding to eighths is cut by a third and to
// inches by half; and no point of an exact hull moves by more than 0.02 mm. The
// benchmark does the same at length.
func TestFairedAsByALoftsman(t *testing.T) {
	t.Parallel()
	got, table := tryLoftsmen(t, 1, true)
	t.Log("\n" + table)
	assert.LessOrEqual(t, got.missed(), 0.05)
	assert.LessOrEqual(t, got.falseAlarms(), 0.1)
	assert.GreaterOrEqual(t, got.eighths.share(), 1./3)
	assert.GreaterOrEqual(t, got.inch.share(), 0.5)
	assert.LessOrEqual(t, got.moved, 0.02)
}

// TestFeaturesAreNoSlips: features along the length of a hull are no slips, whether or
// not they are marked as knuckles: a chine, the shoulders of a parallel body, the turn
// to a transom.
func TestFeaturesAreNoSlips(t *testing.T) {
	for _, e := range exactHulls {
		if e.name != "chine" && e.name != "shoulder" && e.name != "transom" {
			continue
		}
		for _, s := range spacings {
			r := rand.New(rand.NewPCG(1, 22))
			frames, _ := e.frames(r, 300, s.at(r), 13)
			for i := range frames {
				frames[i].Knuckles = nil
			}
			for _, m := range misfitsOf(t, frames) {
				assert.Empty(t, m.Suspects, "%s, %s stations, frame %s", e.name, s.name, m.Frame)
			}
		}
	}
}

// BenchmarkFairing tries ten hulls of every kind at every spacing, 210 in all.
func BenchmarkFairing(b *testing.B) {
	for b.Loop() {
		got, table := tryLoftsmen(b, 10, false)
		b.Log("\n" + table)
		b.ReportMetric(100*got.missed(), "missed-percent")
		b.ReportMetric(got.falseAlarms(), "false-alarms")
		b.ReportMetric(100*(1-got.eighths.share()), "eighths-left-percent")
		b.ReportMetric(100*(1-got.inch.share()), "inches-left-percent")
		b.ReportMetric(got.moved, "moved-mm")
	}
}
