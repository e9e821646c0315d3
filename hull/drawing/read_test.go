package drawing

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// checkedSVG reads an SVG drawing with only the places of the frames given beside
// it; x may be nil.
func checkedSVG(r io.Reader, name string, x stations) (*Drawing, []fault.Fault) {
	return checkSVG(r, name, &beside{x: x}, Options{})
}

// checkedDXF does so with a DXF drawing.
func checkedDXF(r io.Reader, name string, x stations) (*Drawing, []fault.Fault) {
	return checkDXF(r, name, &beside{x: x}, Options{})
}

// readSVG returns only the hull, or the first fault.
func readSVG(r io.Reader, name string, x stations) (*hull.Hull, error) {
	return hullOrFault(checkedSVG(r, name, x))
}

// readDXF does so with a DXF drawing.
func readDXF(r io.Reader, name string, x stations) (*hull.Hull, error) {
	return hullOrFault(checkedDXF(r, name, x))
}

func hullOrFault(d *Drawing, found []fault.Fault) (*hull.Hull, error) {
	if len(found) > 0 {
		return nil, found[0]
	}
	return &d.Hull, nil
}

// remade is the hull made from outlines as they describe themselves.
func remade(t *testing.T, outlines []Outline, how Options) (*Drawing, []fault.Fault) {
	t.Helper()
	d, found, err := HullOf(t.Context(), outlines, how)
	require.NoError(t, err)
	return d, found
}
