package workbook

import (
	"archive/zip"
	"cmp"
	"context"
	"encoding/xml"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// ods is a workbook of OpenDocument (ISO/IEC 26300).
type ods struct {
	content *zip.File
	pieces  int // of XML that may be read
}

// openODS lists the sheets.
func openODS(z *zip.Reader, pieces int) (*Book, error) {
	o := ods{pieces: pieces}
	for _, f := range z.File {
		switch f.Name {
		case "content.xml":
			o.content = f
		case "META-INF/manifest.xml":
			locked := false
			s := scanner{left: pieces}
			err := s.walk(f, func(_ *xml.Decoder, t xml.Token) error {
				e, ok := t.(xml.StartElement)
				locked = locked || (ok && e.Name.Local == "encryption-data")
				return nil
			})
			if err == nil && locked {
				return nil, wrong("save it without one", "the workbook is locked by a password")
			}
		}
	}
	if o.content == nil {
		return nil, damaged()
	}
	b := &Book{parts: o}
	sheets := false
	s := scanner{left: pieces}
	hidden := map[string]bool{} // styles of hidden sheets
	style, depth := "", 0
	err := s.walk(o.content, func(_ *xml.Decoder, t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "spreadsheet":
				sheets = true
			case "style":
				style = attr(e, "name")
			case "table-properties":
				hidden[style] = attr(e, "display") == "false"
			case "table":
				if depth++; depth == 1 && len(b.Sheets) <= mostSheets {
					b.Sheets = append(b.Sheets, Name{attr(e, "name"), hidden[attr(e, "style-name")]})
				}
			}
		case xml.EndElement:
			if e.Name.Local == "table" {
				depth--
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if !sheets {
		return nil, wrong("save the table as CSV, or in a workbook", "it is an OpenDocument file, but not a workbook (ODS)")
	}
	return b, nil
}

// odsReader is the state of reading one sheet.
type odsReader struct {
	rowsMaker
	name        string
	inside      int // depth in tables, counted from the sheet; 0 outside it
	row, column int // of the next row, and of the next cell in it
	rowTimes    int
	cell        *odsCell
	aside       int // depth in what is not content of the cell: notes, shapes
	paragraph   bool
	line        []Cell // of the row
}

// odsCell is the cell being read.
type odsCell struct {
	times int
	kind  string
	value string
	shown strings.Builder
	lines int
}

// sheet reads the cells of a sheet.
func (o ods) sheet(ctx context.Context, name string) ([]Row, error) {
	r := odsReader{name: name}
	s := scanner{left: o.pieces}
	err := s.walk(o.content, func(_ *xml.Decoder, t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			if err := stopped(ctx); err != nil {
				return err
			}
			r.start(e)
		case xml.EndElement:
			return r.end(e)
		case xml.CharData:
			if r.cell != nil && r.aside == 0 && r.paragraph && r.cell.shown.Len() <= longestText {
				r.cell.shown.WriteString(cut(string(e)))
			}
		}
		return nil
	})
	return r.rows, err
}

// beside are elements in a cell or a sheet that are not part of its text.
var beside = []string{"annotation", "shapes", "frame", "g", "custom-shape", "line", "rect", "path"}

func (r *odsReader) start(e xml.StartElement) {
	local := e.Name.Local
	switch {
	case local == "table":
		if r.inside > 0 || attr(e, "name") == r.name {
			r.inside++
		}
	case r.inside != 1:
	case r.aside > 0 || slices.Contains(beside, local):
		r.aside++
	case local == "table-row":
		r.row, r.column, r.rowTimes, r.line = r.row+1, 1, times(e, "number-rows-repeated"), nil
	case local == "table-cell" || local == "covered-table-cell":
		r.cell = &odsCell{times: times(e, "number-columns-repeated"), kind: attr(e, "value-type"), value: cmp.Or(attr(e, "value"), attr(e, "time-value"))}
	case r.cell == nil:
	case local == "p":
		if r.cell.lines++; r.cell.lines > 1 {
			r.cell.shown.WriteByte(' ')
		}
		r.paragraph = true
	case local == "s", local == "tab", local == "line-break":
		r.cell.shown.WriteByte(' ')
	}
}

func (r *odsReader) end(e xml.EndElement) error {
	local := e.Name.Local
	switch {
	case local == "table":
		r.inside = max(r.inside-1, 0)
	case r.inside != 1:
	case r.aside > 0:
		r.aside--
	case local == "p":
		r.paragraph = false
	case local == "table-cell" || local == "covered-table-cell":
		if r.cell == nil {
			return nil
		}
		text, n := tidy(r.cell.text()), r.cell.times
		r.cell = nil
		for k := range n {
			if text == "" {
				break
			}
			if len(r.line) >= mostColumns || r.column+k > mostColumns {
				return wrong("leave columns out", "there are more than %d columns, the most that the program reads", mostColumns)
			}
			r.line = append(r.line, Cell{r.column + k, text})
		}
		r.column += n
	case local == "table-row":
		return r.endRow()
	}
	return nil
}

// endRow adds the row as often as it is repeated.
func (r *odsReader) endRow() error {
	for k := range r.rowTimes {
		if len(r.line) == 0 {
			break
		}
		for _, c := range r.line {
			if err := r.add(r.row+k, c.Column, c.Text); err != nil {
				return err
			}
		}
	}
	r.row += r.rowTimes - 1
	r.line = nil
	return nil
}

// text is what a cell holds.
func (c *odsCell) text() string {
	shown := cut(c.shown.String())
	switch c.kind {
	case "float", "currency", "percentage":
		if v, err := strconv.ParseFloat(c.value, 64); err == nil {
			return numberShown(v, tidy(shown))
		}
	case "time":
		if days, ok := daysOf(c.value); ok {
			return numberShown(days, tidy(shown))
		}
		return tongue.T("a time%s%s", shownAs, shown)
	case "date":
		return tongue.T("a date%s%s", shownAs, shown)
	}
	return shown
}

var duration = regexp.MustCompile(`^PT(\d{1,6})H(\d{1,6})M(\d{1,6})`)

// daysOf converts a time (ISO 8601) to days, in which XLSX sheets store it.
func daysOf(time string) (days float64, ok bool) {
	m := duration.FindStringSubmatch(time)
	if m == nil {
		return 0, false
	}
	for k, each := range []float64{24, 24 * 60, 24 * 60 * 60} {
		n, _ := strconv.ParseFloat(m[k+1], 64)
		days += n / each
	}
	return days, true
}

// times reads how often a cell or a row is repeated: once by default.
func times(e xml.StartElement, local string) int {
	n, err := strconv.Atoi(attr(e, local))
	if err != nil || n < 1 {
		return 1
	}
	return min(n, 1<<24)
}
