package drawing

import (
	"bytes"
	"compress/gzip"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Names written in the drawing's own code page, or escaped, are read correctly.
func TestDXFNamesInCodePages(t *testing.T) {
	header := func(page string) string {
		return groups(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1015", 9, "$DWGCODEPAGE", 3, page, 9, "$INSUNITS", 70, 4, 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	}
	for name, c := range map[string][3]string{
		"western":  {"ANSI_1252", "B\xfcg-x-0", "Büg"},
		"cyrillic": {"ANSI_1251", "\xed\xee\xf1-x-0", "нос"},
		"greek":    {"ansi_1253", "\xf0\xeb-x-0", "πλ"},
		"japanese": {"ANSI_932", "\x91\x44-x-0", "船"},
		"escaped":  {"ANSI_1252", `\U+0424\U+006F-x-0`, "Фo"},
	} {
		text := header(c[0]) + middle + arcOn(c[1]) + arcOn("B-x-60") + arcOn("C-x-120") + groups(0, "ENDSEC", 0, "EOF")
		h, err := readDXF(strings.NewReader(text), "", nil)
		require.NoError(t, err, name)
		assert.Equal(t, c[2], h.Frames[0].Name, name)
	}
	_, err := readDXF(strings.NewReader(header("ANSI_9999")+arcOn("B\xfcg-x-0")+groups(0, "ENDSEC", 0, "EOF")), "", nil)
	assert.ErrorContains(t, err, "a character that is not UTF-8")
}

// A drawing compressed with gzip is read like any other.
func TestPackedDrawing(t *testing.T) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write([]byte(bodyPlan))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	d, found := Check(bytes.NewReader(b.Bytes()), "body.svgz", Options{})
	require.Empty(t, found)
	quarter(t, d.Hull.Frames[0], 0, 40)
	_, found = Check(bytes.NewReader(b.Bytes()[:b.Len()/2]), "body.svgz", Options{})
	assert.NotEmpty(t, found, "half of it")
}
