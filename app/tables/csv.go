package tables

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/hull/visible"
)

// WriteCSV writes the table with its heading, a point as the decimal mark, to
// a thousandth, as WriteRows does.
func (t *Table) WriteCSV(w io.Writer) error {
	head := make([]string, len(t.Columns))
	for i, col := range t.Columns {
		head[i] = col.Key
	}
	rows := [][]string{head}
	for _, cells := range t.Rows {
		row := make([]string, len(cells))
		for i, v := range cells {
			row[i] = field(v)
		}
		rows = append(rows, row)
	}
	return WriteRows(w, rows)
}

// WriteRows writes rows of text as CSV: every CSV file goes through it. Text
// that a spreadsheet would take for a formula gets an apostrophe before it, and
// what cannot be seen is written out.
func WriteRows(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, v := range row {
			safe[i] = visible.Text(harmless(v))
		}
		if err := c.Write(safe); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// field is a cell as it stands in a CSV file.
func field(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case float64:
		return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', 3, 64)
	}
	return ""
}

// harmless keeps a spreadsheet from running text as a formula: it would where
// it begins with one of these signs and is no mere number.
func harmless(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r\n", rune(s[0])) {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	return "'" + s
}
