// Package export makes all the paper, cutting files and tables of a plan that the
// builder takes to the bench, and writes them into one folder, all or none.
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
// A set is completed in a hidden folder beside the folder it is for, and is on the
// disk before it is moved there. If that folder holds only an earlier set, or does
// not exist, the new folder takes its place in one step, where the system can do
// that. Otherwise the files are moved one by one, using a journal: if the program
// is killed meanwhile, a warning is left in the folder, and the next set for it
// first restores what was there. A lock on the hidden folder keeps a second set
// out and distinguishes a live run from one that was killed.
package export
