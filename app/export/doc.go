// Package export makes the paper, cutting files and tables that the builder
// carries to the bench, and writes them into a folder, all or none.
//
//	set, err := export.Make(ctx, k, export.Usual(k.Plan))
//	written, err := set.Write(ctx, "bench", false, func(p export.Progress) { ... })
//
// The folder then holds
//
//	booklet.pdf          contents, cautions, summary and every sheet, full size
//	pdf/SECTION.pdf      the sheets of one section
//	svg/SHEET.svg        every sheet untiled
//	dxf/SHEET.dxf        those with lines to cut or mark
//	tables/TABLE.csv     every table
//	tables.xlsx          the same, as one workbook
package export
