package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/assets/tongue"
)

type manualCmd struct{}

// Run prints the manual page.
func (c *manualCmd) Run(s *streams, model *kong.Application) error {
	_, err := io.WriteString(s.out, manual(model, making()))
	if err != nil {
		return tongue.Errorf("standard output: %w", err)
	}
	return nil
}

// manPage is a manual page as it is written, in the macros called man (man-pages(7), groff_man(7)).
type manPage struct{ strings.Builder }

// manual is the page of all commands, section 1, from what --help is told by.
func manual(model *kong.Application, m made) string {
	var p manPage
	fmt.Fprintf(&p, ".TH %s 1 \"%s\" \"%s %s\" \"\"\n", strings.ToUpper(model.Name), m.day, model.Name, roff(m.version))
	about, more, _ := strings.Cut(model.Help, "\n")
	p.macro("SH", tongue.T("NAME"))
	p.text(model.Name + " - " + lowerFirst(strings.TrimSuffix(about, ".")))
	p.macro("SH", tongue.T("SYNOPSIS"))
	p.synopsis(model.Name, "[FILE]")
	p.synopsis(model.Name, "COMMAND [FLAGS]")
	p.macro("SH", tongue.In("heading", "DESCRIPTION"))
	p.text(about)
	p.text(more)
	p.text(tongue.T("Lengths are in mm at model size, angles in degrees. No command changes a file that was not named for writing."))
	p.macro("SH", tongue.T("FLAGS OF EVERY COMMAND"))
	p.flags(model.Flags)
	p.macro("SH", tongue.T("COMMANDS"))
	for _, c := range model.Children {
		if !c.Hidden {
			p.command(model.Name, c)
		}
	}
	p.macro("SH", tongue.T("EXIT STATUS"))
	p.item("0", tongue.T("Done."))
	p.item("1", tongue.T("A fault in a file, or something that could not be done, reported in a sentence on standard error."))
	p.item("2", tongue.T("A fault in the command line."))
	return p.String()
}

// command tells one, and those below it.
func (p *manPage) command(program string, c *kong.Node) {
	p.macro("SS", c.Name)
	p.synopsis(program, c.Summary()[len(c.Parent.Path()):])
	p.text(c.Help)
	p.text(c.Detail)
	for _, a := range c.Positional {
		p.item(a.Summary(), kong.DefaultHelpValueFormatter(a))
	}
	p.flags(c.Flags)
	for _, below := range c.Children {
		if !below.Hidden {
			p.command(program, below)
		}
	}
}

func (p *manPage) flags(flags []*kong.Flag) {
	for _, f := range flags {
		if !f.Hidden {
			p.item(f.String(), kong.DefaultHelpValueFormatter(f.Value))
		}
	}
}

// macro is a request with its arguments, each in quotes.
func (p *manPage) macro(name string, args ...string) {
	p.WriteString("." + name)
	for _, a := range args {
		p.WriteString(` "` + strings.ReplaceAll(roff(a), `"`, `\(dq`) + `"`)
	}
	p.WriteByte('\n')
}

// text is a paragraph for each that has an empty line before it.
func (p *manPage) text(s string) {
	for part := range strings.SplitSeq(strings.TrimSpace(s), "\n\n") {
		if part == "" {
			continue
		}
		if !p.endsHeading() {
			p.macro("PP")
		}
		for line := range strings.Lines(part) {
			p.WriteString(plainLine(strings.TrimSpace(line)) + "\n")
		}
	}
}

// endsHeading tells whether the last line written is a heading, after which a
// paragraph begins by itself.
func (p *manPage) endsHeading() bool {
	written := strings.TrimSuffix(p.String(), "\n")
	last := written[strings.LastIndexByte(written, '\n')+1:]
	return strings.HasPrefix(last, ".SH ") || strings.HasPrefix(last, ".SS ")
}

// synopsis is a line of how the program is called.
func (p *manPage) synopsis(program, rest string) {
	if !p.endsHeading() {
		p.macro("br")
	}
	p.WriteString(`\fB` + plainLine(program) + `\fR ` + roff(strings.TrimSpace(rest)) + "\n")
}

// item is a word or flag, and what it means indented below.
func (p *manPage) item(word, means string) {
	p.macro("TP")
	p.WriteString(`\fB` + roff(word) + "\\fR\n" + plainLine(cmp.Or(strings.TrimSpace(means), word)) + "\n")
}

// plainLine is a line of text that no formatter takes for a request.
func plainLine(s string) string {
	s = roff(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		return `\&` + s
	}
	return s
}

// roff writes text so that it is printed as it stands: a hyphen as that which a shell
// knows, and a backslash as one.
func roff(s string) string {
	return strings.NewReplacer(`\`, `\e`, "-", `\-`, "\n", " ").Replace(s)
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(first)) + s[size:]
}
