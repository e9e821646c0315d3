// Package sourcetest holds hull sources that the tests of several packages
// read.
package sourcetest

import (
	"bufio"
	"fmt"
	"math"
)

// LargestOffsets writes the most offsets that are read, in the worst order: every
// waterline crosses all the others.
func LargestOffsets(w *bufio.Writer) {
	w.WriteString("offsets\nunit,mm\nscale,1:1\nstation,")
	row := func(head string, v func(k int) float64) {
		w.WriteString(head)
		for k := range 500 {
			fmt.Fprintf(w, ",%.3f", v(k))
		}
		w.WriteByte('\n')
	}
	row("", func(k int) float64 { return float64(k) })
	row("x,", func(k int) float64 { return float64(10 * k) })
	row("height,sheer", func(int) float64 { return 1000 })
	row("half-breadth,sheer", func(int) float64 { return 1000 })
	for i := range 190 {
		row(fmt.Sprintf("half-breadth,%d", 2+5*i), func(k int) float64 { return 500 * (1 + math.Sin(float64(i*i+k))) })
	}
	row("height,rabbet", func(int) float64 { return 0 })
	row("half-breadth,rabbet", func(int) float64 { return 1 })
}
