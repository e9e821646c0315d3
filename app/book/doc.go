// Package book is the picture book: a tutorial of one vessel from its frames to the last
// strake. Its pages are Markdown, made from their sources by what the program itself
// answers (package quote), and its pictures are the program's own. Write lays it out for a
// browser:
//
//	first, err := book.Write(folder)
package book
