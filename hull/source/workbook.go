package source

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/workbook"
)

// sheetMend says what a sheet must hold.
const sheetMend = "let a row be the header of the table, such as " + pointsHeader

// workbook reads the table on a sheet of a workbook: the first sheet that has one, or
// the one named. It passes the table to the readers of texts, and gives the faults
// they find their place on the sheet.
func (c *Checked) workbook(ctx context.Context, r io.Reader, path string, how drawing.Options) error {
	data, err := io.ReadAll(io.LimitReader(r, workbook.Largest+1))
	switch {
	case err != nil:
		return fault.OfFile(path, "cannot be read", "check the file and the disk it is on", err)
	case len(data) > workbook.Largest:
		return fault.Fault{File: path, What: tongue.T("the workbook is larger than %d MB, the most that the program reads", workbook.Largest>>20), Mend: tongue.T("save the sheet alone, or as CSV")}
	}
	b, err := workbook.Open(data)
	if err != nil {
		return inFile(err, path)
	}
	t, err := c.sheetOf(ctx, b, how.Sheet)
	if err != nil {
		return inFile(err, path)
	}
	c.Kind = t.kind
	c.table(strings.NewReader(t.text()), path, true)
	if len(c.Sheets) > 1 && how.Sheet == "" {
		c.Notes = append(c.Notes, tongue.T("The table is on sheet %s; %s have others: choose one with --sheet NAME.", fault.Name(t.sheet.Name), namesOf(c.Sheets[1:])))
	} else if len(b.Sheets) > 1 {
		c.Notes = append(c.Notes, tongue.T("The table is on sheet %s.", fault.Name(t.sheet.Name)))
	}
	if t.beside != "" {
		c.Notes = append(c.Notes, tongue.T("Cells beside the table, such as %s, are left out.", t.beside))
	}
	for i := range c.Faults {
		t.place(&c.Faults[i])
	}
	return nil
}

// inFile gives a fault its file.
func inFile(err error, path string) error {
	var f fault.Fault
	if errors.As(err, &f) {
		f.File = path
		return f
	}
	return fmt.Errorf("%s: %w", path, err)
}

// namesOf lists names of sheets, up to a limit.
func namesOf(names []string) string {
	const most = 8
	var out []string
	for i, n := range names {
		if i == most {
			out = append(out, tongue.T("%d more", len(names)-most))
			break
		}
		out = append(out, fault.Name(n))
	}
	return strings.Join(out, ", ")
}

// sheetOf finds the table to be read, and notes which sheets have one. Hidden sheets
// count only where they are named. A table of bare numbers counts only where no sheet
// has one with a header.
func (c *Checked) sheetOf(ctx context.Context, b *workbook.Book, named string) (*sheetTable, error) {
	var first *sheetTable
	var shown []string
	found := false
	looked := 0
	for _, bare := range []bool{false, true} {
		for _, s := range b.Sheets {
			if !s.Hidden && !bare {
				shown = append(shown, s.Name)
			}
			if (named == "" && s.Hidden) || (named != "" && !strings.EqualFold(s.Name, named)) {
				continue
			}
			found = true
			if looked++; looked > 2*mostLooked {
				break
			}
			sheet, err := b.Sheet(ctx, s.Name)
			if err != nil {
				return nil, err
			}
			t := tableOn(sheet, bare)
			if t == nil {
				continue
			}
			c.Sheets = append(c.Sheets, s.Name)
			if first == nil {
				first = t
			}
		}
		if first != nil {
			return first, nil
		}
	}
	switch {
	case named != "" && !found:
		return nil, fault.Fault{What: tongue.T("there is no sheet %s in the workbook", fault.Name(named)), Mend: tongue.T("name one of %s", namesOf(shown))}
	case named != "":
		return nil, fault.Fault{Sheet: named, What: tongue.T("it has no table of points, girths or offsets"), Mend: tongue.T(sheetMend)}
	}
	return nil, fault.Fault{What: tongue.T("no sheet has a table of points, girths or offsets (%s)", namesOf(shown)), Mend: tongue.T(sheetMend)}
}

// sheetTable is a table on a sheet.
type sheetTable struct {
	sheet   *workbook.Sheet
	kind    Kind
	rows    []workbook.Row
	columns []int  // columns of the table, from 1
	beside  string // a cell that does not belong to the table
}

// Where a table is sought in a workbook.
const (
	mostLooked = 40  // sheets
	mostAbove  = 300 // rows above its header
	mostBefore = 50  // cells before it in a row
	mostHead   = 12  // columns by which it is recognised
)

// tableOn finds the table on a sheet: below a header, the most certain first, or, with
// bare set, rows of three numbers. It returns nil where there is none.
func tableOn(s *workbook.Sheet, bare bool) *sheetTable {
	heads := []func(row []string) (Kind, bool){pointsOrGirths, listHeads, offsetsHead}
	if bare {
		heads = []func(row []string) (Kind, bool){threeNumbers}
	}
	for _, is := range heads {
		for i, row := range s.Rows[:min(len(s.Rows), mostAbove)] {
			for k := range row.Cells[:min(len(row.Cells), mostBefore)] {
				if k > 0 && row.Cells[k-1].Column == row.Cells[k].Column-1 && bare {
					continue // among numbers
				}
				if kind, ok := is(contiguous(row.Cells[k:min(len(row.Cells), k+mostHead)])); ok && (!bare || bareBelow(s.Rows[i:], row.Cells[k].Column)) {
					t := &sheetTable{sheet: s, kind: kind, rows: slices.Clone(s.Rows[i:])}
					t.takeColumns(row.Cells[k:])
					return t
				}
			}
		}
	}
	return nil
}

// contiguous gives the texts of cells up to the first gap.
func contiguous(cells []workbook.Cell) []string {
	var out []string
	for i, c := range cells {
		if c.Column != cells[0].Column+i {
			break
		}
		out = append(out, c.Text)
	}
	return out
}

func pointsOrGirths(row []string) (Kind, bool) {
	if len(row) < 3 || !strings.EqualFold(row[0], "frame") {
		return "", false
	}
	line := strings.ToLower(strings.Join(row, ","))
	switch {
	case strings.Contains(line, "girth"):
		return Girths, true
	case pointsColumn.MatchString(line):
		columns, ok := listHeader(row)
		if ok && namesAll(columns, "x", "y", "z") && !isPointsHeader(row) {
			return List, true
		}
		return Points, true
	}
	return "", false
}

func listHeads(row []string) (Kind, bool) {
	columns, ok := listHeader(row)
	return List, (ok && namesAll(columns, "x", "y", "z")) || listHead.MatchString(row[0]) || listPlace.MatchString(row[0])
}

func offsetsHead(row []string) (Kind, bool) {
	return Offsets, beginsOffsets(strings.ToLower(row[0]))
}

func threeNumbers(row []string) (Kind, bool) {
	return List, len(row) == 3 && !slices.ContainsFunc(row, func(s string) bool { return !looksLikeNumber(s, true) })
}

// bareBelow reports whether several rows of three numbers follow one another from
// a column on.
func bareBelow(rows []workbook.Row, column int) bool {
	const several = 9 // three frames of three points
	n := 0
	for _, r := range rows {
		at := slices.IndexFunc(r.Cells, func(c workbook.Cell) bool { return c.Column == column })
		if at < 0 {
			continue
		}
		if _, ok := threeNumbers(contiguous(r.Cells[at:min(len(r.Cells), at+mostHead)])); !ok {
			return false
		}
		if n++; n == several {
			return true
		}
	}
	return false
}

// takeColumns takes the columns of the table: those of its header or, for a table of
// offsets, all non-empty ones to the right of its first. Rows at the end that hold
// only a remark are left out.
func (t *sheetTable) takeColumns(head []workbook.Cell) {
	from := head[0].Column
	if t.kind == Offsets || (t.kind == List && len(contiguous(head)) < 3) {
		used := map[int]bool{}
		for _, r := range t.rows {
			for _, c := range r.Cells {
				if c.Column >= from {
					used[c.Column] = true
				}
			}
		}
		for c := range used {
			t.columns = append(t.columns, c)
		}
		slices.Sort(t.columns)
		if t.kind == List { // up to the first gap
			for k := range t.columns {
				if t.columns[k] != from+k {
					t.columns = t.columns[:k]
					break
				}
			}
		}
	} else {
		for k := range contiguous(head) {
			t.columns = append(t.columns, from+k)
		}
	}
	if t.kind != Offsets {
		for _, r := range t.rows {
			for _, c := range r.Cells {
				if !t.has(c.Column) {
					t.passOver(r, c)
				}
			}
		}
	}
	for n := len(t.rows); n > 1; n-- {
		within := 0
		for _, c := range t.rows[n-1].Cells {
			if t.has(c.Column) {
				within++
			}
		}
		if within > 1 {
			break
		}
		t.passOver(t.rows[n-1], t.rows[n-1].Cells[0])
		t.rows = t.rows[:n-1]
	}
}

// has reports whether a column belongs to the table.
func (t *sheetTable) has(column int) bool {
	_, ok := slices.BinarySearch(t.columns, column)
	return ok
}

func (t *sheetTable) passOver(r workbook.Row, c workbook.Cell) {
	if t.beside != "" {
		return
	}
	t.beside = fault.Column(c.Column) + strconv.Itoa(r.Number)
}

// text writes the table as its readers take it, one line for each row of the sheet,
// including empty ones. A frame's name that stands only beside its first point is given
// to all its points.
func (t *sheetTable) text() string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if t.kind == List {
		w.Comma = '\t'
	}
	commas := t.commas()
	line, frame, name := t.rows[0].Number, "", t.nameColumn()
	for i, r := range t.rows {
		w.Flush()
		b.WriteString(strings.Repeat("\n", r.Number-line))
		line = r.Number + 1
		fields := make([]string, len(t.columns))
		any := false
		for _, c := range r.Cells {
			if k, ok := slices.BinarySearch(t.columns, c.Column); ok {
				fields[k] = c.Text
				if commas && decimalComma.MatchString(c.Text) {
					fields[k] = strings.Replace(c.Text, ",", ".", 1)
				}
				any = true
			}
		}
		if !any {
			b.WriteByte('\n')
			continue
		}
		if i > 0 && name >= 0 {
			if fields[name] == "" {
				fields[name] = frame
			}
			frame = fields[name]
		}
		if t.kind == Offsets && offsetsTold[strings.TrimSuffix(strings.ToLower(fields[0]), ":")] == "scale" {
			for k := range fields {
				fields[k] = scaleOfTime(fields[k])
			}
		}
		_ = w.Write(fields) // to memory, which cannot fail
	}
	w.Flush()
	return b.String()
}

// nameColumn is the column that names the frame of each point; -1 where none does.
func (t *sheetTable) nameColumn() int {
	if t.kind == Points {
		return 0
	}
	var head []string
	for _, c := range t.rows[0].Cells {
		if t.has(c.Column) {
			head = append(head, c.Text)
		}
	}
	columns, ok := listHeader(head)
	if t.kind != List || !ok {
		return -1
	}
	return slices.IndexFunc(columns, func(c listColumn) bool { return c.what == "frame" })
}

// scaleOfTime recovers a scale that the workbook has stored as a time of day: 1:48,
// and 1:96 as 2:36.
func scaleOfTime(text string) string {
	holds, shows, ok := workbook.Shown(text)
	days, err := strconv.ParseFloat(holds, 64)
	minutes := math.Round(days * 24 * 60)
	if !ok || err != nil || !strings.Contains(shows, ":") || minutes <= 60 || math.Abs(days*24*60-minutes) > 1e-6 {
		return text
	}
	return "1:" + strconv.FormatFloat(minutes-60, 'f', -1, 64)
}

var (
	decimalComma = regexp.MustCompile(`^[-+\x{2212}]?(\d+),(\d+)$`)
	bothMarks    = regexp.MustCompile(`\d,\d{3}\.\d`)
)

// commas reports whether the commas in numbers stored as text are decimal commas:
// some cannot be thousands separators, and none clearly is one.
func (t *sheetTable) commas() bool {
	sure := false
	for _, r := range t.rows {
		for _, c := range r.Cells {
			if bothMarks.MatchString(c.Text) {
				return false
			}
			if m := decimalComma.FindStringSubmatch(c.Text); m != nil {
				sure = sure || len(m[2]) != 3 || len(m[1]) > 3 || m[1][0] == '0'
			}
		}
	}
	return sure
}

// place gives a fault in the text its cell on the sheet. Where the reader has not
// named the field, it is the one whose text is quoted.
func (t *sheetTable) place(f *fault.Fault) {
	f.Sheet = t.sheet.Name
	if !fault.Seemly(f.Sheet) {
		f.Sheet = fault.Name(f.Sheet)
	}
	if f.Line == 0 {
		f.Field = 0
		return
	}
	f.Line += t.rows[0].Number - 1
	if k := f.Field; k > 0 && k <= len(t.columns) {
		f.Field = t.columns[k-1]
	} else {
		f.Field = 0
		t.seek(f)
	}
	if _, shows, ok := workbook.Shown(t.at(f.Line, f.Field)); ok {
		f.What = tongue.T("the cell shows %s, a date or the like made from your entry", fault.Name(shows))
		f.Mend = tongue.T("format the cells as text, and type it again")
	}
}

// seek finds the cell whose text a fault quotes: in its row or, since a table may be
// turned before it is read, in any other.
func (t *sheetTable) seek(f *fault.Fault) {
	for _, everywhere := range []bool{false, true} {
		var at [][2]int
		for _, r := range t.rows {
			if !everywhere && r.Number != f.Line {
				continue
			}
			for _, c := range r.Cells {
				if t.has(c.Column) && quotes(f.What, c.Text) {
					at = append(at, [2]int{r.Number, c.Column})
				}
			}
		}
		if len(at) == 1 || (len(at) > 0 && !everywhere) {
			f.Line, f.Field = at[0][0], at[0][1]
			return
		}
	}
}

// quotes reports whether a sentence says that something "is" the text, in quotes or
// not.
func quotes(sentence, text string) bool {
	for _, told := range []string{strconv.Quote(text), fault.Name(text)} {
		_, rest, ok := strings.Cut(sentence, tongue.T(" is %s", told))
		if ok && (rest == "" || rest[0] == ',' || rest[0] == ' ') {
			return true
		}
	}
	return false
}

// at is the text of a cell.
func (t *sheetTable) at(row, column int) string {
	for _, r := range t.rows {
		if r.Number == row {
			for _, c := range r.Cells {
				if c.Column == column {
					return c.Text
				}
			}
		}
	}
	return ""
}

// table reads a table in text form.
func (c *Checked) table(r io.Reader, path string, ofSheet bool) {
	told := true // it is known which corners are knuckles
	switch c.Kind {
	case Offsets:
		c.Hull, c.Faults = checkOffsets(r, path)
	case Girths:
		c.Hull, c.Faults = checkGirths(r, path)
	case List:
		l := readList(r, path, ofSheet)
		told = namesAll(l.columns, "kind")
		c.Hull, c.Notes, c.Faults = &l.hull, l.notes, l.Sorted()
	default:
		p := readPoints(r, path)
		told = p.columns > 4
		c.Hull, c.Faults = &p.hull, p.Sorted()
	}
	if !told && len(c.Faults) == 0 {
		c.Notes = append(c.Notes, c.Hull.KeepChines()...)
	}
}
