package plaintext

import (
	"bytes"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

const BOM = "\ufeff"

// Read reads the whole of r, at most limit bytes, and returns it as UTF-8
// without its byte-order mark; ok is false, with a fault noted, where it cannot
// be read, or is neither UTF-8 nor in the character set it names.
func Read(r io.Reader, limit int, f *fault.List) (text []byte, ok bool) {
	return read(r, limit, declared, f)
}

// ReadTable is Read for a table: one that is not UTF-8 is read as Windows-1252, in
// which spreadsheets write it, which includes the characters of Latin-1.
func ReadTable(r io.Reader, limit int, f *fault.List) (text []byte, ok bool) {
	return read(r, limit, western, f)
}

// What is said about a file with nothing in it to read.
const emptyFile, emptyMend = "the file is empty", "check that it is the right file"

// read is Read; set gives the character set of a text that is not UTF-8.
func read(r io.Reader, limit int, set func([]byte) encoding.Encoding, f *fault.List) (text []byte, ok bool) {
	data, err := io.ReadAll(io.LimitReader(r, int64(limit)+1))
	switch {
	case err != nil:
		f.Found = append(f.Found, fault.OfFile(f.File, "cannot be read", "check the file and the disk it is on", err))
	case len(data) > limit:
		f.Add(0, "", "leave out what you do not need", "the file is larger than %d MB, the most that the program reads", limit>>20)
	case len(bytes.TrimSpace(bytes.TrimPrefix(data, []byte(BOM)))) == 0:
		f.Add(0, "", emptyMend, emptyFile)
	case isPicture(data):
		f.Add(0, "", "trace the frames on it in the window: Trace a picture, in the Plan menu", "the file is a picture, not text")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		f.Add(0, "", "export the sheet as CSV", "the file is a spreadsheet or a zip archive, not text")
	case closed(data) != nil:
		c := closed(data)
		f.Add(0, "", c.mend, "the file is %s, which is not read", c.what)
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")), bytes.IndexByte(data, 0) >= 0:
		f.Add(0, "", "save it again as UTF-8", "the file is UTF-16, or not text")
	case !utf8.Valid(data):
		if in := set(data); in != nil {
			if text, err := in.NewDecoder().Bytes(data); err == nil {
				if len(bytes.TrimSpace(text)) == 0 { // non-breaking spaces and nothing else
					f.Add(0, "", emptyMend, emptyFile)
					return nil, false
				}
				return text, true
			}
		}
		f.Add(LineAt(data, firstInvalid(data)), "", "save the file again as UTF-8", "there is a character that is not UTF-8")
	default:
		return bytes.TrimPrefix(data, []byte(BOM)), true
	}
	return nil, false
}

// closedFormat is a format that is not read, recognised by how its files begin.
type closedFormat struct{ begins, what, mend string }

var closedFormats = []closedFormat{
	{"AC10", tongue.Mark("a DWG drawing"), tongue.Mark("save it as ASCII DXF in the program that made it")},
	{"\xd0\xcf\x11\xe0", tongue.Mark("a spreadsheet or document of an old kind (XLS)"), tongue.Mark("save the sheet as CSV")},
	{"ISO-10303-21", tongue.Mark("a STEP model"), tongue.Mark("cut it at the frames in the program that made it, and export these as DXF or SVG")},
	{"%!PS", tongue.Mark("a PostScript drawing"), tongue.Mark("save it as SVG or PDF")},
}

// closed says which of these a file is; nil for none.
func closed(data []byte) *closedFormat {
	for i := range closedFormats {
		if bytes.HasPrefix(data, []byte(closedFormats[i].begins)) {
			return &closedFormats[i]
		}
	}
	return nil
}

// isPicture reports whether a file is a PNG, a JPEG or a PDF, by how it begins.
func isPicture(data []byte) bool {
	return bytes.HasPrefix(data, []byte("\x89PNG")) || bytes.HasPrefix(data, []byte("\xff\xd8\xff")) || bytes.HasPrefix(data, []byte("%PDF-"))
}

// firstInvalid gives the offset of the first byte that is not UTF-8.
func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// LineAt gives the line, from 1, that holds the byte at an offset.
func LineAt(data []byte, offset int) int {
	return 1 + bytes.Count(data[:min(max(offset, 0), len(data))], []byte("\n"))
}
