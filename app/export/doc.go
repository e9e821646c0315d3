// Package export makes all the paper, cutting files and tables of a plan that the
// builder carries to the bench, and writes them into one folder, all or none.
//
//	set, err := export.Make(ctx, k, export.Usual(k.Plan))
//	written, err := set.Write(ctx, "bench", false, func(p export.Progress) { ... })
//
// The folder then holds
//
//	booklet.pdf          which sheet is for what, cautions, summary and every sheet, full size
//	pdf/SECTION.pdf      the sheets of one section
//	svg/SHEET.svg        every sheet untiled
//	dxf/SHEET.dxf        those with lines to cut or mark
//	tables/TABLE.csv     every table
//	tables.xlsx          the same, as one workbook
//	sheets.sha256        a list of all these, by which sha256sum -c checks them
//
// # All or none
//
// A set is made whole in a hidden folder beside the folder it is for, and is on
// the disk before it is put there. If nothing but an earlier set stands there,
// or nothing at all, one folder then takes the other's place in one step, where
// the system can do that. Else the files are moved singly, by a journal: if the
// program is killed meanwhile, a warning stands in the folder, and the next set
// for it first puts back what was there. A lock on the hidden folder keeps a
// second set out and tells a run that lasts from one that was killed.
package export
