// Package paper lays sheets out on pages of paper that a builder has: small
// sheets share a page, large ones are cut into pieces that overlap and bear
// crosses to join them by. Every page bears a bar of 100 mm and one of 4 in. to
// measure, and a printer that is known to print too small or too large is
// put right.
//
//	setup := paper.Setup{Ship: "Coaster", Size: paper.A4}
//	pages, err := paper.Pages(sheets, setup)
//	...
//	booklet, err := paper.Book{Title: "Planking sheets", Setup: setup, Sheets: sheets}.Bind()
//	...
//	err = booklet.Write(ctx, w, nil)
//
// Lengths are mm as they come out of the printer ("true"), except where a
// comment says "of paper": those are of the page as the file describes it. The
// two differ by the printer's own scale error.
package paper
