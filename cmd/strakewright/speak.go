package main

import (
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/cmd/strakewright/locale"
)

// speak has the program say its texts in the user's language, if it knows that.
func speak() {
	if err := tongue.Use(locale.Asked(os.Getenv)...); err != nil {
		fmt.Fprintln(os.Stderr, "strakewright:", err) // it speaks English then
	}
}

// said is the grammar of the command line with its help in the user's language. It works
// before defaults are put into the help.
func said(k *kong.Kong) error {
	return kong.Visit(k.Model, func(of kong.Visitable, next kong.Next) error {
		switch of := of.(type) {
		case *kong.Application:
			of.Help = inTongue(of.Help)
		case *kong.Node:
			of.Help, of.Detail = inTongue(of.Help), inTongue(of.Detail)
		case *kong.Value:
			of.Help = inTongue(of.Help)
		case *kong.Flag:
			of.Help = inTongue(of.Help)
		}
		return next(nil)
	})
}

// inTongue is a text of the grammar, which may be a variable's name alone.
func inTongue(text string) string {
	if strings.TrimSpace(text) == "" {
		return text
	}
	return tongue.T(text)
}

// What the library of the command line says itself.
var (
	_ = tongue.Mark("Show context-sensitive help.")

	libraryHeads = map[string]string{"Arguments:": tongue.Mark("Arguments:"), "Flags:": tongue.Mark("Flags:"), "Commands:": tongue.Mark("Commands:")}

	librarySays = []struct {
		is   *regexp.Regexp
		text string
	}{
		{regexp.MustCompile(`^Usage: (.+)$`), tongue.Mark("Usage: %s")},
		{regexp.MustCompile(`^Run "(.+)" for more information on a command\.$`), tongue.Mark("Run \"%s\" for more information on a command.")},
		{regexp.MustCompile(`^Run "(.+)" for more information\.$`), tongue.Mark("Run \"%s\" for more information.")},
		{regexp.MustCompile(`^unknown flag (\S+), did you mean one of (.+)\?$`), tongue.Mark("unknown flag %s, did you mean one of %s?")},
		{regexp.MustCompile(`^unknown flag (\S+), did you mean (.+)\?$`), tongue.Mark("unknown flag %s, did you mean %s?")},
		{regexp.MustCompile(`^unknown flag (\S+)$`), tongue.Mark("unknown flag %s")},
		{regexp.MustCompile(`(?s)^unexpected argument (.+)$`), tongue.Mark("unexpected argument %s")},
		{regexp.MustCompile(`^missing flags: (.+)$`), tongue.Mark("missing flags: %s")},
		{regexp.MustCompile(`^expected one of (.+)$`), tongue.Mark("expected one of %s")},
		{regexp.MustCompile(`^expected (".+)$`), tongue.Mark("expected %s")},
		{regexp.MustCompile(`(?s)^(.+) must be one of (.+) but got (.+)$`), tongue.Mark("%s must be one of %s but got %s")},
	}
)

// inTheirWords is an error of that library, told in the user's language.
type inTheirWords struct{ error }

// Unwrap gives the library's own.
func (e inTheirWords) Unwrap() error { return e.error }

// Error says it.
func (e inTheirWords) Error() string { return librarySaid(e.error.Error()) }

// librarySaid is a line of the library in the user's language, or as it stands where it
// is none of those known.
func librarySaid(line string) string {
	if head, ok := libraryHeads[line]; ok {
		return tongue.T(head)
	}
	for _, s := range librarySays {
		if found := s.is.FindStringSubmatch(line); found != nil {
			var args []any
			for _, part := range found[1:] {
				args = append(args, part)
			}
			return tongue.T(s.text, args...)
		}
	}
	return line
}

// helpSaid prints help with the library's own lines in the user's language.
func helpSaid(options kong.HelpOptions, ctx *kong.Context) error {
	if tongue.Language() == "en" {
		return kong.DefaultHelpPrinter(options, ctx) // which knows how wide a terminal is
	}
	out := ctx.Stdout
	defer func() { ctx.Stdout = out }()
	var b strings.Builder
	ctx.Stdout = &b
	if err := kong.DefaultHelpPrinter(options, ctx); err != nil {
		return err
	}
	for line := range strings.Lines(b.String()) {
		if _, err := io.WriteString(out, librarySaid(strings.TrimSuffix(line, "\n"))+"\n"); err != nil {
			return err
		}
	}
	return nil
}
