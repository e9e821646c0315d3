package drawing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// page wraps what is drawn in a drawing in mm, 200 by 100.
func page(inside string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" xmlns:xlink="http://www.w3.org/1999/xlink" width="200mm" height="100mm" viewBox="0 0 200 100">
` + inside + "\n</svg>\n"
}

const centreLine = `<line id="centre" x1="100" y1="0" x2="100" y2="100"/>`

// bodyPlan is three frames, quarter circles of radius 40 about a point 80 above
// the foot of the drawing, on the centre line.
var bodyPlan = page(centreLine + `
<path id="A-x-0" d="M140 20 A 40 40 0 0 1 100 60"/>
<g id="frame-B-x-60"><path d="M140 20 a 40,40 0 0 1-40 40"/></g>
<g inkscape:label="C-x-12cm" id="layer3"><path id="path77" d="M100 60A40 40 0 0160 20"/></g>`)

// quarter checks that a frame is a quarter circle of the given radius, its foot
// at height 0: the chords of the drawing depart from it by less than a hundredth
// of a mm.
func quarter(t *testing.T, f hull.Frame, x, radius float64) {
	t.Helper()
	assert.InDelta(t, x, f.X(), 1e-9)
	n := len(f.Points)
	assert.GreaterOrEqual(t, n, fewestChosen)
	assert.LessOrEqual(t, n, mostChosen)
	assert.Empty(t, f.Knuckles)
	for _, p := range f.Points {
		assert.InDelta(t, radius, math.Hypot(p.Y(), radius-p.Z()), 0.01)
	}
	assert.InDelta(t, 0, f.Points[0].Sub(mgl64.Vec3{x, radius, radius}).Len(), 0.01)
	assert.InDelta(t, 0, f.Points[n-1].Sub(mgl64.Vec3{x, 0, 0}).Len(), 0.01)
}

func TestReadSVG(t *testing.T) {
	h, err := readSVG(strings.NewReader(bodyPlan), "body.svg", nil)
	require.NoError(t, err)
	require.Len(t, h.Frames, 3)
	for i, name := range []string{"A", "B", "C"} {
		assert.Equal(t, name, h.Frames[i].Name)
		quarter(t, h.Frames[i], 60*float64(i), 40)
	}
}

// The same quarter circle of radius 40, drawn in many ways.
func TestSVGWaysToDraw(t *testing.T) {
	k := 40 * 4. / 3 * math.Tan(math.Pi/8) // the cubic nearest to a quarter circle, which departs from it by 3e-4 of the radius
	for name, drawn := range map[string]string{
		"relative arc":   `<path id="F" d="m140 20a40 40 0 0 1-40 40"/>`,
		"turned arc":     `<path id="F" d="M140,20 A40,40 33 0 1 100,60"/>`,
		"eighths":        fmt.Sprintf(`<path id="F" d="M140 20A40 40 0 0 1 %[1]f %[2]f L%[1]f %[2]f"/><path id="path2" d=""/><g id="F"><path d="M100 60 A 40 40 0 0 0 %[1]f %[2]f"/></g>`, 100+40/math.Sqrt2, 20+40/math.Sqrt2),
		"group rotated":  `<g id="F" transform="translate(100 20) rotate(90)"><path d="M0-40 A40 40 0 0 1 40 0"/></g>`,
		"matrix":         `<path id="F" transform="matrix(0 1 -1 0 100 20)" d="M0-40 A40 40 0 0 1 40 0"/>`,
		"ellipse scaled": `<g transform="translate(100,20)"><g id="F" transform="scale(2 0.5)"><path d="M20 0A20 80 0 0 1 0 80"/></g></g>`,
		"skewed":         `<path id="F" transform="skewX(45) skewX(-45) rotate(30 5 5) rotate(-30,5,5)" d="M140 20A40 40 0 0 1 100 60"/>`,
		"copied":         `<defs><path id="bow" d="M40 0A40 40 0 0 1 0 40"/></defs><use id="F" href="#bow" x="100" y="20"/>`,
		"symbol":         `<symbol id="sym"><path d="M40 0A40 40 0 0 1 0 40"/></symbol><g id="F"><use xlink:href="#sym" transform="translate(100 20)"/></g>`,
		"inner drawing":  `<g id="F"><svg x="100" y="20" width="40" height="40" viewBox="0 0 400 400"><path d="M400 0A400 400 0 0 1 0 400"/></svg></g>`,
		"with hidden":    `<path id="F" d="M140 20A40 40 0 0 1 100 60"/><g style="display: none"><path id="F2" d="M0 0"/><path id="F" d="M0 0L9 9"/></g>`,
		"label":          `<path id="path9" inkscape:label="F" d="M140 20A40 40 0 0 1 100 60"/>`,
		"with frame":     `<path id="frame-F" d="M140 20A40 40 0 0 1 100 60"/>`,
		"cubic":          fmt.Sprintf(`<path id="F" d="M140 20C140 %f %f 60 100 60"/>`, 20+k, 100+k),
	} {
		t.Run(name, func(t *testing.T) {
			two := `<path id="G" d="M140 20A40 40 0 0 1 100 60"/><path id="H" d="M140 20A40 40 0 0 1 100 60"/>`
			d, found := checkedSVG(strings.NewReader(page(centreLine+drawn+two)), "", stations{"F": 0, "G": 50, "H": 100})
			require.Empty(t, found)
			f := d.Hull.Frames[0]
			if name == "cubic" {
				for _, p := range f.Points {
					assert.InDelta(t, 40, math.Hypot(p.Y(), 40-p.Z()), 40*3e-4)
				}
				return
			}
			quarter(t, f, 0, 40)
		})
	}
}

// Shorthands of path data against the same written in full.
func TestPathDataShorthands(t *testing.T) {
	drawn := func(d string) []mgl64.Vec2 {
		var strokes []stroke
		left, wild := mostDrawn, 0
		p := pen{to: mgl64.Ident3(), strokes: &strokes, left: &left, wild: &wild}
		require.Empty(t, pathData(d, &p), d)
		require.NotEmpty(t, strokes)
		return strokes[0].pts
	}
	for _, c := range [][2]string{
		{"M0 0S10 20 30 0", "M0 0C0 0 10 20 30 0"},
		{"M0 0C0 10 10 20 20 20S40 10 40 0", "M0 0C0 10 10 20 20 20C30 20 40 10 40 0"},
		{"M0 0Q10 20 20 0T40 0", "M0 0Q10 20 20 0Q30-20 40 0"},
		{"M0 0q10 20 20 0t20 0", "M0 0Q10 20 20 0T40 0"},
		{"M1 1h5v6H3V2z", "M1 1L6 1L6 7L3 7L3 2L1 1"},
		{"m1 1 5 0 0 6-3 0 0-5z", "M1 1L6 1L6 7L3 7L3 2L1 1"},
		{"M.5.5.75.25-1e1-.5E0", "M0.5 0.5L0.75 0.25L-10 -0.5"},
		{"M0 0C0 10 10 20 20 20", "m0,0 c0,10,10,20,20,20"},
		{"M0 0A5 5 0 0 0 10 0", "M0 0A1 1 0 0 0 10 0"}, // radii too small grow
	} {
		a, b := drawn(c[0]), drawn(c[1])
		require.Len(t, a, len(b), c[0])
		for i := range a {
			assert.InDelta(t, 0, a[i].Sub(b[i]).Len(), 1e-9, c[0])
		}
	}
	// A quadratic against its own formula.
	for _, q := range drawn("M0 0Q10 20 20 0") {
		t1 := q[0] / 20
		assert.InDelta(t, 2*t1*(1-t1)*20, q[1], 1e-9)
	}
}

// The size of a drawing by its units.
func TestSVGUnits(t *testing.T) {
	whole := strings.Replace(bodyPlan, `width="200mm" height="100mm" viewBox="0 0 200 100"`, `SIZE`, 1)
	for size, mm := range map[string]float64{
		`width="200mm" height="100mm" viewBox="0 0 200 100"`:  1,
		`width="20cm" viewBox="0 0 200 100"`:                  1,
		`width="4in" height="2in" viewBox="0 0 200 100"`:      25.4 / 50,
		`width="400mm" height="100mm" viewBox="0 0 200 100"`:  1,
		`width="200" height="100" viewBox="0 0 200 100"`:      25.4 / 96,
		`viewBox="0 0 200 100"`:                               25.4 / 96,
		``:                                                    25.4 / 96,
		`width="100%" height="100%"`:                          25.4 / 96,
		`width="400pt" height="200pt" viewBox="-9 9 200 100"`: 25.4 / 36,
		`width="200mm" height="300mm" viewBox="0 0 200 100" preserveAspectRatio="xMidYMid slice"`: 3,
	} {
		h, err := readSVG(strings.NewReader(strings.Replace(whole, "SIZE", size, 1)), "", nil)
		require.NoError(t, err, size)
		quarter(t, h.Frames[0], 0, 40*mm)
	}
}

// Whole outlines, closed and open; marks for all frames and for one.
func TestSVGLimits(t *testing.T) {
	// A bulkhead with a deck, sides at 60 from the middle, a bilge of radius 30 and
	// a keel 4 wide; the left half is 0.4 wider.
	bulkhead := func(left float64) string {
		return fmt.Sprintf(`<path d="M100 18 Q130 18 140 20 V50 A30 30 0 0 1 110 80 H102 V84 H98 V80 H%f A30 30 0 0 1 %f 50 V20 Q70 18 100 18 Z"/>`, 90-left, 60-left)
	}
	marks := `<line id="upper" x1="0" y1="25" x2="200" y2="25"/><g id="rabbet"><path d="M102.5 78v4"/><path d="M97.5 78v4"/></g>`
	d, found := checkedSVG(strings.NewReader(page(marks+centreLine+
		`<g id="A-x-0">`+bulkhead(0)+`</g><g id="B-x-50">`+bulkhead(0.4)+`</g><g id="C-x-100"><circle id="rabbet-C" cx="110" cy="80" r="2"/>`+bulkhead(0)+`</g><path id="note" d="M0 0h9"/>`)), "", nil)
	require.Empty(t, found)
	require.Len(t, d.Notes, 2)
	assert.Equal(t, "Left out, because they belong to no frame: note.", d.Notes[0])
	assert.Equal(t, "3 frames drawn whole: the halves differ most on frame B, by "+d.Halves[1].String()+"; their mean is taken.", d.Notes[1])
	for i, most := range []float64{0, 0.4, 0} {
		assert.InDelta(t, most, d.Halves[i].MM, 0.005)
	}
	assert.InDelta(t, 40, d.Halves[1].Y, 0.41, "at the side, of 40 and 40.4")
	a, b, c := d.Hull.Frames[0], d.Hull.Frames[1], d.Hull.Frames[2]
	assert.InDelta(t, 0, a.Points[0].Sub(mgl64.Vec3{0, 40, 55}).Len(), 0.01)
	assert.InDelta(t, 0, a.Points[len(a.Points)-1].Sub(mgl64.Vec3{0, 2.5, 0}).Len(), 0.01)
	assert.Empty(t, a.Knuckles)
	assert.InDelta(t, 40.2, b.Points[0].Y(), 0.01)
	assert.InDelta(t, 10, c.Points[len(c.Points)-1].Y(), 0.01)
	for _, p := range a.Points { // on the side, the bilge or the floor
		off := min(math.Abs(p.Y()-40), math.Abs(p.Z()), math.Abs(math.Hypot(p.Y()-10, p.Z()-30)-30))
		assert.Less(t, off, 0.01)
	}
}

// Open outlines of both halves end on the centre line, need no mark for it, and
// keep their corners.
func TestSVGBothHalves(t *testing.T) {
	v := `<path id="%s-x-%d" d="M60 20L64 60L100 80L136 60L140 20"/>`
	h, err := readSVG(strings.NewReader(page(fmt.Sprintf(v+v+v, "A", 0, "B", 50, "C", 100))), "", nil)
	require.NoError(t, err)
	f := h.Frames[1]
	require.Len(t, f.Knuckles, 1)
	assert.InDelta(t, 0, f.Points[f.Knuckles[0]].Sub(mgl64.Vec3{50, 36, 20}).Len(), 1e-9)
	assert.InDelta(t, 0, f.Points[len(f.Points)-1].Sub(mgl64.Vec3{50, 0, 0}).Len(), 1e-9)
}

func TestSVGFaults(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(bodyPlan) }
	for _, c := range []struct{ name, text, want string }{
		{"not SVG", `<html></html>`, `, line 1: this is not an SVG drawing; save it as plain SVG.`},
		{"cut off", bodyPlan[:len(bodyPlan)-10], `, line 6: the file breaks off before its end; take a whole copy of it.`},
		{"out of order", swap("</g>", "</h>"), `, line 5: the element h is closed but not open; save the drawing again.`},
		{"bad XML", swap(`id="A-x-0"`, `id=A-x-0`), `, line 4: the XML is out of order; save it as plain SVG.`},
		{"own entity", swap("A-x-0", "&bomb;"), `, line 4: there is an entity that is not one of XML's own; save it as plain SVG.`},
		{"deep", page(strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300)), `, line 3: groups nest more than 200 deep; ungroup some.`},
		{"no frames", page(centreLine + `<path id="side" d="M0 0L9 9"/>`), `: no outline of the drawing shows which frame it is: it has side; name each outline by its frame and x, as F-x-120, or put a table with the header frame,x_mm beside the drawing, under its name with the ending .csv.`},
		{"no centre", swap(`id="centre"`, `id="middle"`), `, line 4, frame A: half an outline does not show the centre line; draw the centre line and name it centre.`},
		{"far", swap("M140 20 A 40", "M1e99 20 A 40"), `, line 4: a coordinate is not finite or over 1 km; check the figures, the unit and the transforms.`},
		{"bad path", swap("M140 20 A 40", "M140 20 B 40"), `, line 4: the path has 'B' after the command L; save the drawing again, or draw the line anew.`},
		{"short path", swap("0 0 1 100 60\"", "0 0 1 100\""), `, line 4: the path breaks off after the command A; save the drawing again, or draw the line anew.`},
		{"bad transform", swap(`<g id="frame-B-x-60">`, `<g id="frame-B-x-60" transform="turn(3)">`), `, line 5: the transform turn(3) is not understood; write it as in the SVG standard, or apply it and save again.`},
		{"upside down", swap("M140 20 A 40 40 0 0 1 100 60", "M140 60 L100 20", centreLine, centreLine+`<path id="upper-A" d="M130 60h20"/>`), `, line 4, frame A: its upper limit lies below its rabbet; check the marks, and that the drawing stands upright.`},
		{"mark of no frame", swap(centreLine, centreLine+`<path id="upper-Q" d="M130 60h20"/>`), `: the mark upper-Q has no frame in the drawing; name it by the frame.`},
		{"mark beside", swap(centreLine, centreLine+`<path id="upper" d="M150 30h20"/>`), `, line 4, frame A: the mark upper does not meet its outline; draw it across the outline.`},
		{"closed", swap("M140 20 A 40 40 0 0 1 100 60", "M100 20H140 A 40 40 0 0 1 100 60Z"), `, line 4, frame A: its outline is closed and does not show the limits of the planking; draw short lines named upper and rabbet across it, where the planking begins and ends; for pieces to cut, add --level.`},
		{"in parts", swap("M140 20 A 40 40 0 0 1 100 60", "M140 20 A 40 40 0 0 1 100 60M0 0h5M9 9h6"), `, line 4, frame A: its outline is in 3 parts that do not meet; join its ends, or rename the other lines.`},
		{"two x", swap("frame-B-x-60", "A-x-60"), `, line 5, frame A: the frame is drawn at x 0 and x 60; give each frame one x.`},
		{"one place", swap("B-x-60", "B-x-0"), `, line 5, frame B: it is at x 0, like frame A; leave one of them out, or correct its x.`},
		{"UTF-16", "\xff\xfe<\x00s\x00", `: the file is UTF-16, or not text; save it again as UTF-8.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := readSVG(strings.NewReader(c.text), "body.svg", nil)
			assert.EqualError(t, err, "body.svg"+c.want)
		})
	}
	_, err := readSVG(strings.NewReader(bodyPlan), "body.svg", stations{"Z": 5})
	assert.EqualError(t, err, "body.svg, frame Z: the table beside the drawing names it, but no outline has that name; rename its outline, or remove it from the table.")
}

// Malicious files take no memory. That they take no time either is checked in
// steps by the tests of the program, on the same files.
func TestHostileSVG(t *testing.T) {
	laughs := `<g id="l0"><path d="M0 0L1 1"/></g>`
	for i := 1; i < 40; i++ {
		laughs += fmt.Sprintf(`<g id="l%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#l%d"/>`, i-1), 10))
	}
	for name, text := range map[string]string{
		"entities":      `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;">]>` + page("&b;"),
		"copies":        page(laughs),
		"copy of self":  page(`<g id="a"><use href="#a"/><use href="#a"/></g>`),
		"deep":          strings.Repeat("<g>", 3000000),
		"elements":      page(strings.Repeat("<g/>", 4000000)),
		"points":        page(`<path id="A-x-0" d="M0 0` + strings.Repeat("a9 9 0 0 1 9 9", 1500000) + `"/>`),
		"attributes":    page(`<path ` + strings.Repeat(`d="" `, 3000000) + `/>`),
		"pieces":        page(`<g id="A-x-0">` + strings.Repeat(`<path d="M0 0h1"/>`, 150000) + `</g>`),
		"many outlines": page(strings.Repeat(`<path id="A" d="M0 0h1"/>`, 150000)),
		"far":           page(`<path id="A-x-0" transform="scale(1e300)" d="M0 0C1e300 1e300 1e300 1e300 1e300 1e300"/>`),
		"long number":   page(`<path id="A-x-0" d="M` + strings.Repeat("9", 10000000) + `"/>`),
		"crossed":       crossedOutlines(),
		"marked": page(`<path id="upper" d="M0 0` + strings.Repeat("l1 1l-1-1", 190) + `"/><path id="rabbet" d="M0 0` + strings.Repeat("l1 1l-1-1", 190) + `"/>` + centreLine +
			`<path id="A-x-0" d="M0 0` + strings.Repeat("l1 1l-1-1", 90000) + `"/>`),
	} {
		t.Run(name, func(t *testing.T) {
			sparing(t, func() error { _, err := readSVG(strings.NewReader(text), "", nil); return err })
		})
	}
}

// sparing checks that a file is refused using less than 500 MiB, including
// memory that has been freed.
func sparing(t *testing.T, read func() error) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	err := read()
	runtime.ReadMemStats(&after)
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "\n")
	assert.Less(t, len(err.Error()), 600)
	room := after.TotalAlloc - before.TotalAlloc
	assert.Less(t, room, uint64(500<<20))
	t.Logf("%d MiB allocated in all: %.200s", room>>20, err)
}

// crossedOutlines is a drawing whose outlines run back and forth over each
// other: the most pairs of pieces that lie close.
func crossedOutlines() string {
	var all strings.Builder
	all.WriteString(centreLine + `<path id="upper" d="M0 0` + strings.Repeat("l1 1l-1-1", 95) + `"/>`)
	for k := range 99 {
		fmt.Fprintf(&all, `<path id="A%d-x-%d" d="M0 0%s"/>`, k, k*10, strings.Repeat("l1 1l-1-1", 900))
	}
	return page(all.String())
}

// BenchmarkCrossedOutlines reads that drawing, which is refused.
func BenchmarkCrossedOutlines(b *testing.B) {
	text := crossedOutlines()
	for b.Loop() {
		if _, err := readSVG(strings.NewReader(text), "", nil); err == nil {
			b.Fatal("it was not refused")
		}
	}
}

// Our outline as written by librsvg is read as the same outline: librsvg turns
// every line into curves, changes the units and drops the names.
func TestSVGThroughRsvg(t *testing.T) {
	rsvg := external(t, "rsvg-convert")
	dir := t.TempDir()
	for k, drawn := range []string{
		`<path d="M140 20 A 40 40 0 0 1 100 60" fill="none" stroke="black"/>`,
		`<g transform="translate(100 20) rotate(90)"><path d="M0-40 A40 40 0 0 1 40 0" fill="none" stroke="black"/></g>`,
		`<g transform="translate(100,20) scale(2 0.5)"><path d="M20 0A20 80 0 0 1 0 80" fill="none" stroke="black"/></g>`,
	} {
		in, out := filepath.Join(dir, fmt.Sprint(k, ".svg")), filepath.Join(dir, fmt.Sprint(k, "-out.svg"))
		require.NoError(t, os.WriteFile(in, []byte(page(drawn)), 0o644))
		ran(t, rsvg, "-f", "svg", "-o", out, in)
		text, err := os.ReadFile(out)
		require.NoError(t, err)
		s := svgReader{byID: map[string]*svgNode{}, left: mostDrawn}
		root, ok := s.tree(text)
		require.True(t, ok)
		s.draw(root)
		require.Empty(t, s.Found)
		require.Len(t, s.strokes, 1)
		for _, q := range s.strokes[0].pts {
			// Cairo writes a cubic for each quarter, which departs from the circle by
			// 2.7e-4 of its radius.
			assert.InDelta(t, 40, q.Sub(mgl64.Vec2{100, -20}).Len(), 40*3e-4)
		}
	}
}

func FuzzReadSVG(f *testing.F) {
	f.Add([]byte(bodyPlan))
	f.Add([]byte(page(`<g id="A-x-0"><path d="M0 0C1 2 3 4 5 6S1 2 3 4Q1 2 3 4T5 6zm1 1"/></g><use href="#A-x-0"/><circle id="upper" r="3"/><path id="rabbet-A" d="M0 0h9"/>`)))
	f.Add([]byte(page(`<g id="A-x-0" transform="matrix(1 0 0 1 0 0)rotate(3)"><rect width="9" height="9"/><polygon points="0,0 9,9"/></g><line id="centre" x1="4" y2="3"/>`)))
	f.Add([]byte(page(`<path id="centre" d="M0 50H200"/><g id="waterlines"><path id="5" d="M5 50Q90 40 190 50"/><path id="10" d="M5 50Q90 30 190 50"/><path id="15" d="M5 50Q90 20 190 50"/></g><path id="WL 20" d="M5 50Q90 10 190 50z"/><path id="base" d="M0 90H200"/><path id="B 8" d="M20 60Q90 120 180 60"/><path id="rabbet-height-y-1" d="M5 88L190 86"/><path id="sheer" d="M5 50L190 44"/><path id="stem" d="M5 50L3 80"/><path id="station-F" d="M60 0V60"/><path id="origin" d="M5 0V9"/>`)))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := readSVG(bytes.NewReader(data), "", stations{"B": 3})
		if err == nil {
			require.Empty(t, h.Check())
		}
	})
}
