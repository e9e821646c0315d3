package source

import (
	"cmp"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// listMend says how to write a list that is not understood.
const listMend = "give x, y and z in each line, a header such as x y z above them, and # before any other line"

// readList reads a hull from a list of points, a line each: x along the keel, y the
// half-breadth, z up, separated by spaces, commas, semicolons or tabs. A header may
// name the columns in any order, with units (x_in, z (cm)), a column of frames and
// one of kinds (knuckle). Anything after # or // is a comment. Points belong to one
// frame
//
//   - where they follow a line such as "Station 3 x=45"; they may then be only y
//     and z,
//   - where they have the same name in the column frame, station or section,
//   - where they have the same x,
//   - or where no blank line separates them.
//
// Frames may be listed from either end, and on either side of the middle. Anything
// ambiguous is refused. A list from a sheet has no decimal commas.
//
// Its reader holds the hull as far as it could be read, notes on what the builder
// should know, and every fault.
func readList(r io.Reader, name string, ofSheet bool) *listReader {
	l := &listReader{List: fault.List{File: name}, ofSheet: ofSheet, unit: 1}
	if text, ok := plaintext.ReadTable(r, plaintext.LargestTable, &l.List); ok {
		l.read(string(text))
	}
	l.hull.Settle()
	return l
}

// listReader is the state of reading one list of points.
type listReader struct {
	fault.List
	hull    hull.Hull
	notes   []string
	ofSheet bool
	style   byte    // the separator of the columns; 0 before any are read
	comma   bool    // decimal commas are allowed
	unit    float64 // mm
	told    bool    // the unit has been given

	columns []listColumn // from the header; nil where there is none
	headed  []*listGroup // from lines that head frames
	points  []listPoint
	blocks  int // blank lines followed by points
	blank   bool
}

// listColumn is what a column holds.
type listColumn struct {
	what string  // x, y, z, frame, kind, or empty for a column that is ignored
	mm   float64 // per unit; 0 where none is given
}

// listPoint is a point of the list.
type listPoint struct {
	at    mgl64.Vec3 // mm
	line  int
	frame string // its name, where a column gives it
	block int
	kept  bool // a knuckle
	group *listGroup
}

// listGroup is a frame.
type listGroup struct {
	name   string
	line   int
	x      float64
	placed bool // x is given
	points []listPoint
	apart  bool // points of other frames stand between its own
}

// Lines of a list that are not points: those that head a frame, or give the
// unit.
var (
	listHead     = regexp.MustCompile(`(?i)^(?:station|frame|section|bulkhead)s?\s*[:#]?\s+"?([^\s,;:="]+)"?\s*[,;:]?\s*(?:\(?\s*(?:at\s+)?x\s*[=:]?\s*([-+\x{2212}]?[\d.,]+)\s*(mm|cm|m|in|ft)?\s*\)?)?\s*:?$`)
	listPlace    = regexp.MustCompile(`(?i)^x\s*[=:]\s*([-+\x{2212}]?[\d.,]+)\s*(mm|cm|m|in|ft)?\s*:?$`)
	listUnit     = regexp.MustCompile(`(?i)^(?:all\s+)?(?:units?|lengths?|dimensions?)\s*(?:[:=,;]|\s|\bin\b|\bare\b)+(mm|cm|m|in|ft|millimet(?:er|re)s?|inch(?:es)?|feet)\.?$`)
	listColumnIs = regexp.MustCompile(`(?i)^(x|y|z|half-?breadth|height|frame|station|section|name|kind|point|no|nr|id|n)\.?(?:[\s_]*[(\[]?\s*(mm|cm|m|in|ft)\s*[)\]]?)?$`)
	unitApart    = regexp.MustCompile(`(?i)([xyz])\s+[(\[]\s*(mm|cm|m|in|ft)\s*[)\]]`)
)

// listUnits are the units of lists, mm.
var listUnits = map[string]float64{"": 0, "mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8, "mi": 1, "fe": 304.8}

func listUnitOf(name string) float64 {
	name = strings.ToLower(name)
	if v, ok := listUnits[name]; ok {
		return v
	}
	return listUnits[name[:2]] // written in full
}

// listNames are the names that columns may have, apart from x, y, z and kind.
var listNames = map[string]string{
	"half-breadth": "y", "halfbreadth": "y", "height": "z",
	"station": "frame", "section": "frame", "name": "frame", "point": "", "no": "", "nr": "", "id": "", "n": "",
}

// beginsList recognises a list of points by its first lines: a line that heads a
// frame, a header of x, y and z, or three numbers in a line.
func beginsList(head []byte) bool {
	l := listReader{}
	for line := range strings.Lines(strings.ReplaceAll(string(head), "\r", "\n")) {
		whole, comment := cutComment(line)
		body := strings.TrimSpace(whole)
		switch {
		case listHead.MatchString(body), listPlace.MatchString(body):
			return true
		case body == "" && listHead.MatchString(comment):
			return true
		case body == "", listUnit.MatchString(body):
			continue
		}
		fields := l.split(whole)
		if columns, ok := listHeader(fields); ok {
			return namesAll(columns, "x", "y", "z") && !isPointsHeader(fields)
		}
		return len(fields) == 3 && l.numbers(fields)
	}
	return false
}

// isPointsHeader recognises the header of a table of points, in its order.
func isPointsHeader(fields []string) bool {
	for k, want := range []string{"frame", "x", "y", "z"} {
		if k == len(fields) {
			return false
		}
		if name, _, _ := strings.Cut(strings.ToLower(fields[k]), "_"); name != want {
			return false
		}
	}
	return true
}

func namesAll(columns []listColumn, names ...string) bool {
	for _, n := range names {
		if !slices.ContainsFunc(columns, func(c listColumn) bool { return c.what == n }) {
			return false
		}
	}
	return true
}

// cutComment returns a line without what follows # or //, and that comment. Tabs at
// its ends stay, since a column may be blank.
func cutComment(line string) (body, comment string) {
	at := len(line)
	for _, mark := range []string{"#", "//"} {
		if i := strings.Index(line[:at], mark); i >= 0 {
			at = i
		}
	}
	if body = strings.Trim(line[:at], " \r\n"); strings.TrimSpace(body) == "" {
		body = ""
	}
	return body, strings.Trim(line[at:], "#/ \t\r\n")
}

// split splits a line into its columns; the first line with several decides the
// separator.
func (l *listReader) split(body string) []string {
	if l.style == 0 {
		l.style, l.comma = listStyle(strings.TrimSpace(body))
		l.comma = l.comma && !l.ofSheet
	}
	var fields []string
	if l.style == ' ' {
		fields = strings.Fields(unitApart.ReplaceAllString(body, "${1}_$2"))
	} else {
		fields = strings.Split(body, string(rune(l.style)))
	}
	for i := range fields {
		fields[i] = strings.Trim(fields[i], " \t\"")
	}
	for len(fields) > 0 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if len(fields) > 0 && fields[0] == "" && (l.columns == nil || len(fields) > len(l.columns)) {
		fields = fields[1:] // indented by a tab
	}
	return fields
}

// listStyle gives the separator of the columns of a line, and whether a comma in
// them is a decimal comma.
func listStyle(body string) (byte, bool) {
	for _, c := range []byte{';', '\t'} {
		if strings.IndexByte(body, c) >= 0 {
			return c, true
		}
	}
	words := strings.Fields(body)
	commas := len(words) > 1
	for _, w := range words {
		commas = commas && looksLikeNumber(w, true)
	}
	if strings.Contains(body, ",") && !commas {
		return ',', false
	}
	return ' ', true
}

func (l *listReader) numbers(fields []string) bool {
	return !slices.ContainsFunc(fields, func(s string) bool { return !looksLikeNumber(s, l.comma) })
}

// listHeader reads names of columns; ok is false where one is not known.
func listHeader(fields []string) (columns []listColumn, ok bool) {
	for _, f := range fields {
		m := listColumnIs.FindStringSubmatch(f)
		if m == nil {
			return nil, false
		}
		what := strings.ToLower(m[1])
		if is, other := listNames[what]; other {
			what = is
		}
		if what != "" && slices.ContainsFunc(columns, func(c listColumn) bool { return c.what == what }) {
			return nil, false
		}
		columns = append(columns, listColumn{what, listUnitOf(m[2])})
	}
	return columns, namesAll(columns, "y", "z")
}

// read reads the list and checks the hull.
func (l *listReader) read(text string) {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	n := 0
	for line := range strings.Lines(text) {
		n++
		if body, comment := cutComment(line); body == "" {
			l.aside(n, comment)
		} else {
			l.line(n, body)
		}
		if len(l.points) > hull.MostPoints {
			l.Add(n, "", "leave points out", "there are more than %d points, the most that the program reads", hull.MostPoints)
			return
		}
		if len(l.Found) >= fault.MostFaults {
			return
		}
	}
	if len(l.Found) > 0 {
		return
	}
	groups := l.groups()
	if len(l.Found) > 0 || !l.sidesKnown(groups) {
		return
	}
	for _, g := range groups {
		l.downward(g)
	}
	l.depths(groups)
	if len(l.Found) == 0 {
		l.frames(groups)
	}
}

// aside reads a line that is blank, or only a comment, which may head a frame.
func (l *listReader) aside(n int, comment string) {
	switch {
	case comment == "":
		l.blank = len(l.points) > 0
	case listHead.MatchString(comment), listUnit.MatchString(comment):
		l.line(n, comment)
	}
}

// line reads a line that is not just a comment.
func (l *listReader) line(n int, whole string) {
	body := strings.TrimSpace(whole)
	if m := listUnit.FindStringSubmatch(body); m != nil {
		l.unit, l.told = listUnitOf(m[1]), true
		return
	}
	if m := listHead.FindStringSubmatch(body); m != nil {
		l.head(n, m[1], m[2], m[3])
		return
	}
	if m := listPlace.FindStringSubmatch(body); m != nil {
		l.head(n, "", m[1], m[2])
		return
	}
	fields := l.split(whole)
	if columns, ok := listHeader(fields); ok {
		switch {
		case l.columns != nil && !slices.Equal(l.columns, columns), l.columns == nil && len(l.points) > 0:
			l.Add(n, "", "keep one header for all points", "a second header interrupts the points")
		case !namesAll(columns, "x") && len(l.headed) == 0:
			l.Add(n, "", "add it, or a line such as \"Station 3 x=45\" above each frame", "there is no column x")
		}
		l.columns = columns
		return
	}
	l.point(n, fields)
}

// head begins a frame.
func (l *listReader) head(n int, name, x, unit string) {
	g := &listGroup{name: name, line: n}
	if x != "" {
		v, wrong := plaintext.Number(strings.TrimRight(x, ",."), true)
		if wrong != "" {
			l.Add(n, name, "give it as x=45", "x %s", wrong)
		}
		mm := l.unit
		if unit != "" {
			mm = listUnitOf(unit)
		}
		g.x, g.placed = v*mm, true
	}
	if len(l.headed) == 0 && len(l.points) > 0 {
		l.Add(l.points[0].line, "", "put one above it, as above the others", "no heading line precedes the frame of this point, as one does further down")
	}
	l.headed = append(l.headed, g)
	l.blank = false
}

// point reads a point.
func (l *listReader) point(n int, fields []string) {
	columns := l.columns
	var g *listGroup
	if k := len(l.headed); k > 0 {
		g = l.headed[k-1]
	}
	if columns == nil {
		columns = []listColumn{{"x", 0}, {"y", 0}, {"z", 0}}
		if g != nil && g.placed && len(fields) == 2 {
			columns = columns[1:]
		}
	}
	if len(fields) > len(columns) || len(fields) < len(columns)-1 || (len(fields) < len(columns) && columns[len(columns)-1].what != "kind") {
		l.Add(n, "", listMend, "the line has %s where there should be %d", tongue.Count(len(fields), "%d column", "%d columns", len(fields)), len(columns))
		return
	}
	if g != nil && !g.placed && !namesAll(columns, "x") {
		l.Add(g.line, g.name, "write it in the heading, as in \"Station 3 x=45\", or add a column x", "its x is missing")
		g.placed = true // and is given once
	}
	p := listPoint{line: n, group: g}
	if l.blank {
		l.blocks++
		l.blank = false
	}
	p.block = l.blocks
	if g != nil {
		p.at[0] = g.x
	}
	for k, text := range fields {
		c := columns[k]
		switch c.what {
		case "frame":
			p.frame = text
		case "kind":
			if p.kept = strings.EqualFold(text, "knuckle"); !p.kept && text != "" {
				l.AddAt(n, k+1, "", "write knuckle, or leave it empty", "the kind of point %q is not known", text)
			}
		case "x", "y", "z":
			axis := strings.Index("xyz", c.what)
			v, wrong := plaintext.Number(text, l.comma)
			if wrong != "" {
				l.AddAt(n, k+1, "", listMend, "%s %s", c.what, wrong)
				return
			}
			v *= cmp.Or(c.mm, l.unit)
			if axis == 0 && g != nil && g.placed && math.Abs(v-g.x) > 1e-6 {
				l.AddAt(n, k+1, "", "give one of them", "x is %s mm, but the frame's heading line says %s mm", fault.Figure(v), fault.Figure(g.x))
				return
			}
			p.at[axis] = v
		}
	}
	l.points = append(l.points, p)
}

// groups puts the points into frames.
func (l *listReader) groups() []*listGroup {
	switch {
	case len(l.points) == 0:
		l.Add(0, "", listMend, "it has no points")
		return nil
	case len(l.headed) > 0:
		for _, p := range l.points {
			p.group.points = append(p.group.points, p)
		}
		for i, g := range l.headed {
			if g.name == "" {
				g.name = strconv.Itoa(i + 1)
			}
			if len(g.points) == 0 {
				l.Add(g.line, g.name, "leave its line out, or add its points", "it has no points")
			}
		}
		return l.headed
	case namesAll(l.columns, "frame"):
		return l.gathered(func(p listPoint) string { return p.frame }, true)
	}
	byX := l.gathered(func(p listPoint) string { return strconv.FormatFloat(p.at[0], 'g', -1, 64) }, false)
	if leastPoints(byX) >= leastOfFrame {
		return byX
	}
	if l.blocks >= 2 {
		if blocks := l.gathered(func(p listPoint) string { return strconv.Itoa(p.block) }, false); leastPoints(blocks) >= leastOfFrame {
			return blocks
		}
	}
	lone := slices.MinFunc(byX, func(a, b *listGroup) int { return cmp.Compare(len(a.points), len(b.points)) })
	l.Add(lone.points[0].line, "", "give the points of a frame one x, or a line such as \"Station 3 x=45\" above them, or name the columns in a header if x is not the first", "x %s occurs at only %s, so the points do not form frames", fault.Figure(lone.points[0].at[0]), tongue.Count(len(lone.points), "%d point", "%d points", len(lone.points)))
	return nil
}

// leastOfFrame is how many points make a frame in a list that names none.
const leastOfFrame = 3

func leastPoints(groups []*listGroup) int {
	least := math.MaxInt
	for _, g := range groups {
		least = min(least, len(g.points))
	}
	return least
}

// gathered collects the points with the same key into one group.
func (l *listReader) gathered(key func(listPoint) string, named bool) []*listGroup {
	by := map[string]*listGroup{}
	var out []*listGroup
	var last *listGroup
	for _, p := range l.points {
		k := key(p)
		g := by[k]
		if g == nil {
			g = &listGroup{line: p.line}
			if named {
				g.name = k
			}
			by[k] = g
			out = append(out, g)
		} else if g != last {
			g.apart = true
		}
		g.points = append(g.points, p)
		last = g
	}
	if !named { // they are numbered from the least x upwards
		slices.SortStableFunc(out, func(a, b *listGroup) int { return cmp.Compare(a.points[0].at[0], b.points[0].at[0]) })
		for i, g := range out {
			g.name = strconv.Itoa(i + 1)
		}
	}
	return out
}

// sidesKnown mirrors the points if all lie on the other side, and refuses a list
// whose columns could be in another order.
func (l *listReader) sidesKnown(groups []*listGroup) bool {
	const nothing = 1e-6 // mm
	var left, right *listPoint
	for _, g := range groups {
		for i := range g.points {
			switch p := &g.points[i]; {
			case p.at[1] < -nothing && left == nil:
				left = p
			case p.at[1] > nothing && right == nil:
				right = p
			}
		}
	}
	if left != nil && right != nil {
		l.Add(max(left.line, right.line), "", "leave one side out", "the frames are on both sides: y is %s here and %s in line %d", fault.Figure(later(left, right).at[1]), fault.Figure(earlier(left, right).at[1]), earlier(left, right).line)
		return false
	}
	if left != nil {
		for _, g := range groups {
			for i := range g.points {
				g.points[i].at[1] = -g.points[i].at[1]
			}
		}
		l.notes = append(l.notes, tongue.T("Every y is below zero: they count as half-breadths of the other side."))
	}
	if l.columns == nil {
		if narrow, low := ranges(groups); low < narrow*0.8 {
			l.Add(groups[0].line, "", "name the columns in a header line, x y z or x z y", "without a header the column of y is uncertain: the third shrinks towards the ends of the hull as half-breadths do, the second less")
			return false
		}
		l.notes = append(l.notes, tongue.T("There is no header: the columns count as x along the keel, y the half-breadth, z up."))
	}
	if !l.told && !slices.ContainsFunc(l.columns, func(c listColumn) bool { return c.mm > 0 }) {
		l.notes = append(l.notes, tongue.T("There is no unit: the figures count as mm."))
	}
	return true
}

func later(a, b *listPoint) *listPoint {
	if a.line > b.line {
		return a
	}
	return b
}

func earlier(a, b *listPoint) *listPoint {
	if a.line > b.line {
		return b
	}
	return a
}

// ranges gives the least half-breadth and the least range of heights of any frame, each
// as a share of the greatest.
func ranges(groups []*listGroup) (narrow, low float64) {
	broad, high := []float64{}, []float64{}
	for _, g := range groups {
		b, least, most := 0.0, math.Inf(1), math.Inf(-1)
		for _, p := range g.points {
			b, least, most = max(b, p.at[1]), min(least, p.at[2]), max(most, p.at[2])
		}
		broad, high = append(broad, b), append(high, most-least)
	}
	return slices.Min(broad) / slices.Max(broad), slices.Min(high) / slices.Max(high)
}

// downward sorts the points of a frame from the upper limit down.
func (l *listReader) downward(g *listGroup) {
	sorted := slices.Clone(g.points)
	slices.SortStableFunc(sorted, func(a, b listPoint) int {
		return cmp.Or(cmp.Compare(b.at[2], a.at[2]), cmp.Compare(b.at[1], a.at[1]))
	})
	if g.apart { // listed by waterlines, for instance
		g.points = sorted
		return
	}
	if n := len(g.points); g.points[n-1].at[2] > g.points[0].at[2] {
		slices.Reverse(g.points)
	}
	if way, least := listWay(g.points), listWay(sorted); way > 1.5*least {
		l.Add(g.line, g.name, "list them from the sheer down to the rabbet", "the points are not in order along the frame: the way through them is %s mm, and in order of height %s mm", fault.Figure(way), fault.Figure(least))
	}
}

// listWay is the length of the path through points, mm.
func listWay(points []listPoint) float64 {
	way := 0.0
	for i := 1; i < len(points); i++ {
		way += points[i].at.Sub(points[i-1].at).Len()
	}
	return way
}

// depths refuses a hull that is upside down.
func (l *listReader) depths(groups []*listGroup) {
	over, of := 0, 0
	for _, g := range groups {
		first, last := g.points[0].at[1], g.points[len(g.points)-1].at[1]
		if of++; last > first+1e-6 {
			over++
		}
	}
	if 2*over > of {
		l.Add(groups[0].line, "", "measure z up from the base line: change the sign of every z", "the lowest points lie farthest out, so z seems to run downwards")
	}
}

// frames makes the frames and checks the hull.
func (l *listReader) frames(groups []*listGroup) {
	slices.SortStableFunc(groups, func(a, b *listGroup) int { return cmp.Compare(a.points[0].at[0], b.points[0].at[0]) })
	lines := make([][]int, len(groups))
	for i, g := range groups {
		fr := hull.Frame{Name: g.name}
		for j, p := range g.points {
			if p.kept && j > 0 {
				fr.Knuckles = append(fr.Knuckles, j)
			}
			fr.Points = append(fr.Points, p.at)
			lines[i] = append(lines[i], p.line)
		}
		dropLastKnuckle(&fr)
		l.hull.Frames = append(l.hull.Frames, fr)
	}
	l.hull.CheckIn(hull.Places{
		Line: func(frame, point int) int {
			if point < 0 {
				return groups[frame].line
			}
			return lines[frame][point]
		},
		Scale: groups[0].line,
		Unit:  tongue.T("give them in mm, or name their unit in a header (x_mm, x_cm or x_in)"),
	}, &l.List)
}
