package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
)

// testFunc is a function that go test runs: its package, such as ./hull, and
// its name.
type testFunc struct{ pkg, name string }

func (t testFunc) String() string { return t.pkg + " " + t.name }

// testFuncs finds below root the functions whose names begin with prefix, and
// that take a pointer to testing's type of that kind: F for fuzz tests, B for
// benchmarks.
func testFuncs(root, prefix, kind string) ([]testFunc, error) {
	var found []testFunc
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		names, err := namesIn(path, prefix, kind)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(path))
		for _, name := range names {
			found = append(found, testFunc{"./" + filepath.ToSlash(folder), name})
		}
		return err
	})
	return found, err
}

// namesIn gives the names of such functions in a file.
func namesIn(path, prefix, kind string) ([]string, error) {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && strings.HasPrefix(f.Name.Name, prefix) && takes(f.Type.Params.List, kind) {
			names = append(names, f.Name.Name)
		}
	}
	return names, nil
}

func takes(params []*ast.Field, kind string) bool {
	if len(params) != 1 {
		return false
	}
	star, ok := params[0].Type.(*ast.StarExpr)
	if !ok {
		return false
	}
	of, ok := star.X.(*ast.SelectorExpr)
	return ok && of.Sel.Name == kind
}
