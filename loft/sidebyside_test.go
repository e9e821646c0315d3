package loft

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// A spheroid of a hull's proportions, in mm: planked over nine tenths of its
// length, with its middle at frame 20.
const (
	spheroidPolar   = 300.0
	spheroidEquator = 60.0
)

// spheroidPoint is the point at a latitude and longitude in degrees; the axis runs
// along x, and longitude down the girth from the top.
func spheroidPoint(lat, lon float64) mgl64.Vec3 {
	beta := math.Atan(spheroidPolar / spheroidEquator * math.Tan(lat*math.Pi/180))
	a := lon * math.Pi / 180
	return mgl64.Vec3{
		spheroidPolar * math.Sin(beta),
		spheroidEquator * math.Cos(beta) * math.Sin(a),
		spheroidEquator * math.Cos(beta) * math.Cos(a),
	}
}

// BenchmarkAgainstGeodSolve traces free lines on a spheroid and has GeodSolve (Karney,
// Algorithms for geodesics, J. Geodesy 87, 2013) compute the same points, in turn on
// one machine; each run of GeodSolve includes its start. ours-points/s and
// theirs-points/s are points of the lines per second, miss-mm is the greatest distance
// of one of ours from its place there.
func BenchmarkAgainstGeodSolve(b *testing.B) {
	program := checks.External(b, "GeodSolve")
	radius := func(x float64) float64 { return spheroidEquator * math.Sqrt(1-x*x/spheroidPolar/spheroidPolar) }
	s, err := Loft(bodies.Revolved(bodies.Spaced(-0.9*spheroidPolar, 0.9*spheroidPolar, 41), 31, radius))
	require.NoError(b, err)
	var ours, theirs time.Duration
	points, worst := 0, 0.0
	for b.Loop() {
		var lines []*Lie
		var asked strings.Builder
		for _, azimuth := range []float64{0, 10, -10, 25, -25, 40} {
			for _, lon := range []float64{60.0, 75, 90, 105, 120} {
				heading := hull.Degrees(azimuth)
				begun := time.Now()
				l, err := s.Lie(20, lon*math.Pi/180*spheroidEquator, &heading)
				ours += time.Since(begun)
				require.NoError(b, err)
				lines = append(lines, l)
				for _, p := range l.Points {
					fmt.Fprintf(&asked, "0 %.12f %.12f %.12f\n", lon, azimuth, p.S)
				}
			}
		}
		begun := time.Now()
		cmd := exec.Command(program, "-e", fmt.Sprint(spheroidEquator), fmt.Sprint(1-spheroidPolar/spheroidEquator), "-E", "-p", "9")
		cmd.Stdin = strings.NewReader(asked.String())
		out, err := cmd.Output()
		require.NoError(b, err)
		theirs += time.Since(begun)
		answers := strings.Split(strings.TrimSpace(string(out)), "\n")
		for _, l := range lines {
			for _, p := range l.Points {
				var lat, lon float64
				_, err := fmt.Sscan(answers[0], &lat, &lon)
				require.NoError(b, err)
				worst = max(worst, p.P.Sub(spheroidPoint(lat, lon)).Len())
				answers = answers[1:]
				points++
			}
		}
		require.Empty(b, answers)
	}
	b.ReportMetric(float64(points)/ours.Seconds(), "ours-points/s")
	b.ReportMetric(float64(points)/theirs.Seconds(), "theirs-points/s")
	b.ReportMetric(worst, "miss-mm")
}
