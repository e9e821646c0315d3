package main

import (
	"bufio"
	"bytes"
	"encoding/json"
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

// withoutWindow stands for all of app/window in the counting program, which reads no
// file in a window: everything that the window is made of would have to be compiled once
// more, since it imports what is counted.
const withoutWindow = `package window

import (
	"errors"
	"image"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/hull/source"
)

type Shown struct {
	Panes                                                            []string
	Tab, Bench, Stock, Figure, Strake, Frame, From, Map, Help, Theme string
	Layer, Line                                                      int
	Strip, March                                                     bool
}

var none = errors.New("there is no window in this program")

func Run(*app.Session) error                                  { return none }
func RunWelcome(*app.Session) error                           { return none }
func RunOnPicture(*app.Session, string) error                 { return none }
func RunOnSource(*app.Session, string, *source.Checked) error  { return none }
func RunOnDrawing(*app.Session, string, *source.Checked) error { return none }
func RunInPlaceOf(*app.Session, string, error) error          { return none }

func Picture(*app.Session, int, int, Shown) (image.Image, error) { return nil, none }
`

// counting is the program built so that it counts the statements it carries out,
// as for a coverage: a measure of its work that does not tell how fast or how
// busy the machine is.
func counting(tb testing.TB) string {
	tb.Helper()
	dir := tb.TempDir()
	program := filepath.Join(dir, "strakewright-counting")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	out, err := exec.Command("go", "build", "-overlay", overlaid(tb, dir), "-cover", "-covermode=count", "-coverpkg="+countedPackages, "-ldflags=-s -w", "-o", program, ".").CombinedOutput()
	require.NoError(tb, err, "%s", out)
	return program
}

// overlaid is a file that tells the go command to take withoutWindow for app/window.
func overlaid(tb testing.TB, dir string) string {
	tb.Helper()
	stand, list := filepath.Join(dir, "window.go"), filepath.Join(dir, "overlay.json")
	require.NoError(tb, os.WriteFile(stand, []byte(withoutWindow), 0o644))
	window, err := filepath.Abs("../../app/window")
	require.NoError(tb, err)
	files, err := filepath.Glob(filepath.Join(window, "*.go"))
	require.NoError(tb, err)
	instead := map[string]string{}
	for _, f := range files {
		instead[f] = "" // it counts as missing
	}
	instead[filepath.Join(window, "window.go")] = stand
	text, err := json.Marshal(map[string]any{"Replace": instead})
	require.NoError(tb, err)
	require.NoError(tb, os.WriteFile(list, text, 0o644))
	return list
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
		line := lines.Text()
		_, figures, ok := strings.Cut(line, " ")
		before, after, _ := strings.Cut(figures, " ")
		if !ok || after == "0" || strings.HasPrefix(line, "mode:") {
			continue
		}
		statements, err := strconv.Atoi(before)
		require.NoError(tb, err, line)
		times, err := strconv.Atoi(after)
		require.NoError(tb, err, line)
		sum += statements * times
	}
	require.NoError(tb, lines.Err())
	require.Positive(tb, sum, "the program counts nothing")
	return sum
}
