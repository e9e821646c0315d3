package main

import (
	"fmt"
	"os"
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
