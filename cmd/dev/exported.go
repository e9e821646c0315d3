package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// An exported name is a promise to those outside of its package. One that nobody
// outside uses, and that no example shows, is a promise for nothing. Uses are
// found by name, without types: a function, type, variable or constant by its
// package and name, a method by its name alone, so that two methods of one name
// are used together. What is used takes along the types in its signature, and an
// enumeration is used whole, as are the fields of a struct.

// called are methods that are called by way of interfaces of libraries.
var called = []string{
	"As", "Bounds", "At", "ColorModel", "Close", "Error", "Is", "Len", "Less", "Read", "Seek", "String", "Swap", "Unwrap", "Write",
	"MarshalJSON", "MarshalText", "UnmarshalJSON", "UnmarshalText",
	"CreateRenderer", "DoubleTapped", "FocusGained", "FocusLost", "SetOnValidationChanged", "TappedSecondary", // by Fyne
}

// exportedName is an exported name of a package.
type exportedName struct {
	at       string // file:line, from the module's root
	pkg      string // its folder
	owner    string // the type of a method; else ""
	name     string
	mentions []string // the package's own names in its signature
	group    int      // of constants that are declared together; 0 for anything else
}

func (e exportedName) String() string {
	full := filepath.Base(e.pkg) + "." + e.name
	if e.owner != "" {
		full = filepath.Base(e.pkg) + "." + e.owner + "." + e.name
	}
	return fmt.Sprintf("%s: %s is exported, but nothing outside of %s uses it, and no example: write it in lower case", e.at, full, e.pkg)
}

// census is what the source of a module declares and uses.
type census struct {
	root     string
	set      *token.FileSet
	names    []exportedName
	groups   int
	direct   map[string]bool            // "folder.Name", used from another folder or an example
	selected map[string]map[string]bool // a name after a dot, to the folders where it is; "" for an example
	methods  map[string]bool            // of interfaces of ours
}

// exportedAreUsed fails, with a line each, where a name is exported for nobody.
func (s *shop) exportedAreUsed() error {
	idle, err := unusedNames(s.root)
	if err != nil {
		return fmt.Errorf("looking for exported names: %w", err)
	}
	var faults []string
	for _, e := range idle {
		faults = append(faults, e.String())
	}
	return s.told(faults, "names are exported that nobody uses")
}

// unusedNames gives the exported names under root that are used nowhere outside
// their package, in order.
func unusedNames(root string) ([]exportedName, error) {
	u := &census{root: root, set: token.NewFileSet(), direct: map[string]bool{}, selected: map[string]map[string]bool{}, methods: map[string]bool{}}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == outFolder):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go"):
			return nil
		}
		return u.read(path)
	})
	return u.idle(), err
}

// read takes in a file.
func (u *census) read(path string) error {
	file, err := parser.ParseFile(u.set, path, nil, parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	rel, err := filepath.Rel(u.root, filepath.Dir(path))
	if err != nil {
		return err
	}
	folder := filepath.ToSlash(rel)
	imports := ourImports(file)
	for _, d := range file.Decls {
		from := folder
		if f, ok := d.(*ast.FuncDecl); ok && strings.HasSuffix(path, "_test.go") && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Example") {
			from = "" // as if from outside
		}
		u.uses(d, from, imports)
		if !strings.HasSuffix(path, "_test.go") && file.Name.Name != "main" {
			u.declares(d, folder)
		}
	}
	return nil
}

// ourImports gives, for what a file calls a package of ours, its folder.
func ourImports(file *ast.File) map[string]string {
	out := map[string]string{}
	for _, i := range file.Imports {
		path, err := strconv.Unquote(i.Path.Value)
		if folder, ours := strings.CutPrefix(path, module+"/"); err == nil && ours {
			out[importedAs(file, path)] = folder
		}
	}
	return out
}

// uses notes what a declaration uses of other packages.
func (u *census) uses(d ast.Decl, from string, imports map[string]string) {
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			u.selects(n.Sel.Name, from)
			if x, ok := n.X.(*ast.Ident); ok && imports[x.Name] != "" && imports[x.Name] != from {
				u.direct[imports[x.Name]+"."+n.Sel.Name] = true
			}
		case *ast.InterfaceType:
			for _, m := range n.Methods.List {
				for _, name := range m.Names {
					u.methods[name.Name] = true
				}
			}
		case *ast.Ident:
			if from == "" {
				u.selects(n.Name, from)
			}
		}
		return true
	})
}

func (u *census) selects(name, from string) {
	if u.selected[name] == nil {
		u.selected[name] = map[string]bool{}
	}
	u.selected[name][from] = true
}

// declares notes the exported names of a declaration.
func (u *census) declares(d ast.Decl, folder string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		owner := receiverOf(d)
		if d.Recv == nil || ast.IsExported(owner) {
			u.add(exportedName{pkg: folder, owner: owner, name: d.Name.Name, mentions: mentioned(d.Type)}, d.Name)
		}
	case *ast.GenDecl:
		u.groups++
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				u.add(exportedName{pkg: folder, name: spec.Name.Name, mentions: mentioned(spec.Type)}, spec.Name)
			case *ast.ValueSpec:
				for _, name := range spec.Names {
					e := exportedName{pkg: folder, name: name.Name}
					if d.Tok == token.CONST {
						e.group = u.groups
					}
					if spec.Type != nil {
						e.mentions = mentioned(spec.Type)
					}
					u.add(e, name)
				}
			}
		}
	}
}

func (u *census) add(e exportedName, at *ast.Ident) {
	if !ast.IsExported(e.name) {
		return
	}
	p := u.set.Position(at.Pos())
	name, err := filepath.Rel(u.root, p.Filename)
	if err != nil {
		name = p.Filename
	}
	e.at = fmt.Sprintf("%s:%d", filepath.ToSlash(name), p.Line)
	u.names = append(u.names, e)
}

// mentioned gives the exported names of the package itself in a type; what an
// unexported field is made of is left out.
func mentioned(t ast.Expr) []string {
	var out []string
	ast.Inspect(t, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			return false
		case *ast.Field:
			if len(n.Names) > 0 && !slices.ContainsFunc(n.Names, (*ast.Ident).IsExported) && isField(t, n) {
				return false
			}
		case *ast.Ident:
			if n.IsExported() {
				out = append(out, n.Name)
			}
		}
		return true
	})
	return out
}

// isField tells whether f is a field of the struct t, and not a parameter.
func isField(t ast.Expr, f *ast.Field) bool {
	s, ok := t.(*ast.StructType)
	return ok && slices.Contains(s.Fields.List, f)
}

// idle gives the names that nobody outside uses, in the order of files.
func (u *census) idle() []exportedName {
	used := make([]bool, len(u.names))
	top := map[string]int{} // "folder.Name" to its place in names
	for i, e := range u.names {
		if e.owner == "" {
			top[e.pkg+"."+e.name] = i
		}
		used[i] = u.usedAsSuch(e)
	}
	for changed := true; changed; {
		changed = false
		groups := map[int]bool{}
		mark := func(i int) {
			if !used[i] {
				used[i], changed = true, true
			}
		}
		for i, e := range u.names {
			if !used[i] {
				continue
			}
			groups[e.group] = true
			for _, m := range e.mentions {
				if j, ok := top[e.pkg+"."+m]; ok {
					mark(j)
				}
			}
		}
		for i, e := range u.names {
			if e.group > 0 && groups[e.group] {
				mark(i)
			}
		}
	}
	var out []exportedName
	for i, e := range u.names {
		if !used[i] {
			out = append(out, e)
		}
	}
	return out
}

// usedAsSuch tells whether a name itself is used outside its package.
func (u *census) usedAsSuch(e exportedName) bool {
	if e.owner == "" {
		return u.direct[e.pkg+"."+e.name]
	}
	if u.methods[e.name] || slices.Contains(called, e.name) {
		return true
	}
	for from := range maps.Keys(u.selected[e.name]) {
		if from != e.pkg {
			return true
		}
	}
	return false
}
