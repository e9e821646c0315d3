package plaintext

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strings"

	"github.com/strakewright/strakewright/hull/fault"
)

// Row is a row of a table that is not blank, and the line on which it stands.
type Row struct {
	Line   int
	Fields []string // without the space around them or empty ones at the end
}

// Key is the first field of the row in the form in which it is compared: in
// lower case.
func (r Row) Key() string { return strings.ToLower(r.At(0)) }

// At is field k, empty where there is none.
func (r Row) At(k int) string {
	if k < len(r.Fields) {
		return r.Fields[k]
	}
	return ""
}

// Rows reads the rows of a table (CSV), which need not all be of one length;
// comma says whether decimal commas are allowed. ok is false, with a fault
// noted, where it cannot be read or has more rows than most.
func Rows(text []byte, most int, f *fault.List) (rows []Row, comma, ok bool) {
	if !bytes.Contains(text, []byte("\n")) {
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	separator := tableSeparator(text)
	text = inchMarks(text, byte(separator))
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma = separator
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = c.Comma != '\t'
	comma = c.Comma != ',' || QuotedCommas(text)
	if !Narrow(text, c.Comma, f) {
		return nil, comma, false
	}
	for {
		fields, err := c.Read()
		if err == io.EOF {
			return rows, comma, true
		}
		if err != nil {
			AddCSV(f, err)
			return nil, comma, false
		}
		line, _ := c.FieldPos(0)
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
		for len(fields) > 0 && fields[len(fields)-1] == "" {
			fields = fields[:len(fields)-1]
		}
		if len(fields) == 0 {
			continue
		}
		if len(rows) == most {
			f.Add(line, "", "leave rows out", "there are more than %d rows, the most that the program reads", most)
			return nil, comma, false
		}
		rows = append(rows, Row{line, fields})
	}
}

// inchMarks escapes inch marks (2' 1") at the end of unquoted fields, so that they
// are not read as quotes.
func inchMarks(text []byte, separator byte) []byte {
	var out []byte
	kept := 0 // text up to here is in out
	begins, quoted := true, false
	for i, c := range text {
		switch {
		case quoted:
			quoted = c != '"' // a doubled one opens again at once
		case c == '"' && begins:
			quoted = true
		case c == '"' && i > 0 && isDigit(text[i-1]) && ends(text[i+1:], separator):
			out = append(append(out, text[kept:i]...), "\u2033"...)
			kept = i + 1
		case c == '"' && i > 0 && text[i-1] == '"':
			quoted = true
		}
		begins = !quoted && (c == separator || c == '\n' || (begins && (c == ' ' || c == '\r')))
	}
	if kept == 0 {
		return text
	}
	return append(out, text[kept:]...)
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// ends reports whether only space is left of a field.
func ends(rest []byte, separator byte) bool {
	rest = bytes.TrimLeft(rest, " ")
	return len(rest) == 0 || rest[0] == separator || rest[0] == '\n' || rest[0] == '\r'
}

// mostColumns is how many columns a row of a table may have: a table of offsets
// has one for each of up to 1000 frames, and a few before them.
const mostColumns = 1010

// Narrow reports whether no row of a table has more columns than are read, and
// notes a fault where one has. It counts before the rows are split, since a row
// of millions of columns takes many times its own size.
func Narrow(text []byte, separator rune, f *fault.List) bool {
	line, columns, quoted := 1, 1, false
	for _, b := range text { // a separator is one byte
		switch {
		case b == '\n':
			line++
			if !quoted {
				columns = 1
			}
		case b == '"':
			quoted = !quoted
		case rune(b) == separator:
			if columns++; columns > mostColumns {
				f.Add(line, "", "leave columns out", "there are more than %d columns, the most that the program reads", mostColumns)
				return false
			}
		}
	}
	return true
}

// tableSeparator gives the separator of the columns, from the first line that
// holds a semicolon, a tab or a comma, in this order.
func tableSeparator(text []byte) rune {
	for line := range bytes.Lines(text) {
		for _, c := range []rune{';', '\t', ','} {
			if bytes.ContainsRune(bytes.TrimSpace(line), c) {
				return c
			}
		}
	}
	return ','
}

// Numbers in quotes that hold a comma, and plain ones with a point.
var (
	quotedComma = regexp.MustCompile(`"\s*[-\x{2212}]?(\d+),(\d+)\s*"`)
	pointed     = regexp.MustCompile(`(?m)(?:^|[,"\s])-?\d+\.\d+(?:[,"\s]|$)`)
)

// QuotedCommas reports whether a table with commas between its columns has
// decimal commas in quotes, as a spreadsheet writes them. Where they could be
// thousands separators it does not, and the numbers are refused.
func QuotedCommas(text []byte) bool {
	sure := false
	for _, m := range quotedComma.FindAllSubmatch(text, -1) {
		sure = sure || len(m[2]) != 3 || len(m[1]) > 3 || m[1][0] == '0'
	}
	return sure && !pointed.Match(text)
}

// AddCSV notes an error of package csv in our own words.
func AddCSV(f *fault.List, err error) {
	var e *csv.ParseError
	if errors.As(err, &e) {
		f.Add(e.StartLine, "", "remove the quotes, or close each one", "the quotes in this line do not match")
		return
	}
	f.Add(0, "", "check that it is a table", "the table cannot be read (%v)", err)
}

// LargestTable is the most bytes of a table that are read.
const LargestTable = 20 << 20
