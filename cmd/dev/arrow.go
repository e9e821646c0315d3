package main

import (
	"fmt"
	"slices"
	"strings"
)

// module is the first element of our packages' import paths.
const module = "github.com/strakewright/strakewright"

// room is a set of our packages, and what they may not reach, neither by
// themselves nor through what they import.
type room struct {
	folder string   // a folder of the module, with all below it
	but    []string // folders below it that the rule leaves out
	never  []string // import paths, each with all below it
}

const fyne = "fyne.io"

// arrow is the one-way rule: hull, then loft, then app, then app/window, then
// cmd, and no import back up; Fyne in app/window and cmd alone.
var arrow = []room{
	{folder: "hull", never: []string{module + "/loft", module + "/app", module + "/cmd", fyne}},
	{folder: "loft/cutstock", never: []string{module + "/hull"}}, // it knows of no ship
	{folder: "loft/straight", never: []string{module + "/hull"}}, // likewise
	{folder: "loft/nest", never: []string{module + "/hull"}},     // nor does this
	{folder: "loft/rod", never: []string{module + "/hull"}},      // nor this
	{folder: "loft", never: []string{module + "/app", module + "/cmd", fyne}},
	{folder: "app", but: []string{"app/window"}, never: []string{module + "/app/window", module + "/cmd", fyne}},
	{folder: "app/window", never: []string{module + "/cmd"}},
	{folder: "assets", never: []string{module + "/loft", module + "/app", module + "/cmd", fyne}},
}

// listed is a package, or one of a package's tests, as go list shows it.
type listed struct {
	path    string   // the package, or that which the test is for
	test    bool     // a test, or a variant made for one
	imports []string // what it imports itself
	reaches []string // what it imports, directly or not
}

func (p listed) String() string {
	if p.test {
		return "a test of " + p.path
	}
	return p.path
}

const listFormat = `{{.ImportPath}}|{{join .Imports " "}}|{{join .Deps " "}}`

// importsGoOneWay fails, with a line each, on imports that break the arrow, on
// a loft that reads files or clocks, and on a cmd/dev that needs a module.
func (s *shop) importsGoOneWay() error {
	out, err := s.reads(nil, "go", "list", "-test", "-f", listFormat, "./...")
	if err != nil {
		return fmt.Errorf("listing the imports: %w", err)
	}
	packages := parseListing(out)
	if len(packages) == 0 {
		return fmt.Errorf("go list shows no package in %s", s.root)
	}
	if broken := brokenImports(packages); len(broken) > 0 {
		s.say("%s", strings.Join(broken, "\n"))
		return fmt.Errorf("%d imports go the wrong way", len(broken))
	}
	return nil
}

// parseListing reads lines of listFormat.
func parseListing(text string) []listed {
	var out []listed
	for line := range strings.Lines(text) {
		fields := strings.Split(strings.TrimSpace(line), "|")
		if len(fields) != 3 {
			continue
		}
		path, _, variant := strings.Cut(fields[0], " ")
		out = append(out, listed{
			path:    tested(path, variant),
			test:    variant || strings.HasSuffix(path, ".test"),
			imports: plainPaths(fields[1]),
			reaches: plainPaths(fields[2]),
		})
	}
	return out
}

// tested gives the package that a test binary, p.test, or an external test
// package, p_test, is for.
func tested(path string, variant bool) string {
	if variant {
		return strings.TrimSuffix(path, "_test")
	}
	return strings.TrimSuffix(path, ".test")
}

// plainPaths splits a list of import paths and drops the "[p.test]" after a
// variant made for a test.
func plainPaths(list string) []string {
	return slices.DeleteFunc(strings.Fields(list), func(w string) bool { return strings.HasPrefix(w, "[") })
}

// brokenImports gives a sentence for each import that may not be, in order and
// none twice.
func brokenImports(packages []listed) []string {
	var broken []string
	for _, p := range packages {
		for _, r := range arrow {
			if r.holds(p.path) {
				broken = append(broken, r.offences(p)...)
			}
		}
		broken = append(broken, impure(p)...)
		broken = append(broken, needsModule(p)...)
	}
	slices.Sort(broken)
	return slices.Compact(broken)
}

func (r room) holds(path string) bool {
	if !within(path, module+"/"+r.folder) {
		return false
	}
	return !slices.ContainsFunc(r.but, func(f string) bool { return within(path, module+"/"+f) })
}

func (r room) offences(p listed) []string {
	var out []string
	for _, never := range r.never {
		if slices.ContainsFunc(p.reaches, func(q string) bool { return within(q, never) }) {
			out = append(out, fmt.Sprintf("%s reaches %s, which it may not", p, never))
		}
	}
	return out
}

// checks is a package of loft's tests alone, which may start reference programs.
const checks = module + "/loft/internal/checks"

// impure holds loft to pure functions: no files, no clock. Its tests may.
func impure(p listed) []string {
	if p.test || !within(p.path, module+"/loft") || p.path == checks {
		return nil
	}
	var out []string
	for _, q := range p.imports {
		if q == "os" || q == "time" {
			out = append(out, fmt.Sprintf("%s imports %s, but loft holds pure functions", p.path, q))
		}
	}
	return out
}

// curves is a program of its own below cmd/dev, run by it when all modules are
// there: it draws, with a library.
const curves = module + "/cmd/dev/curves"

// book is another, run when the program is built.
const book = module + "/cmd/dev/book"

// needsModule holds cmd/dev to the standard library, none of whose import paths
// has a dot in its first element.
func needsModule(p listed) []string {
	if !within(p.path, module+"/cmd/dev") || p.path == curves || p.path == book {
		return nil
	}
	var out []string
	for _, q := range p.imports {
		first, _, _ := strings.Cut(q, "/")
		itself := within(q, module+"/cmd/dev") && q != curves && q != book
		if !itself && (strings.Contains(first, ".") || within(q, module)) {
			out = append(out, fmt.Sprintf("%s imports %s, but it must start with the standard library alone", p.path, q))
		}
	}
	return out
}

// within tells whether an import path is root or below it.
func within(path, root string) bool {
	return path == root || strings.HasPrefix(path, root+"/")
}
