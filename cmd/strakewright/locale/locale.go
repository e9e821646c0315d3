// Package locale keeps Fyne quiet in a shell without a language. Fyne reads
// the user's language when a program starts, before main, and prints an error
// on finding the plain locale with an encoding, as C.UTF-8. Naming a language
// beforehand helps; the LANGUAGE variable changes nothing else.
//
// A package is initialised before those that come after it by import path and
// do not depend on it, as soon as what it imports itself is (The Go Programming
// Language Specification, Package initialization). This one imports only os,
// and Fyne's lang needs packages that come later, as text/template.
package locale

import "os"

func init() {
	if os.Getenv("LANGUAGE") != "" {
		return
	}
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := os.Getenv(name); v != "" {
			if plain(v) {
				_ = os.Setenv("LANGUAGE", "en") // without it there is only the message
			}
			return
		}
	}
}

// plain tells whether a locale names no language but an encoding.
func plain(v string) bool {
	return len(v) > 2 && v[:2] == "C." || len(v) > 6 && v[:6] == "POSIX."
}
