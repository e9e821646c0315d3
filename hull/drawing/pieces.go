package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// Level is what all frames on a sheet for a cutter share at one height: they may lie
// anywhere on the sheet, and nothing else shows how high each stands.
type Level string

// What can be at one height. NoPieces is for a drawing that is not a sheet of
// pieces.
const (
	NoPieces    Level = ""
	LevelUntold Level = "untold"     // pieces whose level has not been given yet
	SlotBelow   Level = "slot-below" // the closed end of the slot that comes in from below, for a keel
	SlotAbove   Level = "slot-above" // the closed end of the slot from above, for a spine
	DeckLevel   Level = "deck"       // the upper ends of the planking
	FootLevel   Level = "foot"       // its lower ends
	DrawnLevel  Level = "drawn"      // everything: they are drawn side by side at their heights
)

// Place puts the frames of outlines at stations, in the order in which each first
// appears; why says what prevents it, in which case nothing is changed.
func Place(lines []Outline, at Stations) (why string) {
	var names []string
	for i := range lines {
		if o := &lines[i]; o.Mark == "" && o.Frame != "" && !o.Profile && !slices.Contains(names, o.Frame) {
			names = append(names, o.Frame)
		}
	}
	if why = at.wrong(len(names)); why != "" {
		return why
	}
	for i := range lines {
		if o := &lines[i]; o.Mark == "" && !o.Profile {
			if k := slices.Index(names, o.Frame); k >= 0 {
				o.X, o.Placed = at.at(k), true
			}
		}
	}
	return ""
}

// Bounds of finding the pieces on a sheet.
const (
	fewestPieces = 2
	mostClosed   = 2000
	smallPiece   = 0.15 // share of the greatest piece's size below which it is a letter or a test cut
	openPiece    = 0.3  // share of the median size from which an open line may be a piece
	sameShape    = 0.93 // share of the area of the surrounding line from which a hole is the same outline again, offset
	sameRow      = 0.5  // share of the lower one's height by which pieces of a row overlap
)

// byPlace makes closed outlines without names the outlines of frames, named 1, 2 and so
// on by their place in the drawing, where no name mentions a frame; an outline inside
// another is a hole. It puts frames without an x at the stations given. It leaves a
// drawing of waterlines and buttocks alone, where stations say where frames are taken.
func (d *Drawing) byPlace(how Options, f *fault.List) {
	if len(f.Found) > 0 || showsLines(d.Outlines, how.lines().Shows) {
		return
	}
	if !slices.ContainsFunc(d.Outlines, func(o Outline) bool { return o.Frame != "" || (o.Mark != "" && o.Mark != Unused) }) {
		d.pieces(how, f)
	}
	if how.Stations == nil || len(f.Found) > 0 || len(frameNames(d.Outlines)) == 0 {
		return
	}
	if i := slices.IndexFunc(d.Outlines, func(o Outline) bool { return o.Placed && !o.Profile }); i >= 0 {
		f.Add(d.Outlines[i].Line, d.Outlines[i].Frame, "leave out --stations and --every", "the drawing or the table beside it gives its x")
		return
	}
	if why := Place(d.Outlines, *how.Stations); why != "" {
		f.Add(0, "", tongue.T("give as many, in the order of the frames: %s", few(frameNames(d.Outlines))), "%s", why)
		return
	}
	d.placeNote()
}

// frameNames are those of the outlines of frames, in their order.
func frameNames(lines []Outline) []string {
	var out []string
	for i := range lines {
		if n := lines[i].Frame; n != "" && lines[i].Mark == "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// placeNote says where frames were put.
func (d *Drawing) placeNote() {
	var out []string
	seen := map[string]bool{}
	for i := range d.Outlines {
		if o := &d.Outlines[i]; o.Mark == "" && o.Placed && !seen[o.Frame] {
			seen[o.Frame] = true
			out = append(out, tongue.T("%s at %s", fault.Name(o.Frame), fault.Figure(o.X)))
		}
	}
	if len(out) > 1 {
		d.Notes = append(d.Notes, tongue.T("The frames are at your stations, in the order of their names: %s mm.", few(out)))
	}
}

// closedLine is a closed outline on a sheet.
type closedLine struct {
	Outline
	box   box
	area  float64
	depth int // how many others it lies inside
}

func (c *closedLine) size() float64 { return max(c.box.x1-c.box.x0, c.box.y1-c.box.y0) }

// pieces finds the pieces on a sheet and names them.
func (d *Drawing) pieces(how Options, f *fault.List) {
	closed, rest, gaps := closedLines(d.Outlines)
	if len(closed) < fewestPieces || len(closed) > mostClosed {
		return
	}
	edge, twin := nested(closed)
	greatest := 0.0
	for i := range closed {
		if closed[i].depth%2 == 0 && i != edge {
			greatest = max(greatest, closed[i].size())
		}
	}
	var found []closedLine
	holes, small := 0, 0
	for i, c := range closed {
		switch {
		case i == edge:
		case c.depth%2 == 1:
			holes++
		case c.size() < smallPiece*greatest:
			small++
		default:
			found = append(found, c)
			continue
		}
		rest = append(rest, c.Outline)
	}
	open, large := openLines(rest, found)
	if len(found) < fewestPieces || len(found) > hull.MostFrames || len(large) >= len(found) {
		return
	}
	if len(large) > 0 {
		f.Add(large[0].Line, "", "join its ends, or remove it from the drawing", "%d closed outlines without names look like frames, and an open line %s mm long may be one as well", len(found), fault.Figure(math.Round(large[0].Length())))
		return
	}
	if twin >= 0 {
		f.Add(closed[twin].Line, "", "leave one of the two out", "a closed outline lies close inside another all round, and either may be the frame")
		return
	}
	rows := inRows(found)
	var lines []Outline
	for _, row := range rows {
		for _, c := range row {
			c.Frame = strconv.Itoa(len(lines) + 1)
			lines = append(lines, c.Outline)
		}
	}
	for i := range rest {
		rest[i].Mark = Unused
	}
	d.Outlines, d.Told.Level = append(lines, rest...), LevelUntold
	d.Notes = append(d.Notes, tongue.T("Closed outlines without names count as %d frames, named by their place: %s.", len(lines), rowsText(rows)))
	if gaps != "" {
		d.Notes = append(d.Notes, gaps)
	}
	if text := passedText(holes, small, open, edge >= 0); text != "" {
		d.Notes = append(d.Notes, tongue.T("Left out: %s.", text))
	}
	if how.Stations == nil && len(f.Found) == 0 {
		f.Add(0, "", "give --every with --from, or --stations with one for each, or set them in the window",
			"the places of its frames along the hull are missing: %d closed outlines without names, %s", len(lines), rowsText(rows))
	}
}

// closedLines gives the closed outlines, each once, including those made of open lines
// that meet, and all others. gaps names those whose ends do not quite meet.
func closedLines(outlines []Outline) (closed []closedLine, rest []Outline, gaps string) {
	bridged := 0
	add := func(o Outline) {
		c := closedLine{Outline: o, box: boxOf(o.Points), area: math.Abs(areaOf(o.Points))}
		if !slices.ContainsFunc(closed[:min(len(closed), mostClosed)], c.again) {
			closed = append(closed, c)
		}
	}
	open := map[string][]int{} // by layer
	for i := range outlines {
		switch o := &outlines[i]; {
		case o.Mark == Unused || len(o.Points) < 2:
			rest = append(rest, *o)
		case o.Closed:
			add(*o)
		default:
			open[o.Layer] = append(open[o.Layer], i)
		}
	}
	for i := range outlines { // layer by layer, in the order of the drawing
		list := open[outlines[i].Layer]
		if len(list) == 0 || list[0] != i {
			continue
		}
		if len(list) > mostPieces {
			for _, k := range list {
				rest = append(rest, outlines[k])
			}
			continue
		}
		var strokes []stroke
		for _, k := range list {
			strokes = append(strokes, outlines[k].stroke(1))
		}
		for _, c := range joined(strokes, true) {
			if c.allButShut() {
				c = c.shut()
				bridged++
			}
			o := c.outline(Outline{Name: outlines[i].Name, Layer: outlines[i].Layer})
			if len(list) == 1 {
				o.ID = outlines[i].ID
			}
			if c.closed {
				add(o)
			} else {
				rest = append(rest, o)
			}
		}
	}
	if bridged > 0 {
		gaps = tongue.T("The ends of %s do not quite meet, and are joined.", tongue.Count(bridged, "%d outline", "%d outlines", bridged))
	}
	return closed, rest, gaps
}

// allButShut reports whether the ends of a chain lie so close together that it must be
// meant to be closed.
func (c *chain) allButShut() bool {
	if c.closed || len(c.pts) < 4 {
		return false
	}
	b := boxOf(c.pts)
	return c.pts[0].Sub(c.pts[len(c.pts)-1]).Len() <= gapShare*max(b.x1-b.x0, b.y1-b.y0)
}

// again reports whether a line is the other drawn once more.
func (c *closedLine) again(o closedLine) bool {
	const off = 2 * meeting
	return math.Abs(c.box.x0-o.box.x0) < off && math.Abs(c.box.x1-o.box.x1) < off && math.Abs(c.box.y0-o.box.y0) < off &&
		math.Abs(c.box.y1-o.box.y1) < off && math.Abs(c.area-o.area) < off*c.size()
}

// areaOf is the area enclosed by points, positive where they run anticlockwise.
func areaOf(pts []mgl64.Vec2) float64 {
	sum := 0.0
	for i := range pts {
		a, b := pts[i], pts[(i+1)%len(pts)]
		sum += a[0]*b[1] - a[1]*b[0]
	}
	return sum / 2
}

// nested counts how many others each line lies inside. One that holds all others is the
// edge of the sheet, and counts for none; its index, or -1. twin is one that lies so close
// inside another that it is the same outline offset, or -1.
func nested(closed []closedLine) (edge, twin int) {
	edge, twin = -1, -1
	within := make([]int, len(closed)) // how many lie inside each
	for i := range closed {
		for k := range closed {
			if i != k && closed[i].within(&closed[k]) {
				closed[i].depth++
				within[k]++
				if closed[i].area > sameShape*closed[k].area {
					twin = i
				}
			}
		}
	}
	for i := range closed {
		if within[i] == len(closed)-1 && within[i] >= fewestPieces {
			edge = i
		}
	}
	if edge >= 0 {
		for i := range closed {
			closed[i].depth = max(closed[i].depth-1, 0)
		}
	}
	return edge, twin
}

// within reports whether a line lies inside another.
func (c *closedLine) within(other *closedLine) bool {
	a, b := &c.box, &other.box
	return c.area < other.area && a.x0 >= b.x0 && a.x1 <= b.x1 && a.y0 >= b.y0 && a.y1 <= b.y1 && inside(c.Points[0], other.Points)
}

// inside reports whether a point lies inside a closed line.
func inside(q mgl64.Vec2, pts []mgl64.Vec2) bool {
	in := false
	for i := range pts {
		a, b := pts[i], pts[(i+1)%len(pts)]
		if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < a[0]+(q[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// openLines counts open lines, which are ignored, and returns those of them that lie
// in no piece and are as large as pieces: they may be frames.
func openLines(rest []Outline, found []closedLine) (n int, large []Outline) {
	var sizes []float64
	for i := range found {
		sizes = append(sizes, found[i].size())
	}
	slices.Sort(sizes)
	for i := range rest {
		o := &rest[i]
		if o.Closed || o.Mark == Unused || len(o.Points) < 2 {
			continue
		}
		n++
		b := boxOf(o.Points)
		if len(sizes) > 0 && max(b.x1-b.x0, b.y1-b.y0) > openPiece*sizes[len(sizes)/2] &&
			!slices.ContainsFunc(found, func(c closedLine) bool { return inside(o.Points[len(o.Points)/2], c.Points) }) {
			large = append(large, *o)
		}
	}
	return n, large
}

// inRows sorts pieces in reading order: row by row from the top, each from the left.
func inRows(found []closedLine) (rows [][]closedLine) {
	left := slices.Clone(found)
	slices.SortStableFunc(left, func(a, b closedLine) int { return cmp.Compare(b.box.y1, a.box.y1) })
	for len(left) > 0 {
		first := left[0].box
		var row, others []closedLine
		for _, c := range left {
			over := min(c.box.y1, first.y1) - max(c.box.y0, first.y0)
			if over > sameRow*min(c.box.y1-c.box.y0, first.y1-first.y0) {
				row = append(row, c)
			} else {
				others = append(others, c)
			}
		}
		slices.SortStableFunc(row, func(a, b closedLine) int { return cmp.Compare(a.box.x0+a.box.x1, b.box.x0+b.box.x1) })
		rows, left = append(rows, row), others
	}
	return rows
}

// rowsText says how pieces were named.
func rowsText(rows [][]closedLine) string {
	if len(rows) == 1 {
		return tongue.T("1 to %d from left to right", len(rows[0]))
	}
	var out []string
	n := 0
	for _, row := range rows {
		text := strconv.Itoa(n + 1)
		if len(row) > 1 {
			text += tongue.T(" to %d", n+len(row))
		}
		n += len(row)
		out = append(out, text)
	}
	return tongue.T("row by row from the top, each from left to right, %s", few(out))
}

// passedText says what on a sheet is not a piece.
func passedText(holes, small, open int, edge bool) string {
	var out []string
	if holes > 0 {
		out = append(out, tongue.Count(holes, "%d hole", "%d holes", holes))
	}
	if small > 0 {
		out = append(out, tongue.Count(small, "%d small closed line", "%d small closed lines", small))
	}
	if open > 0 {
		out = append(out, tongue.Count(open, "%d open line", "%d open lines", open))
	}
	if edge {
		out = append(out, tongue.T("the edge of the sheet"))
	}
	return strings.Join(out, ", ")
}
