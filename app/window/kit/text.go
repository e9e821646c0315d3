package kit

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/visible"
)

// Sentence writes an error as one sentence. A file's name at its head stays as it
// is written, since Fold.csv and fold.csv are two files.
func Sentence(err error) string {
	s := visible.Text(strings.TrimSpace(err.Error()))
	if s == "" {
		return tongue.T("Something went wrong.")
	}
	if r, n := utf8.DecodeRuneInString(s); !beginsWithFile(err, s) {
		s = string(unicode.ToUpper(r)) + s[n:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// beginsWithFile tells whether a message begins with the name of a file: that of
// a fault, or what stands before the first colon and looks like one.
func beginsWithFile(err error, s string) bool {
	var fault fault.Fault
	if errors.As(err, &fault) && fault.File != "" && strings.HasPrefix(s, visible.Text(fault.File)) {
		return true
	}
	head, _, ok := strings.Cut(s, ": ")
	return ok && (strings.ContainsAny(head, `./\`) || !strings.Contains(head, " "))
}

// SentenceStart gives a text a capital letter.
func SentenceStart(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
