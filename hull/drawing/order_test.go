package drawing

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNamesComeInTheOrderOfTheirNumbers(t *testing.T) {
	names := strings.Fields("p1 p2 p10 p11 p11a p11b q q01 q1 q1-2 q1-10")
	got := slices.Clone(names)
	slices.Reverse(got)
	slices.SortFunc(got, byNumber)
	assert.Equal(t, names, got)
	assert.Zero(t, byNumber("p07", "p07"))
	assert.Negative(t, byNumber("p9", "p99999999999999999999999"), "longer than any number of the machine")
}

func TestLinesAreListedInTheOrderOfTheirNumbers(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">`)
	for _, name := range []string{"p10", "p2", "p1", "p11"} {
		b.WriteString(`<path id="` + name + `" d="M10 10 L40 60"/>`)
	}
	b.WriteString("</svg>")
	d, _ := Check(strings.NewReader(b.String()), "lines.svg", Options{})
	var got []string
	for _, o := range d.Outlines {
		got = append(got, o.Name)
	}
	assert.Equal(t, []string{"p1", "p2", "p10", "p11"}, got)
}
