package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// The guide shows how things pass through the rooms, and names a function at
// each step. Every one it names is looked up, so that a rename is noticed.

// pathsHead is the heading of the guide's section on paths.
const pathsHead = "## Paths through the rooms"

// numbered is a step of a path.
var numbered = regexp.MustCompile(`^[0-9]+\. `)

// quoted matches text in backquotes.
var quoted = regexp.MustCompile("`([^`]*)`")

// pathStep is a line of a path: what it names, as folder.Function or
// folder.Type.Method.
type pathStep struct {
	line  int // in the guide, from 1
	names []string
}

// pathsTold fails, with a sentence for each, where the guide's paths name a
// function that does not exist.
func (s *shop) pathsTold() error {
	text, err := os.ReadFile(filepath.Join(s.root, guide))
	if err != nil {
		return fmt.Errorf("reading the paths: %w", err)
	}
	steps, faults := parsePaths(string(text))
	known := map[string][]string{}
	for _, step := range steps {
		for _, name := range step.names {
			folder, function := splitName(name)
			if _, read := known[folder]; !read {
				if known[folder], err = functionsIn(filepath.Join(s.root, filepath.FromSlash(folder))); err != nil {
					return fmt.Errorf("%s:%d: reading %s: %w", guide, step.line, folder, err)
				}
			}
			if !slices.Contains(known[folder], function) {
				faults = append(faults, fmt.Sprintf("%s:%d: there is no function %q in `%s`: name what does this step now", guide, step.line, function, folder))
			}
		}
	}
	return s.told(faults, "the paths in "+guide+" name functions that are not there")
}

// parsePaths gives the steps of the guide's paths, which may run over several
// lines, and a sentence for each that names nothing.
func parsePaths(text string) (steps []pathStep, faults []string) {
	within := false
	for i, line := range strings.Split(text, "\n") {
		switch {
		case strings.HasPrefix(line, "## "):
			within = line == pathsHead
		case within && numbered.MatchString(line):
			steps = append(steps, pathStep{line: i + 1})
			steps[len(steps)-1].add(line)
		case within && len(steps) > 0 && strings.HasPrefix(line, "   "):
			steps[len(steps)-1].add(line)
		}
	}
	if len(steps) == 0 {
		faults = append(faults, fmt.Sprintf("%s has no steps under %q", guide, pathsHead))
	}
	for _, step := range steps {
		if len(step.names) == 0 {
			faults = append(faults, fmt.Sprintf("%s:%d: this step names no function: write one as `folder.Function` or `folder.Type.Method`", guide, step.line))
		}
	}
	return steps, faults
}

func (p *pathStep) add(line string) {
	for _, m := range quoted.FindAllStringSubmatch(line, -1) {
		p.names = append(p.names, m[1])
	}
}

// splitName splits folder.Type.Method into its folder and the rest.
func splitName(name string) (folder, function string) {
	dir, last := path.Split(name)
	last, function, _ = strings.Cut(last, ".")
	return dir + last, function
}

// functionsIn gives the functions of a folder's package, for every system, and
// its methods as Type.Method.
func functionsIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, e.Name()), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				out = append(out, methodOf(f)+f.Name.Name)
			}
		}
	}
	return out, nil
}

// methodOf is "Type." for a method and "" for a function.
func methodOf(f *ast.FuncDecl) string {
	if name := receiverOf(f); name != "" {
		return name + "."
	}
	return ""
}

// receiverOf is the type to which a method belongs, without its pointer and its
// type parameters; "" for a function.
func receiverOf(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return ""
	}
	t := f.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.Name
		default:
			return ""
		}
	}
}
