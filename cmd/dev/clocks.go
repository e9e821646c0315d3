package main

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// A test that compares a time fails on a machine that is slow or busy, and says
// nothing about the code. Tests count what is done instead. A benchmark, which
// bench compares with its limit, may read a clock, and so may anything in a
// bubble of testing/synctest, where time is artificial.

// clockFunctions of package time read the time of day.
var clockFunctions = []string{"Now", "Since", "Until"}

// clockNames are methods and fields that say how long something took: of
// os.ProcessState and the system's Rusage, and of testing.B.
var clockNames = []string{"UserTime", "SystemTime", "Utime", "Stime", "Elapsed"}

// clockFree are the functions in test files that may use time.Now, because they
// do not compare anything with how long the code took; each with its reason.
var clockFree = map[string]string{
	"app/recovery_test.go:TestAllUnsavedWorkIsFound":       "dates a file",
	"app/recovery_test.go:TestRecoverAPlanNeverSaved":      "dates a file",
	"app/window/files_test.go:TestAllUnsavedWorkIsOffered": "dates files",
	"app/lock_test.go:TestOpenedElsewhere":                 "dates a lock",
	"cmd/dev/meter_test.go:silent":                         "begins a meter, in a bubble",
	"cmd/strakewright/realwindow_test.go:await":            "ends a wait, after minutes",

	"cmd/strakewright/windowbare_test.go:ended":       "is a benchmark's",
	"cmd/strakewright/windowbare_test.go:Dragged":     "is a benchmark's",
	"cmd/strakewright/windowdrag_test.go:timedDrag":   "is a benchmark's",
	"cmd/strakewright/windowstart_linux_test.go:once": "is a benchmark's",
}

// readsNoClock fails, with a line each, where a test reads a clock.
func (s *shop) readsNoClock() error {
	found, err := clocksRead(s.root)
	if err != nil {
		return fmt.Errorf("looking for clocks in the tests: %w", err)
	}
	if len(found) == 0 {
		return nil
	}
	s.say("%s", strings.Join(found, "\n"))
	return errors.New("the tests above read a clock: count what is done, or write a benchmark")
}

// clocksRead lists where the test files under root read a clock.
func clocksRead(root string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		found, err := clocksIn(path, filepath.ToSlash(name))
		out = append(out, found...)
		return err
	})
	return out, err
}

// clocksIn lists where one test file does so, under the given name.
func clocksIn(path, name string) ([]string, error) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	clock := importedAs(file, "time")
	bubble := importedAs(file, "testing/synctest")
	var out []string
	for _, d := range file.Decls {
		f, ok := d.(*ast.FuncDecl)
		if ok && strings.HasPrefix(f.Name.Name, "Benchmark") {
			continue
		}
		free := ok && clockFree[name+":"+f.Name.Name] != ""
		ast.Inspect(d, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok && isFrom(call.Fun, bubble, "Test") {
				return false
			}
			s, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			read := isFrom(s, clock, clockFunctions...) && !(free && s.Sel.Name == "Now")
			if read || slices.Contains(clockNames, s.Sel.Name) {
				at := set.Position(s.Pos())
				out = append(out, fmt.Sprintf("%s:%d: %s", name, at.Line, s.Sel.Name))
			}
			return true
		})
	}
	return out, nil
}

// importedAs is the name under which a file imports a package; "" where it does
// not import it.
func importedAs(file *ast.File, path string) string {
	for _, i := range file.Imports {
		if got, err := strconv.Unquote(i.Path.Value); err != nil || got != path {
			continue
		}
		if i.Name != nil {
			return i.Name.Name
		}
		return path[strings.LastIndex(path, "/")+1:]
	}
	return ""
}

// isFrom reports whether an expression is one of the given names from a
// package.
func isFrom(e ast.Expr, pkg string, names ...string) bool {
	s, ok := e.(*ast.SelectorExpr)
	if !ok || pkg == "" {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == pkg && slices.Contains(names, s.Sel.Name)
}
