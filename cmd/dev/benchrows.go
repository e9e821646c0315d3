package main

import (
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
)

// row is a line of the table, and of a report: the result of a benchmark in one
// unit, beside its limit, if it has one.
type row struct {
	Bench  string   `json:"benchmark"`
	What   string   `json:"what,omitempty"`
	Unit   string   `json:"unit"`
	Value  *float64 `json:"value"`           // null if it was not measured
	Most   *float64 `json:"limit,omitempty"` // in the same unit
	Cores  int      `json:"cores,omitempty"` // to which the limit applies
	Bytes  *float64 `json:"bytes,omitempty"` // per operation
	Allocs *float64 `json:"allocations,omitempty"`
}

// compare gives a row for each limit, in order, then one for each unit without a
// limit. If a benchmark has parts, its limit applies to each part. The time of a
// benchmark that reports units of its own adds nothing, unless there is a limit
// for it.
func compare(limits []limit, measured []measurement) []row {
	var rows []row
	for _, l := range limits {
		rows = append(rows, l.rows(measured)...)
	}
	for _, m := range measured {
		units := m.ownUnits()
		if len(units) == 0 {
			units = []string{perOp}
		}
		for _, unit := range units {
			if !slices.ContainsFunc(rows, func(r row) bool { return r.Bench == m.name && r.Unit == unit }) {
				rows = append(rows, m.row(unit))
			}
		}
	}
	return rows
}

func (l limit) rows(measured []measurement) []row {
	var rows []row
	for _, m := range measured {
		if _, ok := m.values[l.unit]; ok && l.covers(m.name) {
			rows = append(rows, m.row(l.unit))
		}
	}
	if len(rows) == 0 {
		rows = []row{{Bench: l.bench, Unit: l.unit}}
	}
	for i := range rows {
		rows[i].What, rows[i].Most, rows[i].Cores = l.what, &l.most, l.cores
	}
	return rows
}

// row is the line of one unit; memory is shown only beside times.
func (m measurement) row(unit string) row {
	value := func(unit string) *float64 {
		if v, ok := m.values[unit]; ok {
			return &v
		}
		return nil
	}
	r := row{Bench: m.name, Unit: unit, Value: value(unit)}
	if unit == perOp {
		r.Bytes, r.Allocs = value("B/op"), value("allocs/op")
	}
	return r
}

// name says which row it is.
func (r row) name() string {
	if r.Unit == perOp {
		return r.Bench
	}
	return r.Bench + " " + r.Unit
}

// verdict is "within", "over" or "not measured", or "" where there is no limit.
func (r row) verdict() string {
	switch {
	case r.Most == nil:
		return ""
	case r.Value == nil:
		return "not measured"
	case *r.Value > *r.Most:
		return "over"
	}
	return "within"
}

// table writes the rows under headings, with those of an earlier report beside
// them if there is one.
func table(rows []row, before *earlier) string {
	heads := []string{"what", "benchmark", "measured", "limit", "cores", "memory", "allocations", ""}
	if before != nil {
		heads = append(heads, "earlier", "ratio", "")
	}
	lines := [][]string{heads}
	for _, r := range rows {
		cells := r.cells()
		if before != nil {
			cells = append(cells, before.cells(r)...)
		}
		lines = append(lines, cells)
	}
	return aligned(lines)
}

func (r row) cells() []string {
	in := func(v *float64, unit string) string {
		if v == nil {
			return "-"
		}
		return inUnit(*v, unit)
	}
	cores := "-"
	if r.Cores > 0 {
		cores = strconv.Itoa(r.Cores)
	}
	return []string{r.What, r.name(), in(r.Value, r.Unit), in(r.Most, r.Unit), cores, in(r.Bytes, "B/op"), in(r.Allocs, "allocs/op"), r.verdict()}
}

// aligned writes lines of cells in columns.
func aligned(lines [][]string) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, cells := range lines {
		_, _ = w.Write([]byte(strings.Join(cells, "\t") + "\n")) // a strings.Builder accepts every write
	}
	_ = w.Flush()
	var out []string
	for line := range strings.Lines(b.String()) {
		out = append(out, strings.TrimRight(line, " \n"))
	}
	return strings.Join(out, "\n")
}
