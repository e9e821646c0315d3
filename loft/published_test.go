package loft

import (
	"compress/gzip"
	"context"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// series60 is the parent hull of block 0.60 of Series 60 (Todd, Series 60: Methodical
// experiments with models of single-screw merchant ships, David Taylor Model Basin
// report 1712, 1963; model 4210): for each station, the half-breadths as fractions of
// the greatest on their waterline (itself in the second row, as fractions of half the
// beam), at the given fractions of the draught, and last the area of the section up to
// the draught as a fraction of that amidships. Station 0 is the forward perpendicular,
// 20 the after one.
//
// It was entered from memory of the report, and is consistent in itself: the areas
// agree with the half-breadths station by station, and both with the published
// coefficients.
const series60 = `
     0     0.075 0.25  0.50  0.75  1.00  1.25  1.50
     0.710 0.866 0.985 1.000 1.000 1.000 1.000 1.000
0    0.000 0.000 0.000 0.000 0.000 0.000 0.020 0.042 0.000
0.5  0.009 0.032 0.042 0.041 0.043 0.051 0.076 0.120 0.042
1    0.013 0.064 0.082 0.087 0.090 0.102 0.133 0.198 0.085
1.5  0.019 0.095 0.126 0.141 0.148 0.160 0.195 0.278 0.135
2    0.024 0.127 0.178 0.204 0.213 0.228 0.270 0.360 0.192
3    0.055 0.196 0.294 0.346 0.368 0.391 0.440 0.531 0.323
4    0.134 0.314 0.436 0.502 0.535 0.562 0.607 0.683 0.475
5    0.275 0.466 0.589 0.660 0.691 0.718 0.754 0.804 0.630
6    0.469 0.630 0.733 0.802 0.824 0.841 0.862 0.889 0.771
7    0.666 0.779 0.854 0.906 0.917 0.926 0.936 0.946 0.880
8    0.831 0.898 0.935 0.971 0.977 0.979 0.981 0.982 0.955
9    0.945 0.964 0.979 0.996 1.000 1.000 1.000 1.000 0.990
10   1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000 1.000
11   0.965 0.982 0.990 1.000 1.000 1.000 1.000 1.000 0.996
12   0.882 0.922 0.958 0.994 1.000 1.000 1.000 1.000 0.977
13   0.767 0.826 0.892 0.962 0.987 0.994 0.997 1.000 0.938
14   0.622 0.701 0.781 0.884 0.943 0.975 0.990 0.999 0.863
15   0.463 0.560 0.639 0.754 0.857 0.937 0.977 0.994 0.750
16   0.309 0.413 0.483 0.592 0.728 0.857 0.933 0.975 0.609
17   0.168 0.267 0.330 0.413 0.541 0.725 0.844 0.924 0.445
18   0.065 0.152 0.193 0.236 0.321 0.536 0.709 0.834 0.268
18.5 0.032 0.102 0.130 0.156 0.216 0.425 0.626 0.769 0.187
19   0.014 0.058 0.076 0.085 0.116 0.308 0.530 0.686 0.109
19.5 0.010 0.020 0.020 0.022 0.033 0.193 0.418 0.579 0.040
20   0.000 0.000 0.000 0.000 0.000 0.082 0.270 0.420 0.004
`

// numbers are those of every line.
func numbers(t testing.TB, text string) (rows [][]float64) {
	for line := range strings.Lines(strings.TrimSpace(text)) {
		var row []float64
		for f := range strings.FieldsSeq(line) {
			v, err := strconv.ParseFloat(f, 64)
			require.NoError(t, err)
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rows
}

// series60Hull is that table at 1:100 for a ship of 121.92 m, L/B 7.5 and B/T 2.5, read
// by the reader for tables of offsets; areas are those of its last column.
func series60Hull(t testing.TB) (text string, h *hull.Hull, areas []float64) {
	rows := numbers(t, series60)
	levels, most, stations := rows[0], rows[1], rows[2:]
	offsets := table{heights: levels}
	for _, s := range stations {
		offsets.xs = append(offsets.xs, s[0]/20*121.92)
		var half []float64
		for j, y := range s[1:9] {
			half = append(half, y*most[j]*16.256/2)
		}
		offsets.half, areas = append(offsets.half, half), append(areas, s[9])
	}
	for j := range levels {
		offsets.heights[j] *= 6.5024
	}
	text = offsets.text()
	h, err := source.ReadOffsets(strings.NewReader(text), "series60.csv")
	require.NoError(t, err)
	return text, h, areas
}

// table holds half-breadths of stations, m, at heights over the base line: the upper
// limit is at the greatest, the rabbet in the middle plane at the least.
type table struct {
	xs, heights []float64
	half        [][]float64 // [station][height]
}

// text is the table of offsets.
func (o *table) text() string {
	var b strings.Builder
	row := func(head string, of func(i int) string) {
		b.WriteString(head)
		for i := range o.xs {
			b.WriteString("," + of(i))
		}
		b.WriteByte('\n')
	}
	value := func(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }
	level := func(name string, j int) {
		row(name, func(i int) string { return value(o.half[i][j]) })
	}
	b.WriteString("offsets\nunit,m\nscale,1:100\n")
	row("station,", func(i int) string { return "S" + strconv.Itoa(i) })
	row("x,", func(i int) string { return value(o.xs[i]) })
	top := len(o.heights) - 1
	row("height,sheer", func(int) string { return value(o.heights[top]) })
	level("half-breadth,sheer", top)
	for j := top - 1; j >= 0; j-- {
		level("half-breadth,"+value(o.heights[j]), j)
	}
	row("height,rabbet", func(int) string { return value(o.heights[0]) })
	row("half-breadth,rabbet", func(int) string { return "0" })
	return b.String()
}

// form is the fullness of a hull up to its draught: the block, midship, prismatic,
// waterplane and wetted-surface coefficients, the last over L·(B + 2T).
type form struct{ block, midship, prismatic, waterplane, wetted float64 }

// formOf measures a lofted hull up to a draught over the base line, mm, against its length
// between perpendiculars and its beam.
func formOf(t testing.TB, s *Surface, draught, length, beam float64) form {
	t.Helper()
	lo, hi := s.reachOfX()
	const steps = 300
	volume, plane, greatest := 0.0, 0.0, 0.0
	for i := range steps {
		points, err := s.Section(lo+(hi-lo)*(float64(i)+0.5)/steps, 0)
		require.NoError(t, err)
		area, half := below(points, draught)
		volume, plane, greatest = volume+2*area*(hi-lo)/steps, plane+2*half*(hi-lo)/steps, max(greatest, 2*area)
	}
	return form{
		block: volume / (length * beam * draught), midship: greatest / (beam * draught), prismatic: volume / (length * greatest),
		waterplane: plane / (length * beam), wetted: 2 * s.areaBelow(draught) / (length * (beam + 2*draught)),
	}
}

// below is the half area of a section up to a height, and its half-breadth there.
func below(points []mgl64.Vec3, height float64) (area, half float64) {
	if points[0].Z() <= height {
		half = points[0].Y()
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if b.Z() > height && a.Z() > height {
			continue
		}
		if over, under := a.Z() > height, b.Z() > height; over || under {
			w := (height - a.Z()) / (b.Z() - a.Z())
			half = a.Y() + w*(b.Y()-a.Y())
			at := mgl64.Vec3{a.X(), half, height}
			if over {
				a = at
			} else {
				b = at
			}
		}
		area += (a.Z() - b.Z()) * (a.Y() + b.Y()) / 2
	}
	return area, half
}

// areaBelow is the area of the surface up to a height, mm².
func (s *Surface) areaBelow(height float64) float64 {
	const bay, down = 8, 150
	sum := 0.0
	triangle := func(p [3]mgl64.Vec3) {
		under := 0.0
		for _, q := range p {
			if q.Z() <= height {
				under += 1. / 3
			}
		}
		sum += under * p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Len() / 2
	}
	var last []mgl64.Vec3
	for i := range (s.Frames()-1)*bay + 1 {
		k := min(i/bay, s.Frames()-2)
		u := s.U(k) + (s.U(k+1)-s.U(k))*float64(i-k*bay)/bay
		var row []mgl64.Vec3
		for j := range down + 1 {
			row = append(row, s.At(u, float64(j)/down).P)
			if i > 0 && j > 0 {
				triangle([3]mgl64.Vec3{last[j-1], last[j], row[j-1]})
				triangle([3]mgl64.Vec3{last[j], row[j], row[j-1]})
			}
		}
		last = row
	}
	return sum
}

// lofted is the surface of a hull.
func lofted(t testing.TB, h *hull.Hull) *Surface {
	t.Helper()
	s, err := Loft(h.Frames)
	require.NoError(t, err)
	return s
}

// TestSeries60: the block, the midship section, the prismatic and the waterplane of the
// parent hull come within 0.5 % of the published 0.600, 0.977, 0.614 and 0.706, and the
// areas from the second station to the last but one within 0.006 of that amidships.
func TestSeries60(t *testing.T) {
	_, h, areas := series60Hull(t)
	s := lofted(t, h)
	got := formOf(t, s, 65.024, 1219.2, 162.56)
	t.Logf("%.4f", got)
	assert.InEpsilon(t, 0.600, got.block, 0.005)
	assert.InEpsilon(t, 0.977, got.midship, 0.005)
	assert.InEpsilon(t, 0.614, got.prismatic, 0.005)
	assert.InEpsilon(t, 0.706, got.waterplane, 0.005)
	for i, f := range h.Frames {
		points, err := s.Section(f.X(), 0)
		require.NoError(t, err)
		area, _ := below(points, 65.024)
		assert.InDelta(t, areas[i], area/(got.midship*65.024*81.28), 0.006, f.Name)
	}
}

// The same table on a sheet of a workbook makes the same hull.
func TestSeries60OnASheet(t *testing.T) {
	text, want, _ := series60Hull(t)
	book := excelize.NewFile()
	for r, line := range strings.Split(strings.TrimSpace(text), "\n") {
		var row []any
		for field := range strings.SplitSeq(line, ",") {
			if v, err := strconv.ParseFloat(field, 64); err == nil {
				row = append(row, v)
				continue
			}
			row = append(row, field)
		}
		cell, err := excelize.CoordinatesToCellName(2, 3+r)
		require.NoError(t, err)
		require.NoError(t, book.SetSheetRow("Sheet1", cell, &row))
	}
	path := filepath.Join(t.TempDir(), "lines.xlsx")
	require.NoError(t, book.SaveAs(path))
	got, kind, err := source.Open(path)
	require.NoError(t, err)
	assert.Equal(t, source.Offsets, kind)
	require.Len(t, got.Hull.Frames, len(want.Frames))
	for i, f := range want.Frames {
		assert.Equal(t, f, got.Hull.Frames[i])
	}
}

// TestHullsOfFormulas: tables of offsets of hulls published as formulas reproduce the
// published coefficients within 0.5 %: Wigley's (Trans. INA 76, 1934; block 4/9, and
// the wetted surface over L·(B + 2T) 0.661, as the International Towing Tank Conference
// gives it), and I and III of Journée's (Experiments and Calculations on 4 Wigley Hull
// Forms in Head Waves, Delft University of Technology, report 909, 1992; midship 0.9090
// and 0.6667, waterplane 0.6933, block 0.5606 and 0.4622).
func TestHullsOfFormulas(t *testing.T) {
	for name, c := range map[string]struct {
		a, b float64 // of the formula
		want form
	}{
		"Wigley":      {0, 0, form{block: 4. / 9, midship: 2. / 3, prismatic: 2. / 3, waterplane: 2. / 3, wetted: 0.661}},
		"Journée I":   {0.2, 1, form{block: 0.5606, midship: 0.9090, prismatic: 0.5606 / 0.9090, waterplane: 0.6933}},
		"Journée III": {0.2, 0, form{block: 0.4622, midship: 0.6667, prismatic: 0.4622 / 0.6667, waterplane: 0.6933}},
	} {
		const length, beam, draught = 100.0, 10.0, 6.25
		o := table{heights: []float64{0, 0.05, 0.15, 0.3, 0.6, 1, 1.5, 2, 2.75, 3.5, 4.5, 5.5, draught}}
		for i := range 21 {
			x := 0.1*float64(i) - 1
			q, half := 1-x*x, []float64(nil)
			for _, h := range o.heights {
				z := 1 - h/draught
				half = append(half, beam/2*((1-z*z)*q*(1+c.a*x*x)+c.b*z*z*(1-math.Pow(z, 8))*math.Pow(q, 4)))
			}
			o.xs, o.half = append(o.xs, length/2*(x+1)), append(o.half, half)
		}
		h, err := source.ReadOffsets(strings.NewReader(o.text()), name)
		require.NoError(t, err)
		checkForm(t, name, c.want, formOf(t, lofted(t, h), 10*draught, 10*length, 10*beam), 0.005)
	}
}

// checkForm compares with the published figures, 0 where none is published.
func checkForm(t *testing.T, name string, want, got form, within float64) {
	t.Helper()
	t.Logf("%s: %.4f", name, got)
	assert.InEpsilon(t, want.block, got.block, within, name)
	assert.InEpsilon(t, want.midship, got.midship, within, name)
	assert.InEpsilon(t, want.prismatic, got.prismatic, within, name)
	assert.InEpsilon(t, want.waterplane, got.waterplane, within, name)
	if want.wetted > 0 {
		assert.InEpsilon(t, want.wetted, got.wetted, within, name)
	}
}

// meshOf takes a hull off one of the meshes in Debian's openfoam-examples, in metres.
func meshOf(t *testing.T, name string, from, to float64, slices int) *Surface {
	t.Helper()
	packed, err := os.Open(checks.ExternalFile(t, "/usr/share/doc/openfoam-examples/examples/resources/geometry/"+name+".stl.gz"))
	require.NoError(t, err)
	defer packed.Close()
	z, err := gzip.NewReader(packed)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), name+".stl")
	plain, err := os.Create(path)
	require.NoError(t, err)
	_, err = io.Copy(plain, z) //nolint:gosec // a file of a package of Debian's
	require.NoError(t, err)
	require.NoError(t, plain.Close())
	how := mesh.Options{Unit: 1000, Bow: hull.BowLast}
	for i := range slices + 1 {
		how.Stations = append(how.Stations, from+(to-from)*float64(i)/float64(slices))
	}
	p, notes, err := source.TakeOffMesh(context.Background(), path, how)
	require.NoError(t, err)
	t.Log(strings.Join(notes, "\n"))
	return lofted(t, &p.Hull)
}

// TestWigleysPublishedMesh: sliced at 25 stations, an independent mesh of Wigley's hull
// reproduces the coefficients of the hull.
func TestWigleysPublishedMesh(t *testing.T) {
	s := meshOf(t, "wigley", -499, 499, 24)
	checkForm(t, "Wigley", form{block: 4. / 9, midship: 2. / 3, prismatic: 2. / 3, waterplane: 2. / 3, wetted: 0.661}, formOf(t, s, 62.5, 1000, 100), 0.005)
}

// TestDuisburgTestCase: for the mesh of that container ship (el Moctar, Shigunov and
// Zorn, Duisburg Test Case: Post-Panamax Container Ship for Benchmarking, Ship
// Technology Research 59, 2012), sliced at 41 stations, volume and block come within
// 0.5 % of those published: 173467 m³ and 0.661 at 355 m between perpendiculars, 51 m
// of beam and 14.5 m of draught, of which the mesh is a model at 1:59.407. The bulb
// ahead of the stem, 0.3 % of the volume, is not part of the frames, and is left out.
func TestDuisburgTestCase(t *testing.T) {
	s := meshOf(t, "DTC-scaled", -60, 5960, 40)
	const scale = 1000 / 59.407 // mm to the metre at full size
	got := formOf(t, s, 14.5*scale, 355*scale, 51*scale)
	t.Logf("%.4f", got)
	assert.InEpsilon(t, 0.661, got.block, 0.005)
	assert.InEpsilon(t, 173467, got.block*355*51*14.5, 0.005)
}
