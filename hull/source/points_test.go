package source

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// luggerTable is the points file that the tests spoil: 5 lines a frame, from line 2.
const luggerTable = `frame,x_mm,y_mm,z_mm,kind
A,20,8,60,
A,20,7,40,
A,20,5,20,knuckle
A,20,2,5,
B,120,25,50,
B,120,24,30,
B,120,20,12,knuckle
B,120,2,4,
C,220,12,56,
C,220,10,36,
C,220,6,16,
C,220,2,4,
`

func TestReadPoints(t *testing.T) {
	h, err := ReadPoints(strings.NewReader(luggerTable), "lugger.csv")
	require.NoError(t, err)
	assert.Equal(t, hull.BowFirst, h.Bow)
	assert.Equal(t, hull.Limits{Upper: "sheer", Lower: "rabbet"}, h.Limits)
	require.Len(t, h.Frames, 3)
	assert.Equal(t, "B", h.Frames[1].Name)
	assert.Equal(t, mgl64.Vec3{120, 24, 30}, h.Frames[1].Points[1])
	assert.Equal(t, []int{2}, h.Frames[0].Knuckles)
	assert.Nil(t, h.Frames[2].Knuckles)
}

// The same table as written by other programs and in other countries.
func TestReadPointsDialects(t *testing.T) {
	want, err := ReadPoints(strings.NewReader(luggerTable), "")
	require.NoError(t, err)
	decimals := strings.NewReplacer(",20,7,40", ",2.00e1,+7.0,40.", ",20,8", ",20.0,8")
	for name, text := range map[string]string{
		"byte-order mark":      "\ufeff" + luggerTable,
		"CRLF":                 strings.ReplaceAll(luggerTable, "\n", "\r\n"),
		"CR":                   strings.ReplaceAll(luggerTable, "\n", "\r"),
		"semicolons":           strings.ReplaceAll(luggerTable, ",", ";"),
		"decimal commas":       strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(luggerTable, ",", ";"), ";120;", ";120,0;"), ";20;", ";2,0e1;"),
		"tabs":                 strings.ReplaceAll(luggerTable, ",", "\t"),
		"tabs, decimal commas": strings.ReplaceAll(strings.ReplaceAll(luggerTable, ",", "\t"), "\t120\t", "\t120,00\t"),
		"blank lines":          "\n ,,,,\n" + strings.ReplaceAll(luggerTable, "\n", "\n\n,,,,\n"),
		"quoted":               strings.ReplaceAll(strings.ReplaceAll(luggerTable, "A,20", `"A","20"`), ",knuckle", `,"knuckle"`),
		"spaces and capitals":  strings.ToUpper(strings.ReplaceAll(luggerTable, ",", " , ")),
		"numbers":              decimals.Replace(luggerTable),
		"spare columns":        strings.ReplaceAll(luggerTable, "\n", ",,\n"),
		"short rows":           strings.ReplaceAll(luggerTable, ",\n", "\n"),
		"no last line end":     strings.TrimSpace(luggerTable),
		"knuckles at the edge": strings.ReplaceAll(strings.ReplaceAll(luggerTable, "8,60,", "8,60,knuckle"), "2,5,", "2,5,knuckle"),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ReadPoints(strings.NewReader(text), "")
			require.NoError(t, err)
			assert.Equal(t, want, got)
		})
	}
}

func TestReadPointsUnits(t *testing.T) {
	inches := strings.Replace(luggerTable, "x_mm,y_mm,z_mm", "x_in,y_in,z_in", 1)
	h, err := ReadPoints(strings.NewReader(inches), "")
	require.NoError(t, err)
	assert.InDelta(t, 120*25.4, h.Frames[1].X(), 1e-9)
	h, err = ReadPoints(strings.NewReader(strings.ReplaceAll(inches, "_in", "_cm")), "")
	require.NoError(t, err)
	assert.InDelta(t, 250, h.Frames[1].Points[0].Y(), 1e-9)
}

func TestReadPointsBow(t *testing.T) {
	for ends, want := range map[string]hull.BowEnd{
		"stem C": hull.BowFirst, "A stern": hull.BowFirst, "Stem stern": hull.BowFirst,
		"stern C": hull.BowLast, "A Stem": hull.BowLast, "stern stem": hull.BowLast,
	} {
		first, last, _ := strings.Cut(ends, " ")
		text := strings.NewReplacer("\nA,", "\n"+first+",", "\nC,", "\n"+last+",").Replace(luggerTable)
		h, err := ReadPoints(strings.NewReader(text), "")
		require.NoError(t, err, ends)
		assert.Equal(t, want, h.Bow, ends)
	}
}

// An end curve runs in x, as a stem and its forefoot do.
func TestReadPointsEndCurve(t *testing.T) {
	stem := "stem,-30,1,66\nstem,-24,1,40\nstem,-12,1,20\nstem,4,1,8\n"
	h, err := ReadPoints(strings.NewReader(strings.Replace(luggerTable, "A,20,8,60,\n", stem+"A,20,8,60,\n", 1)), "")
	require.NoError(t, err)
	assert.True(t, h.Frames[0].IsEnd())
}

// Each slip that spoils the file, and the one sentence for it.
func TestPointsFaults(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(luggerTable) }
	frames := strings.SplitAfter(luggerTable, "\n")
	rows := func(lines ...int) string { // the given lines of the file, from 1
		s := ""
		for _, l := range lines {
			s += frames[l-1]
		}
		return s
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", " \n", `the file is empty; check that it is the right file.`},
		{"mark alone", "\ufeff", `the file is empty; check that it is the right file.`},
		{"UTF-16", "\xff\xfef\x00", `the file is UTF-16, or not text; save it again as UTF-8.`},
		{"UTF-16 without mark", "f\x00r\x00", `the file is UTF-16, or not text; save it again as UTF-8.`},
		{"UTF-8 and Latin-1", swap("A,20,8,60", "\xc3\x89,20,8,60", "B,120,24", "B\xe9,120,24"), `line 7: there is a character that is not UTF-8; save the file again as UTF-8.`},
		{"scan", "\x89PNG\r\n\x1a\n\x00\x00", `the file is a picture, not text; trace the frames on it in the window: Trace a picture, in the Plan menu.`},
		{"photo", "\xff\xd8\xff\xe0", `the file is a picture, not text; trace the frames on it in the window: Trace a picture, in the Plan menu.`},
		{"page", "%PDF-1.7\n", `the file is a picture, not text; trace the frames on it in the window: Trace a picture, in the Plan menu.`},
		{"workbook", "PK\x03\x04 ", `the file is a spreadsheet or a zip archive, not text; export the sheet as CSV.`},
		{"plan", `{"version":1}`, `this is a plan, not a table of points; open it as a plan.`},
		{"no header", "A,1,2,3\n", `line 1: there is no header, and the first line is "A,1,2,3"; make the first line frame,x_mm,y_mm,z_mm, with kind as a fifth column if corners are kept.`},
		{"other table", "frame,x_mm,girth_mm\n", `line 1: the header is "frame,x_mm,girth_mm"; make the first line frame,x_mm,y_mm,z_mm, with kind as a fifth column if corners are kept.`},
		{"columns changed about", swap("x_mm,y_mm", "y_mm,x_mm"), `line 1: column 2 is headed "y_mm"; make the first line frame,x_mm,y_mm,z_mm.`},
		{"unknown unit", swap("z_mm", "z_ft"), `line 1: column 4 is headed "z_ft", which has no known unit; use mm, cm or in, as in frame,x_mm,y_mm,z_mm.`},
		{"no unit", swap("x_mm", "x"), `line 1: column 2 is headed "x", which has no known unit; use mm, cm or in, as in frame,x_mm,y_mm,z_mm.`},
		{"header only", "frame,x_mm,y_mm,z_mm\n", `there are 0 frames, but a hull needs 3 or more; add frames.`},
		{"open quote", swap("B,120,24", `"B,120,24`), `line 7: the quotes in this line do not match; remove the quotes, or close each one.`},
		{"inch mark", swap("120,24", `120",24`), `line 7: the quotes in this line do not match; remove the quotes, or close each one.`},
		{"word", swap("120,24", "120,wide"), `line 7, frame B: y is "wide", which is not a number; give a number such as 12.5.`},
		{"hexadecimal", swap("120,24", "120,0x18"), `line 7, frame B: y is "0x18", which is not a number; give a number such as 12.5.`},
		{"missing number", swap("120,24", "120,"), `line 7, frame B: y is missing; give a number such as 12.5.`},
		{"not a number", swap("120,24", "NaN,24"), `line 7, frame B: x is "NaN", which is not finite; give a number such as 12.5.`},
		{"infinite", swap("120,24,30", "120,24,-inf"), `line 7, frame B: z is "-inf", which is not finite; give a number such as 12.5.`},
		{"past any number", swap("120,24,30", "120,24,1e999"), `line 7, frame B: z is "1e999", which is not finite; give a number such as 12.5.`},
		{"below zero", swap("120,24", "120,-24"), `line 7, frame B: the half-breadth y of point 2 is -24 mm, below zero; give the half-breadths of one side, 0 or more.`},
		{"absurd", swap("120,24", "120,24e7"), `line 7, frame B: the y of point 2 is 2.4e+08 mm, over 100 m; check the figure and its unit.`},
		{"columns short", swap("120,24,30,", "120,24"), `line 7, frame B: the line has 3 columns and the header 5; give a frame, x, y and z.`},
		{"columns over", swap("120,24,30,", "120,2,4,3,0"), `line 7, frame B: the line has 6 columns and the header 5; give a frame, x, y and z (with decimal commas, put ; between the columns).`},
		{"decimal commas between commas", swap("120,24,30,", "120,0,24,0,30,0"), `line 7, frame B: the line has 7 columns and the header 5; give a frame, x, y and z (with decimal commas, put ; between the columns).`},
		{"kind", swap("12,knuckle", "12,corner"), `line 8, frame B: the kind of point "corner" is not known; write knuckle, or leave it empty.`},
		{"no name", swap("B,", ","), `line 6: frame 2 has no name; give each frame a name.`},
		{"unseen name", swap("B,", "B\u200b,"), "line 6: the name of frame 2 has invisible characters; use letters and figures."},
		{"long name", swap("B,", strings.Repeat("B", 65)+","), "line 6: the name of frame 2 has more than 64 characters; shorten it."},
		{"two frames", rows(1, 2, 3, 4, 5, 6, 7, 8, 9), `there are 2 frames, but a hull needs 3 or more; add frames.`},
		{"three points", rows(1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13), `line 6, frame B: it has 3 points, but a curved frame needs 4 or more; add points, or mark the middle one as a knuckle if the frame is straight above and below it.`},
		{"frame doubled", luggerTable + strings.ReplaceAll(rows(2, 3, 4, 5), "20", "320"), `line 14, frame A: an earlier frame has this name; keep the points of a frame together, or rename the second frame.`},
		{"two at one place", swap("C,220", "C,120"), `line 10, frame C: it is at x 120, like frame B; leave one of them out, or correct its x.`},
		{"out of order", swap("C,220", "C,70"), `line 10, frame C: it is at x 70, and frame B before it at x 120; list the frames by rising x.`},
		{"backwards", swap("A,20", "A,300", "C,220", "C,70"), `line 2, frame A: x falls from frame to frame, but must rise; reverse the order of the frames.`},
		{"off its place", swap("B,120,24", "B,121,24"), `line 7, frame B: point 2 is at x 121 and point 1 at x 120, but a frame has one x or one canted plane; give them one x, or name the frame stem, stern or transom if it is an end curve.`},
		{"doubled point", swap("B,120,24,30", "B,120,25,50"), `line 7, frame B: points 1 and 2 are the same; leave one out.`},
		{"doubling back", swap("B,120,20,12", "B,120,24.5,40"), `line 7, frame B: the outline doubles back on itself at point 2; put the points in their order along the outline.`},
		{"crossing itself", swap("B,120,24,30,", "B,120,3,30,\nB,120,10,20,\nB,120,16,46,\nB,120,30,40,"), `line 8, frame B: the outline crosses itself between points 1 and 2 and points 3 and 4; put the points in their order along the outline.`},
		{"upside down", rows(1, 2, 3, 4, 5, 9, 8, 7, 6, 10, 11, 12, 13), `line 6, frame B: its points run from the rabbet up; list them from the upper limit down.`},
		{"pole", swap("A,20,8,60", "A,20,0,30", "A,20,7,40", "A,20,0,30", "A,20,5,20", "A,20,0,30", "A,20,2,5", "A,20,0,30"), `line 2, frame A: all its points are in one place; leave it out, or measure the end a little way inboard, where the frame still has a girth.`},
		{"stem amidships", swap("B,", "stem,"), `line 6, frame stem: an end curve must be the first or the last frame; put it there, or give the frame another name.`},
		{"two stems", swap("A,", "stem,", "C,", "Stem,"), `line 10, frame Stem: an earlier frame has this name; keep the points of a frame together, or rename the second frame.`},
		{"stem over a frame", swap("A,20,2,5", "stem,130,2,5", "A,", "stem,"), `line 5, frame stem: point 4, at x 130, crosses frame B, which is at x 120; keep every point of the end curve clear of the frame, or leave that frame out.`},
		{"stern over a frame", swap("C,220,2,4", "stern,120,2,4", "C,", "stern,"), `line 13, frame stern: point 4, at x 120, crosses frame B, which is at x 120; keep every point of the end curve clear of the frame, or leave that frame out.`},
		{"metres", swap("A,20,8,60", "A,.02,.008,.06", "A,20,7,40", "A,.02,.007,.04", "A,20,5,20", "A,.02,.005,.02", "A,20,2,5", "A,.02,.002,.005",
			"B,120", "B,.12", "C,220", "C,.22"), `line 1: the whole hull is only 0.2 mm long: the figures look like metres or inches; give them in mm, or name their unit in the header (x_mm, x_cm or x_in).`},
		{"narrow", "frame,x_mm,y_mm,z_mm\n" + narrowHull(), `line 1: the largest frame has a girth of only 6 mm: the figures look like metres or inches; give them in mm, or name their unit in the header (x_mm, x_cm or x_in).`},
		{"long", swap("A,20", "A,-90000", "C,220", "C,90000"), `line 1: the whole hull is 180000 mm long, over 100 m; give them in mm, or name their unit in the header (x_mm, x_cm or x_in).`},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := readPoints(strings.NewReader(c.text), "lugger.csv").Sorted()
			require.NotEmpty(t, found)
			want := "lugger.csv, " + c.want
			if !strings.HasPrefix(c.want, "line") {
				want = "lugger.csv: " + c.want
			}
			assert.Equal(t, want, found[0].Error())
			_, err := ReadPoints(strings.NewReader(c.text), "lugger.csv")
			assert.Equal(t, found[0], err)
		})
	}
}

// narrowHull is three frames with a girth of 6 mm.
func narrowHull() string {
	s := ""
	for i := range 3 {
		for j := range 4 {
			s += fmt.Sprintf("%d,%d,1,%d\n", i, 100*i, -2*j)
		}
	}
	return s
}

func TestCheckPointsGivesEveryFault(t *testing.T) {
	text := strings.NewReplacer("20,8,60", "20,x,60", "120,24,30", "120,25,50", "C,220,10", "C,220,-10").Replace(luggerTable)
	p := readPoints(strings.NewReader(text), "")
	found := p.Sorted()
	require.Len(t, found, 3)
	assert.Equal(t, []int{2, 7, 11}, []int{found[0].Line, found[1].Line, found[2].Line})
	assert.Len(t, p.hull.Frames, 3)
}

func TestCheckPointsBoundsItsFaults(t *testing.T) {
	found := readPoints(strings.NewReader("frame,x_mm,y_mm,z_mm\n"+strings.Repeat("A,x,y,z\n", 1000)), "").Sorted()
	require.Len(t, found, fault.MostFaults+1)
	assert.Equal(t, "there are more faults than these 100; correct these first and check again.", found[fault.MostFaults].Error())
}

func TestReadPointsBounds(t *testing.T) {
	_, err := ReadPoints(bytes.NewReader(make([]byte, plaintext.LargestTable+1)), "huge.csv")
	assert.EqualError(t, err, "huge.csv: the file is larger than 20 MB, the most that the program reads; leave out what you do not need.")

	var many strings.Builder
	many.WriteString("frame,x_mm,y_mm,z_mm\n")
	for i := range hull.MostPoints + 1 {
		fmt.Fprintf(&many, "%d,%d,5,%d\n", i/500, i/500, -i%500)
	}
	_, err = ReadPoints(strings.NewReader(many.String()), "many.csv")
	assert.EqualError(t, err, "many.csv, line 100002: there are more than 100000 points, the most that the program reads; leave points out.")

	_, err = ReadPoints(iotest.ErrReader(errors.New("the disk has gone")), "gone.csv")
	assert.EqualError(t, err, "gone.csv: cannot be read (the disk has gone); check the file and the disk it is on.")
}

func TestPointsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := someTable(t)
		require.Empty(t, h.Check())
		var b bytes.Buffer
		require.NoError(t, WritePoints(&b, h))
		got, err := ReadPoints(&b, "")
		require.NoError(t, err)
		require.Equal(t, h, got)
	})
}

// someTable draws hulls that keep every rule.
func someTable(t *rapid.T) *hull.Hull {
	h := &hull.Hull{Bow: hull.BowFirst, Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}
	x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
	for i := range rapid.IntRange(3, 8).Draw(t, "frames") {
		x += rapid.Float64Range(30, 130).Draw(t, "step")
		f := hull.Frame{Name: fmt.Sprintf("%c %s", 'A'+i, rapid.StringMatching(`[a-zé",;0-9]{1,5}`).Draw(t, "name"))}
		for j, y := range rapid.SliceOfN(rapid.Float64Range(0, 5), 4, 12).Draw(t, "y") {
			f.Points = append(f.Points, mgl64.Vec3{x, y, -10 * float64(j)})
		}
		if rapid.Bool().Draw(t, "kind") {
			f.Knuckles = []int{1}
		}
		h.Frames = append(h.Frames, f)
	}
	return h
}

func TestWritePointsTellsAFailedWrite(t *testing.T) {
	h, err := ReadPoints(strings.NewReader(luggerTable), "")
	require.NoError(t, err)
	full := errors.New("the disk is full")
	assert.ErrorIs(t, WritePoints(fullDisk{full}, h), full)
}

func FuzzReadPoints(f *testing.F) {
	f.Add([]byte(luggerTable))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(strings.ReplaceAll(luggerTable, "\n", "\r\n"), ",", ";")))
	f.Add([]byte("frame\tx_in\ty_in\tz_in\nA\t1,5\t2\t3\n"))
	f.Add([]byte(`{"version":1}`))
	f.Add([]byte(" \xa0 ")) // Latin-1 spaces, one of them non-breaking
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := ReadPoints(bytes.NewReader(data), "")
		if err != nil {
			return
		}
		var b bytes.Buffer
		require.NoError(t, WritePoints(&b, h))
		again, err := ReadPoints(&b, "")
		require.NoError(t, err)
		require.Equal(t, h, again)
	})
}

// fullDisk is a writer that always fails.
type fullDisk struct{ err error }

func (w fullDisk) Write([]byte) (int, error) { return 0, w.err }
