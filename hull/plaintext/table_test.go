package plaintext

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/hull/fault"
)

// Inch marks are not quotes, and quotes are left as they are.
func TestInchMarks(t *testing.T) {
	for text, want := range map[string][]string{
		`a,2' 1",3",4`:         {"a", "2' 1\u2033", "3\u2033", "4"},
		`"a 5","1,5",7" ,x`:    {"a 5", "1,5", "7\u2033", "x"},
		`"say ""5""",6","7"`:   {`say "5"`, "6\u2033", "7"},
		"\"two\n5\",8\",\"9\"": {"two\n5", "8\u2033", "9"},
	} {
		f := &fault.List{}
		rows, _, ok := Rows([]byte(text), 10, f)
		assert.True(t, ok, text)
		assert.Equal(t, want, rows[0].Fields, text)
	}
}

// A decimal comma in quotes is distinguished from a thousands separator, or is not
// taken for one.
func TestQuotedCommas(t *testing.T) {
	for text, want := range map[string]bool{
		`"1,5","2,25"`: true, `"0,125"`: true, `"1234,567"`: true, "\"\u22121,5\"": true,
		`"1,234"`: false, `"12,345",6`: false, `"1,5",2.5`: false, "1,5": false,
	} {
		assert.Equal(t, want, QuotedCommas([]byte(text)), text)
	}
}

// A format that is not read is named, with a way to go on.
func TestClosedFormats(t *testing.T) {
	for text, want := range map[string]string{
		"AC1027\x00\x00":           "the file is a DWG drawing, which is not read; save it as ASCII DXF",
		"\xd0\xcf\x11\xe0\xa1\xb1": "of an old kind (XLS), which is not read; save the sheet as CSV",
		"ISO-10303-21;\nHEADER;":   "the file is a STEP model, which is not read; cut it at the frames",
		"%!PS-Adobe-3.0 EPSF-3.0":  "the file is a PostScript drawing, which is not read; save it as SVG or PDF",
	} {
		f := &fault.List{}
		_, ok := Read(strings.NewReader(text), 1000, f)
		assert.False(t, ok)
		assert.Contains(t, f.Found[0].Error(), want)
	}
}
