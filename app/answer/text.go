package answer

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// page writes text and keeps the first error.
type page struct {
	w       io.Writer
	started bool
	err     error
}

// table is a heading and rows of as many cells; the first column is aligned
// left, the others right.
type table struct {
	head []string
	rows [][]string
}

// line says a sentence, and leaves the line.
//
//tongue:says 0
func (p *page) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, visible.Text(tongue.T(format, args...)))
		p.started = true
	}
}

// gap leaves a line free, but not at the head of the page.
func (p *page) gap() {
	if p.started {
		p.line("")
	}
}

// layer names a layer of several; 0 is the only one and needs no name.
func (p *page) layer(n int) {
	if n > 0 {
		p.gap()
		p.line("Layer %d", n)
	}
}

// table writes an aligned table after a free line.
func (p *page) table(t table) {
	p.gap()
	if p.err != nil {
		return
	}
	t = t.visible()
	first := len([]rune(t.head[0]))
	for _, r := range t.rows {
		first = max(first, len([]rune(r[0])))
	}
	tw := tabwriter.NewWriter(p.w, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, r := range append([][]string{t.head}, t.rows...) {
		pad := strings.Repeat(" ", first-len([]rune(r[0])))
		fmt.Fprint(tw, r[0]+pad+"\t"+strings.Join(r[1:], "\t")+"\t\n")
	}
	p.err = tw.Flush()
	p.started = true
}

// visible is the table with every cell as it can be shown.
func (t table) visible() table {
	shown := func(cells []string) []string {
		out := make([]string, len(cells))
		for i, c := range cells {
			out[i] = visible.Text(c)
		}
		return out
	}
	out := table{head: shown(t.head)}
	for _, r := range t.rows {
		out.rows = append(out.rows, shown(r))
	}
	return out
}

// list writes sentences one a line under a heading, or nothing for none.
func (p *page) list(heading string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	p.gap()
	p.line("%s", heading)
	for _, s := range sentences {
		p.line("- %s", s)
	}
}

// mm tells a length to a hundredth of a millimetre.
func mm(x float64) string { return decimals(x, 2) }

// deg tells an angle to a tenth of a degree.
func deg(x float64) string { return decimals(x, 1) }

// Degrees writes an angle in degrees to a tenth, a zero without its sign.
func Degrees(x float64) string { return deg(x) + "°" }

// decimals tells a number with so many decimals, with the language's decimal sign.
func decimals(x float64, n int) string { return tongue.Figure(fixed(x, n)) }

// nought tells a number that is told as zero with so many decimals.
func nought(x float64, n int) bool { return strings.Trim(fixed(x, n), "-0.") == "" }

// fixed writes a number with so many decimals and a point, a zero without its sign.
func fixed(x float64, n int) string {
	s := strconv.FormatFloat(x, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// bend tells a bend radius in mm, or that it is flat.
func bend(r *float64) string {
	if r == nil {
		return tongue.T("flat")
	}
	return strconv.FormatFloat(math.Round(*r), 'f', -1, 64)
}

// byLayer parts rows that stand in the order of their layers.
func byLayer[T any](rows []T, layer func(T) int) [][]T {
	var out [][]T
	for i, r := range rows {
		if i == 0 || layer(r) != layer(rows[i-1]) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], r)
	}
	return out
}
