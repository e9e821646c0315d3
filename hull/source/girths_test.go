package source

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// punt is the table of girths that the tests spoil.
const punt = `frame,x_mm,girth_mm,turn_deg
A,0,62.5,40
B,50,90,85
C,100,71,
`

func TestReadGirths(t *testing.T) {
	h, err := ReadGirths(strings.NewReader(punt), "punt.csv")
	require.NoError(t, err)
	assert.True(t, h.Shapeless())
	assert.Equal(t, []string{"C"}, h.Unturned())
	require.Len(t, h.Frames, 3)
	assert.Equal(t, hull.Girth{Frame: "B", X: 50, Girth: 90, Turn: hull.Degrees(85), Turned: true}, h.Girths[1])
	for i, want := range []float64{62.5, 90, 71} {
		assert.Equal(t, want, h.Girths[i].Girth)
	}
}

func TestReadGirthsDialects(t *testing.T) {
	want, err := ReadGirths(strings.NewReader(punt), "")
	require.NoError(t, err)
	for name, text := range map[string]string{
		"mark and CRLF":  "\ufeff" + strings.ReplaceAll(punt, "\n", "\r\n"),
		"CR":             strings.ReplaceAll(punt, "\n", "\r"),
		"tabs":           strings.ReplaceAll(punt, ",", "\t"),
		"decimal commas": strings.NewReplacer(",", ";", ".", ",").Replace(punt),
		"capitals":       strings.Replace(punt, "frame,x_mm,girth_mm,turn_deg", "Frame,X_mm,Girth_mm,Turn_deg", 1),
		"padded":         strings.ReplaceAll(punt, "\n", ",,\n,,,\n"),
		"centimetres":    strings.NewReplacer("_mm", "_cm", ",50,", ",5,", ",100,", ",10,", "62.5", "6.25", "90", "9.0", "71", "7.1").Replace(punt),
	} {
		got, err := ReadGirths(strings.NewReader(text), "")
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
	}
}

func TestGirthsFaults(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(punt) }
	for _, c := range []struct{ name, text, want string }{
		{"unit", swap("girth_mm", "girth_ft"), `, line 1: column 3 is headed girth_ft, which has no known unit; use mm, cm or in, as in frame,x_mm,girth_mm.`},
		{"columns", swap("turn_deg", "turn_rad"), `, line 1: the header is not understood; make the first line frame,x_mm,girth_mm, with turn_deg as a fourth column if the turns are known.`},
		{"about", swap("x_mm,girth_mm", "girth_mm,x_mm"), `, line 1: column 2 is headed girth_mm; make the first line frame,x_mm,girth_mm, with turn_deg as a fourth column if the turns are known.`},
		{"word", swap("90", "wide"), `, line 3, frame B: the girth is "wide", which is not a number; give a number such as 12.5.`},
		{"none", swap("90", "0"), `, line 3, frame B: the girth is 0 mm; measure it from the upper limit to the rabbet.`},
		{"NaN", swap("90", "NaN"), `, line 3, frame B: the girth is "NaN", which is not finite; give a number such as 12.5.`},
		{"huge", swap("90", "1e9"), `, line 3, frame B: the girth is 1e+09 mm, over 100 m; check the figure and its unit.`},
		{"turn", swap("85", "300"), `, line 3, frame B: the turn is 300 degrees; give it in degrees, from -180 to 270, or leave it blank.`},
		{"over", swap("85", "85,1"), `, line 3, frame B: the line has 5 columns and the header 4; give a row for each frame.`},
		{"order", swap("B,50", "B,150"), `, line 4, frame C: it is at x 100, and frame B before it at x 150; list the frames by rising x.`},
		{"doubled", swap("C,", "A,"), `, line 4, frame A: an earlier frame has this name; keep the points of a frame together, or rename the second frame.`},
		{"blank", ",,\n", `: its columns are empty; check that it is the right file.`},
		{"two", swap("C,100,71,", ""), `: there are 2 frames, but a hull needs 3 or more; add frames.`},
		{"inches", swap("62.5", "3", "90", "4", "71", "3.5"), `, line 1: the largest frame has a girth of only 3.99936 mm: the figures look like metres or inches; give them in mm, or name their unit in the header (x_mm, x_cm or x_in).`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadGirths(strings.NewReader(c.text), "punt.csv")
			assert.EqualError(t, err, "punt.csv"+c.want)
		})
	}
}

func FuzzReadGirths(f *testing.F) {
	f.Add([]byte(punt))
	f.Add([]byte("frame;x_in;girth_cm\nA;1,5;2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := ReadGirths(bytes.NewReader(data), "")
		if err != nil {
			return
		}
		var b bytes.Buffer
		p := hull.NewPlan("", *h)
		require.NoError(t, p.Write(&b))
		again, err := hull.ReadPlan(&b, "")
		require.NoError(t, err)
		require.Equal(t, p, again)
	})
}
