package source

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/hull/drawing"
)

// sheets writes a workbook of named sheets, each given as rows from A1 on; dates
// lists the cells that are formatted as dates.
func sheets(t *testing.T, dates []string, named ...any) string {
	t.Helper()
	f := excelize.NewFile()
	for i := 0; i < len(named); i += 2 {
		name := named[i].(string)
		_, err := f.NewSheet(name)
		require.NoError(t, err)
		for k, row := range named[i+1].([][]any) {
			cell, err := excelize.CoordinatesToCellName(1, k+1)
			require.NoError(t, err)
			require.NoError(t, f.SetSheetRow(name, cell, &row))
		}
		for _, cell := range dates {
			style := 14
			if v, _ := f.GetCellValue(name, cell); v != "" && v[0] == '0' {
				style = 20 // a time
			}
			id, err := f.NewStyle(&excelize.Style{NumFmt: style})
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle(name, cell, cell, id))
		}
	}
	require.NoError(t, f.DeleteSheet("Sheet1"))
	path := filepath.Join(t.TempDir(), "book")
	require.NoError(t, f.SaveAs(path+".xlsx"))
	return path + ".xlsx"
}

// said is the faults, without the folder of the file.
func said(c Checked) (out []string) {
	for _, f := range c.Faults {
		f.File = filepath.Base(f.File)
		out = append(out, f.Error())
	}
	return out
}

func pointRows(y any) [][]any {
	rows := [][]any{{}, {nil, "frame", "x_mm", "y_mm", "z_mm"}}
	for i, name := range []string{"A", "B", "C"} {
		for k, p := range [][2]float64{{20, 40}, {19, 25}, {14, 10}, {2, 2}} {
			row := []any{nil, name, float64(90 * i), p[0], p[1]}
			if i == 1 && k == 2 {
				row[3] = y
			}
			rows = append(rows, row)
		}
	}
	return rows
}

func offsetRows(scale, offset any) [][]any {
	return [][]any{
		{"Table of offsets"}, {"unit", "ft-in-8ths"}, {"Scale", scale}, {"station", nil, 1, 2, 3}, {"x", nil, "0-0-0", "20-0-0", "40-0-0"},
		{"height", "sheer", "9-0-0", "8-0-0", "9-0-0"}, {"half-breadth", "sheer", "5-0-0", offset, "6-0-0"},
		{"half-breadth", "6-0-0", "4-9-0", "7-6-0", "5-8-0"}, {"half-breadth", "3-0-0", "3-6-0", "5-6-0", "4-0-0"}, {"half-breadth", "1-0-0", "1-6-0", "2-6-0", "1-9-0"},
		{"height", "rabbet", "0-0-0", "0-0-0", "0-0-0"}, {"half-breadth", "rabbet", "0-0-0", "0-0-0", "0-0-0"},
	}
}

// What is wrong is reported with its sheet and cell; a date is never taken for what
// was typed.
func TestFaultsOnSheets(t *testing.T) {
	for name, c := range map[string]struct {
		rows  [][]any
		dates []string
		says  []string
	}{
		"a word":           {pointRows("wide"), nil, []string{`book.xlsx, sheet S, cell D9, frame B: y is "wide", which is not a number; give a number such as 12.5.`}},
		"nothing":          {pointRows(nil), nil, []string{"book.xlsx, sheet S, cell D9, frame B: y is missing; give a number such as 12.5."}},
		"below zero":       {pointRows(-3), nil, []string{"book.xlsx, sheet S, cell D9, frame B: the half-breadth y of point 3 is -3 mm, below zero; give the half-breadths of one side, 0 or more."}},
		"thousands":        {pointRows("1,234"), nil, []string{`book.xlsx, sheet S, cell D9, frame B: y is "1,234", which is not a number; give a number such as 12.5.`}},
		"decimal comma":    {pointRows("13,5"), nil, nil},
		"a date":           {offsetRows("1:48", 38324), []string{"D7"}, []string{"book.xlsx, sheet S, cell D7, frame 2: the cell shows 12-03-04, a date or the like made from your entry; format the cells as text, and type it again."}},
		"an offset":        {offsetRows("1:48", "8-13-0"), nil, []string{`book.xlsx, sheet S, cell D7, frame 2: the offset is 8-13-0, which has 13 inches in a foot; give feet, inches and eighths, such as 12-3-4 or 12-3-4+.`}},
		"no scale":         {offsetRows("Small", "8-0-0"), nil, []string{"book.xlsx, sheet S, cell B3: the scale is Small; give it as 1:48, or 1:1 for a table at the model's own size."}},
		"a scale as time":  {offsetRows(108.0/1440, "8-0-0"), []string{"B3"}, nil},
		"nothing but this": {[][]any{{"lime", 5, 2.5}}, nil, []string{"book.xlsx: no sheet has a table of points, girths or offsets (S); let a row be the header of the table, such as frame,x_mm,y_mm,z_mm."}},
	} {
		found := Check(sheets(t, c.dates, "S", c.rows), drawing.Options{})
		assert.Equal(t, c.says, said(found), name)
	}
	c := Check(sheets(t, []string{"B3"}, "S", offsetRows(156.0/1440, "8-0-0")), drawing.Options{}) // 1:96, shown as 2:36
	require.Empty(t, c.Faults)
	assert.InDelta(t, 20*304.8/96, c.Hull.Frames[1].X(), 1e-9)
}

// The first sheet with a table is read, unless one is named, and the notes say
// which.
func TestSheetsAreChosen(t *testing.T) {
	bare := [][]any{{"a hull of bare figures"}}
	for _, r := range pointRows(14.0)[2:] {
		bare = append(bare, r[2:])
	}
	path := sheets(t, nil, "Wood", [][]any{{"lime", 5.0, 2.5}, {1.0, 2.0, 3.0}}, "Figures", bare, "Offsets", offsetRows("1:48", "8-0-0"), "Lines", pointRows(14.0))
	for sheet, want := range map[string]Kind{"": Offsets, "lines": Points, "Figures": List} {
		c := Check(path, drawing.Options{Sheet: sheet})
		assert.Empty(t, c.Faults, sheet)
		assert.Equal(t, want, c.Kind, sheet)
		assert.Len(t, c.Hull.Frames, 3, sheet)
	}
	c := Check(path, drawing.Options{})
	assert.Equal(t, []string{"Offsets", "Lines"}, c.Sheets)
	assert.Equal(t, []string{"The table is on sheet Offsets; Lines have others: choose one with --sheet NAME."}, c.Notes)
	assert.Equal(t, []string{"book.xlsx, sheet Wood: it has no table of points, girths or offsets; let a row be the header of the table, such as frame,x_mm,y_mm,z_mm."}, said(Check(path, drawing.Options{Sheet: "Wood"})))
	assert.Equal(t, []string{"book.xlsx: there is no sheet Keel in the workbook; name one of Wood, Figures, Offsets, Lines."}, said(Check(path, drawing.Options{Sheet: "Keel"})))
	assert.Equal(t, []string{"book.xlsx: it is not a drawing, so it takes no scale, halves or table beside it; leave these options out."}, said(Check(path, drawing.Options{Factor: 2})))
}

// The name of a frame may stand only beside its first point.
func TestNamesWrittenOnce(t *testing.T) {
	for _, head := range [][]any{{nil, "frame", "x_mm", "y_mm", "z_mm"}, {nil, "Section", "x", "y (mm)", "z"}} {
		rows := pointRows(14.0)
		rows[1] = head
		for i := 2; i < len(rows); i++ {
			if (i-2)%4 > 0 {
				rows[i][1] = nil
			}
		}
		c := Check(sheets(t, nil, "S", rows), drawing.Options{})
		require.Empty(t, said(c))
		require.Len(t, c.Hull.Frames, 3)
		assert.Equal(t, "C", c.Hull.Frames[2].Name)
		rows[2][1] = nil
		c = Check(sheets(t, nil, "S", rows), drawing.Options{})
		require.NotEmpty(t, c.Faults)
		assert.Contains(t, c.Faults[0].Error(), "sheet S, row 3: frame 1 has no name")
	}
}
