package source

import (
	"io"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// ReadGirths reads the girths of a hull of which only the frames on the bench are
// known (CSV): a header frame,x_mm,girth_mm (or _cm, _in) and, where the turns
// are known, turn_deg, then a row a frame, by increasing x. A turn is the angle
// between the frame's upper and lower end, blank where it is not known.
//
// The error is the first Fault of the file, which names the file as name.
func ReadGirths(r io.Reader, name string) (*hull.Hull, error) {
	h, found := checkGirths(r, name)
	if len(found) > 0 {
		return nil, found[0]
	}
	return h, nil
}

// checkGirths reads as ReadGirths does and returns every fault found, in the
// order of the lines, and the hull as far as it could be read.
func checkGirths(r io.Reader, name string) (*hull.Hull, []fault.Fault) {
	g := girthsReader{List: fault.List{File: name}}
	if text, ok := plaintext.ReadTable(r, plaintext.LargestTable, &g.List); ok {
		g.read(text)
	}
	g.hull.Settle()
	return &g.hull, g.Sorted()
}

// girthsReader is the state of reading one table of girths.
type girthsReader struct {
	fault.List
	hull  hull.Hull
	comma bool
	scale [2]float64 // mm per unit, of x and of the girth
	turns bool
}

const girthsHeader = "frame,x_mm,girth_mm"

func (r *girthsReader) read(text []byte) {
	rows, comma, ok := plaintext.Rows(text, hull.MostFrames+1, &r.List)
	if !ok {
		return
	}
	if len(rows) == 0 {
		r.Add(0, "", "check that it is the right file", "its columns are empty")
		return
	}
	if !r.header(rows[0]) {
		return
	}
	r.comma = comma
	lines := []int{}
	girths := []hull.Girth{}
	for _, row := range rows[1:] {
		if g, ok := r.row(row); ok {
			girths = append(girths, g)
			lines = append(lines, row.Line)
		}
	}
	if len(r.Found) > 0 {
		return
	}
	r.hull.SetGirths(girths)
	r.hull.CheckIn(hull.Places{
		Line:  func(frame, _ int) int { return lines[frame] },
		Scale: rows[0].Line,
		Unit:  tongue.T("give them in mm, or name their unit in the header (x_mm, x_cm or x_in)"),
	}, &r.List)
}

// header reads the header.
func (r *girthsReader) header(row plaintext.Row) bool {
	const mend = "make the first line " + girthsHeader + ", with turn_deg as a fourth column if the turns are known"
	for k, want := range []string{"x", "girth"} {
		name, unit, _ := strings.Cut(strings.ToLower(row.At(k+1)), "_")
		mm, known := plaintext.Unit(unit)
		switch {
		case name != want:
			r.Add(row.Line, "", mend, "column %d is headed %s", k+2, fault.Name(row.At(k+1)))
			return false
		case !known:
			r.Add(row.Line, "", tongue.T("use mm, cm or in, as in %s", girthsHeader), "column %d is headed %s, which has no known unit", k+2, fault.Name(row.At(k+1)))
			return false
		}
		r.scale[k] = mm
	}
	r.turns = len(row.Fields) > 3
	if row.Key() != "frame" || len(row.Fields) > 4 || (r.turns && strings.ToLower(row.At(3)) != "turn_deg") {
		r.Add(row.Line, "", mend, "the header is not understood")
		return false
	}
	return true
}

// row reads one frame.
func (r *girthsReader) row(row plaintext.Row) (g hull.Girth, ok bool) {
	g.Frame = row.At(0)
	most := 3
	if r.turns {
		most = 4
	}
	if n := len(row.Fields); n > most {
		r.Add(row.Line, g.Frame, "give a row for each frame", "the line has %s and the header %d", tongue.Count(n, "%d column", "%d columns", n), most)
		return g, false
	}
	ok = true
	for k, into := range []*float64{&g.X, &g.Girth} {
		v, wrong := plaintext.Number(row.At(k+1), r.comma)
		v *= r.scale[k]
		what := []string{"x", tongue.T("the girth")}[k]
		switch {
		case wrong != "":
			r.AddAt(row.Line, k+2, g.Frame, "give a number such as 12.5", "%s %s", what, wrong)
			ok = false
		case math.Abs(v) > hull.Largest:
			r.AddAt(row.Line, k+2, g.Frame, "check the figure and its unit", "%s is %s mm, over 100 m", what, fault.Figure(v))
			ok = false
		case k == 1 && !hull.FrameGirth.Holds(v):
			r.AddAt(row.Line, k+2, g.Frame, "measure it from the upper limit to the rabbet", "the girth is %s mm", fault.Figure(v))
			ok = false
		}
		*into = v
	}
	if text := row.At(3); text != "" {
		v, wrong := plaintext.Number(text, r.comma)
		if wrong == "" && !hull.GirthTurn.Holds(v) {
			wrong = tongue.T("is %s degrees", fault.Figure(v))
		}
		if wrong != "" {
			r.AddAt(row.Line, 4, g.Frame, tongue.T("give it in degrees, from %d to %d, or leave it blank", hull.LeastTurn, hull.MostTurn), "the turn %s", wrong)
			ok = false
		}
		g.Turn, g.Turned = hull.TurnOf(v), true
	}
	return g, ok
}
