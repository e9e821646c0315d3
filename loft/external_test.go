package loft

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"github.com/strakewright/strakewright/loft/internal/checks"

	"github.com/stretchr/testify/require"
)

// geodSolve asks GeographicLib's GeodSolve (Karney, Algorithms for geodesics, J.
// Geodesy 87, 2013; exact to nanometres by elliptic integrals with -E) for the end of a
// geodesic on a spheroid: its latitude, longitude and azimuth, in degrees.
func geodSolve(t testing.TB, equator, flattening, lat, lon, azimuth, distance float64) (lat2, lon2, azimuth2 float64) {
	t.Helper()
	cmd := exec.Command(checks.External(t, "GeodSolve"), "-e", fmt.Sprint(equator), fmt.Sprint(flattening), "-E", "-p", "9")
	cmd.Stdin = strings.NewReader(fmt.Sprintf("%.12f %.12f %.12f %.12f\n", lat, lon, azimuth, distance))
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	_, err = fmt.Sscan(string(out), &lat2, &lon2, &azimuth2)
	require.NoError(t, err, string(out))
	return lat2, lon2, azimuth2
}
