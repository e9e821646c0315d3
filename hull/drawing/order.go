package drawing

import (
	"cmp"
	"strings"
)

// byNumber compares two names as a reader does: runs of digits by value, so that
// p2 comes before p10, and everything else character by character. Names that
// differ only in leading zeros are compared as written.
func byNumber(a, b string) int {
	s, t := a, b
	for s != "" && t != "" {
		n, m := digits(s), digits(t)
		if n == 0 || m == 0 {
			if s[0] != t[0] {
				return cmp.Compare(s[0], t[0])
			}
			s, t = s[1:], t[1:]
			continue
		}
		x, y := strings.TrimLeft(s[:n], "0"), strings.TrimLeft(t[:m], "0")
		if c := cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y)); c != 0 {
			return c
		}
		s, t = s[n:], t[m:]
	}
	return cmp.Or(cmp.Compare(len(s), len(t)), cmp.Compare(a, b))
}

// digits is how many digits a text begins with.
func digits(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }
