package drawing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Of the rules that apply to the same element the one of greater weight wins, and of
// two alike the later; rules for media, pointers and in comments are kept apart.
func TestStyleRules(t *testing.T) {
	svg := &svgNode{name: "svg"}
	group := &svgNode{name: "g", attr: map[string]string{"id": "spare", "class": "a"}, outer: svg}
	line := &svgNode{name: "path", attr: map[string]string{"class": "b c", "id": "p"}, outer: group}
	for sheet, hidden := range map[string]bool{
		".b{display:none}":                                true,
		".B{display:none}":                                false,
		"g{display:none}":                                 false,
		"path.b.c{display:none}":                          true,
		"path.b.d{display:none}":                          false,
		"#spare .c{display:none}":                         true,
		"svg>.c{display:none}":                            false,
		"svg > g > .c{display:none}":                      true,
		"svg .c , .z{display:none}":                       true,
		".b{display:none}.c{display:inline}":              false,
		".c{display:inline}.b{display:none}":              true,
		"#p{display:inline}.b{display:none}":              false,
		".b:hover{display:none}":                          false,
		"/*.x{}*/.b/**/{fill:red;display:none!important}": true,
		"@import url(x);.b{display:none}":                 true,
		"@media print{.b{display:none}}":                  false,
		"@media screen{@media all{.b{display:none}}}":     true,
		"@font-face{src:url(x)}.b{display:none}":          true,
		".b{display:none":                                 true,
		"*{display:none}":                                 true,
	} {
		s := &svgReader{}
		s.styles(&svgNode{name: "style", text: []byte(sheet)})
		sortRules(s.rules)
		assert.Equal(t, hidden, s.shown(line).none, sheet)
	}
	s := &svgReader{}
	s.styles(&svgNode{name: "style", text: []byte(strings.Repeat(".b{display:none}", mostRules+1))})
	assert.Len(t, s.Found, 1)
}
