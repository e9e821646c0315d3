package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/xml"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// xlsx is a workbook of Office Open XML (ISO/IEC 29500).
type xlsx struct{ file *excelize.File }

// openXLSX first examines the parts from which the library makes objects, so that
// none that are torn or made to exhaust memory reach it, and opens the workbook.
func openXLSX(z *zip.Reader, data []byte, pieces int) (*Book, error) {
	s := scanner{left: pieces}
	for _, f := range z.File {
		if name := strings.ToLower(f.Name); !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".rels") {
			continue
		}
		if err := s.walk(f, new(spans).take); err != nil {
			return nil, err
		}
	}
	file, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked})
	if err != nil {
		return nil, damaged()
	}
	b := &Book{parts: xlsx{file}}
	for _, name := range file.GetSheetList() {
		shown, err := file.GetSheetVisible(name)
		b.Sheets = append(b.Sheets, Name{name, err == nil && !shown})
	}
	return b, nil
}

// spans examines the cells of a sheet, for which the library makes rows as wide as
// the last cell.
type spans struct{ row, all int }

// take refuses a cell too far to the right, and rows that are too wide in
// total.
func (s *spans) take(_ *xml.Decoder, t xml.Token) error {
	switch e := t.(type) {
	case xml.StartElement:
		if e.Name.Local == "c" {
			s.row = max(columnOf(attr(e, "r")), s.row+1)
		}
	case xml.EndElement:
		if e.Name.Local == "row" {
			s.all += s.row
			s.row = 0
		}
	}
	switch {
	case s.row > mostColumns:
		return wrong("leave columns out, or save the sheet as CSV", "there are more than %d columns, the most that the program reads", mostColumns)
	case s.all > mostSpan:
		return wrong("move the table to the left edge of a sheet of its own, or save the sheet as CSV", "the cells of a sheet are too far apart")
	}
	return nil
}

// columnOf is the column of a cell, from its name, from 1; 0 where it has none.
func columnOf(cell string) int {
	column := 0
	for _, r := range cell {
		if r < 'A' || r > 'Z' || column > mostColumns {
			break
		}
		column = column*26 + int(r-'A') + 1
	}
	return column
}

// sheet reads the cells in two ways at once: as they are stored, and as they are
// shown.
func (x xlsx) sheet(ctx context.Context, name string) ([]Row, error) {
	kept, err := x.file.Rows(name)
	if err != nil {
		return nil, damaged()
	}
	defer func() { _ = kept.Close() }() // only read from
	shown, err := x.file.Rows(name)
	if err != nil {
		return nil, damaged()
	}
	defer func() { _ = shown.Close() }()
	var m rowsMaker
	for row := 1; kept.Next() && shown.Next(); row++ {
		if err := stopped(ctx); err != nil {
			return nil, err
		}
		raw, err := kept.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, damaged()
		}
		seen, err := shown.Columns()
		if err != nil {
			return nil, damaged()
		}
		for k, text := range raw {
			if k < len(seen) && seen[k] != text {
				if v, err := strconv.ParseFloat(text, 64); err == nil {
					text = numberShown(v, seen[k])
				}
			}
			if err := m.add(row, k+1, text); err != nil {
				return nil, err
			}
		}
	}
	if kept.Error() != nil || shown.Error() != nil {
		return nil, damaged()
	}
	return m.rows, nil
}
