package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// wordsFolder holds the translations, as [prefix.]LANGUAGE.json, from English text to
// text.
const wordsFolder = "assets/tongue"

// sayers are the functions of assets/tongue that say a text, and its index among their
// arguments. Another function says a text if its comment ends with a line
// "//tongue:says 0,1", which counts its arguments from 0.
var sayers = map[string][]int{"T": {0}, "Mark": {0}, "New": {0}, "Errorf": {0}, "Count": {1, 2}}

// phrase is an English text of the program.
type phrase struct {
	at  string // file:line, from the module's root
	key string // what stands for it in the translations
}

// phrasebook holds the texts in a module's source.
type phrasebook struct {
	root    string
	set     *token.FileSet
	files   map[string]*ast.File // by path from the root
	says    map[string][]int     // our own functions and methods that say a text, by name
	named   map[string]ast.Expr  // constants, by folder and name
	folder  string               // of the file being read
	phrases []phrase
	faults  []string
}

// wordsAreTranslated fails, with a line for each, where a text of the program is missing
// in a language, or a language has a text that the program does not have, or has it with
// different verbs, or where an error is made that no language can say.
func (s *shop) wordsAreTranslated() error {
	faults, err := untranslated(s.root)
	if err != nil {
		return fmt.Errorf("looking for translations: %w", err)
	}
	return s.told(faults, "texts are not translated: the English text in the code and the files of "+wordsFolder+" are to agree")
}

// gatherWords writes the English texts, and says what every language lacks.
func gatherWords(s *shop) error {
	b, err := readPhrases(s.root)
	if err != nil {
		return err
	}
	english := map[string]string{}
	for _, p := range b.phrases {
		english[p.key] = keyless(p.key)
	}
	if err := writeWords(filepath.Join(s.root, wordsFolder, "en.json"), english); err != nil {
		return err
	}
	s.say("%d texts\n", len(english))
	return s.wordsAreTranslated()
}

// writeWords writes translations, sorted, a text a line.
func writeWords(path string, texts map[string]string) error {
	var out strings.Builder
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(texts); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.WriteFile(path, []byte(out.String()), 0o644)
}

// contextual matches the head of a key whose text has several meanings.
var contextual = regexp.MustCompile(`^\[[^\]]+\] `)

// keyless is the English text of a key.
func keyless(key string) string { return contextual.ReplaceAllString(key, "") }

// untranslated lists what is wrong with a module's translations.
func untranslated(root string) ([]string, error) {
	b, err := readPhrases(root)
	if err != nil {
		return nil, err
	}
	languages, faults, err := readWords(root)
	if err != nil {
		return nil, err
	}
	said := map[string]string{}
	for _, p := range slices.Backward(b.phrases) {
		said[p.key] = p.at
	}
	faults = append(b.faults, faults...)
	for _, l := range slices.Sorted(maps.Keys(languages)) {
		faults = append(faults, lacking(l, said, languages[l])...)
	}
	return faults, nil
}

// reserved are the words, in any case, that go-i18n takes for fields of a message, so that
// a file with one of them holds no texts any more.
var reserved = []string{"id", "description", "hash", "leftdelim", "rightdelim", "zero", "one", "two", "few", "many", "other"}

// lacking lists where a language differs from the texts of the program.
func lacking(language string, said, texts map[string]string) []string {
	var faults []string
	for _, key := range slices.Sorted(maps.Keys(said)) {
		text, ok := texts[key]
		switch {
		case !ok || text == "":
			faults = append(faults, fmt.Sprintf("%s: %q is not in %s.json", said[key], key, language))
		case !slices.Equal(verbs(keyless(key)), verbs(text)):
			faults = append(faults, fmt.Sprintf("%s: %q has other figures in %s: %q", said[key], key, language, text))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(texts)) {
		if slices.Contains(reserved, strings.ToLower(key)) {
			faults = append(faults, fmt.Sprintf("%s.json: the file's format takes %q for a field of a message: say it with tongue.In", language, key))
		}
		if said[key] == "" {
			faults = append(faults, fmt.Sprintf("%s.json: nothing says %q", language, key))
		}
	}
	return faults
}

// verb matches a verb of package fmt, with the index of its argument. A percent sign
// followed by a space is not a verb but a percent sign in a sentence.
var verb = regexp.MustCompile(`%[-+#0]*(?:\d+|\*)?(?:\.(?:\d+|\*)?)?(?:\[(\d+)\])?([a-zA-Z%])`)

// verbs are the verbs of a format by the arguments they write, such as "2s"; an
// escaped percent sign is not one, and a text without any is not a format.
func verbs(format string) []string {
	var out []string
	next := 1
	for _, m := range verb.FindAllStringSubmatch(format, -1) {
		if m[2] == "%" {
			continue
		}
		if n, err := strconv.Atoi(m[1]); err == nil {
			next = n
		}
		out = append(out, strconv.Itoa(next)+m[2])
		next++
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// readWords reads the translations of every language, and says where two files of one
// language disagree about a text.
func readWords(root string) (languages map[string]map[string]string, faults []string, err error) {
	paths, err := filepath.Glob(filepath.Join(root, wordsFolder, "*.json"))
	if err != nil {
		return nil, nil, err
	}
	languages = map[string]map[string]string{}
	for _, path := range paths {
		stem := strings.TrimSuffix(filepath.Base(path), ".json")
		language := stem[strings.LastIndexByte(stem, '.')+1:]
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, nil, err
		}
		texts := map[string]string{}
		if err := json.Unmarshal(data, &texts); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", path, err)
		}
		if languages[language] == nil {
			languages[language] = map[string]string{}
		}
		for key, text := range texts {
			if had, ok := languages[language][key]; ok && had != text {
				faults = append(faults, fmt.Sprintf("%s: %q is translated otherwise in another file", filepath.Base(path), key))
			}
			languages[language][key] = text
		}
	}
	return languages, faults, nil
}

// readPhrases collects every text in the module's code, except tests and cmd/dev.
func readPhrases(root string) (*phrasebook, error) {
	b := &phrasebook{root: root, set: token.NewFileSet(), files: map[string]*ast.File{}, says: map[string][]int{}, named: map[string]ast.Expr{}}
	for _, folder := range []string{"app", "assets", "cmd", "hull", "loft"} {
		if err := filepath.WalkDir(filepath.Join(root, folder), b.read); err != nil {
			return nil, err
		}
	}
	for _, path := range slices.Sorted(maps.Keys(b.files)) {
		b.findSayers(b.files[path])
		b.findNamed(path, b.files[path])
	}
	for _, path := range slices.Sorted(maps.Keys(b.files)) {
		b.folder = filepath.Dir(path)
		b.listen(path, b.files[path])
	}
	return b, nil
}

// read parses a file of the program.
func (b *phrasebook) read(path string, d fs.DirEntry, err error) error {
	if err != nil {
		return err
	}
	rel, err := filepath.Rel(b.root, path)
	if err != nil {
		return err
	}
	rel = filepath.ToSlash(rel)
	if d.IsDir() {
		if rel == "cmd/dev" || rel == wordsFolder || d.Name() == "testdata" {
			return fs.SkipDir
		}
		return nil
	}
	if !strings.HasSuffix(rel, ".go") || strings.HasSuffix(rel, "_test.go") {
		return nil
	}
	f, err := parser.ParseFile(b.set, path, nil, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	b.files[rel] = f
	return nil
}

// saysMark begins the line of a comment that marks a function as one that says its
// arguments.
const saysMark = "//tongue:says "

// findSayers records the functions whose comments say that they say a text.
func (b *phrasebook) findSayers(f *ast.File) {
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Doc == nil {
			continue
		}
		for _, c := range fn.Doc.List {
			list, ok := strings.CutPrefix(c.Text, saysMark)
			if !ok {
				continue
			}
			var at []int
			for one := range strings.SplitSeq(list, ",") {
				n, err := strconv.Atoi(strings.TrimSpace(one))
				if err != nil {
					b.fault(c.Pos(), "%q: give the arguments that are said as 0 or 0,1", c.Text)
				}
				at = append(at, n)
			}
			b.says[fn.Name.Name] = at
		}
	}
}

// findNamed records the constants of a file, including those within functions.
func (b *phrasebook) findNamed(path string, f *ast.File) {
	ast.Inspect(f, func(n ast.Node) bool {
		d, ok := n.(*ast.GenDecl)
		if !ok || d.Tok != token.CONST {
			return true
		}
		for _, s := range d.Specs {
			v := s.(*ast.ValueSpec) // a declaration of constants holds nothing else
			for i, name := range v.Names {
				if i < len(v.Values) {
					b.named[filepath.Dir(path)+"."+name.Name] = v.Values[i]
				}
			}
		}
		return true
	})
}

func (b *phrasebook) fault(at token.Pos, format string, args ...any) {
	b.faults = append(b.faults, b.place(at)+": "+fmt.Sprintf(format, args...))
}

func (b *phrasebook) place(at token.Pos) string {
	p := b.set.Position(at)
	rel, err := filepath.Rel(b.root, p.Filename)
	if err != nil {
		rel = p.Filename
	}
	return fmt.Sprintf("%s:%d", filepath.ToSlash(rel), p.Line)
}

// listen collects the texts in a file. Anything outside functions is evaluated before
// the language is known: it may be marked there, and made an error, but not be said.
func (b *phrasebook) listen(path string, f *ast.File) {
	for _, d := range f.Decls {
		_, within := d.(*ast.FuncDecl)
		ast.Inspect(d, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncLit:
				if !within {
					ast.Inspect(n.Body, func(m ast.Node) bool {
						if c, ok := m.(*ast.CallExpr); ok {
							b.call(c, true)
						}
						return true
					})
					return false
				}
			case *ast.CallExpr:
				b.call(n, within)
			case *ast.StructType:
				if strings.HasPrefix(path, "cmd/strakewright/") {
					b.helps(n)
				}
			}
			return true
		})
	}
}

// remakers are where errors are for those who remake the book alone.
const remakers = "app/book"

// sentence is what a text has that a person is meant to read: two words side by side.
var sentence = regexp.MustCompile(`\pL{2,} \pL{2,}`)

// unspoken faults an error of prose that no language can say.
func (b *phrasebook) unspoken(c *ast.CallExpr, name, pkg string) {
	makes := pkg == "fmt" && name == "Errorf" || pkg == "errors" && name == "New"
	if !makes || b.folder == remakers || strings.HasPrefix(b.folder, remakers+"/") {
		return
	}
	if text, known := b.constant(c.Args[0]); known && sentence.MatchString(text) {
		b.fault(c.Pos(), "%q is said in English alone: make it by tongue.%s", text, name)
	}
}

// call collects the texts in a call.
func (b *phrasebook) call(c *ast.CallExpr, within bool) {
	name, pkg := calledName(c)
	b.unspoken(c, name, pkg)
	ours := pkg == "tongue"
	at, says := sayers[name]
	if !ours || (!says && name != "In") {
		if ours {
			return
		}
		if at, says = b.says[name]; !says {
			return
		}
	}
	if ours && !within && name != "Mark" && name != "New" && name != "Errorf" {
		b.fault(c.Pos(), "tongue.%s is worked out here before the language is known: tongue.Mark the text, and say it where it is used", name)
	}
	if ours && name == "In" {
		context, known := b.constant(c.Args[0])
		text, also := b.constant(c.Args[1])
		if known && also {
			b.phrases = append(b.phrases, phrase{b.place(c.Pos()), "[" + context + "] " + text})
		}
		return
	}
	for _, i := range at {
		if i >= len(c.Args) {
			continue
		}
		if text, known := b.constant(c.Args[i]); known && worded(text) {
			b.phrases = append(b.phrases, phrase{b.place(c.Args[i].Pos()), text})
		}
	}
}

// calledName is the name of the called function, and of the package or the variable
// before it.
func calledName(c *ast.CallExpr) (name, of string) {
	switch fun := c.Fun.(type) {
	case *ast.Ident:
		return fun.Name, ""
	case *ast.SelectorExpr:
		if x, ok := fun.X.(*ast.Ident); ok {
			return fun.Sel.Name, x.Name
		}
		return fun.Sel.Name, ""
	}
	return "", ""
}

// wordLetter distinguishes a text to be translated from one of only signs and
// verbs.
var wordLetter = regexp.MustCompile(`\pL`)

func worded(text string) bool { return wordLetter.MatchString(verb.ReplaceAllString(text, "")) }

// constant is the text of a literal, of a constant in the same folder, or of several
// joined with +.
func (b *phrasebook) constant(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return "", false
		}
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.Ident:
		named, ok := b.named[b.folder+"."+e.Name]
		if !ok {
			return "", false
		}
		return b.constant(named)
	case *ast.ParenExpr:
		return b.constant(e.X)
	case *ast.BinaryExpr:
		left, ok := b.constant(e.X)
		right, also := b.constant(e.Y)
		return left + right, ok && also && e.Op == token.ADD
	}
	return "", false
}

// helps collects the help of the command line, from the tags of structs.
func (b *phrasebook) helps(s *ast.StructType) {
	for _, f := range s.Fields.List {
		if f.Tag == nil {
			continue
		}
		tag, err := strconv.Unquote(f.Tag.Value)
		if err != nil {
			continue
		}
		if text, ok := reflect.StructTag(tag).Lookup("help"); ok && text != "" {
			b.phrases = append(b.phrases, phrase{b.place(f.Tag.Pos()), text})
		}
	}
}
