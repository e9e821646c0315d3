package source

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// feetInchesParts reads a length written as 12-3-4, the last figure in parts of an
// inch, with a + for half a part more; 0 alone is no length. The error is worded as
// the end of a sentence.
func feetInchesParts(s string, of int) (mm float64, wrong string) {
	text := strings.NewReplacer("\u2212", "-", "\u2013", "-", " ", "").Replace(s)
	if text == "0" {
		return 0, ""
	}
	parted := map[int]string{8: "eighths", 16: "sixteenths"}[of]
	wrong = tongue.T("is %s, which is not feet, inches and %s", fault.Name(s), parted)
	text, half := strings.CutSuffix(text, "+")
	text, below := strings.CutPrefix(text, "-")
	parts := strings.Split(text, "-")
	if len(parts) != 3 {
		return 0, wrong
	}
	var v [3]int
	for k, part := range parts {
		n, err := strconv.Atoi(part)
		if err != nil || n < 0 || strings.Trim(part, "0123456789") != "" {
			return 0, wrong
		}
		v[k] = n
	}
	switch {
	case v[1] >= 12:
		return 0, tongue.T("is %s, which has %d inches in a foot", fault.Name(s), v[1])
	case v[2] >= of:
		return 0, tongue.T("is %s, which has %d %s in an inch", fault.Name(s), v[2], parted)
	}
	sum := float64((v[0]*12+v[1])*of + v[2])
	if half {
		sum += 0.5
	}
	if below {
		sum = -sum
	}
	return sum * 25.4 / float64(of), ""
}

// Lengths in feet and inches with their marks, such as 2' 1 1/2", and numbers with a
// common fraction, such as 22 1/2.
var (
	inchMarks   = strings.NewReplacer("\u2032", "'", "\u2019", "'", "\u2033", `"`, "\u201d", `"`, "\u201c", `"`, "''", `"`, "\u2212", "-")
	markedFeet  = regexp.MustCompile(`^(-?)(?:(\d+(?:\.\d+)?) ?')?(?: ?-? ?(?:(\d+(?:\.\d+)?)(?:[ -](\d+)/(\d+))?|(\d+)/(\d+)) ?")?$`)
	withPart    = regexp.MustCompile(`^(-?)(?:(\d+)[ -]+)?(\d+)/(\d+)$`)
	vulgarParts = strings.NewReplacer("\u00bd", " 1/2", "\u00bc", " 1/4", "\u00be", " 3/4", "\u215b", " 1/8", "\u215c", " 3/8", "\u215d", " 5/8", "\u215e", " 7/8")
)

// plainly is a length with single spaces, and with its fractions and marks in plain
// characters.
func plainly(s string) string {
	return strings.Join(strings.Fields(inchMarks.Replace(vulgarParts.Replace(s))), " ")
}

// marked reads a length that carries the marks of feet or inches; step is the part of
// an inch to which it is given, mm.
func marked(s string) (mm, step float64, ok bool) {
	text := plainly(s)
	if !strings.ContainsAny(text, `'"`) {
		return 0, 0, false
	}
	m := markedFeet.FindStringSubmatch(text)
	if m == nil || (m[2] == "" && m[3] == "" && m[6] == "") {
		return 0, 0, false
	}
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	inches, parts := number(m[3]), 1.0
	for _, k := range []int{4, 6} {
		if over := number(m[k+1]); m[k] != "" {
			if !(over > number(m[k])) {
				return 0, 0, false
			}
			inches, parts = inches+number(m[k])/over, over
		}
	}
	if m[2] != "" && inches >= 12 {
		return 0, 0, false
	}
	mm = number(m[2])*304.8 + inches*25.4
	if m[1] != "" {
		mm = -mm
	}
	return mm, 25.4 / parts, true
}

// fraction reads a number with a common fraction, or a fraction alone; parts is its
// denominator.
func fraction(s string) (v, parts float64, ok bool) {
	m := withPart.FindStringSubmatch(plainly(s))
	if m == nil {
		return 0, 0, false
	}
	whole, _ := strconv.ParseFloat("0"+m[2], 64)
	over, _ := strconv.ParseFloat(m[3], 64)
	parts, _ = strconv.ParseFloat(m[4], 64)
	if !(parts > over) {
		return 0, 0, false
	}
	if v = whole + over/parts; m[1] != "" {
		v = -v
	}
	return v, parts, true
}
