package quote

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// Run runs a command of the program in the filler's folder, and gives what it prints.
type Run func(args ...string) (string, error)

// Picture is a picture that a page shows: Of is "picture", whose Args are those of the
// program's command without the file to write and its size, or else the kind of a drawing.
type Picture struct {
	Name, Of string
	Args     []string
}

// Filler fills pages, one after the other, each with the plans that those before it made.
type Filler struct {
	Folder   string // where plans lie and are written
	Run      Run
	Pictures []Picture // of the pages filled so far
	Saved    []string  // the plans to be kept beside the book
	answers  map[string]string
}

// Fill gives a page with all that its source asks for. The error names the line.
func (f *Filler) Fill(source string) (string, error) {
	var out strings.Builder
	for i, line := range strings.Split(source, "\n") {
		text, err := f.line(line)
		if err != nil {
			return "", fmt.Errorf("line %d: %w", i+1, err)
		}
		out.WriteString(text)
	}
	return strings.TrimRight(out.String(), "\n") + "\n", nil
}

// line fills one line of a source.
func (f *Filler) line(line string) (string, error) {
	said, found := strings.CutPrefix(line, "%% ")
	if !found {
		text, err := f.answered(line)
		return text + "\n", err
	}
	word, rest, _ := strings.Cut(said, " ")
	switch word {
	case "run":
		_, err := f.ask(rest)
		return "", err
	case "show":
		return f.show(rest)
	case "set":
		return "", f.set(rest)
	case "save":
		f.Saved = append(f.Saved, rest)
		return "", nil
	case "picture":
		return f.picture(word, rest)
	case "drawn":
		kind, rest, _ := strings.Cut(rest, " ")
		return f.picture(kind, rest)
	}
	return "", fmt.Errorf("there is no instruction %q: write run, show, set, save, picture or drawn", word)
}

// ask runs a command once, however often it is asked for, and gives what it prints.
func (f *Filler) ask(command string) (string, error) {
	command = strings.TrimSpace(command)
	if a, ok := f.answers[command]; ok {
		return a, nil
	}
	a, err := f.Run(fields(command)...)
	if err != nil {
		return "", fmt.Errorf("%s: %w", command, err)
	}
	if f.answers == nil {
		f.answers = map[string]string{}
	}
	f.answers[command] = a
	return a, nil
}

// fields parts a command line at its spaces, but for those within double quotes.
func fields(line string) (out []string) {
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// show quotes a command with what it prints, or with the lines from one to another.
func (f *Filler) show(rest string) (string, error) {
	command, between, _ := strings.Cut(rest, " | ")
	a, err := f.ask(command)
	if err != nil {
		return "", err
	}
	lines := strings.Split(strings.TrimRight(a, "\n"), "\n")
	if between != "" {
		if lines, err = from(lines, between); err != nil {
			return "", err
		}
	}
	var b strings.Builder
	b.WriteString("```\n$ strakewright " + command + "\n")
	for _, line := range lines {
		for _, part := range broken(strings.TrimRight(line, " ")) {
			b.WriteString(part + "\n")
		}
	}
	b.WriteString("```\n")
	return b.String(), nil
}

// widest is how long a line of prose may be in what is quoted, in letters.
const widest = 108

// broken breaks a long line of prose between words, each part set in as the first is. The
// line of a table, whose columns stand apart, stays whole.
func broken(line string) (out []string) {
	text := strings.TrimLeft(line, " ")
	in := line[:len(line)-len(text)]
	if len(line) <= widest || strings.Contains(text, "  ") {
		return []string{line}
	}
	at := in
	for i, word := range strings.Fields(text) {
		if i > 0 && len(at)+1+len(word) > widest {
			out = append(out, at)
			at = in
		} else if i > 0 {
			at += " "
		}
		at += word
	}
	return append(out, at)
}

// omitted stands for lines that are left out.
const omitted = "  …"

// from gives the lines from one that matches the first of two expressions to one after it
// that matches the second, or to the end where there is none.
func from(lines []string, between string) ([]string, error) {
	parts := strings.Split(between, "/")
	if len(parts) != 5 {
		return nil, fmt.Errorf("%q is not /from/ /to/", between)
	}
	first, err := regexp.Compile(parts[1])
	if err != nil {
		return nil, err
	}
	last, err := regexp.Compile(parts[3])
	if err != nil {
		return nil, err
	}
	for i, line := range lines {
		if !first.MatchString(line) {
			continue
		}
		for j, line := range lines[i+1:] {
			if last.MatchString(line) {
				return around(lines, i, i+j+2), nil
			}
		}
		return around(lines, i, len(lines)), nil
	}
	return nil, fmt.Errorf("no line matches %s", parts[1])
}

// around gives some lines, and says where others are left out.
func around(lines []string, from, to int) (out []string) {
	for to > from && strings.TrimSpace(lines[to-1]) == "" {
		to--
	}
	if from > 0 {
		out = append(out, omitted)
	}
	out = append(out, lines[from:to]...)
	if to < len(lines) {
		out = append(out, omitted)
	}
	return out
}

// picture keeps that a picture is wanted, and shows it with its caption.
func (f *Filler) picture(of, rest string) (string, error) {
	parts := strings.SplitN(rest, " | ", 3)
	if len(parts) != 3 {
		return "", fmt.Errorf("a picture is NAME | CAPTION | COMMAND, not %q", rest)
	}
	caption, err := f.answered(parts[1])
	if err != nil {
		return "", err
	}
	f.Pictures = append(f.Pictures, Picture{parts[0], of, fields(parts[2])})
	return fmt.Sprintf("![%s](pictures/%s.png)\n\n*%s*\n", caption, parts[0], caption), nil
}

// braces are an answer in a text: a command, and what of it.
var braces = regexp.MustCompile(`\{\{(.*?) -> (.*?)\}\}`)

// answered fills a text with the answers that it asks for.
func (f *Filler) answered(text string) (string, error) {
	var wrong error
	text = braces.ReplaceAllStringFunc(text, func(m string) string {
		parts := braces.FindStringSubmatch(m)
		a, err := f.answer(parts[1], parts[2])
		if err != nil && wrong == nil {
			wrong = err
		}
		return a
	})
	if wrong == nil && strings.Contains(text, "{{") {
		wrong = fmt.Errorf("%q is not {{COMMAND -> WHAT}}", text)
	}
	return text, wrong
}

// answer gives one: what an expression matches in the text, or a place in the JSON.
func (f *Filler) answer(command, what string) (string, error) {
	if body, ok := strings.CutPrefix(what, "/"); ok {
		e, err := regexp.Compile("(?m)" + strings.TrimSuffix(body, "/"))
		if err != nil {
			return "", err
		}
		a, err := f.ask(command)
		if err != nil {
			return "", err
		}
		m := e.FindStringSubmatch(a)
		if m == nil {
			return "", fmt.Errorf("%s says nothing that matches %s", command, what)
		}
		return strings.Join(strings.Fields(m[len(m)-1]), " "), nil
	}
	a, err := f.ask(command + " --json")
	if err != nil {
		return "", err
	}
	path, format, _ := strings.Cut(what, " ")
	return valueAt([]byte(a), path, format)
}

// set makes a plan of another, with one thing in its file changed.
func (f *Filler) set(rest string) error {
	parts := strings.SplitN(rest, " ", 5)
	if len(parts) != 5 || parts[1] != "=" {
		return fmt.Errorf("%q is not OUT = IN PATH VALUE", rest)
	}
	plan, err := os.ReadFile(filepath.Join(f.Folder, parts[2]))
	if err != nil {
		return err
	}
	if plan, err = changed(plan, parts[3], parts[4]); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(f.Folder, parts[0]), plan, 0o644)
}
