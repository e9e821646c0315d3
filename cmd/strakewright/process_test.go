package main

import (
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/hull"
)

// built builds the program and gives its path.
func built(tb testing.TB) string {
	tb.Helper()
	program := filepath.Join(tb.TempDir(), "strakewright")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput()
	require.NoError(tb, err, "%s", out)
	return program
}

// demoPlan saves the demo plan as a file and gives its path.
func demoPlan(tb testing.TB) string {
	tb.Helper()
	s, err := app.NewDemo()
	require.NoError(tb, err)
	path := filepath.Join(tb.TempDir(), "demo"+app.Extension)
	require.NoError(tb, hull.SaveFile(path, s.Plan()))
	return path
}

// BenchmarkStrakesProcess times the shell command strakes on the demo plan from
// the start of the process to its end.
func BenchmarkStrakesProcess(b *testing.B) {
	program, plan := built(b), demoPlan(b)
	for b.Loop() {
		if err := exec.Command(program, "strakes", plan).Run(); err != nil {
			b.Fatal(err)
		}
	}
}
