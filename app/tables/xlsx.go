package tables

import (
	"io"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// formats is how a spreadsheet shows a column of each kind.
var formats = []string{Text: "@", Whole: "0", Length: "0.00", Degrees: "0.0"}

// Of says which plan, and which state of it, a workbook is of: in its properties, and at
// the foot of every printed page.
type Of struct {
	Title    string
	Revision string    // "" for none
	Date     time.Time // of that state; the zero time for none
}

// foot is the printed foot of a page. In it an ampersand begins a code (ECMA-376 part 1,
// 18.3.1.46), and there is room for 255 characters in all.
func (o Of) foot() string {
	if o.Revision == "" {
		return ""
	}
	text := []rune(strings.ReplaceAll(visible.Text(o.Title), "&", "&&"))
	foot := "&L" + strings.TrimRight(string(text[:min(len(text), 120)]), "&") + ", " + tongue.T("revision %s", o.Revision)
	if !o.Date.IsZero() {
		foot += ", " + o.Date.Format(time.DateOnly)
	}
	return foot + "&R&P/&N"
}

// WriteXLSX writes all tables as one workbook, a sheet each: numbers as
// numbers, text as text and never as a formula, the heading frozen, filtered
// and repeated on every printed page. The same tables give the same bytes.
func WriteXLSX(w io.Writer, of Of, all []Table) error {
	f := excelize.NewFile()
	b := &book{File: f, of: of}
	b.begin()
	for i := range all {
		b.sheet(i, &all[i])
	}
	if b.err == nil {
		b.err = f.Write(w)
	}
	if err := f.Close(); b.err == nil {
		b.err = err
	}
	if b.err != nil {
		return tongue.Errorf("workbook: %w", b.err)
	}
	return nil
}

// book writes a workbook and keeps the first error.
type book struct {
	*excelize.File
	head   int   // the style of headings
	styles []int // by kind
	err    error
	of     Of
}

func (b *book) try(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *book) begin() {
	about := &excelize.DocProperties{Title: visible.Text(b.of.Title), Creator: tongue.T("Strakewright"), Version: b.of.Revision}
	if b.of.Revision != "" {
		about.Subject = tongue.T("revision %s", b.of.Revision)
	}
	if !b.of.Date.IsZero() {
		about.Created = b.of.Date.UTC().Format(time.RFC3339)
		about.Modified = about.Created
	}
	b.try(b.SetDocProps(about))
	b.head = b.style(&excelize.Style{
		Font:      &excelize.Font{Bold: true},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"},
		Border:    []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}},
	})
	for _, format := range formats {
		b.styles = append(b.styles, b.style(&excelize.Style{CustomNumFmt: &format}))
	}
}

func (b *book) style(s *excelize.Style) int {
	id, err := b.NewStyle(s)
	b.try(err)
	return id
}

func (b *book) sheet(i int, t *Table) {
	if i == 0 {
		b.try(b.SetSheetName(b.GetSheetName(0), t.Title))
	} else if _, err := b.NewSheet(t.Title); err != nil {
		b.try(err)
	}
	for j, c := range t.Columns {
		b.column(t, j, c)
	}
	last := cell(len(t.Columns)-1, len(t.Rows))
	b.try(b.SetPanes(t.Title, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	b.try(b.AutoFilter(t.Title, "A1:"+last, nil))
	b.try(b.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: "'" + t.Title + "'!$1:$1", Scope: t.Title}))
	landscape, wide, long := "landscape", 1, 0
	b.try(b.SetPageLayout(t.Title, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &wide, FitToHeight: &long}))
	fit := true
	if foot := b.of.foot(); foot != "" {
		b.try(b.SetHeaderFooter(t.Title, &excelize.HeaderFooterOptions{OddFooter: foot}))
	}
	b.try(b.SetSheetProps(t.Title, &excelize.SheetPropsOptions{FitToPage: &fit}))
}

// column writes a column with its heading.
func (b *book) column(t *Table, j int, c Column) {
	width := max(len(c.Head)*2/3, 9)
	b.try(b.SetCellStr(t.Title, cell(j, 0), c.Head))
	for i, row := range t.Rows {
		at := cell(j, i+1)
		switch v := row[j].(type) {
		case string:
			v = visible.Text(v)
			b.try(b.SetCellStr(t.Title, at, v))
			width = max(width, len([]rune(v))+2)
		case int:
			b.try(b.SetCellInt(t.Title, at, int64(v)))
		case float64:
			b.try(b.SetCellFloat(t.Title, at, v, -1, 64))
		}
	}
	name, err := excelize.ColumnNumberToName(j + 1)
	b.try(err)
	b.try(b.SetColWidth(t.Title, name, name, float64(min(width, 40))))
	b.try(b.SetCellStyle(t.Title, cell(j, 0), cell(j, 0), b.head))
	if len(t.Rows) > 0 {
		b.try(b.SetCellStyle(t.Title, cell(j, 1), cell(j, len(t.Rows)), b.styles[c.Kind]))
	}
}

// cell names a cell by its column and row, both from 0.
func cell(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col+1, row+1)
	if err != nil {
		panic(err) // the places are our own
	}
	return name
}
