// Package locale keeps Fyne, the window's toolkit, from printing errors about the
// user's language settings, whatever these are. Fyne reads the user's
// languages when a program starts, before main, and prints an error on each that
// it cannot read, as xx_YY, or C with an encoding, as C.UTF-8. Naming those alone
// beforehand that it can read helps; the LANGUAGE variable changes nothing else.
//
// A package is initialised before those that come after it by import path and
// do not depend on it, as soon as what it imports itself is (The Go Programming
// Language Specification, Package initialization). What this one imports is ready
// before Fyne's lang is, which needs packages that come later, as text/template.
package locale

import (
	"os"
	"strings"

	"golang.org/x/text/language"
)

func init() {
	if asked, readable := languages(os.Getenv); asked != readable {
		_ = os.Setenv("LANGUAGE", readable) // without it there is only the message
	}
}

// Asked gives the languages that the environment asks for, the dearest first, as
// "de_AT.UTF-8"; none where it asks for none.
func Asked(getenv func(string) string) []string {
	_, readable := languages(getenv)
	return strings.FieldsFunc(readable, func(r rune) bool { return r == ':' })
}

// languages gives the languages that the environment asks for, with colons
// between, and those of them that can be read, or English; both empty where it
// asks for none. The first variable that is set counts, and LANGUAGE goes before
// it unless it is plain C or POSIX (GNU gettext manual, 2.3.2 and 2.3.3).
func languages(getenv func(string) string) (asked, readable string) {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if asked = getenv(name); asked != "" {
			break
		}
	}
	if asked == "C" || asked == "POSIX" {
		return "", ""
	}
	if list := getenv("LANGUAGE"); list != "" {
		asked = list
	}
	if asked == "" {
		return "", ""
	}
	var known []string
	for one := range strings.SplitSeq(asked, ":") {
		if _, err := language.Parse(tagOf(one)); err == nil {
			known = append(known, one)
		}
	}
	if len(known) == 0 {
		return asked, "en"
	}
	return asked, strings.Join(known, ":")
}

// tagOf is the tag of a locale's language and region, without its encoding, as
// Fyne makes it: de-AT of de_AT.UTF-8.
func tagOf(locale string) string {
	name, _, _ := strings.Cut(locale, ".")
	tongue, region, _ := strings.Cut(strings.ReplaceAll(name, "-", "_"), "_")
	if region == "" {
		return tongue
	}
	return tongue + "-" + region
}
