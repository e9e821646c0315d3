package source

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/drawing"
)

// skiffList is a hull of three frames of four points, a line each by a format.
func skiffList(head, format string, turned func(x, y, z float64) []any) string {
	var b strings.Builder
	b.WriteString(head)
	for _, x := range []float64{0, 90, 200} {
		wide := map[float64]float64{0: 12, 90: 25, 200: 15}[x]
		for _, p := range [][2]float64{{1, 40}, {0.95, 25}, {0.7, 10}, {0.1, 2}} {
			fmt.Fprintf(&b, format, turned(x, wide*p[0], p[1])...)
		}
	}
	return b.String()
}

// headedList has above each frame a line that does not give x.
func headedList(turned func(x, y, z float64) []any) string {
	lines := strings.SplitAfter(skiffList("", "%g %g %g\n", turned), "\n")
	for i, at := range []int{0, 4, 8} {
		lines[at] = fmt.Sprintf("Station %d\n", i) + lines[at]
	}
	return strings.Join(lines, "")
}

func asTold(x, y, z float64) []any { return []any{x, y, z} }

// checkedText checks a text under a name that reveals nothing.
func checkedText(t *testing.T, text string) Checked {
	t.Helper()
	path := filepath.Join(t.TempDir(), "skiff")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	c := Check(path, drawing.Options{})
	for i := range c.Faults {
		c.Faults[i].File = filepath.Base(c.Faults[i].File)
	}
	return c
}

// Anything ambiguous or wrong is refused in a sentence that says how to mend it.
func TestListsRefused(t *testing.T) {
	plain := skiffList("", "%g %g %g\n", asTold)
	for name, c := range map[string]struct{ text, says string }{
		"heights second":    {skiffList("", "%g %g %g\n", func(x, y, z float64) []any { return []any{x, z, y} }), "line 1: without a header the column of y is uncertain"},
		"x last":            {skiffList("", "%g %g %g\n", func(x, y, z float64) []any { return []any{y, z, x} }), "so the points do not form frames; give the points of a frame one x"},
		"depths":            {skiffList("x y z\n", "%g %g %g\n", func(x, y, z float64) []any { return []any{x, y, -z} }), "line 2: the lowest points lie farthest out, so z seems to run downwards; measure z up from the base line"},
		"both sides":        {plain + strings.Replace(plain, "0 12 40", "0 -12 40", 1), "the frames are on both sides: y is -12 here and 12 in line 1; leave one side out."},
		"metres":            {skiffList("x,y,z\n", "%g,%g,%g\n", func(x, y, z float64) []any { return []any{x / 1e3, y / 1e3, z / 1e3} }), "the figures look like metres or inches; give them in mm, or name their unit in a header"},
		"out of order":      {strings.Replace(strings.Replace(plain, "90 25 40\n", "", 1), "90 2.5 2\n", "90 2.5 2\n90 25 40\n90 2 1\n", 1), "the points are not in order along the frame"},
		"a word":            {strings.Replace(plain, "90 25 40", "90 wide 40", 1), `line 5: y is "wide", which is not a number; give x, y and z in each line`},
		"four columns":      {strings.Replace(plain, "90 25 40", "90 25 40 1", 1), "line 5: the line has 4 columns where there should be 3"},
		"x told twice":      {skiffList("Station 1 x=5\n", "%g %g %g\n", asTold), "line 2: x is 0 mm, but the frame's heading line says 5 mm; give one of them."},
		"half headed":       {plain + "Station 9 x=250\n1 2\n", "line 1: no heading line precedes the frame of this point, as one does further down"},
		"an empty frame":    {"Station 1 x=0\nStation 2 x=9\n1 2\n1 1\n0 0\n", "line 1, frame 1: it has no points"},
		"no x":              {"station 1\ny z\n9 9\n", "line 1, frame 1: its x is missing"},
		"headed, x last":    {headedList(func(x, y, z float64) []any { return []any{y, z, x} }), "line 1"},
		"headed, z second":  {headedList(func(x, y, z float64) []any { return []any{x, z, y} }), "line 1: without a header the column of y is uncertain"},
		"columns anew":      {"x y z\n" + plain + "x z y\n" + plain, "line 14: a second header interrupts the points"},
		"a kind of its own": {"x,y,z,kind\n0,12,40,bent\n", `line 2: the kind of point "bent" is not known`},
	} {
		found := checkedText(t, c.text)
		assert.Equal(t, List, found.Kind, name)
		if assert.NotEmpty(t, found.Faults, name) {
			assert.Contains(t, found.Faults[0].Error(), c.says, name)
		}
	}
}

// Corners are kept, from whichever end a frame is listed, and assumptions are reported.
func TestListsThatAreRead(t *testing.T) {
	text := skiffList("frame;kind;z;y;x\n", "%s;;%g;%g;%g\n", func(x, y, z float64) []any { return []any{fmt.Sprintf("F%g", x), z, y, x} })
	text = strings.Replace(text, "F90;;10;17,5", "F90;knuckle;10;17,5", 1)
	text = strings.Replace(text, "F90;;10;17.5", "F90;knuckle;10;17.5", 1)
	c := checkedText(t, text)
	require.Empty(t, c.Faults)
	assert.Equal(t, []int{2}, c.Hull.Frames[1].Knuckles)
	assert.Equal(t, []string{"There is no unit: the figures count as mm."}, c.Notes)

	lines := strings.Split(strings.TrimSpace(text), "\n")
	turned := lines[:1:1]
	for i := len(lines) - 1; i > 0; i-- {
		turned = append(turned, lines[i])
	}
	r := checkedText(t, strings.Join(turned, "\r"))
	require.Empty(t, r.Faults)
	assert.Equal(t, c.Hull.Frames, r.Hull.Frames, "listed from the stern and the keel")

	tabs := checkedText(t, "\tx\ty\tz\n"+skiffList("", "\t%g\t%g\t%g\t\n", asTold))
	require.Empty(t, tabs.Faults)
	assert.Equal(t, 25.0, tabs.Hull.Frames[1].Points[0].Y(), "set in by tabs")

	c = checkedText(t, "all lengths in inches // told by hand\n"+skiffList("", "%g,%g,%g\n", func(x, y, z float64) []any { return []any{x / 25.4, y / 25.4, z / 25.4} }))
	require.Empty(t, c.Faults)
	assert.Equal(t, []string{"There is no header: the columns count as x along the keel, y the half-breadth, z up."}, c.Notes)
	assert.InDelta(t, 200, c.Hull.Frames[2].X(), 1e-9)
}

// Frames that do not stand square are separated by blank lines.
func TestListOfFramesByBlankLines(t *testing.T) {
	var b strings.Builder
	for i, x := range []float64{0, 90, 200} {
		for _, p := range [][2]float64{{20, 40}, {19, 25}, {14, 10}, {2, 2}} {
			fmt.Fprintf(&b, "%g\t%g\t%g\n", x+0.1*p[1]*float64(2-i), p[0]-float64(i), p[1])
		}
		b.WriteString("\n\n")
	}
	c := checkedText(t, b.String())
	require.Empty(t, c.Faults)
	assert.Len(t, c.Hull.Frames, 3)
}

// Tables with headers of their own are still read as tables.
func TestTablesAreNoLists(t *testing.T) {
	for text, want := range map[string]Kind{
		"frame,x_mm,y_mm,z_mm\nA,0,8,60\n": Points, "frame,x,y,z\nA,0,8,60\n": Points, "A,0,8,60\n": Points, "frame,x_mm,girth_mm\n": Girths,
		"station,1,2,3\n": Offsets, "station\t1\t2\t3\n": Offsets, "Stations,,1,2\n": Offsets, "1,2\n": Points,
		"0 8 60\n": List, "# a comment\n\n0;8;60\n": List, "Station 3 x=45\n": List, "Frame A:\n": List, "x = 45\n": List, "z x y\n": List, "no,X (mm),Y (mm),Z (mm)\n": List,
		"1,5 2,5 3,5\n": List, "// Section 2\n": List,
	} {
		assert.Equal(t, want, checkedText(t, text).Kind, text)
	}
}
