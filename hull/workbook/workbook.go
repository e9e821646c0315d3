package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Limits of a workbook.
const (
	Largest      = 20 << 20 // bytes of the file
	mostUnpacked = 48 << 20 // bytes of everything packed in it, pictures included
	mostTokens   = 3000000  // pieces of XML in all parts that are read: tags and texts
	mostCells    = 500000   // non-empty cells of a sheet
	mostColumns  = 1100
	mostSpan     = 5000000 // columns up to the last cell, summed over all rows of a sheet
	mostSheets   = 200
	longestText  = 1000 // bytes of a cell: anything longer is not a figure, and is cut
)

// Book is a workbook that has been opened.
type Book struct {
	Sheets []Name // in their order

	parts parts
}

// Name is the name of a sheet, and whether the workbook hides it.
type Name struct {
	Name   string
	Hidden bool
}

// Sheet is a sheet's rows that are not empty.
type Sheet struct {
	Name string
	Rows []Row
}

// Row is a row's cells that are not empty, from left to right.
type Row struct {
	Number int // from 1
	Cells  []Cell
}

// Cell is a cell that is not empty; its text has no space around it.
type Cell struct {
	Column int // from 1
	Text   string
}

// parts is either of the two kinds of workbook.
type parts interface {
	sheet(ctx context.Context, name string) ([]Row, error)
}

// Is reports, from how a file begins, whether it may be a workbook: an archive.
func Is(head []byte) bool { return bytes.HasPrefix(head, []byte("PK\x03\x04")) }

// wrong is a fault in a workbook, without its file.
//
//tongue:says 0,1
func wrong(mend, what string, args ...any) error {
	return fault.Fault{What: tongue.T(what, args...), Mend: tongue.T(mend)}
}

func damaged() error {
	return wrong("save it again, or save the sheet as CSV", "the workbook is damaged")
}

// Open opens a workbook. The error is a fault.Fault.
func Open(data []byte) (*Book, error) { return open(data, mostTokens) }

// open is Open with a limit on the pieces.
func open(data []byte, pieces int) (*Book, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged()
	}
	var unpacked uint64
	for _, f := range z.File {
		if unpacked += f.UncompressedSize64; unpacked > mostUnpacked || f.UncompressedSize64 > mostUnpacked {
			return nil, wrong("save the sheet alone, or as CSV", "the workbook unpacks to more than %d MB, the most that the program reads", mostUnpacked>>20)
		}
	}
	has := func(name string) bool {
		return slices.ContainsFunc(z.File, func(f *zip.File) bool { return strings.EqualFold(f.Name, name) })
	}
	var b *Book
	switch {
	case has("xl/workbook.bin"):
		return nil, wrong("save it as XLSX or ODS, or the sheet as CSV", "it is a binary workbook (XLSB), which is not read")
	case has("xl/workbook.xml"):
		b, err = openXLSX(z, data, pieces)
	case has("content.xml"):
		b, err = openODS(z, pieces)
	default:
		return nil, wrong("extract the file that you want first", "it is an archive, not a workbook (XLSX or ODS)")
	}
	if err != nil {
		return nil, err
	}
	if len(b.Sheets) > mostSheets {
		return nil, wrong("leave sheets out", "there are more than %d sheets, the most that the program reads", mostSheets)
	}
	return b, nil
}

// Sheet reads a sheet. The error is a fault.Fault, or that of the context.
func (b *Book) Sheet(ctx context.Context, name string) (*Sheet, error) {
	rows, err := b.parts.sheet(ctx, name)
	if err != nil {
		return nil, err
	}
	return &Sheet{Name: name, Rows: rows}, nil
}

// scanner walks over the XML of the parts of an archive, up to a number of pieces.
// It never unpacks more of a part than the archive declares.
type scanner struct{ left int }

// walk gives each piece of a part to take, whose error ends the walk.
func (s *scanner) walk(f *zip.File, take func(d *xml.Decoder, t xml.Token) error) error {
	r, err := f.Open()
	if err != nil {
		return damaged()
	}
	defer func() { _ = r.Close() }() // only read from
	d := xml.NewDecoder(io.LimitReader(r, mostUnpacked))
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return damaged()
		}
		if s.left--; s.left < 0 {
			return wrong("save the sheet alone, or as CSV", "the workbook has more than the program reads")
		}
		if start, ok := t.(xml.StartElement); ok && len(start.Attr) > 200 {
			return damaged()
		}
		if err := take(d, t); err != nil {
			return err
		}
	}
}

// attr is an attribute of an element, empty where it has none.
func attr(e xml.StartElement, local string) string {
	for _, a := range e.Attr {
		if a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}

// rowsMaker collects the cells of a sheet.
type rowsMaker struct {
	rows  []Row
	cells int
}

// add adds a cell; one without text is ignored.
func (m *rowsMaker) add(row, column int, text string) error {
	if text = tidy(cut(text)); text == "" {
		return nil
	}
	if column > mostColumns {
		return wrong("leave columns out", "there are more than %d columns, the most that the program reads", mostColumns)
	}
	if m.cells++; m.cells > mostCells {
		return wrong("leave rows out", "there are more than %d cells, the most that the program reads", mostCells)
	}
	if n := len(m.rows); n == 0 || m.rows[n-1].Number != row {
		m.rows = append(m.rows, Row{Number: row})
	}
	last := &m.rows[len(m.rows)-1]
	last.Cells = append(last.Cells, Cell{column, text})
	return nil
}

// cut is a text cut to the longest that a cell may have.
func cut(text string) string {
	if len(text) <= longestText {
		return text
	}
	return strings.ToValidUTF8(text[:longestText], "") + "…"
}

// tidy is a text on one line, without space around it.
func tidy(text string) string {
	if strings.ContainsAny(text, "\n\r\t\u00a0") {
		text = strings.Join(strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("\n\r\t\u00a0 ", r) }), " ")
	}
	return strings.TrimSpace(text)
}

var errStopped = tongue.New("reading the workbook was stopped")

// stopped says that the context has ended.
func stopped(ctx context.Context) error {
	if ctx.Err() != nil {
		return fmt.Errorf("%w: %w", errStopped, ctx.Err())
	}
	return nil
}
