package drawing

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// groups writes pairs of group codes and values.
func groups(pairs ...any) string {
	var b strings.Builder
	for i := 0; i < len(pairs); i += 2 {
		fmt.Fprintf(&b, "%3v\n%v\n", pairs[i], pairs[i+1])
	}
	return b.String()
}

// drawn wraps entities in a drawing in mm.
func drawn(entities string) string {
	return groups(0, "SECTION", 2, "HEADER", 9, "$INSUNITS", 70, 4, 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES") + entities + groups(0, "ENDSEC", 0, "EOF")
}

// middle is the centre line x = 100.
var middle = groups(0, "LINE", 8, "centre", 10, 100, 20, 0, 11, 100, 21, 90)

// arcOn is a quarter circle of radius 40 about (100, 60), the lower one on the
// right.
func arcOn(layer string) string {
	return groups(0, "ARC", 8, layer, 10, 100, 20, 60, 40, 40, 50, 270, 51, 360)
}

var sloop = drawn(middle + arcOn("A-x-0") + arcOn("B-x-60") + arcOn("frame-C-x-120"))

func TestReadDXF(t *testing.T) {
	h, err := readDXF(strings.NewReader(sloop), "sloop.dxf", nil)
	require.NoError(t, err)
	require.Len(t, h.Frames, 3)
	for i, name := range []string{"A", "B", "C"} {
		assert.Equal(t, name, h.Frames[i].Name)
		quarter(t, h.Frames[i], 60*float64(i), 40)
	}
	for name, text := range map[string]string{
		"CRLF":    strings.ReplaceAll(sloop, "\n", "\r\n"),
		"comment": groups(999, "made by hand") + sloop,
		"mark":    "\ufeff" + sloop,
	} {
		got, err := readDXF(strings.NewReader(text), "", nil)
		require.NoError(t, err, name)
		assert.Equal(t, h, got, name)
	}
}

func TestDXFUnits(t *testing.T) {
	for unit, mm := range map[int]float64{1: 25.4, 4: 1, 5: 10, 0: 1} {
		d, found := checkedDXF(strings.NewReader(strings.Replace(sloop, " 70\n4\n", fmt.Sprintf(" 70\n%d\n", unit), 1)), "", nil)
		require.Empty(t, found)
		quarter(t, d.Hull.Frames[0], 0, 40*mm)
		assert.Equal(t, unit == 0, len(d.Notes) == 1)
	}
}

// The same quarter circle drawn in many ways, two of them in blocks.
func TestDXFWaysToDraw(t *testing.T) {
	s := math.Sqrt2 / 2
	blocks := groups(0, "SECTION", 2, "BLOCKS",
		0, "BLOCK", 2, "QUARTER", 10, 5, 20, 5, 0, "ARC", 8, 0, 10, 5, 20, 5, 40, 20, 50, 0, 51, 90, 0, "ENDBLK",
		0, "BLOCK", 2, "TURNED", 10, 0, 20, 0, 0, "INSERT", 8, 0, 2, "QUARTER", 10, 0, 20, 0, 50, -90, 0, "ENDBLK",
		0, "ENDSEC")
	for name, entities := range map[string]string{
		"light polyline": groups(0, "LWPOLYLINE", 8, "F", 90, 2, 70, 0, 10, 140, 20, 60, 42, -math.Tan(math.Pi/8), 10, 100, 20, 20),
		"polyline":       groups(0, "POLYLINE", 8, "F", 66, 1, 70, 0, 0, "VERTEX", 8, "F", 10, 100, 20, 20, 42, math.Tan(math.Pi/8), 0, "VERTEX", 8, "F", 10, 140, 20, 60, 0, "SEQEND"),
		"two arcs":       groups(0, "ARC", 8, "F", 10, 100, 20, 60, 40, 40, 50, 270, 51, 300, 0, "ARC", 8, "F", 10, 100, 20, 60, 40, 40, 50, 300, 51, 0),
		"ellipse":        groups(0, "ELLIPSE", 8, "F", 10, 100, 20, 60, 11, 0, 21, -40, 40, 1, 41, 0, 42, math.Pi/2),
		"rational spline": groups(0, "SPLINE", 8, "F", 70, 4, 71, 2, 72, 6, 73, 3, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1,
			10, 100, 20, 20, 41, 1, 10, 140, 20, 20, 41, s, 10, 140, 20, 60, 41, 1),
		"block":         groups(0, "INSERT", 8, "F", 2, "TURNED", 10, 100, 20, 60, 41, 2, 42, 2),
		"mirrored":      groups(0, "INSERT", 8, "F", 2, "QUARTER", 10, 100, 20, 60, 41, 2, 42, -2),
		"from behind":   groups(0, "ARC", 8, "F", 10, -100, 20, 60, 40, 40, 50, 180, 51, 270, 230, -1),
		"other layer 0": groups(0, "TEXT", 8, "F", 10, 1, 20, 2, 1, "F", 0, "ARC", 8, "F", 10, 100, 20, 60, 40, 40, 50, 270, 51, 360),
	} {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(drawn(middle+entities+arcOn("G")+arcOn("H")), groups(0, "ENDSEC", 0, "SECTION", 2, "ENTITIES"), groups(0, "ENDSEC")+blocks+groups(0, "SECTION", 2, "ENTITIES"), 1)
			d, found := checkedDXF(strings.NewReader(text), "", stations{"F": 0, "G": 50, "H": 100})
			require.Empty(t, found)
			quarter(t, d.Hull.Frames[0], 0, 40)
		})
	}
}

// Layers that are off or frozen, and invisible entities, are ignored.
func TestDXFHiddenIsPassedOver(t *testing.T) {
	tables := groups(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LAYER", 70, 3, 0, "LAYER", 2, "off", 70, 0, 62, -7, 0, "LAYER", 2, "frozen", 70, 1, 62, 7, 0, "LAYER", 2, "A-x-0", 70, 0, 62, 7, 0, "ENDTAB", 0, "ENDSEC")
	more := groups(0, "LINE", 8, "off", 11, 9, 0, "LINE", 8, "frozen", 11, 9, 0, "LINE", 8, "0", 60, 1, 11, 9, 0, "LINE", 8, "seen", 11, 9, 21, 3)
	d, found := checkedDXF(strings.NewReader(tables+strings.Replace(sloop, middle, middle+more, 1)), "", nil)
	require.Empty(t, found)
	assert.Equal(t, []string{"Left out, because they belong to no frame: seen."}, d.Notes)
	quarter(t, d.Hull.Frames[0], 0, 40)
}

// A block's name serves as a frame's, and points and circles mark places.
func TestDXFMarks(t *testing.T) {
	text := strings.Replace(sloop, groups(0, "SECTION", 2, "ENTITIES"), groups(0, "SECTION", 2, "BLOCKS",
		0, "BLOCK", 2, "D-x-200", 10, 0, 20, 0)+arcOn("0")+groups(0, "ENDBLK", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES",
		0, "INSERT", 8, "0", 2, "D-x-200", 10, 0, 20, 0,
		0, "POINT", 8, "rabbet", 10, 100+40*math.Sin(0.2), 20, 60-40*math.Cos(0.2),
		0, "CIRCLE", 8, "UPPER-B", 10, 100+40*math.Cos(0.3), 20, 60-40*math.Sin(0.3), 40, 1), 1)
	h, err := readDXF(strings.NewReader(text), "", nil)
	require.NoError(t, err)
	require.Len(t, h.Frames, 4)
	assert.Equal(t, "D", h.Frames[3].Name)
	for _, f := range h.Frames {
		assert.InDelta(t, 40*math.Sin(0.2), f.Points[len(f.Points)-1].Y(), 0.01)
	}
	assert.InDelta(t, 40*math.Cos(0.3), h.Frames[1].Points[0].Y(), 0.01)
	assert.InDelta(t, 40, h.Frames[0].Points[0].Y(), 0.01)
}

func TestDXFFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"binary", "AutoCAD Binary DXF\r\n\x1a\x00....", `: the drawing is a binary DXF file; save it as ASCII DXF.`},
		{"cut off", sloop[:len(sloop)-20], `: the file breaks off before its end; take a whole copy of it.`},
		{"no code", strings.Replace(sloop, "  8\nA-x", "eight\nA-x", 1), `, line 29: there is eight where a group code should be; save it again as ASCII DXF.`},
		{"unit", strings.Replace(sloop, " 70\n4\n", " 70\n99\n", 1), `, line 8: the unit of the drawing, number 99, is not known; save it in mm or inches.`},
		{"spline", strings.Replace(sloop, middle, middle+groups(0, "SPLINE", 8, "A-x-0", 71, 3, 11, 1, 21, 2), 1), `, line 28: a spline on layer A-x-0 cannot be read; give it control points, or make a polyline of it.`},
		{"no frames", drawn(middle), `: no outline of the drawing shows which frame it is: it has no outlines; name each outline by its frame and x, as F-x-120, or put a table with the header frame,x_mm beside the drawing, under its name with the ending .csv.`},
		{"NaN", strings.Replace(sloop, " 40\n40\n", " 40\nNaN\n", 1), `, line 28: a coordinate is not finite or over 1 km; check the figures and the unit.`},
		{"far", strings.Replace(sloop, " 40\n40\n", " 40\n1e40\n", 1), `, line 28: a coordinate is not finite or over 1 km; check the figures and the unit.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := readDXF(strings.NewReader(c.text), "sloop.dxf", nil)
			assert.EqualError(t, err, "sloop.dxf"+c.want)
		})
	}
}

func TestHostileDXF(t *testing.T) {
	blocks := groups(0, "SECTION", 2, "BLOCKS", 0, "BLOCK", 2, "b0", 10, 0, 20, 0) + arcOn("0") + groups(0, "ENDBLK")
	for i := 1; i < 40; i++ {
		blocks += groups(0, "BLOCK", 2, fmt.Sprint("b", i), 10, 0, 20, 0) + strings.Repeat(groups(0, "INSERT", 2, fmt.Sprint("b", i-1)), 10) + groups(0, "ENDBLK")
	}
	line := groups(0, "LINE", 8, "A-x-0", 10, 0, 20, 0, 11, 1, 21, 1)
	for name, text := range map[string]string{
		"blocks":      groups(0, "SECTION", 2, "HEADER", 0, "ENDSEC") + blocks + groups(0, "ENDSEC", 0, "SECTION", 2, "ENTITIES", 0, "INSERT", 8, "A-x-0", 2, "b15", 0, "ENDSEC", 0, "EOF"),
		"own block":   groups(0, "SECTION", 2, "BLOCKS", 0, "BLOCK", 2, "b", 0, "INSERT", 2, "b", 0, "INSERT", 2, "b", 0, "ENDBLK", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES", 0, "INSERT", 2, "b", 0, "ENDSEC", 0, "EOF"),
		"entities":    drawn(strings.Repeat(line, 500000)),
		"pieces":      drawn(strings.Repeat(line, 100000)),
		"corners":     drawn(groups(0, "LWPOLYLINE", 8, "A-x-0") + strings.Repeat(groups(10, 1, 20, 2, 42, 1e9), 700000)),
		"knots":       drawn(groups(0, "SPLINE", 8, "A-x-0", 71, 3) + strings.Repeat(groups(40, 1, 10, 1, 20, 1), 800000)),
		"endless":     strings.Repeat("0\n", 15000000),
		"long values": drawn(groups(0, "LINE", 8, strings.Repeat("A", 20000000))),
	} {
		t.Run(name, func(t *testing.T) {
			sparing(t, func() error { _, err := readDXF(strings.NewReader(text), "", nil); return err })
		})
	}
}

// Drawings written by ezdxf, in an old and a new format: each frame is a quarter
// circle of its own radius, drawn in its own way.
func TestDXFThroughEzdxf(t *testing.T) {
	python := withEzdxf(t)
	const script = `
import sys, math, ezdxf
from ezdxf.math import ConstructionArc, rational_bspline_from_arc
path, version = sys.argv[1:]
doc = ezdxf.new(version)
if version != 'R12':
    doc.units = ezdxf.units.IN
msp = doc.modelspace()
k = 1 / 25.4 if version != 'R12' else 1
names = ['A-x-0', 'B-x-50', 'C-x-100', 'D-x-150', 'E-x-200', 'F-x-250']
for n in names + ['centre']:
    doc.layers.new(n)
at = lambda n: {'layer': names[n]}
msp.add_line((0, -9 * k), (0, 90 * k), dxfattribs={'layer': 'centre'})
msp.add_arc((0, 40 * k), 40 * k, 270, 360, dxfattribs=at(0))
b = math.tan(math.pi / 8)
if version == 'R12':
    msp.add_polyline2d([(0, 0, 0, 0, b), (40 * k, 40 * k, 0, 0, 0)], format='xyseb', dxfattribs=at(1))
else:
    msp.add_lwpolyline([(0, 0, b), (40 * k, 40 * k, 0)], format='xyb', dxfattribs=at(1))
block = doc.blocks.new('HALF', base_point=(1, 2))
block.add_arc((1, 2), 10, 0, 45)
block.add_arc((1, 2), 10, 45, 90)
msp.add_blockref('HALF', (0, 40 * k), dxfattribs=dict(at(2), xscale=4 * k, yscale=-4 * k))
msp.add_blockref('HALF', (0, 40 * k), dxfattribs=dict(at(3), xscale=4 * k, yscale=4 * k, rotation=-90))
if version == 'R12':
    msp.add_arc((0, 40 * k), 40 * k, 270, 360, dxfattribs=at(4))
    msp.add_arc((0, 40 * k), 40 * k, 270, 360, dxfattribs=at(5))
else:
    msp.add_ellipse((0, 40 * k), (40 * k, 0), 1, 1.5 * math.pi, 2 * math.pi, dxfattribs=at(4))
    s = msp.add_spline(dxfattribs=at(5))
    s.apply_construction_tool(rational_bspline_from_arc((0, 40 * k), 40 * k, 270, 360))
doc.saveas(path)
`
	for _, version := range []string{"R12", "R2000", "R2010"} {
		t.Run(version, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "hull.dxf")
			ran(t, python, "-c", script, path, version)
			c := lookedAt(t, path, Options{})
			require.Empty(t, c.Faults)
			require.Len(t, c.Hull.Frames, 6)
			for i, f := range c.Hull.Frames {
				quarter(t, f, 50*float64(i), 40)
			}
		})
	}
}

// Splines given only by fit points, against what ezdxf makes of them, as CAD programs do: the same
// curve where the end tangents are given, to the flatness of both. Otherwise the tangents are guessed:
// there ours lies no further off the quarter circle through seven points, and by no more than twice
// the error of cubic splines (h⁴/384 times the fourth derivative: (π/12)⁴/384 of the radius, Hall and
// Meyer, J. Approximation Theory 16, 1976, from memory). Blocks inserted in rows and columns, turned
// and scaled, against ezdxf's own.
func TestDXFFitPointsAndArraysThroughEzdxf(t *testing.T) {
	const script = `
import sys, math, json, ezdxf
doc = ezdxf.new('R2000')
doc.units = ezdxf.units.MM
msp = doc.modelspace()
on = lambda n: {'layer': n}
msp.add_line((0, -9), (0, 90), dxfattribs=on('centre'))
wavy = [(0, 0), (12, 3), (20, 9), (31, 8), (40, 25), (42, 60)]
bow = [(40 * math.sin(a), 40 - 40 * math.cos(a)) for a in [math.pi / 12 * k for k in range(7)]]
given = msp.add_spline(wavy, dxfattribs=on('A-x-0'))
given.dxf.start_tangent = (3, 1, 0)
given.dxf.end_tangent = (-1, 5, 0)
free = msp.add_spline(bow, dxfattribs=on('B-x-50'))
msp.add_spline(bow, dxfattribs=on('C-x-100'))
block = doc.blocks.new('MARK', base_point=(1, 2))
block.add_line((1, 2), (4, 6))
grid = msp.add_blockref('MARK', (200, 10), dxfattribs=dict(on('grid'), xscale=2, yscale=0.5, rotation=30,
    row_count=3, column_count=4, row_spacing=7, column_spacing=11))
doc.saveas(sys.argv[1])
lines = [[list(e.dxf.start)[:2], list(e.dxf.end)[:2]] for i in grid.multi_insert() for e in i.virtual_entities()]
curve = lambda s: [list(p)[:2] for p in s.construction_tool().approximate(400)]
print(json.dumps({'given': curve(given), 'free': curve(free), 'lines': lines}))
`
	path := filepath.Join(t.TempDir(), "fit.dxf")
	var raw struct {
		Given, Free []mgl64.Vec2
		Lines       [][2]mgl64.Vec2
	}
	require.NoError(t, json.Unmarshal([]byte(ran(t, withEzdxf(t), "-c", script, path)), &raw))
	c := lookedAt(t, path, Options{})
	require.Empty(t, c.Faults)
	outline := func(name string) []Outline {
		var out []Outline
		for _, o := range c.Drawing.Outlines {
			if o.Name == name {
				out = append(out, o)
			}
		}
		return out
	}
	off := func(a, b []mgl64.Vec2) float64 {
		line, worst := chain{pts: a}, 0.0
		for _, q := range b {
			_, away := line.nearest(q)
			worst = max(worst, away)
		}
		return worst
	}
	given, free := outline("A-x-0"), outline("B-x-50")
	require.Len(t, given, 1)
	require.Len(t, free, 1)
	assert.Less(t, off(given[0].Points, raw.Given), 2*flatness)
	offCircle := func(pts []mgl64.Vec2) (worst float64) {
		for _, q := range pts {
			worst = max(worst, math.Abs(q.Sub(mgl64.Vec2{0, 40}).Len()-40))
		}
		return worst
	}
	ours, theirs := offCircle(free[0].Points), offCircle(raw.Free)
	t.Logf("off the circle: %.5f mm, ezdxf's guess %.5f mm; off each other %.5f mm", ours, theirs, off(free[0].Points, raw.Free))
	assert.LessOrEqual(t, ours, theirs)
	assert.Less(t, ours, 2*40*math.Pow(math.Pi/12, 4)/384)
	quarter(t, c.Hull.Frames[1], 50, 40)

	require.Len(t, raw.Lines, 12)
	var drawn [][2]mgl64.Vec2
	for _, o := range outline("MARK") {
		drawn = append(drawn, [2]mgl64.Vec2{o.Points[0], o.Points[len(o.Points)-1]})
	}
	require.Len(t, drawn, 12)
	for _, l := range raw.Lines {
		assert.True(t, slices.ContainsFunc(drawn, func(d [2]mgl64.Vec2) bool {
			return d[0].Sub(l[0]).Len() < 1e-6 && d[1].Sub(l[1]).Len() < 1e-6
		}), "%v", l)
	}
}

// A B-spline against its formula: one span of degree three is a Bézier curve.
func TestDeBoor(t *testing.T) {
	p := []mgl64.Vec3{{0, 0, 1}, {1, 3, 1}, {4, 5, 1}, {7, 1, 1}}
	for _, u := range []float64{0, 0.2, 0.7, 1} {
		s := 1 - u
		want := p[0].Mul(s * s * s).Add(p[1].Mul(3 * s * s * u)).Add(p[2].Mul(3 * s * u * u)).Add(p[3].Mul(u * u * u))
		got := deBoor(p, []float64{0, 0, 0, 0, 1, 1, 1, 1}, 3, 3, u)
		assert.InDelta(t, 0, got.Sub(want.Vec2()).Len(), 1e-12)
	}
}

// The table beside a drawing says which of its outlines are frames and where
// they stand.
func TestStationsBesideADrawing(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sloop.dxf")
	plain := strings.NewReplacer("A-x-0", "1", "B-x-60", "2", "frame-C-x-120", "frame-3").Replace(sloop)
	require.NoError(t, os.WriteFile(path, []byte(plain), 0o644))
	require.NotEmpty(t, lookedAt(t, path, Options{}).Faults)
	beside := filepath.Join(dir, "sloop.csv")
	require.NoError(t, os.WriteFile(beside, []byte("frame;x_cm\r\n3;12\r\n2;5,5\r\n1;-1\r\n"), 0o644))
	h, err := soundHull(t, path)
	require.NoError(t, err)
	for i, x := range []float64{-10, 55, 120} {
		assert.Equal(t, fmt.Sprint(i+1), h.Frames[i].Name)
		quarter(t, h.Frames[i], x, 40)
	}
	require.NoError(t, os.WriteFile(beside, []byte("frame,x_mm\n1,wide\n"), 0o644))
	_, err = soundHull(t, path)
	assert.EqualError(t, err, beside+`, line 2, frame 1: x is "wide", which is not a number; give a number such as 12.5.`)
	require.NoError(t, os.WriteFile(beside, []byte("frame,x_mm,y_mm,z_mm\nA,20,8,60\n"), 0o644)) // another table
	_, err = soundHull(t, path)
	assert.ErrorContains(t, err, "no outline of the drawing shows")
}

func FuzzReadDXF(f *testing.F) {
	f.Add([]byte(sloop))
	f.Add([]byte(drawn(groups(0, "POLYLINE", 8, "A-x-0", 70, 1, 0, "VERTEX", 10, 1, 20, 2, 42, 1, 0, "VERTEX", 10, 3, 20, 9, 0, "SEQEND", 0, "INSERT", 2, "b", 0, "POINT", 8, "upper", 10, 3))))
	f.Add([]byte(drawn(groups(0, "SPLINE", 8, "B-x-1", 71, 1, 40, 0, 40, 0, 40, 1, 40, 1, 10, 1, 20, 1, 10, 2, 20, 2, 41, 1, 41, 0, 0, "ELLIPSE", 8, "centre", 11, 1, 21, 0))))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := readDXF(bytes.NewReader(data), "", stations{"B": 3})
		if err == nil {
			require.Empty(t, h.Check())
		}
	})
}
