package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/hull"
)

// built builds the program, once for all tests, and gives its path.
func built(tb testing.TB) string {
	tb.Helper()
	program, err := theProgram()
	require.NoError(tb, err)
	return program
}

var theProgram = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "strakewright-built-")
	if err != nil {
		return "", err
	}
	leftAtEnd = append(leftAtEnd, dir)
	program := filepath.Join(dir, "strakewright")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	// Without what a debugger reads: it is half of the program's size, and of the linker's work.
	if out, err := exec.Command("go", "build", "-ldflags=-s -w", "-o", program, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return program, nil
})

// leftAtEnd are folders to take away when all tests are over.
var leftAtEnd []string

// tidied are tests after which nothing is left.
type tidied struct{ *testing.M }

func (m tidied) Run() int {
	code := m.M.Run()
	for _, dir := range leftAtEnd {
		if err := os.RemoveAll(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = max(code, 1)
		}
	}
	return code
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
