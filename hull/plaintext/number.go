package plaintext

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Units are the units a points file may be in, in mm.
var Units = map[string]float64{"mm": 1, "cm": 10, "in": 25.4}

// Number reads a plain decimal number, with a decimal comma if these are
// allowed; what is wrong with it is told as the end of a sentence.
func Number(s string, comma bool) (v float64, wrong string) {
	if s == "" {
		return 0, "is missing"
	}
	plain := strings.Replace(s, "\u2212", "-", 1) // the typographer's minus
	if comma && strings.Count(plain, ",") == 1 && !strings.Contains(plain, ".") {
		plain = strings.Replace(plain, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(plain, 64)
	switch {
	case math.IsInf(v, 0) || math.IsNaN(v):
		return 0, fmt.Sprintf("is %q, which is not finite", s)
	case err != nil || strings.Trim(plain, "0123456789+-.eE") != "":
		return 0, fmt.Sprintf("is %q, which is not a number", s)
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
