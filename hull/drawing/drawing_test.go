package drawing

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
)

// looked is a drawing as it was read.
type looked struct {
	*Drawing
	Faults []fault.Fault
}

// lookedAt reads the drawing at a path.
func lookedAt(t *testing.T, path string, how Options) looked {
	t.Helper()
	l, err := keep.Opened(path, hull.LargestFile, func(r io.Reader) (*looked, error) {
		d, found := Check(r, path, how)
		return &looked{d, found}, nil
	})
	require.NoError(t, err)
	return *l
}

// soundHull gives the hull of a drawing, or its first fault.
func soundHull(t *testing.T, path string) (*hull.Hull, error) {
	t.Helper()
	l := lookedAt(t, path, Options{})
	if len(l.Faults) > 0 {
		return nil, l.Faults[0]
	}
	return &l.Hull, nil
}
