package main

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// countedPackages are those whose statements a counting program counts: what
// reads files and computes with them, and what of the standard library it reads
// them by.
const countedPackages = "github.com/strakewright/strakewright/hull/...,github.com/strakewright/strakewright/loft/...," +
	"github.com/strakewright/strakewright/app,github.com/strakewright/strakewright/cmd/strakewright,encoding/csv,encoding/json,encoding/xml"

// counting is the program built so that it counts the statements it carries out,
// as for a coverage: a measure of its work that does not tell how fast or how
// busy the machine is.
func counting(tb testing.TB) string {
	tb.Helper()
	program := filepath.Join(tb.TempDir(), "strakewright-counting")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	out, err := exec.Command("go", "build", "-cover", "-covermode=count", "-coverpkg="+countedPackages, "-o", program, ".").CombinedOutput()
	require.NoError(tb, err, "%s", out)
	return program
}

// counts makes a counting program write its count into a folder.
func counts(c *exec.Cmd, dir string) {
	c.Env = append(c.Environ(), "GOCOVERDIR="+dir)
}

// covdata is the path of Go's tool that reads such counts: the go command takes
// longer to find it than it takes to read one.
var covdata = sync.OnceValues(func() (string, error) {
	out, err := exec.Command("go", "tool", "-n", "covdata").Output()
	return strings.TrimSpace(string(out)), err
})

// statements is how many statements were carried out by the programs that wrote
// their count into a folder.
func statements(tb testing.TB, dir string) int {
	tb.Helper()
	profile := filepath.Join(dir, "profile")
	reader, err := covdata()
	require.NoError(tb, err)
	out, err := exec.Command(reader, "textfmt", "-i="+dir, "-o="+profile).CombinedOutput()
	require.NoError(tb, err, "%s", out)
	text, err := os.ReadFile(profile)
	require.NoError(tb, err)
	sum := 0
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() { // file.go:from,to statements times
		_, figures, ok := strings.Cut(lines.Text(), " ")
		if !ok || strings.HasPrefix(lines.Text(), "mode:") {
			continue
		}
		before, after, _ := strings.Cut(figures, " ")
		statements, err := strconv.Atoi(before)
		require.NoError(tb, err, lines.Text())
		times, err := strconv.Atoi(after)
		require.NoError(tb, err, lines.Text())
		sum += statements * times
	}
	require.NoError(tb, lines.Err())
	require.Positive(tb, sum, "the program counts nothing")
	return sum
}
