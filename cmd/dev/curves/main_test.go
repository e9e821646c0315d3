package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A report as cmd/dev bench writes it, with its other keys.
const report = `{"commit": "1a2b3c", "rows": [], "growth": [
  {"benchmark": "GrowthLoft", "what": "loft", "exponent": 1.5, "limit": 1.6,
   "points": [{"frames": 50, "ms": 2}, {"frames": 100, "ms": 5.7}, {"frames": 200, "ms": 16}]},
  {"benchmark": "GrowthReplank", "what": "one recompute", "exponent": null, "limit": 1.3, "points": []}]}`

func TestCurvesAreDrawn(t *testing.T) {
	dir := t.TempDir()
	from, to := filepath.Join(dir, "report.json"), filepath.Join(dir, "curves.svg")
	require.NoError(t, os.WriteFile(from, []byte(report), 0o600))
	require.NoError(t, draw(from, to))
	svg, err := os.ReadFile(to)
	require.NoError(t, err)
	assert.Contains(t, string(svg), "<svg")
	assert.Contains(t, string(svg), "loft: frames to the power 1.50")
	assert.NotContains(t, string(svg), "one recompute", "what was not measured is not drawn")
}

func TestAReportWithoutGrowthIsAFault(t *testing.T) {
	dir := t.TempDir()
	from, to := filepath.Join(dir, "report.json"), filepath.Join(dir, "curves.svg")
	for _, text := range []string{`{"growth": []}`, `no JSON`} {
		require.NoError(t, os.WriteFile(from, []byte(text), 0o600))
		require.ErrorContains(t, draw(from, to), from)
		assert.NoFileExists(t, to)
	}
}
