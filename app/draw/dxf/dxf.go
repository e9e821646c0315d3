// Package dxf writes a sheet as a DXF file for a laser cutter or a plotter: lines
// to cut, lines to mark, frame lines and texts, each on a layer of its own. It is
// ASCII DXF in the release that every cutter's program reads (AC1015, 2000), in
// mm; y points upwards, and the origin is the sheet's lower left corner. The same
// sheet always gives the same bytes.
//
//	layer  holds
//	CUT    outlines to cut (draw.Cut)
//	MARK   lines and signs to mark (seams, band lines, limits, pencil, ink)
//	FRAME  frame lines
//	TEXT   labels
//
// Grounds, guide lines and anything else that only helps the eye are left out. So
// are dashes: a marked line is solid.
//
// The writer is our own: there is no well-kept Go module that writes DXF.
package dxf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// The names of the layers.
const (
	cutLayer   = "CUT"
	markLayer  = "MARK"
	frameLayer = "FRAME"
	textLayer  = "TEXT"
)

// layerColours are the layers with their colours in the AutoCAD index (red,
// white on black, green, blue): a cutter's program lists layers by colour.
var layerColours = []struct {
	name   string
	colour int
}{{"0", 7}, {cutLayer, 1}, {markLayer, 7}, {frameLayer, 3}, {textLayer, 5}}

// layerOf gives the layer for a line or mark of a role, or "" where it does not
// belong in a cutter's file.
func layerOf(r draw.Role) string {
	switch r {
	case draw.Cut:
		return cutLayer
	case draw.FrameInk:
		return frameLayer
	case draw.Pencil, draw.Seam, draw.BandInk, draw.Limit, draw.Ink, draw.TaperInk, draw.GapInk, draw.Warning, draw.Chosen:
		return markLayer
	}
	return ""
}

// Write writes a sheet as a DXF file.
func Write(w io.Writer, s *draw.Sheet) error {
	f := file{w: bufio.NewWriter(w), height: s.Height, next: firstEntity}
	f.header(s)
	f.tables()
	f.blocks()
	f.pairs(0, "SECTION", 2, "ENTITIES")
	for _, it := range s.Drawing.Items {
		f.item(it)
	}
	f.pairs(0, "ENDSEC")
	f.objects()
	f.pairs(0, "EOF")
	if err := f.w.Flush(); err != nil {
		return tongue.Errorf("writing the DXF: %w", err)
	}
	return nil
}

// Handles of what every file holds; entities take the handles that follow.
const (
	vportTable = iota + 1
	ltypeTable
	layerTable
	styleTable
	viewTable
	ucsTable
	appidTable
	dimstyleTable
	blockRecordTable
	modelSpace
	paperSpace
	rootDictionary
	groupDictionary
	firstRecord = 0x20
	firstEntity = 0x100
	lastHandle  = 0xFFFFFFF
)

// file writes pairs of group code and value; its writer keeps the first error
// until it is flushed.
type file struct {
	w      *bufio.Writer
	height float64
	next   int
	record int
}

// pairs writes group codes and values alternately.
func (f *file) pairs(codesAndValues ...any) {
	for i := 0; i+1 < len(codesAndValues); i += 2 {
		v := codesAndValues[i+1]
		if x, ok := v.(float64); ok {
			v = number(x)
		}
		fmt.Fprintf(f.w, "%3v\n%v\n", codesAndValues[i], v)
	}
}

// number writes a length to a micrometre; a real number keeps its decimal
// point.
func number(x float64) string {
	s := strconv.FormatFloat(math.Round(x*1e4)/1e4+0, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

func handle(h int) string { return strings.ToUpper(strconv.FormatInt(int64(h), 16)) }

func (f *file) header(s *draw.Sheet) {
	f.pairs(0, "SECTION", 2, "HEADER",
		9, "$ACADVER", 1, "AC1015",
		9, "$DWGCODEPAGE", 3, "ANSI_1252",
		9, "$HANDSEED", 5, handle(lastHandle),
		9, "$INSUNITS", 70, 4, // mm
		9, "$MEASUREMENT", 70, 1, // metric
		9, "$EXTMIN", 10, 0.0, 20, 0.0, 30, 0.0,
		9, "$EXTMAX", 10, s.Width, 20, s.Height, 30, 0.0,
		0, "ENDSEC",
		0, "SECTION", 2, "CLASSES", 0, "ENDSEC")
}

func (f *file) tables() {
	f.record = firstRecord
	f.pairs(0, "SECTION", 2, "TABLES")
	f.table("VPORT", vportTable, 0)
	f.table("LTYPE", ltypeTable, 3)
	for _, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
		f.entry("LTYPE", ltypeTable, "AcDbLinetypeTableRecord", name)
		f.pairs(70, 0, 3, "", 72, 65, 73, 0, 40, 0.0)
	}
	f.pairs(0, "ENDTAB")
	f.table("LAYER", layerTable, len(layerColours))
	for _, l := range layerColours {
		f.entry("LAYER", layerTable, "AcDbLayerTableRecord", l.name)
		f.pairs(70, 0, 62, l.colour, 6, "Continuous")
	}
	f.pairs(0, "ENDTAB")
	f.table("STYLE", styleTable, 1)
	f.entry("STYLE", styleTable, "AcDbTextStyleTableRecord", "Standard")
	f.pairs(70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, "txt", 4, "")
	f.pairs(0, "ENDTAB")
	f.table("VIEW", viewTable, 0)
	f.table("UCS", ucsTable, 0)
	f.table("APPID", appidTable, 1)
	f.entry("APPID", appidTable, "AcDbRegAppTableRecord", "ACAD")
	f.pairs(70, 0, 0, "ENDTAB")
	f.pairs(0, "TABLE", 2, "DIMSTYLE", 5, handle(dimstyleTable), 330, "0", 100, "AcDbSymbolTable", 70, 1, 100, "AcDbDimStyleTable")
	f.record++
	f.pairs(0, "DIMSTYLE", 105, handle(f.record), 330, handle(dimstyleTable), 100, "AcDbSymbolTableRecord", 100, "AcDbDimStyleTableRecord", 2, "Standard", 70, 0)
	f.pairs(0, "ENDTAB")
	f.pairs(0, "TABLE", 2, "BLOCK_RECORD", 5, handle(blockRecordTable), 330, "0", 100, "AcDbSymbolTable", 70, 2)
	for _, b := range spaces {
		f.pairs(0, "BLOCK_RECORD", 5, handle(b.handle), 330, handle(blockRecordTable),
			100, "AcDbSymbolTableRecord", 100, "AcDbBlockTableRecord", 2, b.name)
	}
	f.pairs(0, "ENDTAB", 0, "ENDSEC")
}

// table begins a table; one without records is ended at once.
func (f *file) table(name string, h, records int) {
	f.pairs(0, "TABLE", 2, name, 5, handle(h), 330, "0", 100, "AcDbSymbolTable", 70, records)
	if records == 0 {
		f.pairs(0, "ENDTAB")
	}
}

func (f *file) entry(kind string, owner int, class, name string) {
	f.record++
	f.pairs(0, kind, 5, handle(f.record), 330, handle(owner), 100, "AcDbSymbolTableRecord", 100, class, 2, name)
}

var spaces = []struct {
	name   string
	handle int
}{{"*Model_Space", modelSpace}, {"*Paper_Space", paperSpace}}

func (f *file) blocks() {
	f.pairs(0, "SECTION", 2, "BLOCKS")
	for _, b := range spaces {
		f.record++
		f.pairs(0, "BLOCK", 5, handle(f.record), 330, handle(b.handle), 100, "AcDbEntity", 8, "0",
			100, "AcDbBlockBegin", 2, b.name, 70, 0, 10, 0.0, 20, 0.0, 30, 0.0, 3, b.name, 1, "")
		f.record++
		f.pairs(0, "ENDBLK", 5, handle(f.record), 330, handle(b.handle), 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
	}
	f.pairs(0, "ENDSEC")
}

func (f *file) objects() {
	f.pairs(0, "SECTION", 2, "OBJECTS",
		0, "DICTIONARY", 5, handle(rootDictionary), 330, "0", 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, handle(groupDictionary),
		0, "DICTIONARY", 5, handle(groupDictionary), 330, handle(rootDictionary), 100, "AcDbDictionary", 281, 1,
		0, "ENDSEC")
}

func (f *file) item(it draw.Item) {
	switch it := it.(type) {
	case draw.Stroke:
		f.line(it.Points, layerOf(it.Role))
	case draw.Mark:
		f.line(closed(it.Outline()), layerOf(it.Role))
	case draw.Label:
		f.label(it)
	}
}

func closed(pts []draw.Point) []draw.Point { return append(pts, pts[0]) }

// entity begins an entity and gives it the next handle.
func (f *file) entity(kind, layer string) {
	f.pairs(0, kind, 5, handle(f.next), 330, handle(modelSpace), 100, "AcDbEntity", 8, layer)
	f.next++
}

// line writes a polyline; one that ends where it began is closed, and points
// that repeat the one before are left out.
func (f *file) line(pts []draw.Point, layer string) {
	pts = distinct(pts)
	if layer == "" || len(pts) < 2 {
		return
	}
	flag := 0
	if len(pts) > 3 && near(pts[0], pts[len(pts)-1]) {
		flag, pts = 1, pts[:len(pts)-1]
	}
	f.entity("LWPOLYLINE", layer)
	f.pairs(100, "AcDbPolyline", 90, len(pts), 70, flag)
	for _, p := range pts {
		f.pairs(10, p.X, 20, f.height-p.Y)
	}
}

func distinct(pts []draw.Point) []draw.Point {
	var out []draw.Point
	for _, p := range pts {
		if len(out) == 0 || !near(out[len(out)-1], p) {
			out = append(out, p)
		}
	}
	return out
}

// near reports whether two points are the same to the file's last decimal.
func near(p, q draw.Point) bool { return math.Abs(p.X-q.X) < 1e-4 && math.Abs(p.Y-q.Y) < 1e-4 }

// label writes a text, sized by the height of its capitals, as DXF measures it.
func (f *file) label(l draw.Label) {
	align := map[draw.Align]int{draw.Left: 0, draw.Centre: 1, draw.Right: 2}[l.Align]
	f.entity("TEXT", textLayer)
	f.pairs(100, "AcDbText", 10, l.At.X, 20, f.height-l.At.Y, 30, 0.0, 40, draw.CapHeight(l.Size), 1, coded(l.Text), 7, "Standard", 72, align)
	if align != 0 {
		f.pairs(11, l.At.X, 21, f.height-l.At.Y, 31, 0.0)
	}
	f.pairs(100, "AcDbText")
}

// coded writes a text in the file's code page, whose upper part is that of
// Latin-1. Characters beyond it are written by number, as DXF of that release
// does; control characters become spaces, and a character without such a number
// a question mark.
func coded(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < ' ' || r >= 0x7f && r < 0xa0:
			b.WriteByte(' ')
		case r == '^': // it would make a control character of the next one
			b.WriteString("^ ")
		case r <= 0xff:
			b.WriteByte(byte(r))
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
