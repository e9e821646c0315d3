package drawing

import (
	"bytes"
	"io"

	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Check reads a drawing, SVG or DXF by what stands in it, with the table
// beside it, and gives what was found in it and every fault; path is where it
// stands.
func Check(r io.Reader, path string, how Options) (*Drawing, []fault.Fault) {
	table, found := besideDrawing(path, how.Table)
	if len(found) > 0 {
		return &Drawing{}, found
	}
	b := plaintext.Unpacked(r)
	head, _ := b.Peek(b.Size()) // a shorter text than that is no error
	if IsDXF(bytes.TrimLeft(bytes.TrimPrefix(head, []byte(plaintext.BOM)), " \t\r\n")) {
		return checkDXF(b, path, table, how)
	}
	return checkSVG(b, path, table, how)
}

// IsSVG tells an SVG drawing by what it begins with, space left out.
func IsSVG(head []byte) bool { return len(head) > 0 && head[0] == '<' }

// IsDXF tells a DXF drawing by what it begins with, space left out.
func IsDXF(head []byte) bool {
	first := head
	if i := bytes.IndexAny(head, ",;\t\r\n"); i >= 0 {
		first = head[:i]
	}
	return ((string(first) == "0" || string(first) == "999") && bytes.Contains(head, []byte("SECTION"))) || bytes.HasPrefix(head, []byte(binaryDXF))
}
