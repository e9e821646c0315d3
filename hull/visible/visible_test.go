package visible

import (
	"bytes"
	"encoding/json"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestText(t *testing.T) {
	for given, want := range map[string]string{
		"":                          "",
		"Frame 12 · Ørsted":         "Frame 12 · Ørsted",
		"Ann\x1b[31m":               `Ann\x1b[31m`,
		"a\rb\x00c\ad":              `a\rb\x00c\ad`,
		"two\nlines\tapart":         "two lines apart",
		"\u202egnp.exe":             `\u202egnp.exe`,
		"\u2066x\u2069\u200e\u061c": `\u2066x\u2069\u200e\u061c`,
		"\u0085\u009b31m\u2028":     `\u0085\u009b31m\u2028`,
		"a\xffb":                    `a\xffb`,
		"\ue000\U000e0041":          `\ue000\U000e0041`,
		"می\u200cخواهم":             "می\u200cخواهم",
		`C:\plans\x1b`:              `C:\plans\x1b`,
		"it's \"quoted\"":           "it's \"quoted\"",
	} {
		assert.Equal(t, want, Text(given), "%q", given)
		assert.Equal(t, want, Text(Text(given)), "what is shown stays as it is")
	}
}

func TestLinesKeepTheirEnds(t *testing.T) {
	assert.Equal(t, "one\ntwo\\x1b\n", Lines("one\ntwo\x1b\n"))
	assert.Equal(t, "Ann", Lines("Ann"))
}

func TestNothingUnseenIsLeft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Text(string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text"))
		for _, r := range s {
			if !unicode.IsGraphic(r) && r != '\u200c' && r != '\u200d' {
				t.Fatalf("%q is left", r)
			}
		}
	})
}

// TestJSONStaysJSON: what was encoded is read back the same.
func TestJSONStaysJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		given := rapid.String().Draw(t, "text") + "\u202e\u0085\x7f\U000e0041\u2028"
		var b bytes.Buffer
		e := json.NewEncoder(JSON(&b))
		e.SetEscapeHTML(false)
		require.NoError(t, e.Encode(map[string]string{given: given}))
		assert.Equal(t, b.String(), Text(b.String()[:b.Len()-1])+"\n")
		var back map[string]string
		require.NoError(t, json.Unmarshal(b.Bytes(), &back))
		assert.Equal(t, map[string]string{given: given}, back)
	})
}
