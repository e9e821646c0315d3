package main

import (
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/cmd/dev/trial"
)

// TestAShortTrial makes a few attempts of each trial that takes no time: that the
// trials can be made at all, and find nothing. `cmd/dev trial` makes many.
func TestAShortTrial(t *testing.T) {
	program, err := exec.LookPath("strakewright") // this test's own program, as scripts run it
	require.NoError(t, err)
	t.Setenv("TMPDIR", t.TempDir())
	results, err := trial.Run(t.Context(), trial.Settings{Program: program, Root: "../..", Seed: 1, Short: true, Jobs: 2, Tell: t.Logf})
	require.NoError(t, err)
	require.Zero(t, trial.Failed(results), trial.Table(results))
	require.Greater(t, len(results), 20)
}
