// Package record tells what follows from the record of the bench, and puts it and
// its entries into words, in millimetres or in inches. It knows of no window.
package record
