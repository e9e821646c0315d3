package drawing

import (
	"bytes"
	"io"
	"regexp"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// stations holds where frames stand: x in mm, at the model's size, by name.
type stations map[string]float64

// Half says which half is used of frames drawn with both halves.
type Half int

// Both halves and their mean, or only the one on a given side of the centre
// line.
const (
	BothHalves Half = iota
	RightHalf
	LeftHalf
)

// Options say how a hull is taken off a drawing. What is drawn is scaled; an x or a
// siding given in a name, in a table or beside a line is at the model's size.
type Options struct {
	Drawn, Model float64 // scales of the drawing and of the model, 48 for 1:48; 0 where not given
	Factor       float64 // the model's size over the drawing's, overriding the scales; 0 where not given
	Half         Half
	Table        string    // path of the table beside the drawing; empty for the one with the drawing's name
	Page         int       // of a PDF, from 1; 0 for the first
	Level        Level     // for pieces to be cut: what all share at one height; NoPieces for any other drawing
	Upright      bool      // for pieces: all stand as they are drawn, whatever their shape suggests
	Stations     *Stations // where frames are taken from lines, or stand without an x, in order; nil where not given
	Lines        *Lines    // for a drawing of waterlines and buttocks; nil where nothing is given
	With         string    // path of a companion drawing, of the other plan; empty for none
	Sheet        string    // of a workbook, which package source reads; empty for the first that holds a table
}

// Scale is the factor by which what is drawn is scaled.
func (k Options) Scale() float64 {
	switch {
	case k.Factor > 0:
		return k.Factor
	case k.Drawn > 0 && k.Model > 0:
		return k.Drawn / k.Model
	}
	return 1
}

// Or is k with its open fields taken from other.
func (k Options) Or(other Options) Options {
	if k.Factor == 0 && (k.Drawn == 0 || k.Model == 0) {
		k.Factor = other.Factor
	}
	if k.Drawn == 0 {
		k.Drawn = other.Drawn
	}
	if k.Model == 0 {
		k.Model = other.Model
	}
	if k.Level == NoPieces {
		k.Level = other.Level
	}
	return k
}

// Names that give the scale: scale-1-48, scale-1-48-to-1-96, factor-0.5.
var (
	scaleName  = regexp.MustCompile(`(?i)^scale[-_ ]1[-_: ](\d+(?:[.,]\d+)?)(?:[-_ ]to[-_ ]1[-_: ](\d+(?:[.,]\d+)?))?$`)
	factorName = regexp.MustCompile(`(?i)^factor[-_ ](\d+(?:[.,]\d+)?)$`)
)

// name takes over what a name in the drawing says about its scale.
func (k *Options) name(name string) {
	if m := scaleName.FindStringSubmatch(name); m != nil {
		k.Drawn, _ = lengthOf(m[1], "")
		k.Model, _ = lengthOf(m[2], "")
	} else if m := factorName.FindStringSubmatch(name); m != nil {
		k.Factor, _ = lengthOf(m[1], "")
	}
}

// beside is what a table beside a drawing says.
type beside struct {
	as map[string]string // what a line is, a frame or a mark, by the name under which it is drawn
	x  stations
	// where the upper end of a stem or stern seen from the side stands
	ends stations
}

// besideDrawing reads the table beside a drawing: the one named, or the one with
// the drawing's own name. If there is none, or a file of another kind, nothing is
// taken from it.
func besideDrawing(path, named string) (*beside, []fault.Fault) {
	if named != "" {
		b, err := keep.Opened(named, hull.LargestFile, func(r io.Reader) (*beside, error) {
			b, found := checkBeside(plaintext.Unpacked(r), named)
			if len(found) > 0 {
				return nil, found[0]
			}
			return b, nil
		})
		if err != nil {
			return nil, []fault.Fault{fault.Of(named, err)}
		}
		return b, nil
	}
	table := keep.WithoutEnding(path) + ".csv"
	file, err := keep.OpenPlain(table, plaintext.LargestTable)
	if err != nil || table == path {
		return &beside{}, nil
	}
	defer file.Close()
	b := plaintext.Unpacked(file)
	head, _ := b.Peek(b.Size())
	first, _, _ := bytes.Cut(bytes.TrimPrefix(head, []byte(plaintext.BOM)), []byte("\n"))
	if !besideHeader.Match(bytes.ToLower(first)) {
		return &beside{}, nil
	}
	return checkBeside(b, table)
}

// besideHeader is the header of a table beside a drawing.
var besideHeader = regexp.MustCompile(`^(?:"?outline"?\s*[,;\t]\s*)?"?frame"?\s*[,;\t]\s*"?x_\w+"?[\s,;]*$`)

// checkBeside reads a table of stations, or one with the header
// outline,frame,x_mm, which also says which line is which frame or mark.
func checkBeside(r io.Reader, name string) (*beside, []fault.Fault) {
	b, f := &beside{as: map[string]string{}}, fault.List{File: name}
	text, ok := plaintext.ReadTable(r, plaintext.LargestTable, &f)
	if !ok {
		return b, f.Sorted()
	}
	rows, comma, ok := plaintext.Rows(text, hull.MostFrames+1, &f)
	if !ok || len(rows) == 0 {
		return b, f.Sorted()
	}
	k := 0 // column of the frame
	if rows[0].Key() == "outline" {
		k = 1
	}
	_, unit, _ := strings.Cut(strings.ToLower(rows[0].At(k+1)), "_")
	mm, ok := plaintext.Unit(unit)
	if !ok {
		f.Add(rows[0].Line, "", "use mm, cm or in, as in frame,x_mm", "column %d is headed %s, which has no known unit", k+2, fault.Name(rows[0].At(k+1)))
		return b, f.Sorted()
	}
	b.x, b.ends = stations{}, stations{}
	for _, row := range rows[1:] {
		b.row(row, k, mm, comma, &f)
	}
	return b, f.Sorted()
}

// row reads a row; frame is the column of the frame, and mm a unit. Only a mark,
// or a stem or stern seen from the side, may stand without an x.
func (b *beside) row(row plaintext.Row, frame int, mm float64, comma bool, f *fault.List) {
	name := row.At(frame)
	if frame > 0 {
		if _, twice := b.as[row.At(0)]; twice {
			f.Add(row.Line, "", "leave one out", "the outline %s appears twice", fault.Name(row.At(0)))
		}
		b.as[row.At(0)] = name
		if row.At(frame+1) == "" && standsAlone(name) {
			return
		}
	}
	v, wrong := plaintext.Number(row.At(frame+1), comma)
	if wrong == "" && len(row.Fields) > frame+2 {
		wrong = tongue.T("is followed by more")
	}
	if wrong != "" {
		f.Add(row.Line, name, "give a number such as 12.5", "x %s", wrong)
	}
	if o, ok := profileNamed(name); ok && !(hull.Frame{Name: name}).IsEnd() {
		b.ends[o.Frame] = v * mm
		return
	}
	if had, twice := b.x[name]; twice && (frame == 0 || had != v*mm) {
		f.Add(row.Line, name, "leave one out", "an earlier frame has this name")
	}
	b.x[name] = v * mm
}

// standsAlone reports whether a line needs no x in a table: a mark, a stem or
// stern seen from the side, or a line that is not used.
func standsAlone(name string) bool {
	n := naming{beside: &beside{}, drawing: &Drawing{}}
	o, ok := n.plainly(name)
	return name == "" || (ok && (o.Mark != "" || o.Profile))
}
