package drawing

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// named gives the outlines drawn under a name.
func named(d *Drawing, name string) []Outline {
	var out []Outline
	for _, o := range d.Outlines {
		if o.Name == name {
			out = append(out, o)
		}
	}
	return out
}

// Everything that a drawing says about a line is found with it, and the hull
// made from what was found is the one that was read.
func TestOutlinesCarryWhatWasFound(t *testing.T) {
	drawn := page(`<g id="layer4" inkscape:groupmode="layer" inkscape:label="Body plan">` + centreLine + `
<path id="base" d="M60 60h80"/><g id="frame-A-x-0"><path d="M140 20L140 40L120 58L100 60"/></g>
<path id="B-x-6cm" d="M140 20 A 40 40 0 0 1 100 60"/><path id="C-x-120" d="M140 20 A 40 40 0 0 1 100 60"/>
<circle id="upper-B" cx="139" cy="29" r="1.5"/><circle id="rabbet" cx="104" cy="60.5" r="1"/></g>
<path id="mould" d="M10 10h20v5h-20z"/>`)
	d, found := checkedSVG(strings.NewReader(drawn), "", nil)
	require.Empty(t, found)
	assert.Equal(t, "mm", d.Unit)
	a := named(d, "frame-A-x-0")
	require.Len(t, a, 1)
	assert.Equal(t, "Body plan", a[0].Layer)
	assert.Equal(t, "A", a[0].Frame)
	assert.True(t, a[0].Placed)
	assert.Equal(t, []int{1, 2}, a[0].Corners)
	assert.InDelta(t, 20+math.Hypot(20, 18)+math.Hypot(20, 2), a[0].Length(), 1e-9)
	low, high := a[0].Bounds()
	assert.Equal(t, [2]mgl64.Vec2{{100, -60}, {140, -20}}, [2]mgl64.Vec2{low, high})
	assert.Equal(t, 60.0, named(d, "B-x-6cm")[0].X)
	circle := named(d, "upper-B")
	require.Len(t, circle, 1)
	assert.Equal(t, UpperMark, circle[0].Mark)
	assert.Equal(t, "B", circle[0].Frame)
	assert.True(t, circle[0].Closed)
	other := named(d, "mould")
	require.Len(t, other, 1)
	assert.Empty(t, other[0].Layer)
	assert.Empty(t, other[0].Frame+other[0].Mark)

	again, found := remade(t, d.Outlines, Options{})
	require.Empty(t, found)
	assert.Equal(t, d.Hull, again.Hull)
	// The marks are at the centres of the circles.
	b := d.Hull.Frames[1]
	assert.InDelta(t, 0, math.Hypot(b.Points[0].Y()-40*39/math.Hypot(39, 9), b.Points[0].Z()-(40-40*9/math.Hypot(39, 9))), 0.02)

	var less []Outline // without its circles every frame runs to its ends
	for _, o := range d.Outlines {
		if !strings.Contains(o.Name, "upper") && !strings.Contains(o.Name, "rabbet") {
			less = append(less, o)
		}
	}
	again, found = remade(t, less, Options{})
	require.Empty(t, found)
	quarter(t, again.Hull.Frames[1], 60, 40)
}

// A place marked by a single point is listed too.
func TestPointsOfADrawingAreListed(t *testing.T) {
	text := drawn(middle + arcOn("A-x-0") + arcOn("B-x-60") + arcOn("C-x-120") + groups(0, "POINT", 8, "rabbet", 10, 100+40*math.Sin(0.2), 20, 60-40*math.Cos(0.2)))
	d, found := checkedDXF(strings.NewReader(text), "", nil)
	require.Empty(t, found)
	o := named(d, "rabbet")
	require.Len(t, o, 1)
	assert.Len(t, o[0].Points, 1)
	again, found := remade(t, d.Outlines, Options{})
	require.Empty(t, found)
	assert.Equal(t, d.Hull, again.Hull)
	assert.InDelta(t, 40*math.Sin(0.2), again.Hull.Frames[0].Points[len(again.Hull.Frames[0].Points)-1].Y(), 0.01)
}

// What is drawn is scaled; figures given in names and tables are not.
func TestDrawingAtAnotherScale(t *testing.T) {
	for _, c := range []struct {
		name, note string
		how        Options
		scale      float64
	}{
		{"", "", Options{}, 1},
		{"", "The drawing is scaled by 0.5.", Options{Factor: 0.5}, 0.5},
		{"", "Drawn at 1:48, for a model at 1:96: its lines are scaled by 0.5.", Options{Drawn: 48, Model: 96}, 0.5},
		{"", "Drawn at 1:96, for a model at 1:64: its lines are scaled by 1.5.", Options{Drawn: 96, Model: 64}, 1.5},
		{"scale-1-48-to-1-96", "Drawn at 1:48, for a model at 1:96: its lines are scaled by 0.5.", Options{}, 0.5},
		{"scale-1:48", "Drawn at 1:48, for a model at 1:24: its lines are scaled by 2.", Options{Model: 24}, 2},
		{"scale-1-48", "The drawing is at 1:48 and is used unscaled, for a model at that scale; give the scale of the model to scale it.", Options{}, 1},
		{"factor-2,5", "The drawing is scaled by 2.5.", Options{}, 2.5},
		{"factor-2.5", "Drawn at 1:48, for a model at 1:96: its lines are scaled by 0.5.", Options{Drawn: 48, Model: 96}, 0.5},
	} {
		path := filepath.Join(t.TempDir(), "body.svg")
		text := bodyPlan
		if c.name != "" {
			text = strings.Replace(bodyPlan, centreLine, `<g id="`+c.name+`">`+centreLine, 1)
			text = strings.Replace(text, "\n</svg>", "</g>\n</svg>", 1)
		}
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		got := lookedAt(t, path, c.how)
		require.Empty(t, got.Faults, c.name)
		for i, f := range got.Hull.Frames {
			quarter(t, f, 60*float64(i), 40*c.scale)
		}
		assert.Equal(t, c.note, strings.Join(got.Notes, " "))
	}
	_, found := remade(t, nil, Options{Factor: 1e9})
	require.Len(t, found, 1)
	assert.EqualError(t, found[0], "the drawing would be scaled by 1e+09; check the scales of the drawing and of the model.")
}

// A table beside the drawing says which line is which frame or mark.
func TestTableOfOutlines(t *testing.T) {
	dir := t.TempDir()
	path, table := filepath.Join(dir, "body.svg"), filepath.Join(dir, "body.csv")
	text := page(`<path id="path1" d="M100 0V100"/>` + strings.ReplaceAll(`<path id="old mould 1" d="D"/><path id="path7" inkscape:label="mould 2" d="D"/><g inkscape:label="3"><path d="D"/></g><circle id="top" cx="139" cy="29" r="2"/><path id="note" d="M3 3h9"/>`, "D", "M140 20 A 40 40 0 0 1 100 60"))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	require.NoError(t, os.WriteFile(table, []byte("outline,frame,x_cm\npath1,centre,\nold mould 1,A,0\nmould 2,B,6\n3,C,12\ntop,upper-B,\nnote,,\n"), 0o600))
	c := lookedAt(t, path, Options{})
	require.Empty(t, c.Faults)
	assert.Empty(t, c.Notes)
	for i, name := range []string{"A", "B", "C"} {
		f := c.Hull.Frames[i]
		assert.Equal(t, name, f.Name)
		if name != "B" {
			quarter(t, f, 60*float64(i), 40)
		}
	}
	assert.InDelta(t, 31, c.Hull.Frames[1].Points[0].Z(), 0.3, "cut off at the mark called top")
	// A stem from the side, with the x of its upper end and its half-siding.
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(text, "M3 3h9", "M30 20L40 60", 1)), 0o600))
	require.NoError(t, os.WriteFile(table, []byte("outline\tframe\tx_in\npath1\tcentre\nold mould 1\tA\t0\nmould 2\tB\t2.5\n3\tC\t5\ntop\tunused\nnote\tprofile-stem-y-1.5\t-2\n"), 0o600))
	h, err := soundHull(t, path)
	require.NoError(t, err)
	stem := h.Frames[0]
	assert.InDelta(t, 0, stem.Points[0].Sub(mgl64.Vec3{-50.8, 1.5, 40}).Len(), 1e-9)
	assert.InDelta(t, 0, stem.Points[len(stem.Points)-1].Sub(mgl64.Vec3{-40.8, 1.5, 0}).Len(), 1e-9)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	for rows, want := range map[string]string{
		"old mould 1,A,0\nold mould 1,B,3\n": ", line 3: the outline old mould 1 appears twice; leave one out.",
		"old mould 1,A\n":                    `, line 2, frame A: x is missing; give a number such as 12.5.`,
		"old mould 1,A,0\nmould 2,A,6\n":     ", line 3, frame A: an earlier frame has this name; leave one out.",
	} {
		require.NoError(t, os.WriteFile(table, []byte("outline,frame,x_mm\n"+rows), 0o600))
		_, err := soundHull(t, path)
		assert.EqualError(t, err, table+want)
	}
}

// A stem and stern from a profile view: a circle of radius 30 about a point 30
// above the base line, its foot at x = -20, and a straight, raking sternpost.
func TestProfileOfStemAndStern(t *testing.T) {
	// x = 0 lies at 50 in the profile; its base line at 100, that of the body plan at 60.
	profile := func(stem, marks string) string {
		return strings.Replace(bodyPlan, "</svg>", `<line id="base" x1="60" y1="60" x2="140" y2="60"/>
<line id="base-stem" x1="0" y1="100" x2="200" y2="100"/><line id="base-stern" x1="0" y1="100" x2="200" y2="100"/>
<path id="`+stem+`" d="M2 74 A30 30 0 0 0 30 100"/><path id="stern-y-0.25cm" d="M190 70L180 100"/>`+marks+"</svg>", 1)
	}
	stations := `<path id="station-A" d="M50 60v9"/><path id="station-C" d="M170 60v9"/>`
	check := func(d *Drawing, siding float64) {
		t.Helper()
		fr := d.Hull.Frames
		require.Len(t, fr, 5)
		stem, stern := fr[0], fr[4]
		assert.Equal(t, "stem", stem.Name)
		n := len(stem.Points)
		assert.InDelta(t, 0, stem.Points[0].Sub(mgl64.Vec3{-48, siding, 26}).Len(), 0.01)
		assert.InDelta(t, 0, stem.Points[n-1].Sub(mgl64.Vec3{-20, siding, 0}).Len(), 0.01)
		a, b := mgl64.Vec2{-48, 26}, mgl64.Vec2{-20, 0}
		half := b.Sub(a).Mul(0.5)
		up := mgl64.Vec2{-half[1], half[0]}.Normalize().Mul(math.Sqrt(900 - half.Dot(half)))
		for _, p := range stem.Points { // on the circle that was drawn
			assert.InDelta(t, 30, mgl64.Vec2{p[0], p[2]}.Sub(a.Add(half).Add(up)).Len(), 0.01)
			assert.Equal(t, siding, p[1])
		}
		assert.Equal(t, "stern", stern.Name)
		assert.Equal(t, hull.BowFirst, d.Hull.Bow)
		for _, p := range stern.Points {
			assert.InDelta(t, 130+p[2]/3, p[0], 1e-6)
			assert.Equal(t, 2.5, p[1])
		}
		quarter(t, fr[1], 0, 40)
	}
	for _, c := range []struct {
		stem, marks string
		siding      float64
	}{
		{"stem", stations, 0},
		{"profile-stem-y-1.5", stations, 1.5},
		{"Stem-y-1.5mm", `<circle id="station-B" cx="110" cy="70" r="1"/>`, 1.5},
	} {
		d, found := checkedSVG(strings.NewReader(profile(c.stem, c.marks)), "", nil)
		require.Empty(t, found, c.stem)
		check(d, c.siding)
		again, found := remade(t, d.Outlines, Options{})
		require.Empty(t, found)
		assert.Equal(t, d.Hull, again.Hull)
	}
	// Placed by the x of the upper ends, without stations.
	plain := strings.Replace(profile("profile-stem-x--48-y-1.5", ""), "stern-y-0.25cm", "profile-stern-x-140-y-2.5", 1)
	d, found := checkedSVG(strings.NewReader(plain), "", nil)
	require.Empty(t, found)
	check(d, 1.5)

	// Drawn the other way round, the bow to the right.
	mirrored := strings.NewReplacer(`"M2 74 A30 30 0 0 0 30 100"`, `"M198 74 A30 30 0 0 1 170 100"`, "M190 70L180 100", "M10 70L20 100", "M50 60v9", "M150 60v9", "M170 60v9", "M30 60v9").Replace(profile("stem", stations))
	d, found = checkedSVG(strings.NewReader(mirrored), "", nil)
	require.Empty(t, found)
	check(d, 0)

	for marks, want := range map[string]string{
		"": "the place of its profile along the hull is missing",
		strings.Replace(stations, "170", "150", 1):       "the stations marked in its profile lie 100 mm apart, but x differs by 120 mm",
		stations + `<path id="rabbet-stem" d="M0 0h9"/>`: "the mark rabbet does not meet its profile",
	} {
		_, found := checkedSVG(strings.NewReader(profile("stem", marks)), "", nil)
		require.NotEmpty(t, found)
		assert.Contains(t, found[0].Error(), "frame stem: "+want)
	}
	_, found = checkedSVG(strings.NewReader(strings.Replace(profile("stem", stations), `id="base"`, `id="floor"`, 1)), "", nil)
	require.Len(t, found, 3)
	assert.Contains(t, found[0].Error(), "it has no base line, but another frame has")
	// With an x it is an end frame, seen from the end.
	h, err := readSVG(strings.NewReader(strings.Replace(bodyPlan, "A-x-0", "stem-x-0", 1)), "", nil)
	require.NoError(t, err)
	quarter(t, h.Frames[0], 0, 40)
}

// From whole frames either half is used, or the mean; how far they differ is
// reported in every case.
func TestHalvesOfWholeFrames(t *testing.T) {
	text := page(centreLine)
	for i, more := range []float64{0, 0.3, 0.9} {
		text = strings.Replace(text, "\n</svg>", fmt.Sprintf(`<path id="%c-x-%d" d="M140 20A40 40 0 0 1 100 60A%[3]f 40 0 0 1 %f 20"/></svg>`, 'A'+i, 60*i, 40+more, 60-more)+"\n</svg>", 1)
		text = strings.Replace(text, "</svg>\n</svg>", "\n</svg>", 1)
	}
	path := filepath.Join(t.TempDir(), "body.svg")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	for half, want := range map[Half]float64{BothHalves: 40.45, RightHalf: 40, LeftHalf: 40.9} {
		c := lookedAt(t, path, Options{Half: half})
		require.Empty(t, c.Faults)
		assert.InDelta(t, want, c.Hull.Frames[2].Points[0].Y(), 0.01)
		require.Len(t, c.Drawing.Halves, 3)
		most, ok := c.Drawing.Most()
		require.True(t, ok)
		assert.Equal(t, "C", most.Frame)
		assert.InDelta(t, 0.9, most.MM, 0.002)
		assert.InDelta(t, 40, most.Z, 1, "at the top")
		require.Len(t, c.Notes, 2)
		assert.Regexp(t, `^3 frames drawn whole: the halves differ most on frame C, by 0\.90 mm, at height [\d.]+ mm and half-breadth 40\.\d mm; .+ is taken\.$`, c.Notes[0])
		assert.Contains(t, c.Notes[0], half.String())
		assert.Contains(t, c.Notes[1], "Frame B: its two halves differ by up to 0.30 mm")
	}
}

// A mark drawn as a long curve, with more points than are read, is thinned.
func TestCurvedMarkIsThinned(t *testing.T) {
	curved := `<path id="upper" d="M100 30 A200 200 0 0 0 300 230 A200 200 0 0 0 500 30"/><path id="upper" d="M20 30Q60 31 100 30"/>`
	d, found := checkedSVG(strings.NewReader(strings.Replace(bodyPlan, centreLine, centreLine+curved, 1)), "", nil)
	require.Empty(t, found)
	require.Greater(t, len(named(d, "upper")[0].Points), mostMarked)
	assert.Less(t, d.Hull.Frames[0].Points[0].Z(), 40.0)
}

// Lines without a name of their own that meet at the keel stay separate, so that
// each can be assigned; pieces of one outline are still joined.
func TestUntoldLinesThatMeetStayApart(t *testing.T) {
	frames := `<path id="path1" d="M140 20L101 60"/><path id="path2" d="M60 20L101 60"/><path id="path3" d="M135 20L101 60"/>`
	d, _ := checkedSVG(strings.NewReader(page(`<g inkscape:groupmode="layer" inkscape:label="Body plan">`+frames+`</g>`)), "", nil)
	require.Len(t, d.Outlines, 3)
	assert.Equal(t, "path2", d.Outlines[1].Called())
	assert.Equal(t, "Body plan", d.Outlines[1].Layer)
	d, _ = checkedSVG(strings.NewReader(page(`<g id="mould"><path d="M140 20L120 50"/><path d="M120 50L101 60"/></g>`)), "", nil)
	require.Len(t, d.Outlines, 1)
	assert.Len(t, d.Outlines[0].Points, 3)

	line := func(x0, y0, x1, y1 int) string {
		return groups(0, "LINE", 8, "moulds", 10, x0, 20, y0, 11, x1, 21, y1)
	}
	d, _ = checkedDXF(strings.NewReader(drawn(line(0, 0, 30, 5)+line(30, 5, 40, 40)+line(0, 0, 20, 4)+line(0, 0, 25, 8))), "", nil)
	require.Len(t, d.Outlines, 3)
	spline := func(x int) string {
		return groups(0, "LWPOLYLINE", 8, "moulds", 10, 0, 20, 0, 10, x, 20, 40)
	}
	d, _ = checkedDXF(strings.NewReader(drawn(spline(30)+spline(-30))), "", nil)
	require.Len(t, d.Outlines, 2)

	// What lies on layer 0 of a block takes the block's name.
	block := groups(0, "SECTION", 2, "BLOCKS", 0, "BLOCK", 2, "MOULD", 10, 0, 20, 0) + groups(0, "LINE", 8, "0", 10, 1, 20, 1, 11, 9, 21, 9) +
		groups(0, "ENDBLK", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES", 0, "INSERT", 8, "frames", 2, "MOULD", 0, "ENDSEC", 0, "EOF")
	d, _ = checkedDXF(strings.NewReader(block), "", nil)
	require.Len(t, d.Outlines, 1)
	assert.Equal(t, "MOULD", d.Outlines[0].Name)
	assert.Equal(t, "frames", d.Outlines[0].Layer)
}

// A grid of very many lines that belong to no frame does not prevent the frames
// from being read.
func TestGridOfManyLinesIsPassedOver(t *testing.T) {
	grid := strings.Repeat(groups(0, "LINE", 8, "grid", 10, 1, 20, 1, 11, 9, 21, 9), mostPieces+5)
	d, found := checkedDXF(strings.NewReader(strings.Replace(sloop, middle, middle+grid, 1)), "", nil)
	require.Empty(t, found)
	assert.Len(t, d.Hull.Frames, 3)
	assert.Equal(t, []string{"Left out, because they are in more than 3000 pieces: grid."}, d.Notes)
	// Nor do endless rows and columns.
	block := groups(0, "SECTION", 2, "BLOCKS", 0, "BLOCK", 2, "b", 10, 0, 20, 0, 0, "ENDBLK", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES",
		0, "INSERT", 8, "A-x-0", 2, "b", 70, 32767, 71, 2147483647, 44, 1, 45, 1, 0, "ENDSEC", 0, "EOF")
	_, found = checkedDXF(strings.NewReader(block), "", nil)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Error(), "blocks included")
}
