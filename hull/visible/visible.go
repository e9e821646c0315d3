// Package visible shows text that came from a file or a command line. Titles,
// notes, species and the names of files may hold anything: signs that steer a
// terminal, or marks that turn the direction of reading round and make a line say
// what it does not. Whatever is printed, tabled or drawn goes through here:
//
//	visible.Text("Ann\x1b[31m") // Ann\x1b[31m, as twelve letters that steer nothing
//
// What is kept in a plan is never changed by it.
package visible

import (
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text gives a text with what cannot be seen written out, as \x1b and \u202e: all
// control characters, bidirectional marks, line and paragraph separators, what is
// in no script, and bytes that are no UTF-8. Line ends and tabs become spaces. The
// joiners that some scripts are spelt with stay. Shown text stays as it is.
func Text(s string) string {
	if clean(s) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			b.WriteString(`\x` + strconv.FormatUint(uint64(s[i])+0x100, 16)[1:])
		case r == '\t' || r == '\n':
			b.WriteByte(' ')
		case seen(r):
			b.WriteRune(r)
		default:
			b.WriteString(strings.Trim(strconv.QuoteRuneToASCII(r), "'"))
		}
		i += n
	}
	return b.String()
}

// clean tells whether a text can be shown as it is.
func clean(s string) bool {
	return utf8.ValidString(s) && strings.IndexFunc(s, func(r rune) bool { return !seen(r) }) < 0
}

const (
	nonJoiner = '\u200c'
	joiner    = '\u200d'
)

// seen tells whether a character can be seen, is a space, or shapes those beside
// it (The Unicode Standard, 23.2, on the joiners).
func seen(r rune) bool { return unicode.IsGraphic(r) || r == joiner || r == nonJoiner }

// JSON is a writer of JSON that escapes, as \u202e, what Text writes out. Since
// JSON itself is ASCII, such characters can only stand within its strings.
func JSON(w io.Writer) io.Writer { return jsonWriter{w} }

type jsonWriter struct{ w io.Writer }

// Write takes whole characters alone, as encoding/json gives them.
func (j jsonWriter) Write(p []byte) (int, error) {
	var b []byte
	from := 0
	for i := 0; i < len(p); {
		r, n := utf8.DecodeRune(p[i:])
		if r >= 0x7f && !seen(r) {
			b = append(append(b, p[from:i]...), escaped(r)...)
			from = i + n
		}
		i += n
	}
	if from == 0 {
		return j.w.Write(p)
	}
	if _, err := j.w.Write(append(b, p[from:]...)); err != nil {
		return 0, err
	}
	return len(p), nil
}

// escaped is a character in JSON, by its UTF-16 units (RFC 8259, 7).
func escaped(r rune) string {
	unit := func(u rune) string { return `\u` + strconv.FormatInt(int64(u)+0x10000, 16)[1:] }
	if r < 0x10000 {
		return unit(r)
	}
	r -= 0x10000
	return unit(0xd800+r>>10) + unit(0xdc00+r&0x3ff)
}

// Lines is Text that keeps line ends, for texts of several lines of our own.
func Lines(s string) string {
	if clean(s) {
		return s
	}
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = Text(lines[i])
	}
	return strings.Join(lines, "\n")
}
