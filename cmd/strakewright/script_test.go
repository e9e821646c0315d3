package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"github.com/strakewright/strakewright/assets"
)

func TestMain(m *testing.M) {
	testscript.Main(tidied{m}, map[string]func(){"strakewright": main})
}

// TestScripts runs the whole program from the scripts in testdata/script, each
// in a folder of its own that holds cylinder.csv, ball.csv and the demo plans.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			return filled(e.WorkDir)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"json": jsonIs, "exits": exits, "unremarked": unremarked},
	})
}

// filled puts the files that scripts work on in a folder.
func filled(dir string) error {
	files := map[string][]byte{
		"cylinder.csv":     []byte(cylinder()),
		"ball.csv":         []byte(ball()),
		"demo.strakeplan":  assets.Demo(),
		"skiff.strakeplan": assets.Skiff(),
	}
	for name, path := range map[string]string{
		"coaster.csv": "../../assets/coaster.csv",
		"skiff.csv":   "../../assets/skiff.csv",
		"wigley.csv":  "../../testdata/hull/wigley-offsets.csv",
	} {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		files[name] = data
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// cylinder is a table of points of a hull of which everything is known: a
// quarter of a cylinder of 61 mm radius, 200 mm long, its frames A to F
// standing at 0, 40, ... 200. Its girth is 30.5·π = 95.818576 mm, its unstressed
// lines are helices.
func cylinder() string {
	var b strings.Builder
	b.WriteString("frame,x_mm,y_mm,z_mm\n")
	for i := range 6 {
		for j := range 31 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(j) / 30)
			fmt.Fprintf(&b, "%c,%d,%.6f,%.6f\n", 'A'+i, 40*i, 61*cos, 61-61*sin)
		}
	}
	return b.String()
}

// ball is a table of points of half a ball of 100 mm radius about the origin, its
// frames F0 to F24 standing at -60, -55, ... 60. Half of the girth down runs a
// great circle; what lies n mm off that is bent by tan(n/100)/100.
func ball() string {
	var b strings.Builder
	b.WriteString("frame,x_mm,y_mm,z_mm\n")
	for i := range 25 {
		x := float64(5*i - 60)
		r := math.Sqrt(100*100 - x*x)
		for j := range 61 {
			sin, cos := math.Sincos(math.Pi * float64(j) / 60)
			fmt.Fprintf(&b, "F%d,%g,%.6f,%.6f\n", i, x, max(r*sin, 0), r*cos)
		}
	}
	return b.String()
}

// jsonIs is the script command json: it looks into the JSON that was printed
// last. A path is keys and places with points between, or count for how many there
// are; a number may be off by the tolerance, 1e-6 unless given.
//
//	json frames.0.girth 94.247780 1e-3
//	json strakes.count 19
func jsonIs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: json path value [tolerance]")
	}
	tolerance := 1e-6
	if len(args) == 3 {
		var err error
		tolerance, err = strconv.ParseFloat(args[2], 64)
		ts.Check(err)
	}
	var all any
	if err := json.Unmarshal([]byte(ts.ReadFile("stdout")), &all); err != nil {
		ts.Fatalf("what was printed is no JSON: %v", err)
	}
	got, err := inside(all, strings.Split(args[0], "."))
	ts.Check(err)
	if n, ok := got.(float64); ok {
		want, err := strconv.ParseFloat(args[1], 64)
		ts.Check(err)
		if !(math.Abs(n-want) <= tolerance) {
			ts.Fatalf("%s is %v, not %v within %g", args[0], n, want, tolerance)
		}
		return
	}
	if fmt.Sprint(got) != args[1] {
		ts.Fatalf("%s is %v, not %s", args[0], got, args[1])
	}
}

// inside follows a path into what was read from JSON.
func inside(v any, path []string) (any, error) {
	for i, step := range path {
		switch in := v.(type) {
		case map[string]any:
			next, ok := in[step]
			if !ok {
				return nil, fmt.Errorf("there is no key %s", strings.Join(path[:i+1], "."))
			}
			v = next
		case []any:
			if step == "count" {
				v = float64(len(in))
				continue
			}
			n := placeOf(in, step)
			if n < 0 || n >= len(in) {
				return nil, fmt.Errorf("there is no place %s of %d", strings.Join(path[:i+1], "."), len(in))
			}
			v = in[n]
		default:
			return nil, fmt.Errorf("%s is no object or list", strings.Join(path[:i], "."))
		}
	}
	return v, nil
}

// placeOf gives the place in a list that a step of a path names, or -1.
func placeOf(list []any, step string) int {
	if key, want, named := strings.Cut(step, "="); named {
		return slices.IndexFunc(list, func(v any) bool {
			in, ok := v.(map[string]any)
			return ok && fmt.Sprint(in[key]) == want
		})
	}
	n, err := strconv.Atoi(step)
	if err != nil {
		return -1
	}
	return n
}

// progressLine is what a machine that is busy gets to see of long work.
var progressLine = regexp.MustCompile(`^strakewright: \d+ of \d+: `)

// unremarked asserts that the last command said nothing but how far it was.
func unremarked(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) > 0 {
		ts.Fatalf("usage: unremarked")
	}
	for line := range strings.Lines(ts.ReadFile("stderr")) {
		if !progressLine.MatchString(line) {
			ts.Fatalf("it said: %s", line)
		}
	}
}

// exits is the script command exits: it runs a program and checks its code.
//
//	exits 2 strakewright nonsense
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code program [args]")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	if err != nil {
		if _, e := fmt.Sscanf(err.Error(), "exit status %d", &code); e != nil {
			ts.Fatalf("%s: %v", args[1], err)
		}
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("it exits %d, not %s", code, args[0])
	}
}
