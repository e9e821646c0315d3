package hull

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Girth is what is known of a frame of which only its girth was measured.
type Girth struct {
	Frame  string
	X      float64 // mm along the keel
	Girth  float64 // mm, from the upper limit to the rabbet
	Turn   Angle   // by which the frame turns from upper limit to rabbet, positive where it is convex
	Turned bool    // whether the turn is known; where it is not it counts as none

	extra *extra
}

// Bounds of measured girths.
const (
	arcPoints = 25 // of a frame: the cubic through them is right to 1e-6 of any girth that turns half round
	leastTurn = -180
	mostTurn  = 270 // degrees: beyond it the frame would nearly close
)

// girthTurn is how far a frame turns from its upper to its lower limit, degrees.
var girthTurn = Range{leastTurn, mostTurn, false}

// Shapeless tells whether only the girths of the frames are known. The frames
// are then arcs of that girth and turn, which stand for them where widths,
// gaps, wedges, bevels and stock are found; how a strip lies on the hull cannot
// be told from them.
func (h *Hull) Shapeless() bool { return len(h.Girths) > 0 }

// SetGirths makes a hull of measured girths: arcs of the girth and turn of each,
// straight where the turn is not known, their middles in one line.
func (h *Hull) SetGirths(girths []Girth) {
	h.Girths = girths
	h.Frames = nil
	most := 0.0
	for _, g := range girths {
		most = max(most, g.Girth)
	}
	for _, g := range girths {
		h.Frames = append(h.Frames, g.arc(most))
	}
}

// arc is the frame that stands for a girth: half way down it is at 45 degrees,
// at a half-breadth that keeps all of it clear of the centre line.
func (g Girth) arc(clear float64) Frame {
	const steep = math.Pi / 4
	f := Frame{Name: g.Frame}
	for k := range arcPoints {
		s := g.Girth * (float64(k)/(arcPoints-1) - 0.5)
		half := 0.5 * float64(g.Turn) * (float64(k)/(arcPoints-1) - 0.5)
		chord := s
		if half != 0 {
			chord = s * math.Sin(half) / half
		}
		sin, cos := math.Sincos(steep + half)
		f.Points = append(f.Points, mgl64.Vec3{g.X, clear - chord*sin, -chord * cos})
	}
	return f
}

// turnOf is the angle of so many degrees, to the billionth of one, so that it
// is written as it was read.
func turnOf(deg float64) Angle { return Degrees(math.Round(deg*1e9)/1e9 + 0) }

// ReadGirths reads the girths of a hull of which only the frames on the bench
// are known (CSV): a header frame,x_mm,girth_mm (or _cm, _in) and, where the
// turns are known, turn_deg, then a row a frame, by rising x. A turn is the angle
// between the frame's upper and lower end, blank where it is not known.
//
// The error is the first Fault of the file; name is the file's name in it.
func ReadGirths(r io.Reader, name string) (*Hull, error) {
	h, found := CheckGirths(r, name)
	if len(found) > 0 {
		return nil, found[0]
	}
	return h, nil
}

// CheckGirths reads as ReadGirths does and gives every fault found, in the order
// of the lines, and the hull as far as it could be read.
func CheckGirths(r io.Reader, name string) (*Hull, []Fault) {
	g := girthsReader{faults: faults{file: name}}
	if text, ok := readText(r, largestPointsFile, &g.faults); ok {
		g.read(text)
	}
	g.hull.settle()
	return &g.hull, g.sorted()
}

// girthsReader is the state of reading one table of girths.
type girthsReader struct {
	faults
	hull  Hull
	comma bool
	scale [2]float64 // mm of a unit, of x and of the girth
	turns bool
}

const girthsHeader = "frame,x_mm,girth_mm"

func (r *girthsReader) read(text []byte) {
	rows, comma, ok := tableRows(text, mostFrames+1, &r.faults)
	if !ok {
		return
	}
	if len(rows) == 0 {
		r.add(0, "", "check that it is the right file", "there is nothing in its columns")
		return
	}
	if !r.header(rows[0]) {
		return
	}
	r.comma = comma
	lines := []int{}
	girths := []Girth{}
	for _, row := range rows[1:] {
		if g, ok := r.row(row); ok {
			girths = append(girths, g)
			lines = append(lines, row.line)
		}
	}
	if len(r.list) > 0 {
		return
	}
	r.hull.SetGirths(girths)
	checkHull(&r.hull, places{
		line:  func(frame, _ int) int { return lines[frame] },
		scale: rows[0].line,
		unit:  "give them in mm, or name their unit in the header (x_mm, x_cm or x_in)",
	}, &r.faults)
}

// header reads the header.
func (r *girthsReader) header(row tableRow) bool {
	const mend = "let the first line be " + girthsHeader + ", with turn_deg as a fourth column if the turns are known"
	for k, want := range []string{"x", "girth"} {
		name, unit, _ := strings.Cut(strings.ToLower(row.at(k+1)), "_")
		mm, known := units[unit]
		switch {
		case name != want:
			r.add(row.line, "", mend, "column %d is headed %s", k+2, called(row.at(k+1)))
			return false
		case !known:
			r.add(row.line, "", "use mm, cm or in, as in "+girthsHeader, "column %d is headed %s, which names no known unit", k+2, called(row.at(k+1)))
			return false
		}
		r.scale[k] = mm
	}
	r.turns = len(row.fields) > 3
	if row.key() != "frame" || len(row.fields) > 4 || (r.turns && strings.ToLower(row.at(3)) != "turn_deg") {
		r.add(row.line, "", mend, "the header is not understood")
		return false
	}
	return true
}

// row reads one frame.
func (r *girthsReader) row(row tableRow) (g Girth, ok bool) {
	g.Frame = row.at(0)
	most := 3
	if r.turns {
		most = 4
	}
	if n := len(row.fields); n > most {
		r.add(row.line, g.Frame, "give a row for each frame", "the line has %s and the header %d", counted(n, "", "", "column"), most)
		return g, false
	}
	ok = true
	for k, into := range []*float64{&g.X, &g.Girth} {
		v, wrong := parseNumber(row.at(k+1), r.comma)
		v *= r.scale[k]
		what := []string{"x", "the girth"}[k]
		switch {
		case wrong != "":
			r.add(row.line, g.Frame, "give a number such as 12.5", "%s %s", what, wrong)
			ok = false
		case math.Abs(v) > largest:
			r.add(row.line, g.Frame, "check the figure and its unit", "%s is %s mm, over 100 m", what, told(v))
			ok = false
		case k == 1 && !FrameGirth.Holds(v):
			r.add(row.line, g.Frame, "measure it from the upper limit to the rabbet", "the girth is %s mm", told(v))
			ok = false
		}
		*into = v
	}
	if text := row.at(3); text != "" {
		v, wrong := parseNumber(text, r.comma)
		if wrong == "" && !girthTurn.Holds(v) {
			wrong = fmt.Sprintf("is %s degrees", told(v))
		}
		if wrong != "" {
			r.add(row.line, g.Frame, fmt.Sprintf("give it in degrees, from %d to %d, or leave it blank", leastTurn, mostTurn), "the turn %s", wrong)
			ok = false
		}
		g.Turn, g.Turned = turnOf(v), true
	}
	return g, ok
}

// girths reads the girths of a plan's hull in place of its frames.
func (r *planReader) girths(n node, h *Hull) {
	items, ok := r.items(n, `"girths"`, mostFrames)
	var girths []Girth
	for i, n := range items {
		where := fmt.Sprintf("girth %d", i+1)
		o := r.object(n, where)
		g := Girth{Frame: o.string("frame"), X: o.number("x", Range{-largest, largest, false}), Girth: o.number("girth", FrameGirth)}
		if n, has := o.take("turn_deg"); has {
			v, _ := r.number(n, `"turn_deg" of `+where, girthTurn)
			g.Turn, g.Turned = turnOf(v), true
		}
		g.extra = o.rest()
		ok = ok && g.Girth > 0
		girths = append(girths, g)
	}
	if !ok {
		return
	}
	h.SetGirths(girths)
	checkHull(h, places{
		line: func(frame, _ int) int { return lineAt(r.text, items[frame].at) },
		unit: nowhere.unit,
	}, &r.faults)
}

// girthsList is the girths as they are written.
func (h *Hull) girthsList() list {
	out := list{}
	for _, g := range h.Girths {
		o := object{{"frame", g.Frame}, {"x", g.X}, {"girth", g.Girth}}
		if g.Turned {
			o = append(o, member{"turn_deg", math.Round(g.Turn.Degrees()*1e9)/1e9 + 0})
		}
		out = append(out, append(o, g.extra.members()...))
	}
	return out
}

// Unturned gives the names of the frames whose turn is not known, of a hull
// known by its girths.
func (h *Hull) Unturned() []string {
	var out []string
	for _, g := range h.Girths {
		if !g.Turned {
			out = append(out, g.Frame)
		}
	}
	return out
}
