package plaintext

import (
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Unit gives a unit of length that a table or a name may use, in mm.
func Unit(name string) (mm float64, ok bool) {
	switch name {
	case "mm":
		return 1, true
	case "cm":
		return 10, true
	case "in":
		return 25.4, true
	}
	return 0, false
}

// Number reads a plain decimal number, with a decimal comma if these are allowed;
// wrong says what is wrong with it, as the end of a sentence. A number that is not
// finite is returned all the same.
func Number(s string, comma bool) (v float64, wrong string) {
	if s == "" {
		return 0, tongue.T("is missing")
	}
	plain := strings.Replace(s, "\u2212", "-", 1) // the typographer's minus
	if comma && strings.Count(plain, ",") == 1 && !strings.Contains(plain, ".") {
		plain = strings.Replace(plain, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(plain, 64)
	switch {
	case math.IsInf(v, 0) || math.IsNaN(v):
		return v, tongue.T("is %q, which is not finite", s)
	case err != nil || strings.Trim(plain, "0123456789+-.eE") != "":
		return 0, tongue.T("is %q, which is not a number", s)
	}
	return v, ""
}

// Figure gives a number in the fewest digits that read back the same.
func Figure(v float64) string {
	if a := math.Abs(v); a == 0 || (a >= 1e-6 && a < 1e21) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// ListRule says, where a list is typed, how its numbers are separated.
var ListRule = tongue.Mark("with commas or spaces between; with semicolons between, a comma is a decimal comma")

// Fields gives the items of a list typed in one line, and whether a comma in one is a
// decimal comma, as Number takes it: it is where semicolons separate the items,
// otherwise it separates them itself. So "4,5" is two items, and "4,5; 6" is two as
// well. Spaces separate them too. An item is empty where nothing stands between two
// separators.
func Fields(list string) (items []string, comma bool) {
	separator := ","
	if comma = strings.Contains(list, ";"); comma {
		separator = ";"
	}
	for piece := range strings.SplitSeq(list, separator) {
		words := strings.Fields(piece)
		if len(words) == 0 {
			words = []string{""}
		}
		items = append(items, words...)
	}
	return items, comma
}
