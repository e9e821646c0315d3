package source

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Limits of a table of offsets.
const (
	largestOffsetsFile = 20 << 20 // bytes
	closest            = 50       // part of a station's outline: the closest that two points may lie
	mostLines          = 200      // waterlines, buttocks and diagonals, so that their points are quickly sorted
	largestOffset      = 1e7      // mm at full size, 10 km: more means a wrong unit
	nearest            = 16       // steps of rounding that two points of a station keep apart where they can
)

// offsetsKey is the word in the first field by which a table of offsets is best
// recognised.
const offsetsKey = "offsets"

// ReadOffsets reads a hull from a shipyard's table of offsets (CSV), a column a
// station and a row a line of the draught:
//
//	offsets
//	unit,ft-in-8ths
//	scale,1:48
//	to,outside
//	planking,0-0-3
//	station,,1,2,3
//	x,,0-0-0,6-0-0,12-0-0
//	height,sheer,14-2-0,13-8-4,13-4-0
//	half-breadth,sheer,9-1-4,10-6-2,11-0-6+
//	half-breadth,12-0-0,9-0-0,10-4-4,10-11-2
//	height,4-0-0,,1-7-2,1-2-0
//	diagonal,12-0-0/45,8-3-0,9-2-6,9-8-0
//	height,rabbet,1-0-0,1-0-0,1-0-0
//	half-breadth,rabbet,0-6-0,0-6-0,0-6-0
//
// The first line may be left out, and the kind of a line and its place may share the
// first column (waterline 12-0-0, buttock 4-0-0, height of sheer), with the stations
// from the second on; or headings (half-breadths, heights, diagonals) stand above the
// lines of their kind, as in a shipyard's book. Or each station is a row, under a
// header such as station,x,height of sheer,waterline 12-0-0.
//
// The unit is ft-in-8ths (feet, inches and eighths, with a + for half an eighth more),
// or ft, in, m, cm or mm with decimals; it may be left out where every offset is in
// feet, inches and eighths, or carries the marks of feet and inches (2' 1 1/2").
// ft-in-16ths has sixteenths, and any unit takes a common fraction (22 1/2). A
// half-breadth lies on the waterline whose height is in its second field, a height on
// the buttock whose half-breadth is there. A diagonal leaves the centre line at a
// height and falls at an angle in degrees, or passes through a half-breadth and height
// (12-0-0/9-0-0/3-0-0); its offsets are measured along it. sheer (or wale) and rabbet
// are the limits, knuckle (or knuckle 2 and so on) a corner that is kept: all of these
// have a height and a half-breadth at each station. A field is blank where the line
// misses the station. Anything above or below the limits is ignored.
//
// The table is to the inside of the planking, or with to,outside to its outside: the
// thickness (planking) is then taken off along the normal of the hull. The stations
// may be in any order; bow,last says that the greatest x is the foremost.
//
// The hull's Rounding holds the last unit in which the table is written, half an
// eighth if there is any +.
//
// The error is the first Fault of the file, which names the file as name.
func ReadOffsets(r io.Reader, name string) (*hull.Hull, error) {
	h, found := checkOffsets(r, name)
	if len(found) > 0 {
		return nil, found[0]
	}
	return h, nil
}

// checkOffsets reads as ReadOffsets does and returns every fault found, in the
// order of the lines, and the hull as far as it could be read.
func checkOffsets(r io.Reader, name string) (*hull.Hull, []fault.Fault) {
	o := offsetsReader{List: fault.List{File: name}, meta: map[string]plaintext.Row{}, marks: map[string]*offsetMark{}}
	if text, ok := plaintext.ReadTable(r, largestOffsetsFile, &o.List); ok {
		o.read(text)
	}
	o.hull.Settle()
	return &o.hull, o.Sorted()
}

// offsetsReader is the state of reading one table of offsets.
type offsetsReader struct {
	fault.List
	hull     hull.Hull
	comma    bool
	meta     map[string]plaintext.Row
	unit     offsetUnit
	scale    float64 // model size over full size
	step     float64 // of rounding, mm at full size
	inset    float64 // mm at model size to take off
	stations []station
	marks    map[string]*offsetMark // by name, in lower case
}

// station is a column of the table; lengths in mm at full size.
type station struct {
	name   string
	x      float64
	points []offsetPoint
}

// offsetPoint is a point of a station's outline, and the line of the table it
// comes from.
type offsetPoint struct {
	at   mgl64.Vec2 // half-breadth and height
	line int
	kept bool // a limit or a knuckle
}

// offsetMark is a line with both its height and its half-breadth given.
type offsetMark struct {
	line        int
	high, broad []float64 // at each station; NaN where the line misses it
}

// offsetUnit is how the lengths of a table are written.
type offsetUnit struct {
	mm     float64
	dashed int // parts of an inch that come third after feet and inches; 0 for other units
}

var offsetUnits = map[string]offsetUnit{
	"ft-in-8ths": {304.8, 8}, "ft-in-16ths": {304.8, 16}, "ft": {304.8, 0}, "in": {25.4, 0},
	"m": {1000, 0}, "cm": {10, 0}, "mm": {1, 0},
}

// inches reports whether lengths may be in feet and inches as well.
func (u offsetUnit) inches() bool { return u.mm == 304.8 || u.mm == 25.4 }

func (o *offsetsReader) read(text []byte) {
	rows, comma, ok := plaintext.Rows(text, hull.MostPoints, &o.List)
	if !ok {
		return
	}
	o.comma = comma
	if len(rows) == 0 || !beginsOffsets(rows[0].Key()) {
		o.Add(1, "", tongue.T("make its first line %s", offsetsKey), "this is not a table of offsets")
		return
	}
	if strings.Contains(rows[0].Key(), offsetsKey) {
		rows = rows[1:]
	}
	rows = inFull(acrossward(rows))
	if !slices.ContainsFunc(rows, func(r plaintext.Row) bool { return r.Key() == "unit" }) {
		switch {
		case all(rows, dashedLength.MatchString):
			o.meta["unit"] = plaintext.Row{Line: 1, Fields: []string{"unit", "ft-in-8ths"}}
		case all(rows, isMarked):
			o.meta["unit"] = plaintext.Row{Line: 1, Fields: []string{"unit", "in"}}
		}
	}
	lines := o.takeMeta(rows)
	if !o.header() || !o.columns() {
		return
	}
	if len(lines) > mostLines {
		o.Add(lines[mostLines].Line, "", "leave some out", "there are more than %d lines, the most that the program reads", mostLines)
		return
	}
	if len(lines)*len(o.stations) > hull.MostPoints {
		o.Add(0, "", "leave stations out", "there are more than %d offsets, the most that the program reads", hull.MostPoints)
		return
	}
	for _, row := range lines {
		o.row(row)
	}
	upper := o.upperLimit()
	if upper == "" || len(o.Found) > 0 {
		return
	}
	o.takeMarks(upper)
	if len(o.Found) > 0 {
		return
	}
	o.frames()
}

// takeMeta takes the rows that describe the table, and returns those of its
// lines.
func (o *offsetsReader) takeMeta(rows []plaintext.Row) (lines []plaintext.Row) {
	for _, row := range rows {
		switch key := row.Key(); key {
		case "unit", "scale", "to", "planking", "bow", "station", "x":
			if _, twice := o.meta[key]; twice {
				o.Add(row.Line, "", "leave one out", "an earlier row is %q", key)
			}
			o.meta[key] = row
		case "half-breadth", "height", "diagonal":
			lines = append(lines, row)
		default:
			o.Add(row.Line, "", "begin it with half-breadth, height or diagonal, or with unit, scale, to, planking, bow, station or x", "there is no row %s", fault.Name(row.At(0)))
		}
	}
	return lines
}

// need returns a row that must be there.
func (o *offsetsReader) need(key, example string) (plaintext.Row, bool) {
	row, ok := o.meta[key]
	if !ok {
		o.Add(0, "", tongue.T("add one, such as %s", example), "there is no row %q", key)
	}
	return row, ok
}

// header reads the unit, the scale and what the table is measured to.
func (o *offsetsReader) header() bool {
	before := len(o.Found)
	if row, ok := o.need("unit", "unit,ft-in-8ths"); ok {
		unit, known := offsetUnits[strings.ToLower(row.At(1))]
		if !known {
			o.Add(row.Line, "", "use ft-in-8ths, ft-in-16ths, ft, in, m, cm or mm", "there is no unit %s", fault.Name(row.At(1)))
		}
		o.unit = unit
		if unit.dashed > 0 {
			o.step = 25.4 / float64(unit.dashed)
		}
	}
	if row, ok := o.need("scale", "scale,1:48"); ok {
		o.scale = o.ratio(row)
	}
	if len(o.Found) > before {
		return false
	}
	o.measuredTo()
	if row, ok := o.meta["bow"]; ok {
		switch end := hull.BowEnd(strings.ToLower(row.At(1))); end {
		case hull.BowFirst, hull.BowLast:
			o.hull.Bow = end
		default:
			o.Add(row.Line, "", "write first where the least x is the foremost, else last", "the bow is %s", fault.Name(row.At(1)))
		}
	}
	return len(o.Found) == before
}

// ratio reads a scale, such as 1:48.
func (o *offsetsReader) ratio(row plaintext.Row) float64 {
	text := strings.ReplaceAll(row.At(1), " ", "")
	a, b, ok := strings.Cut(text, ":")
	if !ok {
		a, b, ok = strings.Cut(text, "/")
	}
	if ok {
		u, wrongA := plaintext.Number(a, o.comma)
		v, wrongB := plaintext.Number(b, o.comma)
		if r := u / v; wrongA == "" && wrongB == "" && u > 0 && v > 0 && r >= 1e-4 && r <= 10 {
			return r
		}
	}
	o.Add(row.Line, "", "give it as 1:48, or 1:1 for a table at the model's own size", "the scale is %s", fault.Name(row.At(1)))
	return 0
}

// measuredTo reads whether the planking is to be taken off.
func (o *offsetsReader) measuredTo() {
	to, thick := o.meta["to"], o.meta["planking"]
	switch side := strings.ToLower(to.At(1)); side {
	case "", "inside":
		if thick.Line > 0 && side == "" {
			o.Add(thick.Line, "", "add to,outside or to,inside", "the table has a thickness of planking but does not name the side that it is measured to")
		}
	case "outside":
		if thick.Line == 0 {
			o.Add(to.Line, "", "add its thickness, such as planking,0-0-3", "the table is to the outside of the planking")
			return
		}
		v, blank, wrong := o.length(thick.At(1))
		if t := v * o.scale; wrong != "" || blank || !(t > 0 && t <= 50) {
			o.Add(thick.Line, "", "give it at full size, above 0 and not over 50 mm on the model", "the planking is %s thick", fault.Name(thick.At(1)))
			return
		}
		o.inset = v * o.scale
	default:
		o.Add(to.Line, "", "write outside or inside", "the table is to the %s of the planking", fault.Name(to.At(1)))
	}
}

// columns reads the stations and their positions.
func (o *offsetsReader) columns() bool {
	before := len(o.Found)
	names, ok := o.need("station", "station,,1,2,3")
	xs, okX := o.need("x", "x,,0,1000,2000")
	if !ok || !okX {
		return false
	}
	n := max(len(names.Fields), len(xs.Fields)) - 2
	switch {
	case n < 1:
		o.Add(names.Line, "", "name one in each column from the third on", "there are no stations")
		return false
	case n > hull.MostFrames:
		o.Add(names.Line, "", "leave some out", "there are %d stations, more than the limit of %d", n, hull.MostFrames)
		return false
	}
	for k := range n {
		s := station{name: names.At(k + 2)}
		if s.name == "" {
			o.Add(names.Line, "", "name each station", "column %d has no station", k+3)
			continue
		}
		v, blank, wrong := o.length(xs.At(k + 2))
		if blank {
			wrong = tongue.T("is missing")
		}
		if wrong != "" {
			o.Add(xs.Line, s.name, o.asIn(), "x %s", wrong)
		}
		s.x = v * o.scale
		o.stations = append(o.stations, s)
	}
	return len(o.Found) == before
}

// asIn shows how a length is given.
func (o *offsetsReader) asIn() string {
	switch o.unit.dashed {
	case 8:
		return tongue.T("give feet, inches and eighths, such as 12-3-4 or 12-3-4+")
	case 16:
		return tongue.T("give feet, inches and sixteenths, such as 12-3-11")
	}
	return tongue.T("give a number such as 12.5, or leave it blank")
}

// row reads a waterline, buttock, diagonal or mark.
func (o *offsetsReader) row(row plaintext.Row) {
	if n := len(row.Fields) - 2; n > len(o.stations) {
		o.Add(row.Line, "", "give one for each station, or a blank", "the row has %s for %s", tongue.Count(n, "%d offset", "%d offsets", n), tongue.Count(len(o.stations), "%d station", "%d stations", len(o.stations)))
		return
	}
	values := make([]float64, len(o.stations))
	for k := range values {
		v, blank, wrong := o.length(row.At(k + 2))
		if wrong != "" {
			o.Add(row.Line, o.stations[k].name, o.asIn(), "the offset %s", wrong)
		}
		if blank || wrong != "" {
			v = math.NaN()
		}
		values[k] = v
	}
	place, ok := o.placer(row, values)
	if !ok {
		return
	}
	for k, v := range values {
		if !math.IsNaN(v) {
			o.stations[k].points = append(o.stations[k].points, offsetPoint{at: place(v), line: row.Line})
		}
	}
}

// placer says how an offset of the row becomes a point. Marks are kept
// separately; ok is false for them, and for a row at fault.
func (o *offsetsReader) placer(row plaintext.Row, values []float64) (place func(float64) mgl64.Vec2, ok bool) {
	if row.Key() == "diagonal" {
		return o.diagonal(row)
	}
	where := strings.ToLower(row.At(1))
	high := row.Key() == "height"
	if where == "sheer" || where == "wale" || where == "rabbet" || strings.HasPrefix(where, "knuckle") {
		o.mark(row, where, high, values)
		return nil, false
	}
	at, blank, wrong := o.length(row.At(1))
	if blank {
		wrong = tongue.T("is missing")
	}
	if wrong != "" {
		what := tongue.T("the height of the waterline")
		if high {
			what = tongue.T("the half-breadth of the buttock")
		}
		o.Add(row.Line, "", tongue.T("%s, or sheer, wale, rabbet or knuckle", o.asIn()), "%s %s", what, wrong)
		return nil, false
	}
	if high {
		return func(v float64) mgl64.Vec2 { return mgl64.Vec2{at, v} }, true
	}
	return func(v float64) mgl64.Vec2 { return mgl64.Vec2{v, at} }, true
}

// mark keeps the heights or half-breadths of a limit or knuckle.
func (o *offsetsReader) mark(row plaintext.Row, where string, high bool, values []float64) {
	m := o.marks[where]
	if m == nil {
		m = &offsetMark{line: row.Line}
		o.marks[where] = m
	}
	kept, what := &m.broad, "half-breadths"
	if high {
		kept, what = &m.high, "heights"
	}
	if *kept != nil {
		o.Add(row.Line, "", "leave one out", "the %s of the %s appear twice", what, where)
		return
	}
	*kept = values
}

// diagonal reads the course of a diagonal; its offsets are measured along it.
func (o *offsetsReader) diagonal(row plaintext.Row) (place func(float64) mgl64.Vec2, ok bool) {
	const mend = "give its height at the centre line and its angle, such as 12-0-0/45, or a half-breadth and height that it goes through"
	parts := strings.Split(row.At(1), "/")
	var v [3]float64
	for k, part := range parts {
		var wrong string
		var blank bool
		part = strings.TrimSpace(part)
		if len(parts) == 2 && k == 1 {
			v[1], wrong = plaintext.Number(part, o.comma)
		} else if k < 3 {
			v[k], blank, wrong = o.length(part)
		}
		if wrong != "" || blank {
			parts = nil
			break
		}
	}
	var down mgl64.Vec2
	switch {
	case len(parts) == 2 && v[1] > -90 && v[1] < 90:
		sin, cos := math.Sincos(v[1] * math.Pi / 180)
		down = mgl64.Vec2{cos, -sin}
	case len(parts) == 3 && v[1] > 0:
		down = mgl64.Vec2{v[1], v[2] - v[0]}.Normalize()
	default:
		o.Add(row.Line, "", mend, "the diagonal %s is not understood", fault.Name(row.At(1)))
		return nil, false
	}
	return func(d float64) mgl64.Vec2 { return mgl64.Vec2{0, v[0]}.Add(down.Mul(d)) }, true
}

// upperLimit gives the name of the upper limit, and notes a missing one.
func (o *offsetsReader) upperLimit() string {
	_, sheer := o.marks["sheer"]
	wale, both := o.marks["wale"]
	upper := "sheer"
	switch {
	case sheer && both:
		o.Add(wale.line, "", "keep the rows of the one from which the planking starts", "both a sheer and a wale are given")
		return ""
	case both:
		upper = "wale"
	}
	for _, name := range []string{upper, "rabbet"} {
		if m := o.marks[name]; m == nil || m.high == nil || m.broad == nil {
			o.Add(0, "", tongue.T("add the rows height,%s and half-breadth,%s", name, name), "the table does not give the run of the %s", name)
			upper = ""
		}
	}
	if upper != "" {
		o.hull.Limits.Upper = upper
	}
	return upper
}

// takeMarks adds the points of the marks to their stations, the upper limit first
// and the rabbet last. A point as high as the rabbet, and farther out, is where a
// flat floor begins.
func (o *offsetsReader) takeMarks(upper string) {
	names := []string{}
	for name := range o.marks {
		if name != upper && name != "rabbet" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for k := range o.stations {
		s := &o.stations[k]
		first, okFirst := o.markAt(upper, k, true)
		last, okLast := o.markAt("rabbet", k, true)
		if !okFirst || !okLast {
			continue
		}
		within := []offsetPoint{first}
		for _, name := range names {
			if p, ok := o.markAt(name, k, false); ok {
				within = append(within, p)
			}
		}
		for _, p := range s.points {
			if p.at[1] < first.at[1] && (p.at[1] > last.at[1] || (p.at[1] == last.at[1] && p.at[0] > last.at[0])) {
				within = append(within, p)
			}
		}
		s.points = append(within, last)
	}
}

// markAt is the point of a mark at station k.
func (o *offsetsReader) markAt(name string, k int, needed bool) (offsetPoint, bool) {
	m := o.marks[name]
	if m.high == nil || m.broad == nil {
		if k == 0 {
			o.Add(m.line, "", tongue.T("add the rows height,%s and half-breadth,%s", name, name), "the %s has only one of them", name)
		}
		return offsetPoint{}, false
	}
	p := offsetPoint{at: mgl64.Vec2{m.broad[k], m.high[k]}, line: m.line, kept: true}
	misses := math.IsNaN(p.at[0]) || math.IsNaN(p.at[1])
	if misses && (needed || math.IsNaN(p.at[0]) != math.IsNaN(p.at[1])) {
		o.Add(m.line, o.stations[k].name, "give its height and its half-breadth there", "the %s has no point", name)
	}
	return p, !misses
}

// frames makes the frames from the stations and checks the hull.
func (o *offsetsReader) frames() {
	slices.SortStableFunc(o.stations, func(a, b station) int { return cmp.Compare(a.x, b.x) })
	lines := make([][]int, len(o.stations))
	for i, s := range o.stations {
		fr := hull.Frame{Name: s.name}
		for j, p := range onFloor(o.spaced(inOrder(s.points))) {
			if p.kept && j > 0 {
				fr.Knuckles = append(fr.Knuckles, j)
			}
			at := p.at.Mul(o.scale)
			fr.Points = append(fr.Points, mgl64.Vec3{s.x, at[0], at[1]})
			lines[i] = append(lines[i], p.line)
		}
		dropLastKnuckle(&fr)
		o.hull.Frames = append(o.hull.Frames, fr)
	}
	o.hull.Rounding = o.lastUnit() / 2 * o.scale
	at := hull.Places{
		Line:  func(frame, point int) int { return lines[frame][max(point, 0)] },
		Scale: o.meta["scale"].Line,
		Unit:  tongue.T("check the unit and the scale"),
	}
	o.hull.CheckIn(at, &o.List)
	if o.inset > 0 && len(o.Found) == 0 {
		o.takeOffPlanking()
	}
}

// takeOffPlanking moves every frame in by the thickness of the planking.
func (o *offsetsReader) takeOffPlanking() {
	inner, err := insetFrames(o.hull.Frames, o.inset)
	if err != nil {
		o.Add(o.meta["planking"].Line, "", "check the thickness, or give the frames to the inside of the planking", "%s", err)
		return
	}
	o.hull.Frames = inner
	row := o.meta["planking"].Line
	o.hull.CheckIn(hull.Places{Line: func(int, int) int { return row }, Scale: row, Unit: tongue.T("check the unit, the scale and the planking")}, &o.List)
}

// inOrder sorts the points of an outline from the first to the last: down by
// height, and then by any exchange that makes the path shorter, which a floor
// that is flat but for its rounding needs (2-opt; Croes, Operations Research 6,
// 1958).
func inOrder(points []offsetPoint) []offsetPoint {
	n := len(points)
	if n < 4 {
		return points
	}
	inner := points[1 : n-1]
	slices.SortStableFunc(inner, func(a, b offsetPoint) int {
		return cmp.Or(cmp.Compare(b.at[1], a.at[1]), cmp.Compare(b.at[0], a.at[0]))
	})
	apart := func(i, j int) float64 { return points[i].at.Sub(points[j].at).Len() }
	const passes = 10 // two or three suffice
	for range passes {
		better := false
		for i := 1; i < n-2; i++ {
			for j := i + 1; j < n-1; j++ {
				if apart(i-1, j)+apart(i, j+1) < apart(i-1, i)+apart(j, j+1)-1e-9 {
					slices.Reverse(points[i : j+1])
					better = true
				}
			}
		}
		if !better {
			break
		}
	}
	return points
}

// spaced leaves out points that are too close together for the rounding of the
// table.
func (o *offsetsReader) spaced(points []offsetPoint) []offsetPoint {
	way := 0.0
	for j := 1; j < len(points); j++ {
		way += points[j].at.Sub(points[j-1].at).Len()
	}
	return thinned(points, min(nearest*o.lastUnit(), way/closest))
}

// onFloor adds points on a floor that is level from where it begins to the rabbet: closer
// together than those of the bilge before it, each twice as far from the next. Otherwise
// the curve through the turn of the bilge would swing out and in along it. The flat of a
// keel under a steep side, narrow compared with the distance to the point before, is left
// as it is.
func onFloor(points []offsetPoint) []offsetPoint {
	n := len(points)
	if n < 3 || points[n-1].at[1] != points[n-2].at[1] {
		return points
	}
	begins, rabbet := points[n-2], points[n-1]
	bilge, end := points[n-3].at.Sub(begins.at), begins.at[0]-rabbet.at[0]
	if end < bilge.Len()/2 && bilge[1] > bilge[0] {
		return points
	}
	step := min(bilge.Len(), end) / 4
	out := points[: n-1 : n-1]
	for at := step; at+step/2 < end; at += step {
		out = append(out, offsetPoint{at: mgl64.Vec2{begins.at[0] - at, begins.at[1]}, line: begins.line})
		step *= 2
	}
	return append(out, rabbet)
}

// lastUnit is the step of rounding of the table, mm at full size.
func (o *offsetsReader) lastUnit() float64 {
	if o.step == 0 { // only whole numbers
		return o.unit.mm
	}
	return o.step
}

// thinned leaves out points nearer than near to a neighbour: between two so close
// the rounding of a table would turn the outline. Limits and knuckles stay.
func thinned(points []offsetPoint, near float64) []offsetPoint {
	var out []offsetPoint
	for _, p := range points {
		if p.kept {
			for n := len(out); n > 0 && !out[n-1].kept && p.at.Sub(out[n-1].at).Len() < near; n-- {
				out = out[:n-1]
			}
		} else if n := len(out); n > 0 && p.at.Sub(out[n-1].at).Len() < near {
			continue
		}
		out = append(out, p)
	}
	return out
}

// length reads a length in mm at full size; wrong says what is wrong with it,
// as the end of a sentence. A field that is empty, or a lone dash, is blank.
func (o *offsetsReader) length(s string) (mm float64, blank bool, wrong string) {
	switch s {
	case "", "-", "\u2013", "\u2014":
		return 0, true, ""
	}
	marked, step, ok := marked(s)
	switch {
	case ok && o.unit.inches():
		mm = marked
		o.step = stepOf(o.step, step)
	case o.unit.dashed > 0:
		mm, wrong = feetInchesParts(s, o.unit.dashed)
		if wrong == "" && strings.HasSuffix(s, "+") {
			o.step = 25.4 / float64(o.unit.dashed) / 2
		}
	default:
		whole, parts, ok := fraction(s)
		if mm, wrong = whole, ""; ok {
			o.step = stepOf(o.step, o.unit.mm/parts)
		} else {
			mm, wrong = plaintext.Number(s, o.comma)
			o.finer(s)
		}
		mm *= o.unit.mm
	}
	if wrong == "" && math.Abs(mm) > largestOffset {
		wrong = tongue.T("is %s, over 10 km", fault.Name(s))
	}
	return mm, false, wrong
}

// finer records the last digit to which a decimal is given.
func (o *offsetsReader) finer(s string) {
	if i := strings.IndexAny(s, ".,"); i >= 0 {
		o.step = stepOf(o.step, o.unit.mm*math.Pow10(-min(len(s)-i-1, 9)))
	}
}

// stepOf is the finer of two steps of rounding, mm; 0 means that none is known.
func stepOf(was, is float64) float64 {
	if was == 0 {
		return is
	}
	return min(was, is)
}
