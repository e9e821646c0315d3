//go:build !linux && !darwin && !windows

package keep

// ProcessStart distinguishes processes with the same number, which this system
// cannot do.
func ProcessStart(int) string { return "" }
