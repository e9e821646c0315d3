package hull

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// practised is the file of an invented builder.
const practised = `{
  "version": 1,
  "strips": [
    {
      "species": "pear", "width": 4, "thickness": 1,
      "builds": [
        {"title": "Dunlin", "hull": "0a1b2c3d4e5f", "creep": 0.03, "creep_sd": 0.02, "shape": 0.15, "frame": 0.2, "knife": 0.06, "along": 0.02, "strake": 0.05, "reading": 0.1, "sure": 0.4, "readings": 60, "yard": "attic"}
      ],
      "colour": "pink"
    }
  ],
  "by": "M"
}
`

func builderWritten(t *testing.T, b *Builder) string {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, b.Write(&text))
	return text.String()
}

func TestBuilderKeepsWhatItDoesNotKnow(t *testing.T) {
	b, err := readBuilder(strings.NewReader(practised), "mine.builder")
	require.NoError(t, err)
	text := builderWritten(t, b)
	for _, kept := range []string{`"yard": "attic"`, `"colour": "pink"`, `"by": "M"`} {
		assert.Contains(t, text, kept)
	}
	again, err := readBuilder(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, b, again)
	assert.Equal(t, text, builderWritten(t, again))
}

func TestLearningAgainReplacesTheBuild(t *testing.T) {
	b, err := readBuilder(strings.NewReader(practised), "mine.builder")
	require.NoError(t, err)
	taught := someStrip
	taught.Species, taught.Width, taught.Frame, taught.Readings = " Pear", 4.0005, 0.25, 90 // as inches, rounded
	b.Learn("Dunlin", "0a1b2c3d4e5f", taught)
	require.Len(t, b.Strips, 1)
	require.Len(t, b.Strips[0].Builds, 1, "the same build")
	assert.Equal(t, 0.25, b.Strips[0].Builds[0].Taught.Frame)
	assert.Contains(t, builderWritten(t, b), `"yard": "attic"`)

	b.Learn("Dunlin", "another hull", taught)
	b.Learn("Knot", "0a1b2c3d4e5f", taught)
	assert.Len(t, b.Strips[0].Builds, 3, "other builds")
	taught.Thickness = 2
	b.Learn("Dunlin", "0a1b2c3d4e5f", taught)
	require.Len(t, b.Strips, 2, "another strip")
	assert.Equal(t, 2.0, b.Strips[1].Thickness)
}

func TestMarksOfHulls(t *testing.T) {
	p := readCutter(t)
	mark := p.Hull.Mark()
	assert.Regexp(t, `^[0-9a-f]{12}$`, mark)
	q := p.Clone()
	q.Title, q.Layers[0].Creep = "another", 0.1
	assert.Equal(t, mark, q.Hull.Mark(), "whatever it is planked with")
	q.Hull.Limits.Upper = "cap"
	assert.NotEqual(t, mark, q.Hull.Mark())
}

func TestFaultsOfABuildersFile(t *testing.T) {
	for want, text := range map[string]string{
		`mine, line 7: "frame" of build 1 of strip 1 is -1; give it above 0 and at most 100.`:              strings.Replace(practised, `"frame": 0.2`, `"frame": -1`, 1),
		`mine, line 7: build 1 of strip 1 has no "sure"; add it.`:                                          strings.Replace(practised, `"sure": 0.4, `, ``, 1),
		`mine, line 2: the file has version 2, but this program reads up to 1; use a newer program.`:       strings.Replace(practised, `"version": 1`, `"version": 2`, 1),
		`mine: this is not a builder's own file; name another.`:                                            cutter,
		`mine, line 5: "width" of strip 1 is 0; give it from 0.1 to 1000.`:                                 strings.Replace(practised, `"width": 4`, `"width": 0`, 1),
		`mine, line 12: the file breaks off before its end; take a whole copy of it.`:                      practised[:len(practised)-2],
		`mine, line 4: strip 1 is 3, not an object; make it an object {..}.`:                               "{\"version\": 1,\n\"strips\": [\n\n3]}",
		`mine, line 8: build 2 of strip 1 has the title and hull of an earlier build; remove one of them.`: strings.Replace(practised, "\"attic\"}", "\"attic\"},\n"+buildLine(), 1),
	} {
		_, err := readBuilder(strings.NewReader(text), "mine")
		assert.EqualError(t, err, want)
	}
	b := &Builder{}
	b.Learn("x", "y", Spread{Species: "pear", Width: 4, Thickness: 1})
	var out bytes.Buffer
	assert.ErrorContains(t, b.Write(&out), `"creep_sd" of build 1 of strip 1 is 0`)
	assert.Zero(t, out.Len(), "what could not be read again is not written")
}

// buildLine is the line that holds the build in practised.
func buildLine() string { return strings.TrimSpace(strings.Split(practised, "\n")[6]) }

func TestOpenBuilder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mine.builder")
	_, err := OpenBuilder(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.WriteFile(path, []byte(practised), 0o600))
	b, err := OpenBuilder(path)
	require.NoError(t, err)
	assert.Len(t, b.Strips, 1)
}
