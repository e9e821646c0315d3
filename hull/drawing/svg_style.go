package drawing

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
)

// What a style says about whether something is shown. Visibility is inherited, and
// an inner element may restore it; display is not, and what it hides is hidden
// entirely (CSS 2, 9.2.4 and 11.2).
type shown struct {
	none    bool   // display is none
	visible string // visibility, empty where it is not set
}

// styleRule is one selector of a style sheet with what it says about being
// shown.
type styleRule struct {
	parts   []simpleSelector // from the outermost to that of the element itself
	weight  int              // of ids, classes and names, in order of precedence
	display string
	visible string
}

// simpleSelector is one part of a selector, such as path.hidden or #frame-A.
type simpleSelector struct {
	name, id string
	classes  []string
	child    bool // it must be a direct child of the part before
}

// Limits of style sheets.
const (
	mostRules    = 200 // that say what is shown
	deepestMedia = 4   // nested @media
)

var (
	cssComment  = regexp.MustCompile(`(?s)/\*.*?\*/`)
	cssSelector = regexp.MustCompile(`^([\w-]+|\*)?((?:[.#][\w-]+)*)$`)
	cssPiece    = regexp.MustCompile(`[.#][\w-]+`)
)

// styleRules are the rules of a style sheet that say what is shown on the screen.
// What is hidden only on paper, or only while a pointer is over it, is shown.
func styleRules(sheet string) []styleRule {
	sheet = cssComment.ReplaceAllString(sheet, " ")
	sheet = strings.NewReplacer("<![CDATA[", " ", "]]>", " ", "<!--", " ", "-->", " ").Replace(sheet)
	return rulesWithin(sheet, deepestMedia)
}

// rulesWithin are the rules of a sheet, or of its part for one medium, without
// comments.
func rulesWithin(sheet string, deep int) []styleRule {
	var out []styleRule
	for sheet != "" && len(out) <= mostRules {
		open := strings.IndexByte(sheet, '{')
		if open < 0 {
			break
		}
		head := strings.TrimSpace(sheet[:open])
		if i := strings.LastIndexByte(head, ';'); i >= 0 { // behind an @import
			head = strings.TrimSpace(head[i+1:])
		}
		end := closing(sheet, open)
		body := sheet[open+1 : end]
		sheet = sheet[min(end+1, len(sheet)):]
		if strings.HasPrefix(head, "@") {
			if media, ok := strings.CutPrefix(head, "@media"); ok && (strings.Contains(media, "screen") || strings.Contains(media, "all")) && deep > 0 {
				out = append(out, rulesWithin(body, deep-1)...)
			}
			continue
		}
		display, visible := declared(body)
		if display == "" && visible == "" {
			continue
		}
		for selector := range strings.SplitSeq(head, ",") {
			if parts, weight, ok := selectorOf(selector); ok {
				out = append(out, styleRule{parts, weight, display, visible})
			}
			if len(out) > mostRules {
				break
			}
		}
	}
	return out
}

// closing is where the brace opened at open is closed, or the end.
func closing(text string, open int) int {
	deep := 0
	for i := open; i < len(text); i++ {
		switch text[i] {
		case '{':
			deep++
		case '}':
			if deep--; deep == 0 {
				return i
			}
		}
	}
	return len(text)
}

// declared reads display and visibility from declarations.
func declared(body string) (display, visible string) {
	for d := range strings.SplitSeq(body, ";") {
		key, value, _ := strings.Cut(d, ":")
		value, _, _ = strings.Cut(strings.TrimSpace(strings.ToLower(value)), "!")
		switch strings.TrimSpace(strings.ToLower(key)) {
		case "display":
			display = strings.TrimSpace(value)
		case "visibility":
			visible = strings.TrimSpace(value)
		}
	}
	return display, visible
}

// selectorOf splits a selector into its parts; ok is false for one that is not
// understood.
func selectorOf(text string) (parts []simpleSelector, weight int, ok bool) {
	child := false
	for word := range strings.FieldsSeq(strings.ReplaceAll(text, ">", " > ")) {
		if word == ">" {
			child = true
			continue
		}
		m := cssSelector.FindStringSubmatch(word)
		if m == nil {
			return nil, 0, false
		}
		s := simpleSelector{child: child}
		child = false
		if m[1] != "" && m[1] != "*" {
			s.name = m[1]
			weight++
		}
		for _, piece := range cssPiece.FindAllString(m[2], -1) {
			if piece[0] == '#' {
				s.id = piece[1:]
				weight += 1000000
			} else {
				s.classes = append(s.classes, piece[1:])
				weight += 1000
			}
		}
		parts = append(parts, s)
	}
	return parts, weight, len(parts) > 0
}

// fits reports whether an element matches this part of a selector.
func (s *simpleSelector) fits(n *svgNode) bool {
	if (s.name != "" && s.name != n.name) || (s.id != "" && s.id != n.attr["id"]) {
		return false
	}
	if len(s.classes) == 0 {
		return true
	}
	own := strings.Fields(n.attr["class"])
	for _, c := range s.classes {
		if !slices.Contains(own, c) {
			return false
		}
	}
	return true
}

// fits reports whether a rule applies to an element.
func (r *styleRule) fits(n *svgNode) bool {
	k := len(r.parts) - 1
	if !r.parts[k].fits(n) {
		return false
	}
	straight := r.parts[k].child
	k--
	for at := n.outer; at != nil && k >= 0; at = at.outer {
		switch {
		case r.parts[k].fits(at):
			straight = r.parts[k].child
			k--
		case straight:
			return false
		}
	}
	return k < 0
}

// shown is what attributes, style sheets and the style of an element say about it,
// each overriding the one before.
func (s *svgReader) shown(n *svgNode) shown {
	display, visible := n.attr["display"], n.attr["visibility"]
	take := func(d, v string) { display, visible = cmp.Or(d, display), cmp.Or(v, visible) }
	for i := range s.rules {
		if s.rules[i].fits(n) {
			take(s.rules[i].display, s.rules[i].visible)
		}
	}
	take(declared(n.attr["style"]))
	return shown{none: display == "none", visible: visible}
}

// styles collects the rules of a drawing's style sheets, by increasing weight.
func (s *svgReader) styles(n *svgNode) {
	if n.name == "style" && !strings.Contains(n.attr["media"], "print") {
		s.rules = append(s.rules, styleRules(string(n.text))...)
	}
	if len(s.rules) > mostRules {
		s.rules = nil
		s.Add(n.line, "", "save it with the style at each line", "the style sheets of the drawing have more than %d rules of visibility, the most that the program reads", mostRules)
	}
	for _, inner := range n.inner {
		s.styles(inner)
	}
}

// sortRules sorts rules so that each overrides those before it.
func sortRules(rules []styleRule) {
	slices.SortStableFunc(rules, func(a, b styleRule) int { return cmp.Compare(a.weight, b.weight) })
}
