package source

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// yawl is the table of offsets that the tests spoil: its description starts at
// line 2, its lines at line 8.
const yawl = `offsets
unit,ft-in-8ths
scale,1:48
to,inside
station,,1,2,3
x,,0,12-0-0,24-0-0
height,sheer,8-0-0,7-6-4,8-2-0
half-breadth,sheer,3-0-0,5-0-0,4-0-0
half-breadth,6-0-0,2-9-4+,4-11-2,3-9-0
half-breadth,4-0-0,2-2-0,4-6-0,3-2-0
half-breadth,2-6-0,1-6-0,3-8-0,2-4-0
height,1-0-0,2-0-4,1-0-4,1-6-0
half-breadth,rabbet,0-3-0,0-3-0,0-3-0
height,rabbet,1-0-0,0-6-0,1-0-0
`

// wigley is the half-breadth of Wigley's hull (C. Wigley, Trans. INA 76, 1934),
// of length 10, beam 1 and draught 0.625 times beam, over base line and midship.
func wigley(x, z, beam float64) float64 {
	u, w := 2*x/(10*beam), z/(0.625*beam)-1
	return beam / 2 * (1 - u*u) * (1 - w*w)
}

// eighths writes mm at full size as feet, inches and eighths, to the nearest
// eighth.
func eighths(mm float64) string {
	n := int(math.Round(mm / 25.4 * 8))
	return fmt.Sprintf("%d-%d-%d", n/96, n/8%12, n%8)
}

// wigleyTable is the table of offsets of a Wigley hull of the given beam (mm at
// full size), with the surface moved out by the given distance.
func wigleyTable(beam, out float64, head string, length func(float64) string) string {
	var b strings.Builder
	b.WriteString(head)
	draught := 0.625 * beam
	xs := []float64{}
	for k := -9; k <= 9; k++ {
		xs = append(xs, float64(k)*beam/2)
	}
	row := func(kind, where string, at func(x float64) (float64, bool)) {
		fmt.Fprintf(&b, "%s,%s", kind, where)
		for _, x := range xs {
			b.WriteByte(',')
			if v, ok := at(x); ok {
				b.WriteString(length(v))
			}
		}
		b.WriteByte('\n')
	}
	b.WriteString("station,")
	for k := range xs {
		fmt.Fprintf(&b, ",%d", k+1)
	}
	b.WriteString("\n")
	row("x", "", func(x float64) (float64, bool) { return x + 5*beam, true })
	// The half-breadth at height z and the height over y of the hull moved out.
	broad := func(x, z float64) float64 {
		if out == 0 {
			return wigley(x, z, beam)
		}
		return wigleyOut(x, z, beam, out)
	}
	row("height", "sheer", func(float64) (float64, bool) { return draught, true })
	row("half-breadth", "sheer", func(x float64) (float64, bool) { return broad(x, draught), true })
	for k := 9; k > 0; k-- {
		z := draught * float64(k) / 10
		row("half-breadth", length(z), func(x float64) (float64, bool) { return broad(x, z), true })
	}
	for k := 1; k < 5; k++ {
		y := beam / 2 * float64(k) / 5
		row("height", length(y), func(x float64) (float64, bool) {
			lo, hi := 0., draught
			if broad(x, hi) <= y {
				return 0, false
			}
			for range 60 {
				if mid := (lo + hi) / 2; broad(x, mid) < y {
					lo = mid
				} else {
					hi = mid
				}
			}
			return lo, true
		})
	}
	row("height", "rabbet", func(float64) (float64, bool) { return 0, true })
	row("half-breadth", "rabbet", func(x float64) (float64, bool) { return broad(x, 0), true })
	return b.String()
}

// wigleyOut is the half-breadth at (x, z) of the Wigley hull moved out by t
// along its normal: that of the point whose image falls there, by Newton's
// method.
func wigleyOut(x, z, beam, t float64) float64 {
	a, c := x, z
	image := func(a, c float64) mgl64.Vec3 {
		const h = 1e-3
		ya := (wigley(a+h, c, beam) - wigley(a-h, c, beam)) / (2 * h)
		yc := (wigley(a, c+h, beam) - wigley(a, c-h, beam)) / (2 * h)
		n := mgl64.Vec3{-ya, 1, -yc}.Normalize()
		return mgl64.Vec3{a, wigley(a, c, beam), c}.Add(n.Mul(t))
	}
	for range 60 { // the move is small, so simple steps converge
		p := image(a, c)
		a, c = a+x-p.X(), c+z-p.Z()
	}
	return image(a, c).Y()
}

const wigleyHead = "offsets\nunit,ft-in-8ths\nscale,1:48\n"

// The exact table of a Wigley hull, 100 feet long, rounded to eighths of an inch:
// every point of every frame lies on the hull to within the rounding.
func TestOffsetsOfWigley(t *testing.T) {
	const beam, scale = 10 * 304.8, 1. / 48
	h, err := ReadOffsets(strings.NewReader(wigleyTable(beam, 0, wigleyHead, eighths)), "wigley.csv")
	require.NoError(t, err)
	require.Len(t, h.Frames, 19)
	const rounding = 25.4 / 16 * scale
	worst := 0.0
	for _, f := range h.Frames {
		assert.GreaterOrEqual(t, len(f.Points), 10)
		for _, p := range f.Points {
			y := wigley(p.X()/scale-5*beam, p.Z()/scale, beam) * scale
			worst = max(worst, math.Abs(y-p.Y()))
		}
	}
	// A height rounded by δ moves the half-breadth by δ·dy/dz, and dy/dz is at most
	// 1.6 on this hull (at its foot amidships), so √(1 + 1.6²) measures across.
	assert.LessOrEqual(t, worst, 1.6*rounding)
}

// A table to the outside of planking 3 inches thick gives the frames inside it.
func TestOffsetsToTheOutsideOfPlanking(t *testing.T) {
	const beam, thick = 500., 6.
	plain := func(v float64) string { return fmt.Sprintf("%.4f", v) }
	head := "offsets\nunit,mm\nscale,1:1\nto,outside\nplanking,6\n"
	h, err := ReadOffsets(strings.NewReader(wigleyTable(beam, thick, head, plain)), "")
	require.NoError(t, err)
	worst := 0.0
	for _, f := range h.Frames {
		for _, p := range f.Points {
			worst = max(worst, math.Abs(wigley(p.X()-5*beam, p.Z(), beam)-p.Y()))
		}
	}
	// The remaining error is that of parabolas through three points of the table
	// instead of the hull: a hundredth of the thickness.
	assert.Less(t, worst, thick/100)
	t.Log("off the exact hull by", worst)
}

func TestReadOffsets(t *testing.T) {
	h, err := ReadOffsets(strings.NewReader(yawl), "yawl.csv")
	require.NoError(t, err)
	assert.Equal(t, hull.Limits{Upper: "sheer", Lower: "rabbet"}, h.Limits)
	require.Len(t, h.Frames, 3)
	a := h.Frames[0]
	assert.Equal(t, "1", a.Name)
	require.Len(t, a.Points, 6)
	assert.InDelta(t, (33+4.5/8)*25.4/48, a.Points[1].Y(), 1e-9)
	assert.InDelta(t, 24.5/12*304.8/48, a.Points[4].Z(), 1e-9)
	assert.InDelta(t, 24*304.8/48, h.Frames[2].X(), 1e-9)
	assert.InDelta(t, 25.4/16/48/2, h.Rounding, 1e-12, "it is given to half an eighth")
}

// The same table with decimals, in other units and as other programs write it.
func TestReadOffsetsDialects(t *testing.T) {
	want, err := ReadOffsets(strings.NewReader(yawl), "")
	require.NoError(t, err)
	inUnit := func(unit string, mm float64, comma bool) string {
		var out strings.Builder
		for line := range strings.Lines(yawl) {
			fields := strings.Split(strings.TrimSuffix(line, "\n"), ",")
			for k, f := range fields {
				if v, wrong := feetInchesParts(f, 8); wrong == "" {
					fields[k] = fmt.Sprintf("%.9f", v/mm)
				}
			}
			out.WriteString(strings.Join(fields, "\x00") + "\n")
		}
		text := strings.ReplaceAll(out.String(), "ft-in-8ths", unit)
		if comma {
			return strings.ReplaceAll(strings.ReplaceAll(text, ".", ","), "\x00", ";")
		}
		return strings.ReplaceAll(text, "\x00", ",")
	}
	for name, text := range map[string]string{
		"mark and CRLF":  "\ufeff" + strings.ReplaceAll(yawl, "\n", "\r\n"),
		"CR":             strings.ReplaceAll(yawl, "\n", "\r"),
		"semicolons":     strings.ReplaceAll(yawl, ",", ";"),
		"tabs":           strings.ReplaceAll(yawl, ",", "\t"),
		"padded":         strings.ReplaceAll(yawl, "\n", ",,,\n,,,\n"),
		"capitals":       strings.NewReplacer("offsets", "Offsets", "height", "Height", "rabbet", "Rabbet").Replace(yawl),
		"feet":           inUnit("ft", 304.8, false),
		"inches":         inUnit("in", 25.4, false),
		"metres":         inUnit("m", 1000, false),
		"decimal commas": inUnit("cm", 10, true),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ReadOffsets(strings.NewReader(text), "")
			require.NoError(t, err)
			require.Len(t, got.Frames, 3)
			for i, f := range want.Frames {
				require.Len(t, got.Frames[i].Points, len(f.Points))
				for j, p := range f.Points {
					assert.InDelta(t, 0, got.Frames[i].Points[j].Sub(p).Len(), 1e-6)
				}
			}
		})
	}
}

// Diagonals, knuckles, a wale, stations out of order, and blanks.
func TestOffsetsLines(t *testing.T) {
	text := strings.NewReplacer("sheer", "wale", "x,,0,12-0-0,24-0-0", "x,,24-0-0,12-0-0,0", "height,1-0-0,2-0-4", "height,1-0-0,-").Replace(yawl) +
		"bow,last\nhalf-breadth,knuckle,,4-9-0,\nheight,knuckle,,5-0-0,\n" +
		"diagonal,5-0-0/30,,4-2-0,\ndiagonal,5-0-0/3-0-0/2-0-0,2-6-0,,\n" +
		"half-breadth,9-0-0,4-0-0,5-6-0,4-6-0\n"
	h, err := ReadOffsets(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, hull.BowLast, h.Bow)
	assert.Equal(t, "wale", h.Limits.Upper)
	require.Equal(t, "3", h.Frames[0].Name)
	mid := h.Frames[1]
	require.Len(t, mid.Knuckles, 1)
	assert.InDelta(t, 5*304.8/48, mid.Points[mid.Knuckles[0]].Z(), 1e-9)
	has := func(f hull.Frame, y, z float64) {
		for _, p := range f.Points {
			if p.Sub(mgl64.Vec3{p.X(), y * 304.8 / 48, z * 304.8 / 48}).Len() < 1e-6 {
				return
			}
		}
		t.Errorf("frame %s has no point at %g, %g", f.Name, y, z)
	}
	root := math.Sqrt(3)
	has(mid, 50./12*root/2, 5-50./24)
	has(h.Frames[2], 2.5/math.Sqrt2, 5-2.5/math.Sqrt2)
	for _, f := range h.Frames { // nothing above the wale
		for _, p := range f.Points {
			assert.LessOrEqual(t, p.Z(), f.Points[0].Z())
		}
	}
}

// A floor that is level but for its rounding keeps its order, and points too
// close to a neighbour are left out.
func TestOffsetsFlatFloor(t *testing.T) {
	p := func(y, z float64) offsetPoint { return offsetPoint{at: mgl64.Vec2{y, z}} }
	got := inOrder([]offsetPoint{p(10, 10), p(2, 1.02), p(4, 1.03), p(6, 1.01), p(8, 1.02), p(9.5, 2), p(10, 5), p(0, 1)})
	for j := 1; j < len(got); j++ {
		assert.LessOrEqual(t, got[j].at[0], got[j-1].at[0])
	}
	kept := offsetPoint{at: mgl64.Vec2{0.15, 0}, kept: true}
	assert.Len(t, thinned([]offsetPoint{p(0, 1), p(0, 0.95), p(0, 0.5), p(0.1, 0), kept}, 0.2), 3)
}

func TestOffsetsFaults(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(yawl) }
	for _, c := range []struct{ name, text, want string }{
		{"no unit", strings.Replace(swap("unit,ft-in-8ths\n", ""), "12-0-0", "12.0", 1), `: there is no row "unit"; add one, such as unit,ft-in-8ths.`},
		{"other unit", swap("ft-in-8ths", "fathoms"), `, line 2: there is no unit fathoms; use ft-in-8ths, ft-in-16ths, ft, in, m, cm or mm.`},
		{"no scale", swap("scale,1:48\n", ""), `: there is no row "scale"; add one, such as scale,1:48.`},
		{"odd scale", swap("1:48", "1:0"), `, line 3: the scale is 1:0; give it as 1:48, or 1:1 for a table at the model's own size.`},
		{"side", swap("inside", "middle"), `, line 4: the table is to the middle of the planking; write outside or inside.`},
		{"no thickness", swap("inside", "outside"), `, line 4: the table is to the outside of the planking; add its thickness, such as planking,0-0-3.`},
		{"no side", swap("to,inside", "planking,0-0-3"), `, line 4: the table has a thickness of planking but does not name the side that it is measured to; add to,outside or to,inside.`},
		{"thickness", swap("to,inside", "to,outside\nplanking,90-0-0"), `, line 5: the planking is 90-0-0 thick; give it at full size, above 0 and not over 50 mm on the model.`},
		{"bow", yawl + "bow,left\n", `, line 15: the bow is left; write first where the least x is the foremost, else last.`},
		{"no stations", swap("station,,1,2,3\n", ""), `: there is no row "station"; add one, such as station,,1,2,3.`},
		{"unnamed", swap("station,,1,2,3", "station,,1,,3"), `, line 5: column 4 has no station; name each station.`},
		{"x missing", swap("0,12-0-0,24-0-0", "0,12-0-0"), `, line 6, frame 3: x is missing; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`},
		{"inches", swap("3-9-0", "3-12-0"), `, line 9, frame 3: the offset is 3-12-0, which has 12 inches in a foot; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`},
		{"eighths", swap("3-9-0", "3-9-8"), `, line 9, frame 3: the offset is 3-9-8, which has 8 eighths in an inch; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`},
		{"word", swap("3-9-0", "wide"), `, line 9, frame 3: the offset is wide, which is not feet, inches and eighths; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`},
		{"NaN", strings.Replace(swap("ft-in-8ths", "ft"), "3-0-0", "NaN", 1), `, line 6, frame 2: x is "12-0-0", which is not a number; give a number such as 12.5, or leave it blank.`},
		{"too many", swap("3-9-0\n", "3-9-0,1-0-0\n"), `, line 9: the row has 4 offsets for 3 stations; give one for each station, or a blank.`},
		{"unknown row", yawl + "camber,1\n", `, line 15: there is no row camber; begin it with half-breadth, height or diagonal, or with unit, scale, to, planking, bow, station or x.`},
		{"no rabbet", swap("half-breadth,rabbet", "half-breadth,0-9-0"), `: the table does not give the run of the rabbet; add the rows height,rabbet and half-breadth,rabbet.`},
		{"two limits", yawl + "height,wale,7-0-0,7-0-0,7-0-0\n", `, line 15: both a sheer and a wale are given; keep the rows of the one from which the planking starts.`},
		{"blank sheer", swap("7-6-4", ""), `, line 7, frame 2: the sheer has no point; give its height and its half-breadth there.`},
		{"twice", yawl + "scale,1:64\n", `, line 15: an earlier row is "scale"; leave one out.`},
		{"sheer twice", yawl + "height,sheer,1-0-0\n", `, line 15: the heights of the sheer appear twice; leave one out.`},
		{"no waterline", swap("half-breadth,4-0-0", "half-breadth,"), `, line 10: the height of the waterline is missing; give feet, inches and eighths, such as 12-3-4 or 12-3-4+, or sheer, wale, rabbet or knuckle.`},
		{"diagonal", yawl + "diagonal,4-0-0,1-0-0\n", `, line 15: the diagonal 4-0-0 is not understood; give its height at the centre line and its angle, such as 12-0-0/45, or a half-breadth and height that it goes through.`},
		{"half a knuckle", yawl + "height,knuckle,,5-0-0\n", `, line 15: the knuckle has only one of them; add the rows height,knuckle and half-breadth,knuckle.`},
		{"absurd", swap("3-9-0", "99999999-0-0"), `, line 9, frame 3: the offset is 99999999-0-0, over 10 km; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`},
		{"tiny", swap("1:48", "1:5000"), `, line 3: the whole hull is only 1.46304 mm long: the figures look like metres or inches; check the unit and the scale.`},
		{"below zero", swap("3-9-0", "-3-9-0"), `, line 9, frame 3: the half-breadth y of point 2 is -23.8125 mm, below zero; give the half-breadths of one side, 0 or more.`},
		{"too thick", swap("to,inside", "to,outside\nplanking,6-0-0"), `, line 5: frame 1: taking off 38.1 mm leaves nothing of it; check the thickness, or give the frames to the inside of the planking.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadOffsets(strings.NewReader(c.text), "yawl.csv")
			assert.EqualError(t, err, "yawl.csv"+c.want)
		})
	}
	_, err := ReadOffsets(iotest.ErrReader(errors.New("the disk has gone")), "gone.csv")
	assert.EqualError(t, err, "gone.csv: cannot be read (the disk has gone); check the file and the disk it is on.")
}

// largestOffsets is the most offsets that are read. What reading them costs in
// steps is tested by the tests of the program, on the same table.
func largestOffsets() string {
	var b strings.Builder
	w := bufio.NewWriter(&b)
	sourcetest.LargestOffsets(w)
	_ = w.Flush() // a builder accepts everything
	return b.String()
}

func TestLargestOffsetsAreChecked(t *testing.T) {
	_, found := checkOffsets(strings.NewReader(largestOffsets()), "")
	assert.NotEmpty(t, found)
}

// BenchmarkLargestOffsets reads the most offsets that are read.
func BenchmarkLargestOffsets(b *testing.B) {
	text := largestOffsets()
	for b.Loop() {
		if _, found := checkOffsets(strings.NewReader(text), ""); len(found) == 0 {
			b.Fatal("no fault was found")
		}
	}
}

func FuzzReadOffsets(f *testing.F) {
	for _, text := range yawlForms {
		f.Add([]byte(text))
	}
	f.Add([]byte(yawl))
	f.Add([]byte(strings.NewReplacer(",", ";", "to;inside", "to;outside\nplanking;0-0-3").Replace(yawl)))
	f.Add([]byte("offsets\nunit\tm\nscale\t1:1\nstation\t\ta\nx\t\t1,5\ndiagonal\t1,5/3/1\t2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := ReadOffsets(bytes.NewReader(data), "")
		if err != nil {
			return
		}
		require.Empty(t, h.Check())
	})
}

// The table that other tests read is the exact one, rounded.
func TestWigleyTableOnFile(t *testing.T) {
	kept, err := os.ReadFile("../../testdata/hull/wigley-offsets.csv")
	require.NoError(t, err)
	assert.Equal(t, wigleyTable(10*304.8, 0, wigleyHead, eighths), string(kept))
}
