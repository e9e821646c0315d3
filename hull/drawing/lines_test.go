package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// Hulls of known shape, drawn as waterlines and buttocks in many forms. Every point of
// every frame lies on the hull, to within the flatness of lines drawn as curves, or the
// distance of the chords from it for polylines; or the drawing is refused with a sentence
// that helps.

// drawnLine is a line of a plan as drawn, with its name.
type drawnLine struct {
	name   string
	pts    []xy
	closed bool
}

// Where the plans lie on the page, y upwards: their x 0, the centre line and the base line.
const planX, planCentre, planBase = 20.0, 60.0, 140.0

// at places a curve in a plan.
func at(name string, pts []xy, y, mirror float64) drawnLine {
	out := drawnLine{name: name}
	for _, p := range pts {
		out.pts = append(out.pts, xy{planX + p[0], y + mirror*p[1]})
	}
	return out
}

// plans says what is drawn of a hull.
type plans struct {
	form            sourcetest.Form
	waters, butts   []float64
	sheer, rabbet   bool
	waterOf, buttOf func(v float64) string // names
}

func namedAs(format string) func(float64) string {
	return func(v float64) string { return fmt.Sprintf(format, v) }
}

const lineParts = 301

// lines draws the plans, with the centre line and base line.
func (p plans) lines() (out []drawnLine) {
	f := p.form
	level := func(name string, y float64) drawnLine { return at(name, []xy{{f.From, 0}, {f.To, 0}}, y, 1) }
	if len(p.waters) > 0 {
		out = append(out, level("centre", planCentre))
	}
	for _, z := range p.waters {
		out = append(out, at(p.waterOf(z), f.Waterline(z, lineParts), planCentre, 1))
	}
	if len(p.butts) > 0 || p.sheer || p.rabbet {
		out = append(out, level("base", planBase))
	}
	for _, y := range p.butts {
		out = append(out, at(p.buttOf(y), f.Buttock(y, lineParts), planBase, 1))
	}
	if p.sheer {
		out = append(out, at("sheer-height", f.Limit(lineParts, f.Sheer), planBase, 1),
			at("sheer-breadth", f.Limit(lineParts, func(x float64) float64 { return f.Breadth(x, f.Sheer(x)) }), planCentre, 1))
	}
	if p.rabbet {
		out = append(out, at(fmt.Sprintf("rabbet-height-y-%g", f.Siding), f.Limit(lineParts, f.Rabbet), planBase, 1))
	}
	return out
}

// svgLines and dxfLines draw lines.
func svgLines(lines []drawnLine) string {
	var b strings.Builder
	for _, l := range lines {
		d := pathOf(l.pts)
		if l.closed {
			d += "Z"
		}
		fmt.Fprintf(&b, `<path id="%s" d="%s"/>`, l.name, d)
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">` + b.String() + "</svg>"
}

func dxfLines(lines []drawnLine) string {
	var b strings.Builder
	for _, l := range lines {
		flag := 0
		if l.closed {
			flag = 1
		}
		g := []any{0, "LWPOLYLINE", 8, l.name, 90, len(l.pts), 70, flag}
		for _, p := range l.pts {
			g = append(g, 10, fmt.Sprintf("%.6f", p[0]), 20, fmt.Sprintf("%.6f", p[1]))
		}
		b.WriteString(groups(g...))
	}
	return drawn(b.String())
}

// offForm is the farthest that a point of a frame lies off the hull.
func offForm(form sourcetest.Form, f hull.Frame, x0 float64) (worst float64) {
	for _, p := range f.Points {
		x := p.X() - x0
		z := min(max(p.Z(), form.Rabbet(x)), form.Sheer(x))
		worst = max(worst, min(math.Abs(p.Y()-form.Breadth(x, z))+math.Abs(p.Z()-z), math.Abs(p.Z()-form.Height(x, p.Y()))+max(p.Y()-form.Breadth(x, form.Sheer(x)), 0)))
	}
	return worst
}

// chordOff is how far the chords of the polylines lie off the curves, with the rounding of
// the drawing: the pinnace's lines bend by at least 1/60 mm, except at the ends of
// buttocks, and its chords are up to 1.3 mm long, h²/8r.
const chordOff = 0.005

func pinnace() plans {
	return plans{form: sourcetest.Pinnace(), waters: []float64{6, 10, 15, 20, 26, 32, 38}, butts: []float64{6, 12, 18, 24},
		sheer: true, rabbet: true, waterOf: namedAs("WL %g"), buttOf: namedAs("buttock-%g")}
}

func readLines(text string, how Options) (*Drawing, string) {
	d, found := Check(strings.NewReader(text), "lines.x", how)
	if len(found) > 0 {
		return d, found[0].Error()
	}
	return d, ""
}

// Wigley's waterlines are parabolas: one curve each, in SVG and DXF.
func TestWaterlinesAsCurves(t *testing.T) {
	var svg, dxf strings.Builder
	svg.WriteString(`<path id="centre" d="M0 200H700"/>`)
	dxf.WriteString(groups(0, "LINE", 8, "centre", 10, 0, 20, 0, 11, 700, 21, 0))
	for k := 1; k <= 6; k++ {
		z := 37.5 * float64(k) / 6
		y, _ := sourcetest.Wigley(0, z/37.5)
		fmt.Fprintf(&svg, `<path id="waterline %gmm" d="M50 200Q350 %.9g 650 200"/>`, z, 200-2*y)
		dxf.WriteString(groups(0, "SPLINE", 8, fmt.Sprintf("WL_%g", z), 70, 8, 71, 2, 72, 6, 73, 3, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1,
			10, 50, 20, 0, 30, 0, 10, 350, 20, fmt.Sprintf("%.9g", 2*y), 30, 0, 10, 650, 20, 0, 30, 0))
	}
	stations := []float64{60, 110.5, 200, 350, 480.25, 640}
	for kind, text := range map[string]string{
		"SVG": `<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400">` + svg.String() + "</svg>",
		"DXF": drawn(dxf.String()),
	} {
		d, wrong := readLines(text, Options{Stations: &Stations{List: stations}})
		require.Empty(t, wrong, kind)
		require.Len(t, d.Hull.Frames, len(stations)+2, kind)
		for i, x := range stations {
			f := d.Hull.Frames[i+1]
			assert.InDelta(t, x, f.X(), 1e-9)
			assert.Len(t, f.Points, 6)
			for _, p := range f.Points {
				y, _ := sourcetest.Wigley(x-350, p.Z()/37.5)
				assert.InDelta(t, y, p.Y(), flatness+1e-6, "%s, x %g", kind, x)
			}
		}
		for _, end := range []hull.Frame{d.Hull.Frames[0], d.Hull.Frames[len(stations)+1]} { // y is 0 there, and the end upright
			assert.True(t, end.IsEnd())
			for _, p := range end.Points {
				assert.InDelta(t, 300, math.Abs(p.X()-350), 1e-6)
				assert.InDelta(t, 0, p.Y(), 1e-6)
			}
		}
		assert.Contains(t, strings.Join(d.Notes, " "), "The drawing shows no shape below its lowest line")
	}
}

// linesVariant is one form of the drawing.
type linesVariant struct {
	lines  []drawnLine
	how    Options
	refuse string
	note   string
	off    float64 // chordOff where 0
	x0     float64 // planX where 0
	least  int     // frames
}

func mirroredIn(l drawnLine, axis int, about float64) drawnLine {
	l.pts = slices.Clone(l.pts)
	for i := range l.pts {
		l.pts[i][axis] = 2*about - l.pts[i][axis]
	}
	return l
}

func moved(l drawnLine, scale, dx, dy float64) drawnLine {
	l.pts = slices.Clone(l.pts)
	for i, p := range l.pts {
		l.pts[i] = xy{scale*p[0] + dx, scale*p[1] + dy}
	}
	return l
}

// each maps the lines whose names begin with the prefix; one may become
// several.
func eachLine(lines []drawnLine, prefix string, to func(l drawnLine) []drawnLine) (out []drawnLine) {
	for _, l := range lines {
		if strings.HasPrefix(l.name, prefix) {
			out = append(out, to(l)...)
		} else {
			out = append(out, l)
		}
	}
	return out
}

func without(lines []drawnLine, prefix string) []drawnLine {
	return eachLine(lines, prefix, func(drawnLine) []drawnLine { return nil })
}

func linesVariants() map[string]linesVariant {
	whole := pinnace()
	waters, butts := whole, whole
	waters.butts, waters.rabbet, waters.sheer = nil, false, false
	butts.waters, butts.sheer = nil, false
	butts.butts = []float64{3, 6, 12, 18, 24}
	one := func(l drawnLine) []drawnLine { return []drawnLine{l} }
	stations := Options{Stations: &Stations{List: []float64{60, 90, 130.5, 180, 220}}}
	every := Options{Stations: &Stations{Every: 20}}
	sheerPlan := func(l drawnLine) bool {
		return strings.Contains(l.name, "height") || strings.HasPrefix(l.name, "buttock") || l.name == "base"
	}
	only := func(lines []drawnLine, is func(drawnLine) bool, to func(drawnLine) drawnLine) (out []drawnLine) {
		for _, l := range lines {
			if is(l) {
				l = to(l)
			}
			out = append(out, l)
		}
		return out
	}
	unnamed := func(lines []drawnLine) []drawnLine {
		return eachLine(lines, "WL", func(l drawnLine) []drawnLine {
			l.name = fmt.Sprintf("path%d", 1000-len(l.name)*7-int(l.pts[150][1]))
			return one(l)
		})
	}
	evenly := waters
	evenly.waters = []float64{10, 16, 22, 28, 34}
	evenWaters := Options{Lines: &Lines{Shows: ShowsWaterlines, Waterlines: Even{10, 6}}, Stations: &Stations{List: []float64{60, 120, 200}}}
	numbers := evenly
	numbers.waterOf = func(z float64) string { return fmt.Sprintf("WL %g", (z-4)/6) }
	withUnits := numbers // which are then heights, too small for this hull
	withUnits.waterOf = func(z float64) string { return fmt.Sprintf("WL %gmm", (z-4)/60) }
	withLevels := append(whole.lines(), at("WL 10", []xy{{0, 10}, {240, 10}}, planBase, 1), at("WL 38", []xy{{0, 38}, {240, 38}}, planBase, 1))
	halfLevels := append(waters.lines(), at("WL 10", []xy{{0, 5}, {240, 5}}, planBase, 1), at("WL 38", []xy{{0, 19}, {240, 19}}, planBase, 1))
	bothSides := eachLine(waters.lines(), "WL", func(l drawnLine) []drawnLine {
		l.pts = append(slices.Clone(l.pts), backwards(mirroredIn(l, 1, planCentre).pts)...)
		l.closed = true
		return one(l)
	})
	twoHalves := eachLine(waters.lines(), "WL", func(l drawnLine) []drawnLine { return []drawnLine{l, mirroredIn(l, 1, planCentre)} })
	closedHalf := eachLine(waters.lines(), "WL", func(l drawnLine) []drawnLine {
		n := len(l.pts)
		l.pts = append(append([]xy{{l.pts[0][0], planCentre}}, l.pts...), xy{l.pts[n-1][0], planCentre})
		l.closed = true
		return one(l)
	})
	lopsided := eachLine(twoHalves, "WL 20", func(l drawnLine) []drawnLine {
		if l.pts[150][1] < planCentre {
			l = moved(l, 1, 0, 0.4)
		}
		return one(l)
	})
	doubling := eachLine(waters.lines(), "WL 26", func(l drawnLine) []drawnLine { // it turns back at its after end
		n := len(l.pts)
		x, y := l.pts[n-1][0], l.pts[n-1][1]
		l.pts = append(slices.Clone(l.pts), xy{x + 4, y - 4}, xy{x - 30, y - 14})
		return one(l)
	})
	inPieces := eachLine(whole.lines(), "WL", func(l drawnLine) []drawnLine {
		a, b := l, l
		a.pts, b.pts = l.pts[:111], backwards(l.pts[110:])
		return []drawnLine{a, b}
	})
	gapped := eachLine(whole.lines(), "WL 20", func(l drawnLine) []drawnLine {
		a, b := l, l
		a.pts, b.pts = l.pts[:150], l.pts[152:]
		return []drawnLine{a, b}
	})
	stationMarks := append(whole.lines(), at("station-fore", []xy{{60, -30}, {60, 30}}, planCentre, 1), at("station-mid", []xy{{100, -30}, {100, 30}}, planCentre, 1),
		at("station-aft", []xy{{200.5, -30}, {200.5, 30}}, planCentre, 1), at("origin", []xy{{0, -5}, {0, 5}}, planCentre, 1))
	grown := func(l drawnLine) drawnLine { return moved(l, 2, 0, 0) }
	profile := eachLine(eachLine(whole.lines(), "sheer-height", func(l drawnLine) []drawnLine { l.name = "upper"; return one(l) }),
		"sheer-breadth", func(l drawnLine) []drawnLine { l.name = "deck"; return one(l) })
	return map[string]linesVariant{
		"both plans":                {lines: whole.lines(), how: every, least: 10},
		"with stations of our own":  {lines: whole.lines(), how: stations, least: 5},
		"told by place":             {lines: profile, how: stations, least: 5},
		"waterlines alone":          {lines: waters.lines(), how: stations, note: "no shape below its lowest line", least: 5},
		"nothing said":              {lines: waters.lines(), note: "You gave no stations", least: 20},
		"buttocks alone":            {lines: butts.lines(), how: stations, note: "Frames end above at the highest line", off: 0.02, least: 4},
		"waterlines and the rabbet": {lines: without(without(whole.lines(), "buttock"), "sheer"), how: stations, least: 5},
		"in pieces":                 {lines: inPieces, how: stations, least: 5},
		"with a gap":                {lines: gapped, how: stations, note: "Gaps were bridged: waterline 20", off: 0.01, least: 5},
		"both sides, closed":        {lines: bothSides, how: stations, note: "the halves agree", least: 5},
		"both sides, no centre":     {lines: without(bothSides, "centre"), how: stations, least: 5},
		"two halves":                {lines: twoHalves, how: stations, note: "the halves agree", least: 5},
		"the right half":            {lines: lopsided, how: Options{Half: RightHalf, Stations: stations.Stations}, note: "the halves differ most on frame", least: 5},
		"closed halves":             {lines: closedHalf, how: stations, least: 5},
		"closed, no centre":         {lines: without(closedHalf, "centre"), how: stations, least: 5},
		"levels of the other plan":  {lines: without(withLevels, "base"), how: stations, least: 5},
		"half size":                 {lines: only(whole.lines(), func(drawnLine) bool { return true }, func(l drawnLine) drawnLine { return moved(l, 0.5, 0, 0) }), how: Options{Factor: 2, Stations: stations.Stations}, least: 5},
		"by the marks of stations":  {lines: stationMarks, x0: -1, least: 4},
		"evenly spaced":             {lines: unnamed(evenly.lines()), how: evenWaters, note: "are ordered by how they lie", least: 3},
		"numbered, evenly spaced":   {lines: numbers.lines(), how: evenWaters, least: 3},
		"sheer plan elsewhere":      {lines: only(whole.lines(), sheerPlan, func(l drawnLine) drawnLine { return moved(l, 1, 33, 5) }), how: stations, note: "moved along by -33 mm", least: 5},

		"a line along the foot": {lines: eachLine(unnamed(evenly.lines()), "centre", func(l drawnLine) []drawnLine { l.name = "path9"; return one(l) }), how: evenWaters, note: "along the foot of the waterlines", least: 3},

		"heights not named":      {lines: unnamed(evenly.lines()), how: Options{Lines: &Lines{Shows: ShowsWaterlines}}, refuse: "the height of"},
		"nothing named":          {lines: unnamed(evenly.lines()), refuse: "shows which frame it is"},
		"numbered":               {lines: numbers.lines(), how: stations, refuse: "are numbered 1 to 5"},
		"numbers with a unit":    {lines: withUnits.lines(), how: stations, refuse: "check the scales of the drawing and of the model, and the heights"},
		"no centre line":         {lines: without(waters.lines(), "centre"), how: stations, refuse: "do not show the centre line"},
		"no base line":           {lines: without(whole.lines(), "base"), how: stations, refuse: "the height 0 of the waterlines is missing"},
		"doubling back":          {lines: doubling, how: Options{Stations: &Stations{List: []float64{60, 90, 250}}}, refuse: "waterline 26 crosses the station at x 250 mm more than once on one side"},
		"two of one name":        {lines: append(waters.lines(), moved(waters.lines()[4], 1, 0, -2)), how: stations, refuse: "more than once on one side"},
		"two, evenly set":        {lines: append(waters.lines(), moved(waters.lines()[4], 1, 0, -2)), refuse: "more than once on one side"},
		"one plan at twice":      {lines: only(whole.lines(), sheerPlan, grown), how: stations, refuse: "the two plans do not agree"},
		"one plan the other way": {lines: only(whole.lines(), sheerPlan, func(l drawnLine) drawnLine { return mirroredIn(l, 0, planX+120) }), how: stations, refuse: "the two plans do not agree"},
		"levels at half":         {lines: halfLevels, how: stations, refuse: "are drawn 14 mm apart, but their names give 28 mm"},
		"in metres":              {lines: only(waters.lines(), func(drawnLine) bool { return true }, func(l drawnLine) drawnLine { return moved(l, 0.001, 0, 0) }), refuse: "scale"},
		"beyond the end":         {lines: whole.lines(), how: Options{Stations: &Stations{List: []float64{60, 90, 300}}}, refuse: "the station at x 300 mm lies beyond the lines"},
		"too few":                {lines: without(without(waters.lines(), "WL 3"), "WL 2"), how: stations, refuse: "but a frame needs 4 points"},
		"upright": {lines: only(waters.lines(), func(drawnLine) bool { return true }, func(l drawnLine) drawnLine {
			for i, p := range l.pts {
				l.pts[i] = xy{p[1], p[0]}
			}
			return l
		}), how: stations, refuse: "leans by 90"},
		"a straight line, called so": {lines: []drawnLine{at("WL 10", []xy{{0, 10}, {240, 10}}, planCentre, 1), at("WL 20", []xy{{0, 20}, {240, 20}}, planCentre, 1), at("centre", []xy{{0, 0}, {240, 0}}, planCentre, 1)}, refuse: "but the drawing has none"},
	}
}

func TestPlansOfLines(t *testing.T) {
	for name, v := range linesVariants() {
		for kind, text := range map[string]string{"SVG": svgLines(v.lines), "DXF": dxfLines(v.lines)} {
			what := name + ", " + kind
			d, wrong := readLines(text, v.how)
			if v.refuse != "" {
				assert.Contains(t, wrong, v.refuse, what)
				continue
			}
			if !assert.Empty(t, wrong, what) {
				continue
			}
			x0, off := planX, chordOff
			if v.x0 < 0 {
				x0 = 0
			}
			if v.off > 0 {
				off = v.off
			}
			if name == "half size" {
				x0 = planX
			}
			assert.GreaterOrEqual(t, len(d.Hull.Frames), v.least, what)
			assert.Contains(t, strings.Join(d.Notes, " "), v.note, what)
			for _, f := range d.Hull.Frames {
				assert.LessOrEqual(t, offForm(sourcetest.Pinnace(), f, x0), off, "%s, frame %s", what, f.Name)
			}
		}
	}
}

// With the limits in both plans a frame runs from sheer to rabbet, and has a point on each
// line in between.
func TestFramesReachTheirLimits(t *testing.T) {
	p := pinnace()
	d, wrong := readLines(svgLines(p.lines()), Options{Stations: &Stations{List: []float64{80, 120, 200}}})
	require.Empty(t, wrong)
	form := p.form
	for _, f := range d.Hull.Frames {
		if f.IsEnd() {
			continue
		}
		x := f.X() - planX
		first, last := f.Points[0], f.Points[len(f.Points)-1]
		assert.InDelta(t, form.Sheer(x), first.Z(), chordOff)
		assert.InDelta(t, form.Breadth(x, form.Sheer(x)), first.Y(), chordOff)
		assert.InDelta(t, form.Rabbet(x), last.Z(), chordOff)
		assert.InDelta(t, form.Siding, last.Y(), 1e-9)
		assert.GreaterOrEqual(t, len(f.Points), 10)
		assert.Empty(t, f.Knuckles)
	}
}

// Wigley's hull in both plans, mirrored fore and aft and drawn whole: its volume, by the
// trapezoidal rule over frames and their points, is that of the formula, 4/9 of L B T
// (integrated by hand), to the errors of that rule.
func TestWigleyByBothPlans(t *testing.T) {
	p := plans{form: sourcetest.WigleyForm(), waters: []float64{4, 8, 12, 16, 20, 25, 30, 37.5}, butts: []float64{4, 8, 14, 20}, rabbet: true, waterOf: namedAs("waterline-%gmm"), buttOf: namedAs("B %g")}
	lines := eachLine(p.lines(), "waterline", func(l drawnLine) []drawnLine { return []drawnLine{l, mirroredIn(l, 1, planCentre)} })
	for kind, text := range map[string]string{"SVG": svgLines(lines), "DXF": dxfLines(lines)} {
		d, wrong := readLines(text, Options{Stations: &Stations{From: -280 + 1, Every: 19.95}})
		require.Empty(t, wrong, kind)
		frames, volume, area := d.Hull.Frames, 0.0, 0.0
		require.GreaterOrEqual(t, len(frames), 28, kind)
		for i, f := range frames {
			assert.LessOrEqual(t, offForm(p.form, f, planX), chordOff, "%s, frame %s", kind, f.Name)
			own := 0.0
			for j := 1; j < len(f.Points); j++ {
				a, b := f.Points[j-1], f.Points[j]
				own += (a.Y() + b.Y()) * (a.Z() - b.Z()) // both sides
			}
			if i > 0 {
				volume += (own + area) / 2 * (f.X() - frames[i-1].X())
			}
			area = own
		}
		assert.InEpsilon(t, 4.0/9*600*60*37.5, volume, 0.01, kind)
	}
}
