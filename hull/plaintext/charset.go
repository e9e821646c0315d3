package plaintext

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// peeked is how much of a file is examined before it is read.
const peeked = 64 << 10

// Unpacked reads a file as the text that it holds: compressed with gzip, as drawings
// may be, or in UTF-16 after its byte-order mark, or plain. Its beginning can be
// peeked at.
func Unpacked(r io.Reader) *bufio.Reader {
	b := bufio.NewReaderSize(r, peeked)
	if head, _ := b.Peek(2); bytes.Equal(head, []byte("\x1f\x8b")) {
		z, err := gzip.NewReader(b)
		if err != nil {
			return bufio.NewReaderSize(failed{err}, peeked)
		}
		b = bufio.NewReaderSize(z, peeked)
	}
	if head, _ := b.Peek(2); bytes.Equal(head, []byte("\xff\xfe")) || bytes.Equal(head, []byte("\xfe\xff")) {
		wide := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder()
		return bufio.NewReaderSize(transform.NewReader(b, wide), peeked)
	}
	return b
}

// failed is a reader that always fails.
type failed struct{ err error }

func (f failed) Read([]byte) (int, error) { return 0, f.err }

// Where a text says in which characters it is written: the declaration of XML, and the
// code page of DXF before 2007.
var (
	xmlCharset = regexp.MustCompile(`^\s*<\?xml[^>]*\sencoding=["']([\w.:-]+)["']`)
	dxfCharset = regexp.MustCompile(`\$DWGCODEPAGE\s+3\s+(\w+)`)
)

// declared is the character set in which a text says that it is written; nil where it
// says nothing, or names one that is not known.
func declared(text []byte) encoding.Encoding {
	head := text[:min(len(text), peeked)]
	name := ""
	if m := xmlCharset.FindSubmatch(head); m != nil {
		name = string(m[1])
	} else if m := dxfCharset.FindSubmatch(head); m != nil {
		name = codePage(strings.ToLower(string(m[1])))
	}
	set, err := htmlindex.Get(name)
	if err != nil {
		return nil
	}
	return set
}

// western is Windows-1252 for a text that can be in it: one that uses no byte that
// Windows-1252 leaves undefined, and holds no UTF-8 character, which would mean
// damaged UTF-8. Latin-1 is Windows-1252 without the characters from 80 to 9F.
func western(text []byte) encoding.Encoding {
	if bytes.HasPrefix(text, []byte(BOM)) {
		return nil
	}
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if n > 1 || (r < ' ' && !bytes.ContainsRune([]byte("\t\n\r\f"), r)) || bytes.IndexByte([]byte("\x7f\x81\x8d\x8f\x90\x9d"), text[i]) >= 0 {
			return nil
		}
		i += n
	}
	return charmap.Windows1252
}

// codePage is the registered name of a code page that DXF names.
func codePage(name string) string {
	number, ok := strings.CutPrefix(name, "ansi_")
	if !ok {
		number, _ = strings.CutPrefix(name, "dos")
	}
	switch number {
	case "932":
		return "shift_jis"
	case "936":
		return "gbk"
	case "949":
		return "euc-kr"
	case "950":
		return "big5"
	case "866":
		return "ibm866"
	case "874", "1250", "1251", "1252", "1253", "1254", "1255", "1256", "1257", "1258":
		return "windows-" + number
	}
	return ""
}
