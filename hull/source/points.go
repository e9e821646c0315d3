package source

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// pointsHeader is the header suggested to whoever has another.
const pointsHeader = "frame,x_mm,y_mm,z_mm"

// ReadPoints reads a hull from a table of points (CSV): a header
// frame,x_mm,y_mm,z_mm (or _cm, _in, which are converted), then one row a
// point, each frame's points from the upper limit down, the frames by
// increasing x. A fifth column, kind, marks with knuckle the corners to be
// kept; on the first or last point of a frame it means nothing and is ignored.
// A byte-order mark, CRLF, semicolons or tabs between the columns, decimal
// commas with either, blank lines and quoted fields are all understood.
//
// The error is the first Fault of the file, which names the file as name.
func ReadPoints(r io.Reader, name string) (*hull.Hull, error) {
	p := readPoints(r, name)
	if found := p.Sorted(); len(found) > 0 {
		return nil, found[0]
	}
	return &p.hull, nil
}

// readPoints reads as ReadPoints does: its reader holds every fault found, and the
// hull as far as it could be read.
func readPoints(r io.Reader, name string) *pointsReader {
	p := &pointsReader{List: fault.List{File: name}, torn: map[int]bool{}}
	if text, ok := plaintext.ReadTable(r, plaintext.LargestTable, &p.List); ok {
		p.read(text)
	}
	p.hull.Settle()
	return p
}

// pointsReader is the state of reading one points file.
type pointsReader struct {
	fault.List
	hull    hull.Hull
	lines   [][]int // for each point of each frame
	starts  []int   // line at which each frame starts
	torn    map[int]bool
	scale   [3]float64 // mm per unit, by column
	columns int        // 4, or 5 with kind
	comma   bool       // decimal commas are allowed
	rows    int
}

// read reads the table and checks the hull.
func (p *pointsReader) read(text []byte) {
	if trimmed := bytes.TrimSpace(text); trimmed[0] == '{' {
		p.Add(0, "", "open it as a plan", "this is a plan, not a table of points")
		return
	}
	if !bytes.Contains(text, []byte("\n")) {
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma = separatorOf(text)
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = c.Comma != '\t'
	c.ReuseRecord = true
	p.comma = c.Comma != ',' || plaintext.QuotedCommas(text)
	if !plaintext.Narrow(text, c.Comma, &p.List) {
		return
	}

	header := 0
	for {
		fields, err := c.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			plaintext.AddCSV(&p.List, err)
			return
		}
		line, _ := c.FieldPos(0)
		fields = trimFields(fields)
		switch {
		case len(fields) == 0:
		case header == 0:
			header = line
			if !p.header(line, fields) {
				return
			}
		default:
			if p.rows++; p.rows > hull.MostPoints {
				p.Add(line, "", "leave points out", "there are more than %d points, the most that the program reads", hull.MostPoints)
				return
			}
			p.row(line, fields)
		}
	}
	if n := len(p.hull.Frames); n > 0 {
		dropLastKnuckle(&p.hull.Frames[n-1])
	}
	p.hull.CheckIn(hull.Places{
		Line: func(frame, point int) int {
			if point < 0 {
				return p.starts[frame]
			}
			return p.lines[frame][point]
		},
		Scale: header,
		Unit:  tongue.T("give them in mm, or name their unit in the header (x_mm, x_cm or x_in)"),
		Torn:  p.torn,
	}, &p.List)
}

// header reads the header; false, with a fault noted, where it is not one.
func (p *pointsReader) header(line int, fields []string) bool {
	p.columns = len(fields)
	name := func(k int) string { return strings.ToLower(fields[k]) }
	if n := len(fields); n < 4 || n > 5 || name(0) != "frame" || (n == 5 && name(4) != "kind") {
		what, told := tongue.T("the header is"), strings.Join(fields, ",")
		if len(fields) > 1 && looksLikeNumber(fields[1], p.comma) {
			what = tongue.T("there is no header, and the first line is")
		}
		if r := []rune(told); len(r) > 60 {
			told = string(r[:60]) + "…"
		}
		p.Add(line, "", tongue.T("make the first line %s, with kind as a fifth column if corners are kept", pointsHeader), "%s %q", what, told)
		return false
	}
	for k, axis := range []string{"x", "y", "z"} {
		got, unit, _ := strings.Cut(name(k+1), "_")
		if got != axis {
			p.Add(line, "", tongue.T("make the first line %s", pointsHeader), "column %d is headed %q", k+2, fields[k+1])
			return false
		}
		mm, ok := plaintext.Unit(unit)
		if !ok {
			p.Add(line, "", tongue.T("use mm, cm or in, as in %s", pointsHeader), "column %d is headed %q, which has no known unit", k+2, fields[k+1])
			return false
		}
		p.scale[k] = mm
	}
	return true
}

// row reads one point.
func (p *pointsReader) row(line int, fields []string) {
	frame := p.frame(line, fields[0])
	fr := &p.hull.Frames[frame]
	if n := len(fields); n > p.columns || n < 4 {
		mend := tongue.T("give a frame, x, y and z")
		if !p.comma && n > p.columns {
			mend += tongue.T(" (with decimal commas, put ; between the columns)")
		}
		p.Add(line, fr.Name, mend, "the line has %s and the header %d", tongue.Count(n, "%d column", "%d columns", n), p.columns)
		p.torn[frame] = true
		return
	}
	var at mgl64.Vec3
	for k, axis := range []string{"x", "y", "z"} {
		v, wrong := plaintext.Number(fields[k+1], p.comma)
		if wrong != "" {
			p.AddAt(line, k+2, fr.Name, "give a number such as 12.5", "%s %s", axis, wrong)
			p.torn[frame] = true
			return
		}
		at[k] = v * p.scale[k]
	}
	if len(fields) == 5 {
		switch kind := strings.ToLower(fields[4]); kind {
		case "":
		case "knuckle":
			if len(fr.Points) > 0 {
				fr.Knuckles = append(fr.Knuckles, len(fr.Points))
			}
		default:
			p.AddAt(line, 5, fr.Name, "write knuckle, or leave it empty", "the kind of point %q is not known", fields[4])
		}
	}
	fr.Points = append(fr.Points, at)
	p.lines[frame] = append(p.lines[frame], line)
}

// frame gives the index of the frame to which a row belongs: the last one, or a
// new one with the given name.
func (p *pointsReader) frame(line int, name string) int {
	n := len(p.hull.Frames)
	if n > 0 && p.hull.Frames[n-1].Name == name {
		return n - 1
	}
	if n > 0 {
		dropLastKnuckle(&p.hull.Frames[n-1])
	}
	p.hull.Frames = append(p.hull.Frames, hull.Frame{Name: name})
	p.lines = append(p.lines, nil)
	p.starts = append(p.starts, line)
	return n
}

// dropLastKnuckle drops a knuckle on the last point of a frame: the edge of the
// planking is not one of its corners.
func dropLastKnuckle(fr *hull.Frame) {
	if k := len(fr.Knuckles); k > 0 && fr.Knuckles[k-1] == len(fr.Points)-1 {
		fr.Knuckles = fr.Knuckles[:k-1]
	}
	if len(fr.Knuckles) == 0 {
		fr.Knuckles = nil
	}
}

// separatorOf gives the separator of the columns, from the first line that is
// not blank: a semicolon, a tab, or otherwise a comma.
func separatorOf(text []byte) rune {
	first, _, _ := bytes.Cut(bytes.TrimSpace(text), []byte("\n"))
	switch {
	case bytes.ContainsRune(first, ';'):
		return ';'
	case bytes.ContainsRune(first, '\t'):
		return '\t'
	}
	return ','
}

// trimFields removes the space around the fields, and empty fields after the
// fourth; a line of only empty fields has none left.
func trimFields(fields []string) []string {
	empty := true
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
		empty = empty && fields[i] == ""
	}
	if empty {
		return nil
	}
	for len(fields) > 4 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	return fields
}

// looksLikeNumber reports whether s is a number.
func looksLikeNumber(s string, comma bool) bool {
	_, wrong := plaintext.Number(s, comma)
	return wrong == ""
}

// WritePoints writes a hull as a table of points in mm that ReadPoints reads;
// each figure is in full, so that it reads back the same.
func WritePoints(w io.Writer, h *hull.Hull) error {
	c := csv.NewWriter(w)
	header := strings.Split(pointsHeader, ",")
	knuckles := false
	for _, fr := range h.Frames {
		knuckles = knuckles || len(fr.Knuckles) > 0
	}
	if knuckles {
		header = append(header, "kind")
	}
	if err := c.Write(header); err != nil {
		return tongue.Errorf("points: %w", err)
	}
	for _, fr := range h.Frames {
		kinds := make([]string, len(fr.Points))
		for _, k := range fr.Knuckles {
			if k >= 0 && k < len(kinds) {
				kinds[k] = "knuckle"
			}
		}
		for j, pt := range fr.Points {
			row := []string{fr.Name, plaintext.Figure(pt.X()), plaintext.Figure(pt.Y()), plaintext.Figure(pt.Z())}
			if knuckles {
				row = append(row, kinds[j])
			}
			if err := c.Write(row); err != nil {
				return tongue.Errorf("points: frame %s: %w", fr.Name, err)
			}
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return tongue.Errorf("points: %w", err)
	}
	return nil
}
