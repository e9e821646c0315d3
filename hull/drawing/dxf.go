package drawing

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// largestDXF is the size of the largest DXF drawing that is read, in bytes.
const largestDXF = 16 << 20

// checkDXF reads a hull from the outlines of its frames in a DXF drawing (ASCII), at
// the model's own size, as checkSVG does from SVG: the name of a line is its layer,
// or the block it lies in. It reads lines, arcs, circles, ellipses, polylines with
// bulges, splines by control or fit points, and inserted blocks, also in rows and
// columns; a point or circle on the layer of a mark marks its place. Layers that are
// off or frozen, and sheets of paper, are ignored. A drawing that names no unit is
// taken to be in mm. One in space is read from the end (inSpace).
//
// It returns what was found in the drawing, and every fault, which names the file as
// name.
func checkDXF(r io.Reader, name string, beside *beside, how Options) (*Drawing, []fault.Fault) {
	s := dxfReader{List: fault.List{File: name}, blocks: map[string]*dxfBlock{}, unit: 1, left: mostDrawn}
	d := &Drawing{}
	b := bufio.NewReader(r)
	if head, _ := b.Peek(len(binaryDXF)); string(head) == binaryDXF {
		s.Add(0, "", "save it as ASCII DXF", "the drawing is a binary DXF file")
		return d, s.Sorted()
	}
	if text, ok := plaintext.Read(b, largestDXF, &s.List); ok {
		s.read(text)
		s.bounds()
		if s.space != nil {
			d.Notes = append(d.Notes, spaceNote(s.aside))
		}
		if d.Unit = s.unitName; d.Unit == "" {
			d.Notes = append(d.Notes, tongue.T("The drawing has no unit and counts as mm."))
		}
		if s.paper > 0 && len(s.strokes) == 0 {
			s.Add(0, "", "draw the outlines in the model, or copy them there", "every line lies on a sheet of paper (a layout), none in the model")
		}
		if len(s.Found) == 0 {
			outlinesOf(s.strokes, beside, d, &s.List)
		}
	}
	d.byPlace(how, &s.List)
	d.makeHull(context.Background(), how, &s.List)
	return d, s.Sorted()
}

// bounds notes a drawing that exceeds the limits of what is read.
func (s *dxfReader) bounds() {
	if s.wild > 0 {
		s.Add(s.wild, "", "check the figures and the unit", "a coordinate is not finite or over 1 km")
	}
	if s.visits > 2*mostElements {
		s.Add(0, "", "remove lines that are not outlines", "the drawing has more than %d elements, blocks included, the most that the program reads", 2*mostElements)
	}
	if s.left < 0 {
		s.Add(0, "", "remove lines that are not outlines", "the drawing has more than %d points, the most that the program reads", mostDrawn)
	}
}

// binaryDXF is what a binary DXF file begins with.
const binaryDXF = "AutoCAD Binary DXF"

// dxfReader is the state of reading one DXF file: pairs of a group code and a
// value (AutoCAD DXF reference). Unknown pairs are ignored. No Go library that
// reads DXF was available when this was written (see the contributors' guide);
// curves through fit points use gonum.
type dxfReader struct {
	fault.List
	blocks   map[string]*dxfBlock
	entities []*dxfEntity
	tables   []*dxfEntity
	hidden   map[string]bool // layers
	unit     float64         // mm
	unitName string          // empty where none is given
	strokes  []stroke
	left     int // points
	wild     int
	visits   int // entities drawn
	paper    int // ignored, on sheets of paper
	space    *space
	aside    int // ignored: in a drawing in space, but part of no frame
}

// dxfBlock is a part of a drawing that is inserted by name.
type dxfBlock struct {
	base     mgl64.Vec2
	entities []*dxfEntity
}

// dxfPair is a group code and its value.
type dxfPair struct {
	code  int
	value string
}

// dxfEntity is a line, curve, point or insert with its groups; a polyline holds
// its corners.
type dxfEntity struct {
	kind   string
	groups []dxfPair
	inner  []*dxfEntity
	line   int
}

// text is the first value of a group, or empty.
func (e *dxfEntity) text(code int) string {
	for _, g := range e.groups {
		if g.code == code {
			return g.value
		}
	}
	return ""
}

// number is the first value of a group, or other.
func (e *dxfEntity) number(code int, other float64) float64 {
	text := e.text(code)
	if text == "" {
		return other
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// numbers are all values of a group.
func (e *dxfEntity) numbers(code int) []float64 {
	var out []float64
	for _, g := range e.groups {
		if g.code == code {
			v, err := strconv.ParseFloat(g.value, 64)
			if err != nil {
				v = math.NaN()
			}
			out = append(out, v)
		}
	}
	return out
}

// point is the point made of a group's value and that of the group ten above
// it.
func (e *dxfEntity) point(code int) mgl64.Vec2 {
	return mgl64.Vec2{e.number(code, 0), e.number(code+10, 0)}
}

// dxfUnits are the drawing units ($INSUNITS), in mm.
var dxfUnits = map[int]float64{1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 10: 914.4, 13: 0.001, 14: 100}

var dxfUnitNames = map[int]string{1: "inches", 2: "feet", 4: "mm", 5: "cm", 6: "m", 10: "yards", 13: "µm", 14: "dm"}

// read reads the sections and draws the entities.
func (s *dxfReader) read(text []byte) {
	p := &dxfPairs{text: text}
	section := ""
	var block *dxfBlock
	var whole *dxfEntity // the polyline whose corners follow
	variable := ""
	count := 0
	for {
		g, line, wrong := p.next()
		if wrong != "" {
			s.Add(line, "", "save it again as ASCII DXF", "%s", wrong)
			return
		}
		if g.code == 0 {
			if g.value == "EOF" {
				break
			}
			if count++; count > mostElements {
				s.Add(line, "", "remove lines that are not outlines", "the drawing has more than %d elements, the most that the program reads", mostElements)
				return
			}
		}
		switch {
		case p.ended:
			s.Add(0, "", "take a whole copy of it", "the file breaks off before its end")
			return
		case g.code == 0 && g.value == "SECTION":
			section = ""
		case g.code == 0 && g.value == "ENDSEC":
			section, block, whole = "-", nil, nil
		case section == "" && g.code == 2:
			section = g.value
		case section == "HEADER":
			if g.code == 9 {
				variable = g.value
			} else if variable == "$INSUNITS" && g.code == 70 {
				s.readUnit(g.value, line)
			}
		case section == "TABLES":
			gather(&s.tables, nil, g, line)
		case section == "BLOCKS" && g.code == 0 && g.value == "BLOCK":
			block, whole = &dxfBlock{}, nil
			block.entities = append(block.entities, &dxfEntity{kind: "BLOCK", line: line})
		case section == "BLOCKS" && g.code == 0 && g.value == "ENDBLK":
			if block != nil {
				s.blocks[strings.ToLower(block.entities[0].text(2))] = block
			}
			block = nil
		case section == "ENTITIES" || (section == "BLOCKS" && block != nil):
			list := &s.entities
			if block != nil {
				list = &block.entities
			}
			whole = gather(list, whole, g, line)
		}
	}
	for _, b := range s.blocks {
		b.base = b.entities[0].point(10)
		b.entities = b.entities[1:]
	}
	s.hidden = hiddenLayers(s.tables)
	if len(s.Found) == 0 {
		s.space = inSpace(s.entities, func(e *dxfEntity) bool {
			return !s.hidden[strings.ToLower(e.text(8))] && e.number(60, 0) != 1 && e.number(67, 0) != 1
		})
		s.draw(s.entities, mgl64.Scale2D(s.unit, s.unit), nil, "", 0)
		if s.space != nil {
			s.strokes = append(s.strokes, stroke{names: []string{CentreMark}, dot: true, pts: []mgl64.Vec2{{0, 0}}})
		}
	}
}

// hiddenLayers are those that are switched off (a colour below zero) or frozen, in
// lower case: the names of layers and blocks ignore case.
func hiddenLayers(tables []*dxfEntity) map[string]bool {
	out := map[string]bool{}
	for _, t := range tables {
		if t.kind == "LAYER" && (t.number(62, 7) < 0 || int(t.number(70, 0))&1 != 0) {
			out[strings.ToLower(t.text(2))] = true
		}
	}
	return out
}

// dxfDrawn are the kinds of entity that draw something, and layers, which say
// what is hidden.
var dxfDrawn = map[string]bool{
	"LAYER": true, "BLOCK": true, "INSERT": true, "LINE": true, "POINT": true, "CIRCLE": true, "ARC": true,
	"ELLIPSE": true, "LWPOLYLINE": true, "POLYLINE": true, "SPLINE": true,
}

// dxfWhole are the kinds that usually hold a whole outline, not a piece of one.
var dxfWhole = map[string]bool{"LWPOLYLINE": true, "POLYLINE": true, "SPLINE": true}

// gather adds a pair to the entity to which it belongs.
func gather(list *[]*dxfEntity, whole *dxfEntity, g dxfPair, line int) *dxfEntity {
	if g.code == 0 {
		e := &dxfEntity{kind: g.value, line: line}
		switch {
		case whole != nil && g.value == "VERTEX":
			whole.inner = append(whole.inner, e)
			return whole
		case g.value == "SEQEND":
			return nil
		}
		*list = append(*list, e)
		if g.value == "POLYLINE" {
			return e
		}
		return nil
	}
	n := len(*list)
	if n == 0 {
		return whole
	}
	e := (*list)[n-1]
	if !dxfDrawn[e.kind] {
		return whole
	}
	if whole != nil && len(whole.inner) > 0 {
		e = whole.inner[len(whole.inner)-1]
	}
	switch {
	case g.code == 2, g.code == 8, g.code >= 10 && g.code <= 79, g.code >= 210 && g.code <= 230:
		e.groups = append(e.groups, g)
	}
	return whole
}

// readUnit reads the unit of the drawing.
func (s *dxfReader) readUnit(value string, line int) {
	n, err := strconv.Atoi(value)
	if err == nil && n == 0 {
		return
	}
	mm, ok := dxfUnits[n]
	if !ok {
		s.Add(line, "", "save it in mm or inches", "the unit of the drawing, number %s, is not known", fault.Name(value))
		return
	}
	s.unit, s.unitName = mm, dxfUnitNames[n]
}

// dxfPairs reads pairs of lines.
type dxfPairs struct {
	text  []byte
	line  int
	ended bool
}

func (p *dxfPairs) next() (g dxfPair, line int, wrong string) {
	for {
		code, ok := p.row()
		value, has := p.row()
		if !ok || !has {
			p.ended = true
			return g, p.line, ""
		}
		n, err := strconv.Atoi(strings.TrimSpace(code))
		if err != nil || n < -5 || n > 1071 {
			return g, p.line - 1, tongue.T("there is %s where a group code should be", fault.Name(strings.TrimSpace(code)))
		}
		if n != 999 { // a comment
			return dxfPair{n, unescaped(strings.TrimSpace(value))}, p.line, ""
		}
	}
}

// escaped matches a character that the drawing's code page lacks, such as
// \\U+00E9.
var escaped = regexp.MustCompile(`\\U\+([0-9A-Fa-f]{4})`)

// unescaped replaces such escapes by their characters.
func unescaped(value string) string {
	if !strings.Contains(value, `\U+`) {
		return value
	}
	return escaped.ReplaceAllStringFunc(value, func(s string) string {
		n, _ := strconv.ParseInt(s[3:], 16, 32)
		return string(rune(n))
	})
}

// row gives the next line.
func (p *dxfPairs) row() (string, bool) {
	if len(p.text) == 0 {
		return "", false
	}
	p.line++
	i := bytes.IndexByte(p.text, '\n')
	if i < 0 {
		i = len(p.text) - 1
	}
	row := string(p.text[:i+1])
	p.text = p.text[i+1:]
	return strings.TrimRight(row, "\r\n"), true
}

// draw draws entities; those on layer 0 of a block lie on the layer on which the
// block is inserted.
func (s *dxfReader) draw(entities []*dxfEntity, to mgl64.Mat3, names []string, layer string, depth int) {
	for _, e := range entities {
		if s.visits > 2*mostElements {
			return
		}
		if s.visits++; s.left < 0 || len(s.strokes) > mostStrokes {
			return
		}
		on, own := e.text(8), slices.Clip(names)
		if on == "" || (on == "0" && layer != "") {
			on = layer // the block's name says more
		} else {
			own = append(own, on)
		}
		if s.hidden[strings.ToLower(on)] || e.number(60, 0) == 1 {
			continue
		}
		if depth == 0 && e.number(67, 0) == 1 { // on a sheet of paper, not in the model
			s.paper++
			continue
		}
		m := to
		if e.number(230, 1) < 0 { // drawn on the back of the plane: x to the left
			m = to.Mul3(mgl64.Scale2D(-1, 1))
		}
		var where *stands
		if s.space != nil && depth == 0 {
			if _, ok := s.space.at[e]; !ok {
				s.aside++
				continue
			}
			where, e = s.space.standsAt(e, s.unit), s.space.fromEnd(e)
		}
		p := pen{to: m, where: where, names: own, layer: on, line: e.line, strokes: &s.strokes, left: &s.left, wild: &s.wild}
		if depth == 0 && dxfWhole[e.kind] {
			p.alone = s.visits
		}
		if e.kind == "INSERT" {
			s.insert(e, m, names, on, depth)
			continue
		}
		if !e.draw(&p) {
			s.Add(e.line, "", "give it control points, or make a polyline of it", "a spline on layer %s cannot be read", fault.Name(on))
		}
		p.lift()
	}
}

// insert draws a block, once or in rows and columns; the rows and columns turn
// with it but are not scaled.
func (s *dxfReader) insert(e *dxfEntity, to mgl64.Mat3, names []string, layer string, depth int) {
	block := s.blocks[strings.ToLower(e.text(2))]
	if block == nil || depth == deepestUse {
		return
	}
	at := e.point(10)
	turned := to.Mul3(mgl64.Translate2D(at[0], at[1])).Mul3(mgl64.HomogRotate2D(e.number(50, 0) * math.Pi / 180))
	own := append(slices.Clip(names), layer, e.text(2))
	columns, across := e.times(70, 44)
	rows, up := e.times(71, 45)
	for r := range rows {
		for c := range columns {
			if s.visits++; s.visits > 2*mostElements || s.left < 0 {
				return
			}
			m := turned.Mul3(mgl64.Translate2D(float64(c)*across, float64(r)*up)).
				Mul3(mgl64.Scale2D(e.number(41, 1), e.number(42, 1))).
				Mul3(mgl64.Translate2D(-block.base[0], -block.base[1]))
			s.draw(block.entities, m, own, layer, depth+1)
		}
	}
}

// times is how often a block is inserted along one axis, and the distance
// between copies: once where that is zero, since the copies would coincide.
func (e *dxfEntity) times(count, apart int) (n int, by float64) {
	n, by = int(e.number(count, 1)), e.number(apart, 0)
	if by == 0 {
		n = 1
	}
	return max(n, 1), by
}

// draw draws one entity; it returns false for a spline that cannot be read.
// Kinds that draw no line, such as text, are ignored.
func (e *dxfEntity) draw(p *pen) bool {
	switch e.kind {
	case "LINE":
		p.move(e.point(10))
		p.lineTo(e.point(11))
	case "POINT":
		p.dot(e.point(10))
	case "CIRCLE":
		r := e.number(40, 0)
		p.sweep(e.point(10), mgl64.Vec2{r, 0}, mgl64.Vec2{0, r}, 0, 2*math.Pi)
	case "ARC":
		c, r := e.point(10), e.number(40, 0)
		from, to := e.number(50, 0)*math.Pi/180, e.number(51, 0)*math.Pi/180
		p.sweep(c, mgl64.Vec2{r, 0}, mgl64.Vec2{0, r}, from, to)
	case "ELLIPSE":
		u := e.point(11)
		v := mgl64.Vec2{-u[1], u[0]}.Mul(e.number(40, 1))
		p.sweep(e.point(10), u, v, e.number(41, 0), e.number(42, 2*math.Pi))
	case "LWPOLYLINE":
		e.polyline(p, e.corners(), int(e.number(70, 0)))
	case "POLYLINE":
		var corners []bulged
		for _, v := range e.inner {
			if int(v.number(70, 0))&16 == 0 { // 16: a control point, not a point on the line
				corners = append(corners, bulged{v.point(10), v.number(42, 0)})
			}
		}
		if flags := int(e.number(70, 0)); flags&(16|64) == 0 { // 16, 64: a mesh
			e.polyline(p, corners, flags)
		}
	case "SPLINE":
		return e.spline(p)
	}
	return true
}

// sweep draws an arc that turns to the left from one angle to the other, rad.
func (p *pen) sweep(centre, u, v mgl64.Vec2, from, to float64) {
	turn := math.Mod(to-from, 2*math.Pi)
	if turn <= 1e-12 {
		turn += 2 * math.Pi
	}
	if !(turn > 0 && u.Len() > 0) {
		p.put(mgl64.Vec2{math.NaN(), 0}, false)
		return
	}
	sin, cos := math.Sincos(from)
	p.move(centre.Add(u.Mul(cos)).Add(v.Mul(sin)))
	p.arc(centre, u, v, from, from+turn)
	if turn > 2*math.Pi-1e-9 {
		p.close()
	}
}

// bulged is a corner of a polyline; a bulge of tan(θ/4) makes the line to the
// next an arc that turns left by θ.
type bulged struct {
	at    mgl64.Vec2
	bulge float64
}

// corners are those of a lightweight polyline: each starts with its group 10.
func (e *dxfEntity) corners() []bulged {
	var out []bulged
	for _, g := range e.groups {
		n := len(out) - 1
		if g.code != 10 && (n < 0 || (g.code != 20 && g.code != 42)) {
			continue
		}
		v, err := strconv.ParseFloat(g.value, 64)
		if err != nil {
			v = math.NaN()
		}
		switch g.code {
		case 10:
			out = append(out, bulged{at: mgl64.Vec2{v, 0}})
		case 20:
			out[n].at[1] = v
		case 42:
			out[n].bulge = v
		}
	}
	return out
}

// polyline draws straight lines or arcs between corners; flag 1 closes it.
func (e *dxfEntity) polyline(p *pen, corners []bulged, flags int) {
	if len(corners) < 2 {
		return
	}
	p.move(corners[0].at)
	last := corners[0]
	for _, c := range corners[1:] {
		if p.spent() {
			return
		}
		p.bulge(last, c.at)
		last = c
	}
	if flags&1 != 0 {
		p.bulge(last, corners[0].at)
		p.close()
	}
}

// bulge draws from one corner to the next.
func (p *pen) bulge(from bulged, to mgl64.Vec2) {
	chord := to.Sub(from.at)
	b := from.bulge
	if b == 0 || chord.Len() == 0 {
		p.lineTo(to)
		return
	}
	// The centre lies (1 − b²)/4b chords to the left of the middle of the chord.
	left := mgl64.Vec2{-chord[1], chord[0]}
	centre := from.at.Add(to).Mul(0.5).Add(left.Mul((1 - b*b) / (4 * b)))
	u := from.at.Sub(centre)
	p.arc(centre, u, mgl64.Vec2{-u[1], u[0]}, 0, 4*math.Atan(b))
	p.at = to
}

// spline draws a (rational) B-spline, one curve from knot to knot, or, where
// there are no control points, the curve through its fit points.
func (e *dxfEntity) spline(p *pen) bool {
	if e.text(10) == "" && e.text(11) != "" {
		return e.fitted(p)
	}
	xs, ys := e.numbers(10), e.numbers(20)
	knots, weights := e.numbers(40), e.numbers(41)
	degree := e.number(71, 3)
	n := len(xs)
	if !(degree >= 1 && degree <= 10) || n != len(ys) || n <= int(degree) || len(knots) != n+int(degree)+1 {
		return false
	}
	d := int(degree)
	points := make([]mgl64.Vec3, n)
	for i := range points {
		w := 1.0
		if len(weights) == n {
			w = weights[i]
		}
		points[i] = mgl64.Vec3{xs[i] * w, ys[i] * w, w}
	}
	for i := 1; i < len(knots); i++ {
		if !(knots[i] >= knots[i-1]) {
			return false
		}
	}
	fresh := true
	for k := d; k < n; k++ {
		a, b := knots[k], knots[k+1]
		if a == b {
			continue
		}
		f := func(t float64) mgl64.Vec2 { return deBoor(points, knots, d, k, a+(b-a)*t) }
		if p.spent() {
			break
		}
		if fresh {
			p.move(f(0))
		}
		fresh = false
		p.curve(f)
	}
	return !fresh
}

// deBoor is the point of a B-spline at u, in the span that starts with knot k
// (de Boor, J. Approximation Theory 6, 1972).
func deBoor(points []mgl64.Vec3, knots []float64, degree, k int, u float64) mgl64.Vec2 {
	var d [11]mgl64.Vec3
	copy(d[:degree+1], points[k-degree:k+1])
	for r := 1; r <= degree; r++ {
		for j := degree; j >= r; j-- {
			i := j + k - degree
			a := (u - knots[i]) / (knots[i+degree+1-r] - knots[i])
			d[j] = d[j-1].Mul(1 - a).Add(d[j].Mul(a))
		}
	}
	return d[degree].Vec2().Mul(1 / d[degree][2])
}

// fitted draws the curve of a spline given by fit points: the cubic spline over
// the chords between them, which CAD programs draw. Its ends follow the tangents
// if these are given, and are not-a-knot ends otherwise.
func (e *dxfEntity) fitted(p *pen) bool {
	xs, ys := e.numbers(11), e.numbers(21)
	if len(xs) != len(ys) || len(xs) > mostOutline {
		return false
	}
	if n := len(xs); int(e.number(70, 0))&1 != 0 && n > 0 {
		xs, ys = append(xs, xs[0]), append(ys, ys[0])
	}
	var pts []mgl64.Vec2
	u := []float64{}
	for i := range xs {
		q := mgl64.Vec2{xs[i], ys[i]}
		if !(math.Abs(q[0]) <= 1e9 && math.Abs(q[1]) <= 1e9) {
			return false
		}
		if n := len(pts); n > 0 {
			chord := q.Sub(pts[n-1]).Len()
			if next := u[n-1] + chord; next > u[n-1] {
				pts, u = append(pts, q), append(u, next)
			}
			continue
		}
		pts, u = append(pts, q), append(u, 0)
	}
	f, ok := throughPoints(u, pts, e.end(12), e.end(13))
	if !ok {
		return false
	}
	p.move(pts[0])
	for i := 1; i < len(u) && !p.spent(); i++ {
		a, b := u[i-1], u[i]
		p.curve(func(t float64) mgl64.Vec2 { return f(a + (b-a)*t) })
	}
	return true
}

// end is the direction of a spline's end tangent, or nil where none is given.
func (e *dxfEntity) end(code int) *mgl64.Vec2 {
	d := e.point(code)
	if l := d.Len(); e.text(code) == "" || !(l > 0) || math.IsInf(l, 0) {
		return nil
	}
	d = d.Mul(1 / d.Len())
	return &d
}

// throughPoints is the cubic spline through points at increasing u. Its ends
// follow the given directions, of unit length over u, or otherwise the
// fourth-degree curve through the five points next to the end.
func throughPoints(u []float64, pts []mgl64.Vec2, start, end *mgl64.Vec2) (f func(u float64) mgl64.Vec2, ok bool) {
	n := len(pts)
	if n < 2 {
		return nil, false
	}
	near := min(n, 5)
	var axes [2]func(float64) float64
	for k := range axes {
		v := make([]float64, n)
		for i := range pts {
			v[i] = pts[i][k]
		}
		from, to := slopeAt(u[:near], v[:near], 0), slopeAt(u[n-near:], v[n-near:], near-1)
		if start != nil {
			from = start[k]
		}
		if end != nil {
			to = end[k]
		}
		if axes[k], ok = clamped(u, v, from, to); !ok {
			return nil, false
		}
	}
	return func(u float64) mgl64.Vec2 { return mgl64.Vec2{axes[0](u), axes[1](u)} }, true
}

// slopeAt is the slope of the polynomial through a few points at one of them (the
// derivative of Lagrange's form).
func slopeAt(u, v []float64, at int) float64 {
	sum := 0.0
	for i := range u {
		if i == at {
			for k := range u {
				if k != at {
					sum += v[at] / (u[at] - u[k])
				}
			}
			continue
		}
		term := v[i] / (u[i] - u[at])
		for k := range u {
			if k != i && k != at {
				term *= (u[at] - u[k]) / (u[i] - u[k])
			}
		}
		sum += term
	}
	return sum
}

// clamped is the cubic spline with the given end slopes. A cubic with those
// slopes is itself such a spline, so what remains has none, as the library
// requires.
func clamped(u, v []float64, start, end float64) (func(float64) float64, bool) {
	whole := u[len(u)-1]
	g := func(x float64) float64 { return start*x + (end-start)/(2*whole)*x*x }
	rest := make([]float64, len(v))
	for i := range v {
		rest[i] = v[i] - g(u[i])
	}
	c := &interp.ClampedCubic{}
	if err := c.Fit(u, rest); err != nil {
		return nil, false
	}
	return func(x float64) float64 { return g(x) + c.Predict(x) }, true
}
