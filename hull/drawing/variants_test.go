package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// The launch is drawn in many forms. Each is either read correctly, every girth to
// a thousandth, or to a two-hundredth where something in it is bridged, or it is
// refused with the sentence that helps. None may be read wrongly without a word.

// variant is one form of the launch.
type variant struct {
	text   string
	refuse string  // in the fault with which it is refused; empty where it is read
	note   string  // in the notes about it
	off    float64 // by which girths may be off, as a share; a thousandth where 0
}

// centre and foot are where the middle of the keel lies in the drawings, y upwards.
const centre, foot = 60.0, 10.0

// xy is a point of a drawing, y upwards, mm.
type xy = [2]float64

// outlineOf is the right half of a section, from the sheer down.
func outlineOf(s sourcetest.Section, n int) []xy {
	out := s.Points(n)
	for i, p := range out {
		out[i] = xy{centre + p[0], foot + p[1]}
	}
	return out
}

// mirrored is the same on the left half.
func mirrored(pts []xy) []xy {
	out := make([]xy, len(pts))
	for i, p := range pts {
		out[i] = xy{2*centre - p[0], p[1]}
	}
	return out
}

// backwards is the same run backwards.
func backwards(pts []xy) []xy {
	out := make([]xy, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

// svgY turns a height into the page's y, which runs downwards.
func svgY(y float64) float64 { return 80 - y }

// pathOf is the data of a path.
func pathOf(pts []xy) string {
	var b strings.Builder
	for i, p := range pts {
		fmt.Fprintf(&b, "%c%.5f %.5f", "ML"[min(i, 1)], p[0], svgY(p[1]))
	}
	return b.String()
}

// each draws every section, using a function of its right half.
func each(draw func(s sourcetest.Section, id string, right []xy) string) string {
	var b strings.Builder
	for _, s := range sourcetest.Launch() {
		b.WriteString(draw(s, fmt.Sprintf("%s-x-%g", s.Name, s.X), outlineOf(s, 91)))
	}
	return b.String()
}

const svgCentre = `<path id="centre" d="M60 0V80"/>`

// sheet is a page of 120 by 80 mm.
func sheet(inside string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">` + inside + "</svg>"
}

// plain is a path of one frame.
func plain(id string, pts []xy) string { return `<path id="` + id + `" d="` + pathOf(pts) + `"/>` }

// inPieces draws an outline as a group of pieces in any order and direction, with
// the given gaps between them along it and to the side.
func inPieces(r *rand.Rand, id string, pts []xy, pieces int, along, aside float64) string {
	parts := cutUp(r, pts, pieces, along, aside)
	var b strings.Builder
	for _, p := range parts {
		b.WriteString(`<path d="` + pathOf(p) + `"/>`)
	}
	return `<g id="` + id + `">` + b.String() + "</g>"
}

// cutUp is an outline in pieces.
func cutUp(r *rand.Rand, pts []xy, pieces int, along, aside float64) [][]xy {
	var parts [][]xy
	n := (len(pts) - 1) / pieces
	for k := range pieces {
		from, to := k*n, (k+1)*n
		if k == pieces-1 {
			to = len(pts) - 1
		}
		part := append([]xy{}, pts[from:to+1]...)
		if k > 0 { // it begins away from the end of the one before
			d := xy{part[1][0] - part[0][0], part[1][1] - part[0][1]}
			l := math.Hypot(d[0], d[1])
			part[0] = xy{part[0][0] + (d[0]*along-d[1]*aside)/l, part[0][1] + (d[1]*along+d[0]*aside)/l}
		}
		if r.IntN(2) == 0 {
			part = backwards(part)
		}
		parts = append(parts, part)
	}
	r.Shuffle(len(parts), func(i, k int) { parts[i], parts[k] = parts[k], parts[i] })
	return parts
}

// notched cuts a notch of the given width and depth across an outline at point i; a
// negative depth makes a tab. A sharp one comes to a point.
func notched(pts []xy, i int, width, depth float64, sharp bool) []xy {
	k := i
	for math.Hypot(pts[k][0]-pts[i][0], pts[k][1]-pts[i][1]) < width {
		k++
	}
	a, b := pts[i], pts[k]
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	in := xy{(b[1] - a[1]) / l * depth, -(b[0] - a[0]) / l * depth} // to the right, going down
	out := append([]xy{}, pts[:i+1]...)
	if sharp {
		out = append(out, xy{(a[0]+b[0])/2 + in[0], (a[1]+b[1])/2 + in[1]})
	} else {
		out = append(out, xy{a[0] + in[0], a[1] + in[1]}, xy{b[0] + in[0], b[1] + in[1]})
	}
	return append(out, pts[k:]...)
}

// inset is an outline set in by the given distance.
func inset(pts []xy, by float64) []xy {
	out := make([]xy, len(pts))
	for i, p := range pts {
		out[i] = xy{centre + (p[0]-centre)*(1-by/40), p[1] + by}
	}
	return out
}

// svgVariants are the forms of an SVG drawing.
func svgVariants() map[string]variant {
	r := func() *rand.Rand { return rand.New(rand.NewPCG(15, 1)) }
	pieces := func(n int, along, aside float64) string {
		r := r()
		return sheet(svgCentre + each(func(_ sourcetest.Section, id string, p []xy) string { return inPieces(r, id, p, n, along, aside) }))
	}
	drawn := func(f func(id string, p []xy) string) string {
		return sheet(svgCentre + each(func(_ sourcetest.Section, id string, p []xy) string { return f(id, p) }))
	}
	all := drawn(plain)
	second := func(head, attribute string) string {
		return strings.Replace(drawn(func(id string, p []xy) string {
			return plain(id, p) + strings.Replace(plain(id, inset(p, -3)), "<path", "<path "+attribute, 1)
		}), svgCentre, head+svgCentre, 1)
	}
	whole := func(p []xy) []xy { return append(slices.Clip(p), backwards(mirrored(p))[1:]...) }
	deck := func(p []xy) []xy { return append([]xy{{centre, p[0][1] + 1}}, p...) }
	rail := func(p []xy) []xy { return append([]xy{{p[0][0] - 2, p[0][1] - 8}, {p[0][0] - 2, p[0][1]}}, p...) }
	slot := func(p []xy) []xy {
		n := slices.IndexFunc(p, func(q xy) bool { return q[0] < centre+2 })
		return append(p[:n:n], xy{centre + 1.5, foot}, xy{centre + 1.5, foot + 5}, xy{centre, foot + 5})
	}
	upper := func(s string) string {
		return strings.Replace(s, svgCentre, svgCentre+each(func(s sourcetest.Section, _ string, p []xy) string {
			return fmt.Sprintf(`<path id="upper-%s" d="M%g %gh10"/>`, s.Name, p[0][0]-5, svgY(p[0][1]-0.001))
		}), 1)
	}
	inner := func(open, closing string) string {
		return sheet(svgCentre + open + strings.TrimPrefix(each(func(_ sourcetest.Section, id string, p []xy) string { return plain(id, p) }), "") + closing)
	}
	bridged, twoLines := "are bridged", "two separate lines have its name"
	hide := "<style>.aux{stroke:red;display:none}</style>"
	return map[string]variant{
		"halves":      {text: all},
		"left halves": {text: drawn(func(id string, p []xy) string { return plain(id, mirrored(p)) })},
		"upwards":     {text: drawn(func(id string, p []xy) string { return plain(id, backwards(p)) })},
		"whole":       {text: sheet(each(func(_ sourcetest.Section, id string, p []xy) string { return plain(id, whole(p)) })), note: "drawn whole"},
		"two halves apart": {text: drawn(func(id string, p []xy) string {
			return `<g id="` + id + `">` + plain("", p) + plain("", mirrored(p)) + "</g>"
		})},
		"in pieces": {text: pieces(7, 0, 0)},
		"tiny gaps": {text: pieces(7, 0.02, 0)},
		"gaps":      {text: pieces(4, 0.3, 0), note: bridged, off: 0.002},
		"one gap":   {text: pieces(2, 0.5, 0), note: bridged, off: 0.002},
		"overlaps":  {text: pieces(4, -0.3, 0), note: bridged, off: 0.005},
		"steps":     {text: pieces(3, 0, 0.2), note: bridged, off: 0.005},
		"wide gap":  {text: pieces(2, 6, 0), refuse: "its outline breaks off"},
		"half missing": {text: drawn(func(id string, p []xy) string {
			return `<g id="` + id + `">` + plain("", p[:40]) + plain("", p[80:]) + "</g>"
		}), refuse: "two separate lines have its name"},
		"drawn twice":           {text: drawn(func(id string, p []xy) string { return plain(id, p) + plain(id, backwards(p)) })},
		"twice in pieces":       {text: strings.Replace(pieces(5, 0, 0), "</svg>", strings.TrimPrefix(pieces(5, 0, 0), strings.TrimSuffix(sheet(""), "</svg>")), 1)},
		"second line":           {text: second("", ""), refuse: twoLines},
		"hidden by class":       {text: second(hide, `class="thin aux"`)},
		"second line close by":  {text: drawn(func(id string, p []xy) string { return plain(id, p) + plain(id, inset(p, 0.8)) }), refuse: twoLines},
		"class not hidden":      {text: second(hide, `class="auxiliary"`), refuse: twoLines},
		"hidden in CDATA":       {text: second("<defs><style><![CDATA[ /* a */ path.aux , .b { display : none } ]]></style></defs>", `class="aux"`)},
		"hidden by visibility":  {text: second("<style>.aux{visibility:hidden}</style>", `class="aux"`)},
		"hidden group":          {text: second("<style>#spare .aux, g.no>path{display:none}</style>", `class="aux"`), refuse: twoLines},
		"hidden within a group": {text: strings.Replace(strings.Replace(second("<style>#spare > .aux{display:none}</style>", `class="aux"`), svgCentre, svgCentre+`<g id="spare">`, 1), "</svg>", "</g></svg>", 1)},
		"hidden on paper":       {text: second("<style>@media print{.aux{display:none}}</style>", `class="aux"`), refuse: twoLines},
		"hidden on the screen":  {text: second("<style>@media screen{.aux{display:none}}</style>", `class="aux"`)},
		"shown by style":        {text: second(hide, `class="aux" style="display:inline"`), refuse: twoLines},
		"display attribute":     {text: second("", `display="none"`)},
		"visibility of a group": {text: strings.Replace(strings.Replace(all, svgCentre, svgCentre+`<g visibility="hidden"><path id="A-x-0" d="M60 0L90 20"/><g visibility="visible">`, 1), "</svg>", "</g></g></svg>", 1)},
		"notch":                 {text: drawn(func(id string, p []xy) string { return plain(id, notched(p, 40, 3, 2, false)) }), note: "Notches", off: 0.002},
		"notches": {text: drawn(func(id string, p []xy) string {
			return plain(id, notched(notched(p, 60, 3, 3, false), 20, 4, 3, false))
		}), note: "Notches", off: 0.002},
		"sharp notch":                 {text: drawn(func(id string, p []xy) string { return plain(id, notched(p, 30, 3, 3, true)) }), note: "Notches", off: 0.002},
		"tab":                         {text: drawn(func(id string, p []xy) string { return plain(id, notched(p, 40, 3, -2, false)) }), note: "Notches", off: 0.002},
		"wide notch":                  {text: drawn(func(id string, p []xy) string { return plain(id, notched(p, 30, 20, 5, false)) }), refuse: "too wide to be bridged"},
		"slot for a keel":             {text: drawn(func(id string, p []xy) string { return plain(id, slot(p)) }), refuse: "turns up again at its lower end"},
		"slot, with a rabbet":         {text: strings.Replace(drawn(func(id string, p []xy) string { return plain(id, slot(p)) }), svgCentre, svgCentre+fmt.Sprintf(`<circle id="rabbet" cx="61.5" cy="%g" r="0.5"/>`, svgY(foot)), 1), off: 0.03},
		"deck":                        {text: drawn(func(id string, p []xy) string { return plain(id, deck(p)) }), refuse: "as over a deck or a rail"},
		"deck, with upper":            {text: upper(drawn(func(id string, p []xy) string { return plain(id, deck(p)) }))},
		"rail":                        {text: drawn(func(id string, p []xy) string { return plain(id, rail(p)) }), refuse: "as over a deck or a rail"},
		"bulkheads":                   {text: drawn(func(id string, p []xy) string { return plain(id, whole(p)) + "" }), note: "drawn whole"},
		"closed":                      {text: drawn(func(id string, p []xy) string { return strings.Replace(plain(id, whole(p)), `"/>`, `z"/>`, 1) }), refuse: "does not show the limits"},
		"in inches":                   {text: strings.Replace(all, `width="120mm" height="80mm"`, `width="4.7244094488in" height="3.1496062992in"`, 1)},
		"in pixels":                   {text: strings.Replace(all, `width="120mm" height="80mm"`, `width="453.54330709" height="302.36220472"`, 1), note: "96 to the inch"},
		"in points":                   {text: strings.Replace(all, `width="120mm" height="80mm"`, `width="340.15748031pt"`, 1)},
		"scaled group":                {text: inner(`<g transform="translate(60 80) scale(2) scale(.5) translate(-60-80)">`, "</g>")},
		"turned group":                {text: inner(`<g transform="rotate(90 10 20)"><g transform="rotate(-90,10,20)">`, "</g></g>")},
		"symbol":                      {text: inner(`<symbol id="all" viewBox="0 0 120 80" width="60" height="40">`, `</symbol><use href="#all" width="120" height="80"/>`)},
		"symbol of its own size":      {text: inner(`<symbol id="all" viewBox="0 0 240 160" width="240" height="160">`, `</symbol><use href="#all"/>`)},
		"symbol of the page's size":   {text: inner(`<symbol id="all" viewBox="0 0 120 80">`, `</symbol><use href="#all"/>`)},
		"symbol without a box":        {text: inner(`<symbol id="all" width="7" height="9">`, `</symbol><use href="#all"/>`)},
		"inner drawing":               {text: inner(`<svg width="100%" height="100%" viewBox="0 0 120 80">`, "</svg>")},
		"inner drawing in the middle": {text: inner(`<svg x="-60" width="240" height="80" viewBox="0 0 120 80">`, "</svg>")},
		"two centre lines":            {text: strings.Replace(all, svgCentre, svgCentre+strings.Replace(svgCentre, "M60", "M64", 1), 1), refuse: "2 lines are named centre"},
		"leaning centre line":         {text: strings.Replace(all, svgCentre, `<path id="centre" d="M60 0L63 80"/>`, 1), refuse: "leans by"},
		"nobody's names":              {text: sheet(svgCentre + each(func(_ sourcetest.Section, _ string, p []xy) string { return plain("", p) })), refuse: "no outline of the drawing shows which frame it is"},
		"namespace entities": {text: `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [
	<!ENTITY ns_svg "http://www.w3.org/2000/svg">
	<!ENTITY boat 'A-x-0'>
]>` + strings.NewReplacer(`"http://www.w3.org/2000/svg"`, `"&ns_svg;"`, `"A-x-0"`, `"&boat;"`).Replace(all)},
		"entities in entities": {text: `<!DOCTYPE svg [<!ENTITY a "xx"><!ENTITY b "&a;&a;">]>` + strings.Replace(all, `"A-x-0"`, `"&b;"`, 1), refuse: "not one of XML's own"},
		"Latin letters":        {text: strings.Replace(`<?xml version="1.0" encoding="ISO-8859-1"?>`+all, "A-x-0", "A-x-0\" class=\"\xe9t\xe9", 1)},
		"prefixed":             {text: strings.NewReplacer("<svg xmlns=", "<v:svg xmlns:v=", "</svg", "</v:svg", "<path", "<v:path").Replace(all)},
	}
}

// dxfOf is an entity through points.
func dxfOf(kind, layer string, pts []xy) string {
	switch kind {
	case "LINE":
		var b strings.Builder
		for i := 1; i < len(pts); i++ {
			b.WriteString(groups(0, "LINE", 8, layer, 10, pts[i-1][0], 20, pts[i-1][1], 11, pts[i][0], 21, pts[i][1]))
		}
		return b.String()
	case "POLYLINE":
		text := groups(0, "POLYLINE", 8, layer, 66, 1, 70, 0)
		for _, p := range pts {
			text += groups(0, "VERTEX", 8, layer, 10, p[0], 20, p[1])
		}
		return text + groups(0, "SEQEND")
	case "SPLINE":
		text := groups(0, "SPLINE", 8, layer, 70, 8, 71, 3, 74, len(pts))
		for _, p := range pts {
			text += groups(11, p[0], 21, p[1], 31, 0)
		}
		return text
	}
	text := groups(0, "LWPOLYLINE", 8, layer, 90, len(pts), 70, 0)
	for _, p := range pts {
		text += groups(10, p[0], 20, p[1])
	}
	return text
}

// onPaper puts entities on a sheet of paper.
func onPaper(entities string) string {
	return strings.ReplaceAll(entities, groups(0, "LWPOLYLINE"), groups(0, "LWPOLYLINE", 67, 1))
}

// dxfVariants are the forms of a DXF drawing.
func dxfVariants() map[string]variant {
	centreLine := groups(0, "LINE", 8, "centre", 10, centre, 20, 0, 11, centre, 21, 90)
	as := func(kind string) string {
		return each(func(_ sourcetest.Section, id string, p []xy) string { return dxfOf(kind, id, p) })
	}
	light := as("LWPOLYLINE")
	layers := func(flag, colour int, entities string) string {
		table := groups(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LAYER")
		for _, s := range sourcetest.Launch() {
			table += groups(0, "LAYER", 2, "OLD-"+s.Name, 70, flag, 62, colour)
		}
		return table + groups(0, "ENDTAB", 0, "ENDSEC") + entities
	}
	inBlocks := each(func(s sourcetest.Section, id string, p []xy) string {
		return groups(0, "BLOCK", 8, "0", 2, "Section "+s.Name, 70, 0, 10, centre, 20, 0) + dxfOf("LWPOLYLINE", "0", p) + groups(0, "ENDBLK")
	})
	old := func(string) string { // on another layer of the frame's block
		return each(func(s sourcetest.Section, id string, p []xy) string {
			return dxfOf("LWPOLYLINE", id, p) + groups(0, "INSERT", 8, id, 2, "spare "+s.Name, 10, 0, 20, 0)
		})
	}
	spares := each(func(s sourcetest.Section, _ string, p []xy) string {
		return groups(0, "BLOCK", 2, "Spare "+s.Name, 10, 0, 20, 0) + dxfOf("LWPOLYLINE", "old-"+s.Name, inset(p, -3)) + groups(0, "ENDBLK")
	})
	withBlocks := func(blocks, entities string) string {
		return groups(0, "SECTION", 2, "BLOCKS") + blocks + groups(0, "ENDSEC") + entities
	}
	solid := func(axis int, layer func(s sourcetest.Section) string) string { // lines in space
		return each(func(s sourcetest.Section, _ string, p []xy) string {
			on := layer(s)
			text := groups(0, "POLYLINE", 8, on, 66, 1, 70, 8)
			for _, q := range p {
				v := [2]float64{s.X, q[0] - centre}
				text += groups(0, "VERTEX", 8, on, 70, 32, 10, v[axis], 20, v[1-axis], 30, q[1])
			}
			return text + groups(0, "SEQEND")
		})
	}
	named := func(s sourcetest.Section) string { return s.Name }
	waterline := groups(0, "POLYLINE", 8, "waterlines", 66, 1, 70, 8, 0, "VERTEX", 10, 0, 20, 20, 30, 30, 0, "VERTEX", 10, 100, 20, 40, 30, 30, 0, "VERTEX", 10, 190, 20, 24, 30, 30, 0, "SEQEND")
	r := rand.New(rand.NewPCG(15, 2))
	gaps := func(n int, along float64) string {
		return each(func(_ sourcetest.Section, id string, p []xy) string {
			text := ""
			for _, part := range cutUp(r, p, n, along, 0) {
				text += dxfOf("LWPOLYLINE", id, part)
			}
			return text
		})
	}
	return map[string]variant{
		"light polylines": {text: drawn(centreLine + light)},
		"polylines":       {text: drawn(centreLine + as("POLYLINE"))},
		"lines":           {text: drawn(centreLine + as("LINE"))},
		"splines":         {text: drawn(centreLine + as("SPLINE"))},
		"ellipses": {text: drawn(centreLine + each(func(s sourcetest.Section, id string, _ []xy) string {
			return groups(0, "ELLIPSE", 8, id, 10, centre, 20, foot+s.Sheer, 11, 0, 21, -s.Sheer, 40, s.Half/s.Sheer, 41, 0, 42, math.Pi/2)
		}))},
		"blocks": {text: withBlocks(inBlocks, drawn(centreLine+each(func(s sourcetest.Section, id string, _ []xy) string {
			return groups(0, "INSERT", 8, id, 2, "SECTION "+s.Name, 10, centre, 20, 0)
		})))},
		"in inches":          {text: strings.Replace(drawn(centreLine+light), " 70\n4\n", " 70\n1\n", 1), refuse: ""},
		"spare lines seen":   {text: withBlocks(spares, drawn(centreLine+old(""))), refuse: "two separate lines have its name"},
		"spare lines off":    {text: layers(0, -7, withBlocks(spares, drawn(centreLine+old(""))))},
		"spare lines frozen": {text: layers(1, 7, withBlocks(spares, drawn(centreLine+old(""))))},
		"a print of it":      {text: drawn(centreLine + light + onPaper(each(func(_ sourcetest.Section, id string, p []xy) string { return dxfOf("LWPOLYLINE", id, inset(p, -6)) })))},
		"on paper alone":     {text: drawn(onPaper(light)), refuse: "lies on a sheet of paper"},
		"drawn twice":        {text: drawn(centreLine + light + light)},
		"in pieces":          {text: drawn(centreLine + gaps(6, 0))},
		"gaps":               {text: drawn(centreLine + gaps(3, 0.4)), note: "are bridged", off: 0.002},
		"wide gap":           {text: drawn(centreLine + gaps(2, 8)), refuse: "its outline breaks off"},
		"notch": {text: drawn(centreLine + each(func(_ sourcetest.Section, id string, p []xy) string {
			return dxfOf("LWPOLYLINE", id, notched(p, 45, 3, 4, false))
		})), note: "Notches", off: 0.002},
		"a code page":                 {text: strings.ReplaceAll(strings.Replace(drawn(centreLine+light), groups(9, "$INSUNITS"), groups(9, "$DWGCODEPAGE", 3, "ANSI_1252", 9, "$INSUNITS"), 1), "centre", "Centre") + "", note: ""},
		"in space":                    {text: drawn(solid(0, named)), note: "drawn in three dimensions"},
		"in space, y along the hull":  {text: drawn(solid(1, named) + strings.NewReplacer(" 10\n", " 20\n", " 20\n", " 10\n").Replace(waterline)), note: "1 line"},
		"in space, on one layer":      {text: drawn(waterline + solid(0, func(sourcetest.Section) string { return "stations" })), note: "1 line"},
		"in space, named with an x":   {text: drawn(solid(0, func(s sourcetest.Section) string { return fmt.Sprintf("%s-x-%g", s.Name, s.X) })), note: "drawn in three dimensions"},
		"in space, two lines a frame": {text: drawn(solid(0, named) + strings.ReplaceAll(solid(0, named), " 30\n", " 30\n1")), refuse: "frame A"},
		"binary":                      {text: binaryDXF + "\r\n\x1a\x00", refuse: "save it as ASCII DXF"},
	}
}

// girthOf is the length along a frame's points, on circles through each three.
func girthOf(f hull.Frame) float64 {
	sum := 0.0
	for i := 1; i < len(f.Points); i++ {
		sum += f.Points[i].Sub(f.Points[i-1]).Len() * bow(f, i)
	}
	return sum
}

// bow is the arc in excess of its chord, from point i-1 to i: from the turn of the
// outline at each of these, half of which falls to each adjacent chord.
func bow(f hull.Frame, i int) float64 {
	turn := 0.0
	for _, k := range []int{max(i-1, 1), min(i, len(f.Points)-2)} {
		a, b, c := f.Points[k-1], f.Points[k], f.Points[k+1]
		u, v := b.Sub(a), c.Sub(b)
		turn += math.Acos(min(max(u.Dot(v)/u.Len()/v.Len(), -1), 1)) / 2 * f.Points[i].Sub(f.Points[i-1]).Len() / ((u.Len() + v.Len()) / 2)
	}
	return 1 + turn*turn/24
}

func TestDrawingsOfTheLaunch(t *testing.T) {
	check := func(t *testing.T, name string, v variant, d *Drawing, found string, mm float64) {
		if v.refuse != "" {
			assert.Contains(t, found, v.refuse, name)
			return
		}
		if !assert.Empty(t, found, name) || !assert.Len(t, d.Hull.Frames, len(sourcetest.Launch()), name) {
			return
		}
		off := max(v.off, 1e-3)
		for i, s := range sourcetest.Launch() {
			assert.InEpsilon(t, s.Girth()*mm, girthOf(d.Hull.Frames[i]), off, "%s: frame %s", name, s.Name)
			assert.InDelta(t, s.Half*mm, d.Hull.Frames[i].Points[0].Y(), 0.05*mm, "%s: frame %s", name, s.Name)
		}
		assert.Contains(t, strings.Join(d.Notes, " "), v.note, name)
		if v.note == "" {
			assert.NotContains(t, strings.Join(d.Notes, " "), "bridged", name)
		}
	}
	svg, dxf := svgVariants(), dxfVariants()
	for name, v := range svg {
		d, found := checkedSVG(strings.NewReader(v.text), "", nil)
		check(t, "SVG, "+name, v, d, firstOf(found), 1)
	}
	for name, v := range dxf {
		mm := 1.0
		if name == "in inches" {
			mm = 25.4
		}
		d, found := checkedDXF(strings.NewReader(v.text), "", nil)
		check(t, "DXF, "+name, v, d, firstOf(found), mm)
	}
	t.Logf("%d guises", len(svg)+len(dxf))
	assert.Greater(t, len(svg)+len(dxf), 60)
}

// firstOf is the first fault, or empty.
func firstOf(found []fault.Fault) string {
	if len(found) == 0 {
		return ""
	}
	return found[0].Error()
}
