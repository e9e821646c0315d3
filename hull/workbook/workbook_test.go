package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// archive packs parts, given as names and texts in turn.
func archive(t *testing.T, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		require.NoError(t, err)
		_, err = w.Write([]byte(parts[i+1]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// claiming is an archive that claims to unpack to the given number of bytes.
func claiming(t *testing.T, size uint64) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	_, err := z.CreateRaw(&zip.FileHeader{Name: "content.xml", Method: zip.Deflate, UncompressedSize64: size})
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

// content is the content of an ODS of one sheet with these rows.
func content(rows string) string {
	return `<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:automatic-styles><style:style xmlns:style="s" style:name="ta2"><style:table-properties table:display="false"/></style:style></office:automatic-styles><office:body><office:spreadsheet><table:table table:name="One">` + rows + `</table:table><table:table table:name="Two" table:style-name="ta2"/></office:spreadsheet></office:body></office:document-content>`
}

// cellsOf gives the cells of a sheet, each as its row, its column and its text.
func cellsOf(t *testing.T, data []byte, sheet string) []string {
	t.Helper()
	b, err := Open(data)
	require.NoError(t, err)
	s, err := b.Sheet(t.Context(), sheet)
	require.NoError(t, err)
	var out []string
	for _, r := range s.Rows {
		for _, c := range r.Cells {
			out = append(out, fmt.Sprintf("%d/%d %s", r.Number, c.Column, c.Text))
		}
	}
	return out
}

func TestODS(t *testing.T) {
	data := archive(t, "mimetype", "application/vnd.oasis.opendocument.spreadsheet", "content.xml", content(
		`<table:table-row table:number-rows-repeated="9"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`+
			`<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="3"/>`+
			`<table:table-cell value-type="float" value="2.25" table:number-columns-repeated="2"><text:p>2,3</text:p></table:table-cell>`+
			`<table:covered-table-cell/><table:table-cell value-type="string"><text:p>two</text:p><text:p>lines <text:span>of</text:span><text:s/>it</text:p></table:table-cell></table:table-row>`+
			`<table:table-row><table:table-cell value-type="date" date-value="2004-12-03"><text:p>12/03/04</text:p></table:table-cell>`+
			`<table:table-cell value-type="time" time-value="PT01H48M00S"><text:p>1:48</text:p></table:table-cell>`+
			`<table:table-cell value-type="percentage" value="0.5"><text:p>50 %</text:p></table:table-cell></table:table-row>`))
	assert.Equal(t, []string{
		"10/4 2.25", "10/5 2.25", "10/7 two lines of it", "11/4 2.25", "11/5 2.25", "11/7 two lines of it",
		"12/1 a date, shown as 12/03/04", "12/2 0.075, shown as 1:48", "12/3 0.5, shown as 50 %",
	}, cellsOf(t, data, "One"))
	b, err := Open(data)
	require.NoError(t, err)
	assert.Equal(t, []Name{{"One", false}, {"Two", true}}, b.Sheets)
}

// The same in the other format; a number is given in full, however it is shown.
func TestXLSX(t *testing.T) {
	f := excelize.NewFile()
	set := func(cell string, v any, style *excelize.Style) {
		require.NoError(t, f.SetCellValue("Sheet1", cell, v))
		if style != nil {
			id, err := f.NewStyle(style)
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle("Sheet1", cell, cell, id))
		}
	}
	dashes := `0"-"0"-"0`
	set("D10", 2.25, &excelize.Style{NumFmt: 1})
	set("E10", 1234.5625, &excelize.Style{NumFmt: 4}) // 1,234.56
	set("G10", "two\nlines", nil)
	set("A12", 38324, &excelize.Style{NumFmt: 14})
	set("B12", 0.075, &excelize.Style{NumFmt: 20})
	set("C12", 0.5, &excelize.Style{NumFmt: 9})
	set("D12", 22.5, &excelize.Style{NumFmt: 12}) // 22 1/2
	set("E12", 1234, &excelize.Style{CustomNumFmt: &dashes})
	set("F12", 1.0/3, nil)
	_, err := f.NewSheet("Two")
	require.NoError(t, err)
	require.NoError(t, f.SetSheetVisible("Two", false))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	got := cellsOf(t, b.Bytes(), "Sheet1")
	require.Len(t, got, 9)
	assert.Equal(t, []string{"10/4 2.25", "10/5 1234.5625", "10/7 two lines"}, got[:3])
	assert.Contains(t, got[3], "12/1 38324, shown as ")
	assert.Contains(t, got[4], "12/2 0.075, shown as ")
	assert.Contains(t, got[5], "12/3 0.5, shown as 50%")
	assert.Equal(t, "12/4 22.5", got[6])
	assert.NotEqual(t, "12/5 1234", got[7], "feet, inches and eighths are no number")
	assert.Equal(t, "12/6 0.333333333333333", got[8], "fifteen digits, as sheets keep them")
	w, err := Open(b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, []Name{{"Sheet1", false}, {"Two", true}}, w.Sheets)
}

func TestShows(t *testing.T) {
	for text, v := range map[string]float64{
		"12": 12.4, "12.3": 12.3456, "12,35": 12.3456, "1,234.6": 1234.56, "1.234,6": 1234.56, "1 234,6": 1234.56, "1E+03": 1234,
		"22 1/2": 22.47, "-1/4": -0.25, "\u22123": -3,
	} {
		assert.True(t, shows(text, v), text)
	}
	for text, v := range map[string]float64{"12": 12.6, "50%": 0.5, "12-3-4": 38324, "1:48": 0.075, "": 1, "5 mm": 5, "1/0": 1} {
		assert.False(t, shows(text, v), text)
	}
}

// What is torn, locked, of another kind or made to exhaust memory is refused.
func TestRefused(t *testing.T) {
	const few = 1000
	xlsx := func(sheet string) []byte {
		return archive(t, "[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`,
			"xl/workbook.xml", `<workbook/>`, "xl/worksheets/sheet1.xml", sheet)
	}
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"torn":              {archive(t, "content.xml", content(""))[:100], "the workbook is damaged"},
		"torn within":       {archive(t, "content.xml", "<office:spreadsheet><table:table"), "the workbook is damaged"},
		"torn sheet":        {xlsx(`<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c>`), "the workbook is damaged"},
		"another archive":   {archive(t, "readme.txt", "hello"), "it is an archive, not a workbook (XLSX or ODS); extract the file that you want first"},
		"a text":            {archive(t, "content.xml", "<office><text>hello</text></office>"), "not a workbook (ODS)"},
		"binary":            {archive(t, "xl/workbook.bin", ""), "a binary workbook (XLSB)"},
		"locked":            {archive(t, "META-INF/manifest.xml", "<m><encryption-data/></m>", "content.xml", "x"), "locked by a password"},
		"a bomb":            {claiming(t, mostUnpacked+1), "unpacks to more than 48 MB"},
		"tags without end":  {xlsx("<w>" + strings.Repeat("<a/>", few/2+1) + "</w>"), "the workbook has more than the program reads"},
		"far to the right":  {xlsx(`<w><row r="1"><c r="XFD1"><v>1</v></c></row></w>`), "more than 1100 columns"},
		"strings unbounded": {archive(t, "xl/workbook.xml", "<w/>", "xl/sharedStrings.xml", "<w>"+strings.Repeat("<si/>", few/2+1)+"</w>"), "the workbook has more than the program reads"},
	} {
		_, err := open(c.data, few)
		if assert.Error(t, err, name) {
			assert.Contains(t, err.Error(), c.says, name)
		}
	}
	_, err := open(xlsx("<w>"+strings.Repeat(`<row><c r="AMJ1"/></row>`, mostSpan/1024+1)+"</w>"), mostTokens)
	assert.ErrorContains(t, err, "the cells of a sheet are too far apart")
	full := func(cell string, repeat string) error {
		b, err := Open(archive(t, "content.xml", content(`<table:table-row `+repeat+`><table:table-cell `+cell+`><text:p>7</text:p></table:table-cell></table:table-row>`)))
		require.NoError(t, err)
		_, err = b.Sheet(t.Context(), "One")
		return err
	}
	assert.ErrorContains(t, full(`table:number-columns-repeated="16384"`, ""), "more than 1100 columns")
	assert.ErrorContains(t, full("", `table:number-rows-repeated="1048576"`), "more than 500000 cells")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	b, err := Open(archive(t, "content.xml", content("")))
	require.NoError(t, err)
	_, err = b.Sheet(ctx, "One")
	assert.ErrorIs(t, err, context.Canceled)
}
