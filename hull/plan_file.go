package hull

import (
	"io"

	"github.com/strakewright/strakewright/hull/keep"
)

// LargestFile is the most bytes of a plan or a hull source that are read; some
// kinds have a lower limit.
const LargestFile = largestPlanFile

// OpenFile reads the plan file at a path, as ReadPlan does.
func OpenFile(path string) (*Plan, error) {
	return keep.Opened(path, LargestFile, func(r io.Reader) (*Plan, error) { return ReadPlan(r, path) })
}

// SaveFile writes the plan to a file, whole or not at all: if the writing
// fails, or the plan has a fault, the file stays as it was.
func SaveFile(path string, p *Plan) error {
	return keep.ReplaceFile(path, p.Write)
}
