package hull

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func fileWith(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// A tracing is no plan: what it is, and what to do with it, is said.
func TestTracingIsNoPlan(t *testing.T) {
	path := filepath.Join(t.TempDir(), "body.png.straketrace")
	require.NoError(t, os.WriteFile(path, []byte("{\n \"format\": \"strakewright tracing\",\n \"version\": 1\n}"), 0o600))
	const says = ": this is the tracing of a picture, not a plan or a hull source; open it in the window, go on with it there, and make the plan."
	for _, c := range []Checked{CheckFile(path), checkPath(path, false, Taking{})} {
		require.Len(t, c.Faults, 1)
		assert.EqualError(t, c.Faults[0], path+says)
	}
}

func TestTakeOff(t *testing.T) {
	p, notes, err := TakeOff(fileWith(t, "lugger.csv", lugger), Taking{})
	require.NoError(t, err)
	assert.Empty(t, notes)
	assert.Equal(t, "lugger", p.Title)
	assert.Len(t, p.Hull.Frames, 3)
}

func TestOpenTellsPlansFromSources(t *testing.T) {
	plan, source := fileWith(t, "cutter.strakeplan", cutter), fileWith(t, "lugger.csv", lugger)
	_, err := OpenFile(source)
	assert.EqualError(t, err, source+": this is not a plan file; take the hull off into a plan first.")
	_, err = OpenSource(plan)
	assert.EqualError(t, err, plan+": this is a plan, not a hull source; open it as a plan.")
}

func TestOpenWhatIsNotThere(t *testing.T) {
	_, err := OpenFile("none.strakeplan")
	assert.EqualError(t, err, "none.strakeplan: cannot be opened (no such file or directory); check its name and folder.")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	dir := t.TempDir()
	_, err = OpenSource(dir)
	assert.EqualError(t, err, dir+": it is a folder; name a file in it.")
	sparse := fileWith(t, "sparse.strakeplan", "{")
	if err := os.Truncate(sparse, 30e9); err != nil {
		t.Skipf("no sparse files here: %v", err)
	}
	_, err = OpenSource(sparse)
	assert.EqualError(t, err, sparse+": the file is larger than the 64 MB that are read; check that it is the right file, and leave out what is not needed.")
}

// Every kind of source is told by what stands in it, whatever its name.
func TestKindsOfSource(t *testing.T) {
	for text, want := range map[string]Kind{
		lugger: Points, yawl: Offsets, punt: Girths, bodyPlan: SVG, sloop: DXF, cutter: PlanFile,
		"\ufeff \r\n" + strings.ReplaceAll(yawl, "\n", "\r\n"): Offsets,
		strings.ReplaceAll(punt, ",", ";"):                     Girths,
		"\ufeff<!-- made by hand -->\n" + bodyPlan[39:]:        SVG,
		groups(999, "made by hand") + sloop:                    DXF,
	} {
		path := fileWith(t, "hull.txt", text)
		c := CheckFile(path)
		assert.Empty(t, c.Faults, "%.40s", text)
		assert.Equal(t, want, c.Kind, "%.40s", text)
		assert.NotEmpty(t, c.Hull.Frames)
		if want != PlanFile {
			h, err := OpenSource(path)
			require.NoError(t, err)
			assert.Equal(t, c.Hull, h)
		}
	}
}

func TestCheckFile(t *testing.T) {
	c := CheckFile(fileWith(t, "cutter.strakeplan", "\ufeff\r\n"+cutter))
	assert.Empty(t, c.Faults)
	require.NotNil(t, c.Plan)
	assert.Same(t, &c.Plan.Hull, c.Hull)

	c = CheckFile(fileWith(t, "lugger.csv", strings.Replace(lugger, "24", "-24", 1)))
	assert.Len(t, c.Faults, 1)
	assert.Nil(t, c.Plan)
	assert.Len(t, c.Hull.Frames, 3)

	c = CheckFile("none.csv")
	assert.Len(t, c.Faults, 1)
	assert.Nil(t, c.Hull)
}
