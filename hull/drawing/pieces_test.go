package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// The launch as bulkheads on a sheet for the cutter: its sections are exact, and so are the
// cut-outs. A point of a frame lies off its section by no more than the chords of the
// drawing do, 0.8 mm long on curves of 20 mm radius and more: 0.005 mm. Where a notch was
// bridged, the cubic over 3 mm departs by less than that. Where the corner at the deck was
// cut away, the arc of a circle that continues over 3 mm departs by as much as the ellipse
// changes its curvature, 0.02 mm.

// cutting is how a bulkhead is drawn.
type cutting struct {
	slotBelow, slotAbove float64 // heights of their closed ends; 0 for none
	slotHalf             float64 // half of their width
	camber               float64
	notches              bool
	shelf                bool // the corner at the deck is notched
	half                 bool // the right half alone
}

// bulkheadOf is the closed contour of a bulkhead, from its highest point on the centre
// line round to the right; the origin is where the centre line meets the keel.
func bulkheadOf(s sourcetest.Section, how cutting) []xy {
	var right []xy
	top := s.Sheer + how.camber
	if how.slotAbove > 0 {
		y := how.slotHalf
		right = append(right, xy{0, how.slotAbove}, xy{y, how.slotAbove}, xy{y, top - how.camber*y*y/s.Half/s.Half})
	} else {
		right = append(right, xy{0, top})
	}
	for k := 1; k < 20; k++ {
		y := s.Half * float64(k) / 20
		if q := (xy{y, top - how.camber*y*y/s.Half/s.Half}); q[0] > right[len(right)-1][0] && (!how.shelf || y < s.Half-2) {
			right = append(right, q)
		}
	}
	side := s.Points(101)
	if how.shelf {
		in := xy{s.Half - 2, top - how.camber*(s.Half-2)*(s.Half-2)/s.Half/s.Half}
		k := 0
		for s.Sheer-side[k][1] < 3 {
			k++
		}
		side = append([]xy{in, {in[0], side[k][1]}}, side[k:]...)
	}
	if how.notches {
		side = notched(notched(side, 72, 3, 2, false), 33, 3, 2, false)
	}
	if how.slotBelow > 0 {
		k := 0
		for side[k][0] > how.slotHalf {
			k++
		}
		w := 1 - how.slotHalf*how.slotHalf/s.Half/s.Half
		side = append(side[:k:k], xy{how.slotHalf, s.Sheer * (1 - math.Sqrt(w))}, xy{how.slotHalf, how.slotBelow}, xy{0, how.slotBelow})
	}
	right = append(right, side...)
	if how.half {
		return right
	}
	for k := len(right) - 2; k > 0; k-- {
		right = append(right, xy{-right[k][0], right[k][1]})
	}
	return right
}

// laid is a contour turned by quarters to the left, and moved.
func laid(pts []xy, quarters int, at xy) []xy {
	out := make([]xy, len(pts))
	for i, p := range pts {
		for range quarters {
			p = xy{-p[1], p[0]}
		}
		out[i] = xy{p[0] + at[0], p[1] + at[1]}
	}
	return out
}

// cutterSheet is a sheet of bulkheads in rows of inRow, from bow to stern, each turned
// by its quarters, at arbitrary heights.
func cutterSheet(how cutting, inRow int, quarters ...int) [][]xy {
	var out [][]xy
	for i, s := range sourcetest.Launch() {
		q := 0
		if i < len(quarters) {
			q = quarters[i]
		}
		at := xy{100 * float64(i%inRow), -120*float64(i/inRow) + 3*float64(i%2)}
		middle := xy{0, s.Sheer / 2}
		out = append(out, laid(laid(bulkheadOf(s, how), 0, xy{0, -middle[1]}), q, at))
	}
	return out
}

// cutterSVG draws closed lines, each with a round hole in its middle and a letter in it.
func cutterSVG(pieces [][]xy, more string) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="800mm" height="800mm" viewBox="-200 -200 800 800">`)
	for _, p := range pieces {
		b.WriteString(`<path d="` + pathOf(p) + `z"/>`)
		c := boxOf(vecs(p))
		x, y, part := (c.x0+c.x1)/2, (c.y0+c.y1)/2, (c.x1-c.x0)/8
		fmt.Fprintf(&b, `<circle cx="%g" cy="%g" r="2"/><path d="M%g %gh2v1"/>`, x+part, svgY(y), x-part, svgY(y))
	}
	return b.String() + more + "</svg>"
}

// launchStations are the stations of the launch, in the order of its frames.
func launchStations() *Stations {
	s := &Stations{}
	for _, f := range sourcetest.Launch() {
		s.List = append(s.List, f.X)
	}
	return s
}

// girthTo is the length of a section from the sheer down to a half-breadth, by chords of
// a fine division, to 1e-7 of the length.
func girthTo(s sourcetest.Section, half float64) float64 {
	const n = 20000
	end, sum := math.Acos(half/s.Half), 0.0
	at := func(i int) (y, z float64) {
		sin, cos := math.Sincos(end * float64(i) / n)
		return s.Half * cos, s.Sheer * (1 - sin)
	}
	for i := 1; i <= n; i++ {
		y0, z0 := at(i - 1)
		y1, z1 := at(i)
		sum += math.Hypot(y1-y0, z1-z0)
	}
	return sum
}

// isLaunch checks frames against the sections of the launch, planked down to the given
// half-breadth: points to a tolerance and girths to a thousandth. The base line lies at
// the lowest end of the planking.
func isLaunch(t *testing.T, what string, h *hull.Hull, half, off float64) {
	t.Helper()
	sections := sourcetest.Launch()
	if !assert.Len(t, h.Frames, len(sections), what) {
		return
	}
	foot := math.Inf(1)
	for _, s := range sections {
		foot = min(foot, s.Sheer*(1-math.Sqrt(1-half*half/s.Half/s.Half)))
	}
	for i, s := range sections {
		f := h.Frames[i]
		assert.InDelta(t, s.X, f.X(), 1e-9, "%s: frame %s", what, s.Name)
		worst := 0.0
		for _, p := range f.Points {
			z := p.Z() + foot
			// The distance off the ellipse, by its equation divided by the length of its
			// gradient.
			u, v := p.Y()/s.Half, (s.Sheer-z)/s.Sheer
			worst = max(worst, math.Abs(u*u+v*v-1)/2/math.Hypot(u/s.Half, v/s.Sheer))
		}
		assert.LessOrEqual(t, worst, off, "%s: frame %s", what, s.Name)
		last := f.Points[len(f.Points)-1]
		assert.InDelta(t, half, last.Y(), 0.01, "%s: frame %s", what, s.Name)
		assert.InDelta(t, s.Half, f.Points[0].Y(), 0.02, "%s: frame %s", what, s.Name)
		assert.InDelta(t, s.Sheer-foot, f.Points[0].Z(), 0.1, "%s: frame %s", what, s.Name)
		assert.InEpsilon(t, girthTo(s, half), girthOf(f), 1e-3, "%s: frame %s", what, s.Name)
	}
}

func TestSheetsOfPieces(t *testing.T) {
	slots := cutting{slotBelow: 14, slotHalf: 2, camber: 1.5}
	both := cutting{slotBelow: 14, slotAbove: 30, slotHalf: 2, camber: 1.5}
	notches := slots
	notches.notches = true
	above := cutting{slotAbove: 20, slotHalf: 2.5, camber: 1}
	shelf := slots
	shelf.shelf = true
	half := cutting{half: true}
	for name, c := range map[string]struct {
		text string
		how  Options
		half float64
		off  float64
		note []string
	}{
		"one row":        {cutterSVG(cutterSheet(slots, 5), ""), Options{Level: SlotBelow}, 2, 0.005, []string{"1 to 5 from left to right", "5 holes, 5 open lines", "closed ends of the slots that come in from below"}},
		"rows":           {cutterSVG(cutterSheet(notches, 2), ""), Options{Level: SlotBelow}, 2, 0.005, []string{"row by row", "1 to 2, 3 to 4, 5", "Notches"}},
		"nested":         {cutterSVG(cutterSheet(notches, 3, 0, 2, 1, 3), ""), Options{Level: SlotBelow}, 2, 0.005, []string{"Laid upright"}},
		"slots above":    {cutterSVG(cutterSheet(above, 3, 2), ""), Options{Level: SlotAbove}, 0, 0.005, []string{"ends below on the centre line"}},
		"both slots":     {cutterSVG(cutterSheet(both, 3, 3), ""), Options{Level: SlotAbove}, 2, 0.005, nil},
		"feet level":     {cutterSVG(cutterSheet(above, 3), ""), Options{Level: FootLevel}, 0, 0.005, nil},
		"notched corner": {cutterSVG(cutterSheet(shelf, 3, 2), ""), Options{Level: SlotBelow}, 2, 0.02, []string{"Notches"}},
		"half frames":    {cutterSVG(cutterSheet(half, 3), ""), Options{Level: FootLevel}, 0, 0.005, []string{"Half frames"}},
		"edge of sheet":  {cutterSVG(cutterSheet(slots, 5), `<rect x="-150" y="-150" width="700" height="700"/>`), Options{Level: SlotBelow}, 2, 0.005, []string{"the edge of the sheet"}},
		"cut twice":      {cutterSVG(append(cutterSheet(slots, 5), cutterSheet(slots, 5)...), ""), Options{Level: SlotBelow}, 2, 0.005, []string{"1 to 5 from left to right", "5 holes"}},
		"ends apart":     {strings.ReplaceAll(cutterSVG(spreadOut(cutterSheet(slots, 5)), ""), `z"/>`, `"/>`), Options{Level: SlotBelow}, 2, 0.005, []string{"5 outlines do not quite meet"}},
		"letters":        {cutterSVG(cutterSheet(slots, 3), `<circle cx="-100" cy="-100" r="3"/>`), Options{Level: SlotBelow, Upright: true}, 2, 0.005, []string{"1 small closed line"}},
	} {
		c.how.Stations = launchStations()
		d, found := checkSVG(strings.NewReader(c.text), "", &beside{}, c.how)
		if !assert.Empty(t, found, name) {
			continue
		}
		isLaunch(t, name, &d.Hull, c.half, c.off)
		for _, n := range c.note {
			assert.Contains(t, strings.Join(d.Notes, " "), n, name)
		}
	}
}

func TestSheetsOfPiecesAreRefused(t *testing.T) {
	slots := cutting{slotBelow: 14, slotHalf: 2, camber: 1.5}
	sheet := cutterSheet(slots, 3)
	bad := func(i int, p []xy) [][]xy {
		out := cutterSheet(slots, 3)
		out[i] = p
		return out
	}
	s := sourcetest.Launch()[2]
	none := bulkheadOf(s, cutting{camber: 1})
	skew := append(laid(none, 0, xy{}), xy{5, 20})
	wide := append([]xy{{0, s.Sheer}}, notched(s.Points(101), 22, 18, 5, false)...)
	for k := len(wide) - 2; k > 0; k-- {
		wide = append(wide, xy{-wide[k][0], wide[k][1]})
	}
	block := []xy{{-20, 0}, {-20, 30}, {20, 30}, {20, 0}}
	all := launchStations()
	for name, c := range map[string]struct {
		pieces [][]xy
		more   string
		how    Options
		says   string
	}{
		"no stations":       {sheet, "", Options{Level: SlotBelow}, "the places of its frames along the hull are missing"},
		"too few stations":  {sheet, "", Options{Level: SlotBelow, Stations: &Stations{List: []float64{0, 1}}}, "you gave 2 stations, but the drawing has 5 frames"},
		"no spacing":        {sheet, "", Options{Level: SlotBelow, Stations: &Stations{}}, "no distance between them"},
		"no height":         {sheet, "", Options{Stations: all}, "does not give the height of its frame; all have a slot from below"},
		"unknown height":    {sheet, "", Options{Stations: all, Level: "knee"}, "no height"},
		"no such slot":      {sheet, "", Options{Stations: all, Level: SlotAbove}, "it has no slot that comes in from above"},
		"one without":       {bad(2, laid(none, 0, xy{200, 0})), "", Options{Stations: all, Level: SlotBelow}, `frame 3`},
		"rows as drawn":     {sheet, "", Options{Stations: all, Level: DrawnLevel}, "the pieces overlap"},
		"turned, as drawn":  {cutterSheet(slots, 5, 1), "", Options{Stations: all, Level: DrawnLevel}, "turned by 270 degrees"},
		"not alike":         {bad(2, laid(skew, 0, xy{200, -30})), "", Options{Stations: all, Level: FootLevel}, "neither the same on both sides"},
		"wide notch":        {bad(2, laid(wide, 0, xy{200, -30})), "", Options{Stations: all, Level: FootLevel}, "too wide to be bridged"},
		"no corner":         {bad(2, laid(circle(30), 0, xy{200, 0})), "", Options{Stations: all, Level: FootLevel}, "no corner where its side meets the deck"},
		"open lines alone":  {nil, `<path d="M0 0h80v30"/><path d="M0 50h80v30"/>`, Options{Stations: all, Level: SlotBelow}, "no outline of the drawing shows which frame it is"},
		"an open line":      {sheet, `<path d="M400 400h80v30"/>`, Options{Stations: all, Level: SlotBelow}, "an open line 110 mm long may be one as well"},
		"set off for kerf":  {append(cutterSheet(slots, 3), setOff(sheet[1])), "", Options{Stations: all, Level: SlotBelow}, "lies close inside another"},
		"upside down, told": {cutterSheet(slots, 3, 2), "", Options{Stations: all, Level: FootLevel, Upright: true}, "frame 1"},
		"a block":           {bad(2, laid(block, 0, xy{200, 0})), "", Options{Stations: all, Level: SlotBelow}, "its shape does not show which way is up"},
	} {
		_, found := checkSVG(strings.NewReader(cutterSVG(c.pieces, c.more)), "", &beside{}, c.how)
		if assert.NotEmpty(t, found, name) {
			assert.Contains(t, found[0].Error(), c.says, name)
		}
	}
}

// spreadOut makes contours end 0.3 mm from where they began, on the deck.
func spreadOut(pieces [][]xy) [][]xy {
	for i, p := range pieces {
		pieces[i] = append(p, xy{p[0][0] - 0.3, p[0][1]})
	}
	return pieces
}

// setOff is a contour made slightly smaller.
func setOff(pts []xy) []xy {
	out := make([]xy, len(pts))
	b := boxOf(vecs(pts))
	for i, p := range pts {
		out[i] = xy{p[0] + 0.006*((b.x0+b.x1)/2-p[0]), p[1] + 0.006*((b.y0+b.y1)/2-p[1])}
	}
	return out
}

// A piece may lie in the hole of another; what holds everything is the edge of the
// sheet.
func TestWhatLiesInWhat(t *testing.T) {
	square := func(x, y, side float64) closedLine {
		o := Outline{Closed: true, Points: vecs([]xy{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}})}
		return closedLine{Outline: o, box: boxOf(o.Points), area: side * side}
	}
	all := []closedLine{square(0, 0, 40), square(5, 5, 30), square(10, 10, 20), square(60, 0, 40), square(70, 10, 5)}
	edge, twin := nested(all)
	assert.Equal(t, []int{-1, -1, 0, 1, 2, 0, 1}, []int{edge, twin, all[0].depth, all[1].depth, all[2].depth, all[3].depth, all[4].depth})
	all = append(all, square(-100, -100, 300))
	for i := range all {
		all[i].depth = 0
	}
	edge, _ = nested(all)
	assert.Equal(t, []int{5, 0, 1, 2, 0, 1}, []int{edge, all[0].depth, all[1].depth, all[2].depth, all[3].depth, all[4].depth})
}

// circle is a circle about the origin.
func circle(r float64) []xy {
	var out []xy
	for k := range 90 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 90)
		out = append(out, xy{r * cos, r * sin})
	}
	return out
}

// In DXF a contour is one polyline, or lines that meet in any order, and holes are circles.
func TestSheetsOfPiecesInDXF(t *testing.T) {
	pieces := cutterSheet(cutting{slotBelow: 14, slotHalf: 2, camber: 1.5, notches: true}, 3, 0, 2)
	for _, kind := range []string{"LWPOLYLINE", "LINE"} {
		var b strings.Builder
		for _, p := range pieces {
			c := boxOf(vecs(p))
			b.WriteString(dxfOf(kind, "CUT", append(slices.Clip(p), p[0])))
			b.WriteString(groups(0, "CIRCLE", 8, "CUT", 10, (c.x0+c.x1)/2+10, 20, (c.y0+c.y1)/2, 40, 4))
		}
		d, found := checkDXF(strings.NewReader(drawn(b.String())), "", &beside{}, Options{Level: SlotBelow, Stations: launchStations()})
		require.Empty(t, found, kind)
		isLaunch(t, kind, &d.Hull, 2, 0.005)
		assert.Contains(t, strings.Join(d.Notes, " "), "5 holes", kind)
	}
}

// vecs converts points to the type that package drawing uses.
func vecs(pts []xy) []mgl64.Vec2 {
	out := make([]mgl64.Vec2, len(pts))
	for i, p := range pts {
		out[i] = mgl64.Vec2(p)
	}
	return out
}

// Round frames of arcs and lines, one upside down: an arc's girth is a quarter of a circle.
func TestPiecesOfArcs(t *testing.T) {
	radii := []float64{20, 30, 35, 30}
	var b strings.Builder
	for i, r := range radii {
		x, y, from := 100*float64(i), 0.0, 180
		if i == 2 {
			y, from = -r, 0
		}
		b.WriteString(groups(0, "ARC", 8, "0", 10, x, 20, y, 40, r, 50, from, 51, from+180))
		b.WriteString(groups(0, "LINE", 8, "0", 10, x+r, 20, y, 11, x-r, 21, y))
	}
	d, found := checkDXF(strings.NewReader(drawn(b.String())), "", &beside{}, Options{Level: DeckLevel, Stations: &Stations{From: 5, Every: 25}})
	require.Empty(t, found)
	for i, r := range radii {
		f := d.Hull.Frames[i]
		assert.InDelta(t, 5+25*float64(i), f.X(), 1e-12)
		assert.InEpsilon(t, math.Pi/2*r, girthOf(f), 1e-3)
		assert.InDelta(t, 35, f.Points[0].Z(), 1e-3, "the deck is level, and the deepest frame stands on the base line")
		assert.InDelta(t, 35-r, f.Points[len(f.Points)-1].Z(), 1e-3)
	}
	assert.Contains(t, strings.Join(d.Notes, " "), `3 by 180 degrees`)
}

// Pieces named as frames are read as pieces where the options say so, with the holes drawn
// under the same name; also side by side at their heights.
func TestNamedPieces(t *testing.T) {
	for name, level := range map[string]Level{"slots": SlotBelow, "as drawn": DrawnLevel} {
		var b strings.Builder
		for i, s := range sourcetest.Launch() {
			p := laid(bulkheadOf(s, cutting{slotBelow: 14, slotHalf: 2, camber: 1.5}), 0, xy{100 * float64(i), 0})
			fmt.Fprintf(&b, `<g id="%s-x-%g"><path d="%sz"/><circle cx="%d" cy="%g" r="3"/></g>`, s.Name, s.X, pathOf(p), 100*i+10, svgY(25))
		}
		text := sheet(b.String())
		d, found := checkSVG(strings.NewReader(text), "", &beside{}, Options{Level: level})
		require.Empty(t, found, name)
		isLaunch(t, name, &d.Hull, 2, 0.005)
		assert.Equal(t, "A", d.Hull.Frames[0].Name)
		_, found = checkSVG(strings.NewReader(text), "", &beside{}, Options{Level: level, Stations: launchStations()})
		assert.Contains(t, firstOf(found), "gives its x")
		_, found = checkSVG(strings.NewReader(strings.Replace(text, "</svg>", `<path id="upper" d="M0 0h9"/></svg>`, 1)), "", &beside{}, Options{Level: level})
		assert.Contains(t, firstOf(found), "upper does not go with frames drawn as pieces to cut")
		_, found = checkSVG(strings.NewReader(strings.Replace(text, "</svg>", `<path id="F-x-300" d="M0 0h9v9"/></svg>`, 1)), "", &beside{}, Options{Level: level})
		assert.Contains(t, firstOf(found), "must be closed, and this one is open")
	}
}

// Where the names in a drawing give no x, the frames stand at the stations given, by
// number.
func TestStationsOfADrawing(t *testing.T) {
	var b strings.Builder
	for i, s := range sourcetest.Launch() {
		b.WriteString(plain(fmt.Sprintf("frame-%d", 8+i), outlineOf(s, 91)))
	}
	beside := &beside{as: map[string]string{}}
	for i := range sourcetest.Launch() {
		beside.as[fmt.Sprintf("frame-%d", 8+i)] = fmt.Sprint(8 + i)
	}
	d, found := checkSVG(strings.NewReader(sheet(svgCentre+b.String())), "", beside, Options{Stations: launchStations()})
	require.Empty(t, found)
	for i, s := range sourcetest.Launch() {
		assert.Equal(t, fmt.Sprint(8+i), d.Hull.Frames[i].Name)
		assert.InDelta(t, s.X, d.Hull.Frames[i].X(), 0)
	}
}
