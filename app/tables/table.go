package tables

// Kind says what a column holds, and by that how a spreadsheet shows it.
type Kind int

// The kinds of columns.
const (
	Text    Kind = iota // string
	Whole               // int
	Length              // float64, mm, shown to a hundredth
	Degrees             // float64, shown to a tenth
)

// Column is a column of a table.
type Column struct {
	Key  string // its heading in a CSV file, with its unit, as "width_cut_mm"
	Head string // its heading in a workbook, as "width to cut (arc), mm"
	Kind Kind
}

// Table is a table with a heading. A cell is a string, an int or a float64 as
// its column's kind says, or nil where there is nothing to tell.
type Table struct {
	Name    string // its file name without an ending, as "strakes-layer-1-starboard"
	Title   string // the name of its sheet, as "Layer 1 starboard"
	Columns []Column
	Rows    [][]any
}

func (t *Table) add(cells ...any) { t.Rows = append(t.Rows, cells) }
