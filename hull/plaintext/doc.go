// Package plaintext reads texts and tables as people and programs write them: with or without a
// byte-order mark, with any line ends, with commas, semicolons or tabs between the columns, and with
// decimal commas where these cannot be separators.
//
//	f := &fault.List{File: name}
//	text, ok := plaintext.ReadTable(r, plaintext.LargestTable, f) // as UTF-8, no picture, not too large
//	rows, comma, ok := plaintext.Rows(text, 1001, f)
//	x, wrong := plaintext.Number(rows[1].At(1), comma)
//
// What is wrong with a text is noted in the list of faults, with its line.
package plaintext
