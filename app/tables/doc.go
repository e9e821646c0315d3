// Package tables makes the tables that a builder takes to the bench or into a
// spreadsheet: the strakes of each layer and side, bevels, wedges, drop strakes
// and the cutting list. A table is made once and written as CSV or, all of them
// together, as an XLSX workbook.
//
//	s := tables.Settings{Overhang: 20}
//	cuts, err := tables.Cut(ctx, k, s)
//	all := tables.All(k, s, cuts)
//	err = tables.WriteXLSX(w, tables.Of{Title: k.Plan.Title}, all)
//	err = all[0].WriteCSV(w)
//
// Lengths are in mm, angles in degrees; a heading ends in its unit.
package tables
