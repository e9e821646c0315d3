package drawing

import (
	"bytes"
	"io"

	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Check reads a drawing, SVG or DXF as its contents show, with the table beside
// it, and returns what was found in it and every fault; path is where the
// drawing stands.
func Check(r io.Reader, path string, how Options) (*Drawing, []fault.Fault) {
	table, found := besideDrawing(path, how.Table)
	if len(found) > 0 {
		return &Drawing{}, found
	}
	b := plaintext.Unpacked(r)
	head, _ := b.Peek(b.Size()) // a shorter file is no error
	if IsDXF(bytes.TrimLeft(bytes.TrimPrefix(head, []byte(plaintext.BOM)), " \t\r\n")) {
		return checkDXF(b, path, table, how)
	}
	return checkSVG(b, path, table, how)
}

// IsSVG reports whether a file is an SVG drawing, by its first characters other
// than space.
func IsSVG(head []byte) bool { return len(head) > 0 && head[0] == '<' }

// IsDXF reports whether a file is a DXF drawing, by its first characters other
// than space.
func IsDXF(head []byte) bool {
	first := head
	if i := bytes.IndexAny(head, ",;\t\r\n"); i >= 0 {
		first = head[:i]
	}
	return ((string(first) == "0" || string(first) == "999") && bytes.Contains(head, []byte("SECTION"))) || bytes.HasPrefix(head, []byte(binaryDXF))
}
