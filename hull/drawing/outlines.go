package drawing

import (
	"cmp"
	"maps"
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

// Outline is a line found in a drawing, its pieces joined, or a point that marks
// a place; y points upwards.
type Outline struct {
	Name    string // id, label, layer or block under which it is drawn
	ID      string // made up by a drawing program, for a line without a name of its own
	Layer   string // the layer; in SVG the layer's name, or that of the outermost group
	Frame   string // the frame it outlines or marks; empty for none or all
	Mark    string // one of the marks below; empty for an outline
	X       float64
	Placed  bool         // X is where its frame stands, mm at the model's size; for a profile, where its upper end stands; for a waterline its height, for a buttock its half-breadth
	drawn   float64      // X as drawn in space, which is scaled with the rest while X still equals it
	Profile bool         // the stem or the stern seen from the side, not a frame seen from the end
	Siding  float64      // for a profile, or the rabbet from the side: the half-breadth along it, mm at the model's size
	Points  []mgl64.Vec2 // mm as drawn; a single one is a place
	Corners []int        // points at which it turns a corner
	Closed  bool         // the last point then lies on the first
	Line    int          // in the file
}

// What a line can mark.
const (
	CentreMark  = "centre"
	BaseMark    = "base"
	UpperMark   = "upper"
	RabbetMark  = "rabbet"
	StationMark = "station" // where a frame stands, in a profile
	Unused      = "unused"  // nothing: the line is not read

	// In a drawing of waterlines and buttocks each limit belongs to one of the
	// views, and the centre line to the half-breadth plan.
	WaterlineMark = "waterline"
	ButtockMark   = "buttock"
	OriginMark    = "origin" // where x is 0
)

// Bounds are the least and greatest coordinates of its points, mm as drawn;
// both are zero for one without points.
func (o *Outline) Bounds() (low, high mgl64.Vec2) {
	for i, p := range o.Points {
		if i == 0 {
			low, high = p, p
		}
		low = mgl64.Vec2{min(low[0], p[0]), min(low[1], p[1])}
		high = mgl64.Vec2{max(high[0], p[0]), max(high[1], p[1])}
	}
	return low, high
}

// Called is the name that best distinguishes it from others, or empty.
func (o *Outline) Called() string {
	if o.ID != "" && (o.Name == "" || o.Name == o.Layer) {
		return o.ID
	}
	return o.Name
}

// Title says in a few words what it is taken for.
func (o *Outline) Title() string {
	switch {
	case o.Mark == Unused:
		return o.Called()
	case o.Mark != "":
		if text := o.Mark; o.IsLine() && o.Placed {
			return text + " " + fault.Figure(o.X)
		}
		return strings.TrimSpace(o.Mark + " " + o.Frame)
	case o.Profile:
		return tongue.T("%s, from the side", o.Frame)
	case o.Frame == "":
		return "frame ?"
	}
	return tongue.T("frame %s", o.Frame)
}

// Length is the length of the line as drawn, mm.
func (o *Outline) Length() float64 {
	c := chain{pts: o.Points}
	return c.length()
}

// stroke is the line as it was drawn, scaled by a factor, to be joined with
// others.
func (o *Outline) stroke(factor float64) stroke {
	s := stroke{closed: o.Closed, line: o.Line, dot: len(o.Points) == 1, pts: make([]mgl64.Vec2, len(o.Points))}
	for i, q := range o.Points {
		s.pts[i] = q.Mul(factor)
	}
	for _, i := range o.Corners {
		if i > 0 && i < len(o.Points)-1 {
			s.joints = append(s.joints, i)
		}
	}
	return s
}

// Drawing is what was found in a drawing, and the hull made from it.
type Drawing struct {
	Hull     hull.Hull
	Outlines []Outline
	Unit     string   // of the drawing, as "mm" or "inches"; empty where it names none
	Told     Options  // what names in the drawing say about its scale
	Halves   []Halves // of the frames drawn whole, by increasing x
	Whole    bool     // nothing was wrong with the drawing itself, whatever hull it makes
	Notes    []string // what the builder should know, a sentence each
}

// naming works out which outline or mark each stroke of a drawing belongs to.
type naming struct {
	*fault.List
	drawing *Drawing
	beside  *beside
	found   map[string]bool        // the frames that have been met
	x       stations               // where they stand, as far as is known
	lines   map[lineKey]*namedLine // by what they are
}

// lineKey tells outlines apart: pieces under one key are joined. The name
// matters for lines that are no frame's; the number keeps apart those that must
// not be joined.
type lineKey struct {
	mark, frame, name string
	at                float64 // of a waterline or buttock
	alone             int
}

// untold reports whether it belongs to no frame and is no mark, or is a waterline or
// buttock whose place is not given.
func (k lineKey) untold() bool {
	return k.mark == Unused || (k.mark == "" && k.frame == "") || k.name != ""
}

// namedLine is what is drawn under one key.
type namedLine struct {
	outline Outline // without points, with the values of the first of its pieces
	pieces  []stroke
	dots    []stroke
}

// outlinesOf sorts the strokes of a drawing by what their names say they are, and
// joins those that belong together.
func outlinesOf(strokes []stroke, b *beside, d *Drawing, f *fault.List) {
	n := &naming{List: f, drawing: d, beside: b, found: map[string]bool{}, x: stations{}, lines: map[lineKey]*namedLine{}}
	for i := range strokes {
		n.sort(&strokes[i])
	}
	doubtful(n.lines)
	n.list()
	n.missing()
}

// marks are the names, in lower case, of the lines that are not outlines, and
// what they mark.
var marks = map[string]string{
	"centre": CentreMark, "center": CentreMark, "base": BaseMark,
	"upper": UpperMark, "sheer": UpperMark, "wale": UpperMark, "rabbet": RabbetMark,
	"station": StationMark,
}

// stationed matches a name that gives its frame's x, such as frame-F-x-120.5mm;
// profiled matches that of a stem or stern seen from the side, such as stem,
// stem-y-2.5 or profile-stem-x-12-y-2.5.
var (
	stationed = regexp.MustCompile(`(?i)^(?:frame[-_ ])?(.+?)[-_ ]x[-_ ](-?\d+(?:[.,]\d+)?) ?(mm|cm|in)?$`)
	profiled  = regexp.MustCompile(`(?i)^(profile[-_ ])?(stem|stern)(?:[-_ ]x[-_ ](-?\d+(?:[.,]\d+)?) ?(mm|cm|in)?)?(?:[-_ ]y[-_ ](\d+(?:[.,]\d+)?) ?(mm|cm|in)?)?$`)
)

// lengthOf is a length given in a name, in mm; without a unit it is taken to be
// in mm.
func lengthOf(figure, unit string) (mm float64, ok bool) {
	v, err := strconv.ParseFloat(strings.Replace(figure, ",", ".", 1), 64)
	if err != nil {
		return 0, false
	}
	if per, known := plaintext.Unit(strings.ToLower(unit)); known {
		v *= per
	}
	return v, true
}

// lineOf gives what a name says that a line is: the outline of a frame, or a
// mark, as far as the name says. A table beside the drawing overrides the name.
func (n *naming) lineOf(name string) (o Outline, ok bool) {
	as, listed := n.beside.as[name]
	if !listed {
		return n.plainly(name)
	}
	if as == "" {
		return Outline{Mark: Unused}, true
	}
	if o, ok = n.plainly(as); !ok {
		o = Outline{Frame: as}
	}
	return o, true
}

// plainly is lineOf for a name that the table does not list.
func (n *naming) plainly(name string) (o Outline, ok bool) {
	if o, ok := profileNamed(name); ok && !(hull.Frame{Name: name}).IsEnd() {
		if x, listed := n.beside.ends[o.Frame]; listed {
			o.X, o.Placed = x, true
		}
		return o, true
	}
	for _, plain := range []string{name, shorn(name)} {
		if x, listed := n.beside.x[plain]; listed {
			return Outline{Frame: plain, X: x, Placed: true}, true
		}
	}
	if o, ok := profileNamed(name); ok {
		return o, true
	}
	if m := stationed.FindStringSubmatch(name); m != nil {
		if x, ok := lengthOf(m[2], m[3]); ok {
			if given, listed := n.beside.x[m[1]]; listed {
				x = given
			}
			return Outline{Frame: m[1], X: x, Placed: true}, true
		}
	}
	if o, ok := lineNamed(name); ok {
		return o, true
	}
	head, tail, _ := strings.Cut(name, "-")
	if mark := marks[strings.ToLower(head)]; mark != "" {
		if strings.EqualFold(head, "wale") {
			n.drawing.Hull.Limits.Upper = "wale"
		}
		return Outline{Mark: mark, Frame: tail}, true
	}
	return Outline{Mark: Unused}, strings.EqualFold(name, Unused)
}

// profileNamed reads the name of a stem or stern seen from the side. A name
// that gives only an x, such as stem-x-5, is that of an end frame seen from its
// end.
func profileNamed(name string) (o Outline, ok bool) {
	m := profiled.FindStringSubmatch(name)
	if m == nil || (m[1] == "" && m[3] != "" && m[5] == "") {
		return o, false
	}
	o = Outline{Frame: strings.ToLower(m[2]), Profile: true}
	o.X, o.Placed = lengthOf(m[3], m[4])
	o.Siding, _ = lengthOf(m[5], m[6])
	return o, true
}

// shorn is a name without a leading "frame".
func shorn(name string) string {
	if len(name) > 6 && strings.EqualFold(name[:5], "frame") && strings.ContainsRune("-_ ", rune(name[5])) {
		return name[6:]
	}
	return name
}

// sort adds a stroke to the outline or mark it belongs to, decided by the
// innermost name that says so. A mark without a frame takes that of an
// enclosing group.
func (n *naming) sort(s *stroke) {
	var o Outline
	known := false
	if _, listed := n.beside.as[s.id]; listed {
		o, known = n.lineOf(s.id)
		if o.Mark == "" {
			n.place(s.line, &o)
		}
	}
	inner := ""
	for _, name := range slices.Backward(s.names) {
		n.drawing.Told.name(name)
		is, ok := n.lineOf(name)
		switch {
		case !known && ok && o.within(is, inner):
			o.Name, known = inner, true
		case !ok && inner == "":
			inner = name
		case !ok:
		case !known:
			o, known = is, true
			o.Name = name
			if is.Mark == "" {
				n.place(s.line, &is)
			}
		case o.Mark != "" && o.Mark != Unused && o.Frame == "" && is.Mark == "":
			o.Frame = is.Frame
		case o.ofView() && o.Frame == "" && is.IsLine():
			o.Frame = is.view()
		}
	}
	if !known {
		if k := len(s.names); k > 0 {
			o.Name = s.names[k-1]
		}
		if s.where != nil {
			o.Frame, o.X, o.Placed, o.drawn = s.where.frame, s.where.x, true, s.where.x
			n.place(s.line, &o)
		}
	}
	o.ID = s.id
	n.keep(o, s)
}

// place records that a frame is drawn, and where it stands.
func (n *naming) place(line int, o *Outline) {
	n.found[o.Frame] = true
	if !o.Placed {
		return
	}
	if had, twice := n.x[o.Frame]; twice && had != o.X {
		n.Add(line, o.Frame, "give each frame one x", "the frame is drawn at x %s and x %s", fault.Figure(had), fault.Figure(o.X))
	}
	n.x[o.Frame] = o.X
}

// keep adds a stroke to the others of its outline or mark.
func (n *naming) keep(o Outline, s *stroke) {
	key := lineKey{mark: o.Mark, frame: o.Frame}
	switch {
	case o.Mark == "" && o.Frame == "" || o.Mark == Unused || (o.IsLine() && !o.Placed):
		key.name, key.alone = o.Name, s.alone
	case o.IsLine():
		key.at = o.X
	}
	l := n.lines[key]
	if l == nil {
		o.Layer = s.layer
		l = &namedLine{outline: o}
		n.lines[key] = l
	}
	if s.dot {
		l.dots = append(l.dots, *s)
		return
	}
	if len(l.pieces) > mostPieces {
		return
	}
	l.pieces = append(l.pieces, *s)
	if len(l.pieces) == mostPieces+1 && !key.untold() {
		n.Add(s.line, cmp.Or(o.Frame, o.Name), "join its pieces", "it is drawn in more than %d pieces, the most that the program reads", mostPieces)
	}
}

// list joins the pieces of every outline and mark, and lists them: outlines
// first, then marks, each by name, and the rest last.
func (n *naming) list() {
	rank := func(k lineKey) int {
		switch {
		case k.untold():
			return 2
		case k.mark == "":
			return 0
		}
		return 1
	}
	for _, key := range slices.SortedFunc(maps.Keys(n.lines), func(a, b lineKey) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.mark, b.mark), byNumber(a.frame, b.frame), cmp.Compare(a.at, b.at), byNumber(a.name, b.name), cmp.Compare(a.alone, b.alone))
	}) {
		l := n.lines[key]
		if len(l.pieces) > mostPieces {
			if key.untold() {
				n.drawing.Notes = append(n.drawing.Notes, tongue.T("Left out, because they are in more than %d pieces: %s.", mostPieces, fault.Name(key.name)))
			}
			continue
		}
		for _, c := range joined(l.pieces, key.untold()) {
			n.drawing.Outlines = append(n.drawing.Outlines, c.outline(l.outline))
		}
		for _, d := range l.dots {
			o := l.outline
			o.Points, o.Line = d.pts, d.line
			n.drawing.Outlines = append(n.drawing.Outlines, o)
		}
	}
}

// outline is the chain as an outline, described as o is.
func (c *chain) outline(o Outline) Outline {
	o.Points, o.Closed, o.Line = c.pts, c.closed, c.line
	for i, corner := range c.corner {
		if corner {
			o.Corners = append(o.Corners, i)
		}
	}
	return o
}

// missing notes what the table beside the drawing names but the drawing lacks.
func (n *naming) missing() {
	if len(n.found) == 0 {
		return // said of the whole drawing
	}
	for _, name := range slices.Sorted(maps.Keys(n.beside.x)) {
		if !n.found[name] {
			n.Add(0, name, "rename its outline, or remove it from the table", "the table beside the drawing names it, but no outline has that name")
		}
	}
}
