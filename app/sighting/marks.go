package sighting

import (
	"io"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/plaintext"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/sight"
)

// Bounds of a table of marks.
const (
	mostMarks   = 5000
	mostPixels  = 1e6 // of a picture's side
	mostMarkOff = 100 // px, a standard error
)

// header is how the first line of a table of marks may read; the columns may stand in
// any order, and those after the fourth be left out.
const header = "what,frame,x,y,strake,mm,on,side,px"

// Open reads the marks in a table of them (CSV), those of a layer (from 0) of a
// planking:
//
//	what,frame,x,y,strake,mm,on,px
//	picture,,4000,3000
//	upper,C,812,690
//	rabbet,C,803,2104
//	seam,C,810,1011.5,1.03
//	girth,C,806,1540,,42.5
//	above,C,808.5,1302
//	below,C,805,1711.5,,,plank,1.5
//
// The picture's row gives its size in pixels; it is "cropped" where the picture is
// part of a larger one. Of a frame, upper and rabbet are its ends at the limits, seam
// is the lower edge of a strake already laid, and girth a place so many mm below the
// upper limit. above is the lower edge of what is laid above the gap, and below the
// upper edge of what is laid below it, where they meet the frame. A seam counts as seen
// on the planks' outer face, and so does an end of a frame where the record has it
// covered; all else as seen on the frame. "on" says which where it is otherwise. With "other" as its side a known place is on the ship's other side. px
// is how far the mark may be off, as a standard error.
//
// The error is the first Fault of the file.
func Open(path string, k *loft.Planking, layer int) (sight.Marks, error) {
	m, err := keep.Opened(path, plaintext.LargestTable, func(r io.Reader) (*sight.Marks, error) {
		m, found := read(r, path, k, layer)
		if len(found) > 0 {
			return nil, found[0]
		}
		return m, nil
	})
	if err != nil {
		return sight.Marks{}, err
	}
	return *m, nil
}

// reader is the state of reading one table of marks.
type reader struct {
	fault.List
	k       *loft.Planking
	layer   int
	columns map[string]int
	comma   bool
	marks   sight.Marks
}

func read(in io.Reader, name string, k *loft.Planking, layer int) (*sight.Marks, []fault.Fault) {
	r := &reader{List: fault.List{File: name}, k: k, layer: layer}
	if text, ok := plaintext.ReadTable(in, plaintext.LargestTable, &r.List); ok {
		r.read(text)
	}
	return &r.marks, r.Sorted()
}

func (r *reader) read(text []byte) {
	rows, comma, ok := plaintext.Rows(text, mostMarks, &r.List)
	if !ok {
		return
	}
	if len(rows) == 0 {
		r.Add(0, "", tongue.T("begin with the header %s", header), "there is nothing in it")
		return
	}
	r.comma = comma
	if !r.header(rows[0]) {
		return
	}
	for _, row := range rows[1:] {
		r.row(row)
	}
	if r.marks.Picture.Width == 0 && len(r.Found) == 0 {
		r.Add(0, "", "add a row picture,,4000,3000 with its own width and height in pixels", "the size of the picture is missing")
	}
}

// header notes which columns there are.
func (r *reader) header(row plaintext.Row) bool {
	r.columns = map[string]int{}
	known := strings.Split(header, ",")
	for i, name := range row.Fields {
		name = strings.ToLower(name)
		if !slices.Contains(known, name) {
			r.Add(row.Line, "", tongue.T("name the columns as in %s", header), "there is no column %s in a table of marks", fault.Name(name))
			return false
		}
		r.columns[name] = i
	}
	for _, name := range known[:4] {
		if _, ok := r.columns[name]; !ok {
			r.Add(row.Line, "", tongue.T("begin with the header %s", header), "the column %s is missing", name)
			return false
		}
	}
	return true
}

// at is a row's field in a column; empty where there is none.
func (r *reader) at(row plaintext.Row, column string) string {
	i, ok := r.columns[column]
	if !ok {
		return ""
	}
	return row.At(i)
}

// number reads a field within bounds.
func (r *reader) number(row plaintext.Row, column string, low, high float64) (float64, bool) {
	v, wrong := plaintext.Number(r.at(row, column), r.comma)
	switch {
	case wrong != "":
		r.Add(row.Line, r.at(row, "frame"), "give it as a number", "%s %s", column, wrong)
	case !(v >= low && v <= high):
		r.Add(row.Line, r.at(row, "frame"), tongue.T("give it from %s to %s", fault.Figure(low), fault.Figure(high)), "%s is %s", column, fault.Figure(v))
	default:
		return v, true
	}
	return 0, false
}

// row reads one row.
func (r *reader) row(row plaintext.Row) {
	what := strings.ToLower(r.at(row, "what"))
	if what == "picture" || what == "cropped" {
		r.picture(row, what == "cropped")
		return
	}
	switch sight.What(what) {
	case sight.UpperLimit, sight.Rabbet, sight.SeamBelow, sight.AtGirth:
		r.known(row, sight.What(what))
		return
	}
	switch sight.Of(what) {
	case sight.Above, sight.Below:
		r.edge(row, sight.Of(what))
		return
	}
	r.Add(row.Line, "", "it is one of picture, cropped, upper, rabbet, seam, girth, above and below", "%s is not a kind of mark", fault.Name(what))
}

func (r *reader) picture(row plaintext.Row, cropped bool) {
	w, ok1 := r.number(row, "x", 1, mostPixels)
	h, ok2 := r.number(row, "y", 1, mostPixels)
	if r.marks.Picture.Width != 0 {
		r.Add(row.Line, "", "keep one of the rows", "the size of the picture is given twice")
	}
	if ok1 && ok2 {
		r.marks.Picture = sight.Picture{Width: w, Height: h, Cropped: cropped}
	}
}

// place reads what known places and edges share.
func (r *reader) place(row plaintext.Row) (m sight.Mark, frame int, on sight.Face, ok bool) {
	x, ok1 := r.number(row, "x", -mostPixels, mostPixels)
	y, ok2 := r.number(row, "y", -mostPixels, mostPixels)
	m, ok = sight.Clicked(x, y), ok1 && ok2
	if r.at(row, "px") != "" {
		px, good := r.number(row, "px", 0.01, mostMarkOff)
		m.Across, m.Along, ok = px, px, ok && good
	}
	name := r.at(row, "frame")
	if frame = r.k.Layers[r.layer].Surface.FrameNamed(name); frame < 0 {
		r.Add(row.Line, "", "girths names them all", "the plan has no frame %s", fault.Name(name))
		ok = false
	}
	switch word := strings.ToLower(r.at(row, "on")); sight.Face(word) {
	case "":
	case sight.OnFrame, sight.OnPlank:
		on = sight.Face(word)
	default:
		r.Add(row.Line, name, "write frame or plank, or leave it out", "it cannot be seen on %s", fault.Name(word))
		ok = false
	}
	return m, frame, on, ok
}

func (r *reader) known(row plaintext.Row, what sight.What) {
	m, frame, on, ok := r.place(row)
	k := sight.Known{Mark: m, What: what, Frame: frame, Face: on}
	switch word := strings.ToLower(r.at(row, "side")); word {
	case "":
	case "other":
		k.Beyond = true
	default:
		r.Add(row.Line, r.at(row, "frame"), "write other, or leave it out for the side that is read", "the side of the mark is %s", fault.Name(word))
		ok = false
	}
	if what == sight.SeamBelow {
		id := r.at(row, "strake")
		if k.Strake = r.k.Layers[r.layer].StrakeNamed(id); k.Strake < 0 {
			r.Add(row.Line, r.at(row, "frame"), "name the strake above the seam, as 1.05", "layer %d has no strake %s", r.layer+1, fault.Name(id))
			ok = false
		}
	}
	if what == sight.AtGirth {
		most := math.MaxFloat64
		if frame >= 0 {
			most = r.k.Layers[r.layer].Surface.Girth(frame)
		}
		mm, good := r.number(row, "mm", 0, most)
		k.Girth, ok = mm, ok && good
	}
	if ok {
		r.marks.Known = append(r.marks.Known, k)
	}
}

func (r *reader) edge(row plaintext.Row, of sight.Of) {
	m, frame, on, ok := r.place(row)
	if !ok {
		return
	}
	for _, e := range r.marks.Edges {
		if e.Frame == frame && e.Of == of {
			r.Add(row.Line, r.at(row, "frame"), "keep one of the rows", "the edge %s is marked twice", of)
			return
		}
	}
	r.marks.Edges = append(r.marks.Edges, sight.Edge{Mark: m, Frame: frame, Of: of, Face: on})
}
