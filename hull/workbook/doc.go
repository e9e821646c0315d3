// Package workbook reads the sheets of a workbook, XLSX or ODS, as cells of text; it knows
// nothing of ships.
//
//	b, err := workbook.Open(data)            // what is wrong is a fault.Fault without a file
//	s, err := b.Sheet(ctx, "Lines")          // the cells that are not empty, row by row
//	text := s.Rows[0].Cells[0].Text          // "12.5"
//
// A number is given in full, in plain decimals, whatever digits the sheet shows. One that is
// shown as something else, such as a date that the program made of 12-3-4, is given in words
// that no reader takes for a number (Shown).
//
// Memory is bounded, whatever the archive claims about itself.
package workbook
