package source

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
)

// smallPlan is a plan.
const smallPlan = `{"version": 1, "hull": {"frames": [
{"name": "A", "points": [[0, 8, 60], [0, 7, 40], [0, 5, 20], [0, 2, 5]]},
{"name": "B", "points": [[90, 25, 50], [90, 24, 30], [90, 20, 12], [90, 2, 4]]},
{"name": "C", "points": [[200, 12, 56], [200, 10, 36], [200, 6, 16], [200, 2, 4]]}]},
"layers": [{"stock": {"width": 5, "thickness": 2, "length": 1000}, "bands": [{}]}]}`

// dxfHull is a drawing of three frames, quarters of circles (DXF).
var dxfHull = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\ncentre\n10\n100\n20\n0\n11\n100\n21\n90\n" +
	quarterOn("A-x-0") + quarterOn("B-x-60") + quarterOn("C-x-120") + "0\nENDSEC\n0\nEOF\n"

func quarterOn(layer string) string {
	return "0\nARC\n8\n" + layer + "\n10\n100\n20\n40\n40\n40\n50\n270\n51\n360\n"
}

// svgHull is the same (SVG).
const svgHull = `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<line id="centre" x1="100" y1="0" x2="100" y2="100"/>
<path id="A-x-0" d="M140 20A40 40 0 0 1 100 60"/>
<path id="B-x-60" d="M140 20A40 40 0 0 1 100 60"/>
<path id="C-x-120" d="M140 20A40 40 0 0 1 100 60"/>
</svg>
`

func fileWith(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// A tracing is not a plan: the message says what it is, and what to do with it.
func TestTracingIsNoPlan(t *testing.T) {
	path := filepath.Join(t.TempDir(), "body.png.straketrace")
	require.NoError(t, os.WriteFile(path, []byte("{\n \"format\": \"strakewright tracing\",\n \"version\": 1\n}"), 0o600))
	const says = ": this is the tracing of a picture, not a plan or a hull source; open it in the window, finish it there, and make the plan."
	for _, c := range []Checked{Check(path, drawing.Options{}), check(t.Context(), path, false, drawing.Options{})} {
		require.Len(t, c.Faults, 1)
		assert.EqualError(t, c.Faults[0], path+says)
	}
}

func TestTakeOff(t *testing.T) {
	p, notes, err := TakeOff(fileWith(t, "lugger.csv", luggerTable), drawing.Options{})
	require.NoError(t, err)
	assert.Empty(t, notes)
	assert.Equal(t, "lugger", p.Title)
	assert.Len(t, p.Hull.Frames, 3)
}

func TestOpenTellsPlansFromSources(t *testing.T) {
	plan, source := fileWith(t, "cutter.strakeplan", smallPlan), fileWith(t, "lugger.csv", luggerTable)
	_, err := hull.OpenFile(source)
	assert.EqualError(t, err, source+": this is not a plan file; take the hull off into a plan first.")
	_, _, err = TakeOff(plan, drawing.Options{})
	assert.EqualError(t, err, plan+": this is a plan, not a hull source; open it as a plan.")
}

func TestOpenWhatIsNotThere(t *testing.T) {
	_, err := hull.OpenFile("none.strakeplan")
	assert.EqualError(t, err, "none.strakeplan: cannot be opened (no such file or directory); check its name and folder.")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	dir := t.TempDir()
	_, _, err = Open(dir)
	assert.EqualError(t, err, dir+": it is a folder; name a file in it.")
	sparse := fileWith(t, "sparse.strakeplan", "{")
	if err := os.Truncate(sparse, 30e9); err != nil {
		t.Skipf("no sparse files here: %v", err)
	}
	_, _, err = Open(sparse)
	assert.EqualError(t, err, sparse+": the file is larger than 64 MB, the most that the program reads; check that it is the right file, and leave out what you do not need.")
}

// Every kind of source is recognised by its contents, whatever its name.
func TestKindsOfSource(t *testing.T) {
	for text, want := range map[string]Kind{
		luggerTable: Points, yawl: Offsets, punt: Girths, svgHull: SVG, dxfHull: DXF, smallPlan: PlanFile,
		"\ufeff \r\n" + strings.ReplaceAll(yawl, "\n", "\r\n"): Offsets,
		strings.ReplaceAll(punt, ",", ";"):                     Girths,
		"\ufeff<!-- made by hand -->\n" + svgHull[39:]:         SVG,
		"999\nmade by hand\n" + dxfHull:                        DXF,
	} {
		path := fileWith(t, "hull.txt", text)
		c := Check(path, drawing.Options{})
		assert.Empty(t, c.Faults, "%.40s", text)
		assert.Equal(t, want, c.Kind, "%.40s", text)
		assert.NotEmpty(t, c.Hull.Frames)
		if want != PlanFile {
			p, kind, err := Open(path)
			require.NoError(t, err)
			assert.Equal(t, want, kind)
			assert.Equal(t, hull.NewPlan("hull", *c.Hull), p)
		}
	}
}

func TestCheck(t *testing.T) {
	c := Check(fileWith(t, "cutter.strakeplan", "\ufeff\r\n"+smallPlan), drawing.Options{})
	assert.Empty(t, c.Faults)
	require.NotNil(t, c.Plan)
	assert.Same(t, &c.Plan.Hull, c.Hull)

	c = Check(fileWith(t, "lugger.csv", strings.Replace(luggerTable, "24", "-24", 1)), drawing.Options{})
	assert.Len(t, c.Faults, 1)
	assert.Nil(t, c.Plan)
	assert.Len(t, c.Hull.Frames, 3)

	c = Check("none.csv", drawing.Options{})
	assert.Len(t, c.Faults, 1)
	assert.Nil(t, c.Hull)
}
